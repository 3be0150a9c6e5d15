package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"hemwright/internal/face/file"
	"hemwright/internal/face/sheet"
	"hemwright/internal/face/web"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

func (a *app) newCmd() *cobra.Command {
	return &cobra.Command{Use: "new", Short: "Make an empty house", Args: cobra.NoArgs, RunE: func(*cobra.Command, []string) error {
		set, err := a.settings()
		if err != nil {
			return err
		}
		w, err := workshop.New(a.file, set)
		if err != nil {
			return err
		}
		fmt.Fprintf(a.out, "%s is an empty house. Bring something in: hemwright import --file %s cast.csv\n", a.file, a.file)
		return w.Close()
	}}
}

func (a *app) importCmd() *cobra.Command {
	var list string
	var columns []string
	c := &cobra.Command{Use: "import PATH…", Short: "Take spreadsheets, or a folder of them, into the house", Args: cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			told, err := toldOf(list, columns)
			if err != nil {
				return err
			}
			return a.with(func(w *workshop.Workshop) error {
				rep, err := w.ImportAs(told, args...)
				if err != nil {
					return err
				}
				a.report(rep)
				if list != "" || len(columns) > 0 {
					a.guesses(rep.Guesses)
				}
				return nil
			})
		}}
	c.Flags().StringVar(&list, "list", "", "what the table lists: garment, performer, cloth, helper …")
	c.Flags().StringArrayVar(&columns, "column", nil, "what a column is, by its place from 1: 3=chest_cm, or 3=- to leave it out")
	return c
}

// toldOf reads what is told of a table: the list, and columns as 3=chest_cm.
func toldOf(list string, columns []string) (intake.Told, error) {
	told := intake.Told{Kind: list, Columns: map[int]string{}}
	for _, c := range columns {
		at, key, is := strings.Cut(c, "=")
		n, err := strconv.Atoi(strings.TrimSpace(at))
		if !is || err != nil || n < 1 || key == "" {
			return told, why.Bad("column", fmt.Sprintf("%q does not say what a column is.", c), "As: --column 3=chest_cm, or 3=- to leave the third out.")
		}
		told.Columns[n-1] = strings.TrimSpace(key)
	}
	return told, nil
}

// report says in plain lines what was taken, changed and left.
func (a *app) report(rep intake.Report) {
	for _, part := range []struct {
		name  string
		lines []intake.Line
	}{{"Taken", rep.Taken}, {"Changed", rep.Changed}, {"Left, and kept as text", rep.Left}} {
		if len(part.lines) == 0 {
			continue
		}
		fmt.Fprintf(a.out, "%s:\n", part.name)
		for _, l := range part.lines {
			fmt.Fprintf(a.out, "  %s\n", l)
		}
	}
}

func (a *app) undoCmd() *cobra.Command {
	return &cobra.Command{Use: "undo", Short: "Take back what was done last", Args: cobra.NoArgs, RunE: func(c *cobra.Command, _ []string) error {
		return a.with(func(w *workshop.Workshop) error {
			words, err := w.Undo(c.Context())
			if err == nil {
				fmt.Fprintf(a.out, "Taken back: %s. To do it again: hemwright redo\n", words)
			}
			return err
		})
	}}
}

func (a *app) redoCmd() *cobra.Command {
	return &cobra.Command{Use: "redo", Short: "Do again what was undone", Args: cobra.NoArgs, RunE: func(c *cobra.Command, _ []string) error {
		return a.with(func(w *workshop.Workshop) error {
			words, err := w.Redo(c.Context())
			if err == nil {
				fmt.Fprintf(a.out, "Done again: %s.\n", words)
			}
			return err
		})
	}}
}

func (a *app) pinCmd() *cobra.Command {
	var garment, cloth string
	var out bool
	c := &cobra.Command{Use: "pin PIECE [SOURCE]", Short: "Pin a piece to a source, or take the pin out with --out", Args: cobra.RangeArgs(1, 2),
		RunE: func(c *cobra.Command, args []string) error {
			return a.with(func(w *workshop.Workshop) error {
				id := show.PieceID(args[0])
				if out {
					if err := w.Unpin(c.Context(), id); err != nil {
						return err
					}
					fmt.Fprintf(a.out, "The pin is out of %s.\n", id)
					return nil
				}
				if len(args) < 2 {
					return why.Bad("source", "A pin needs a source.", "One of: "+sourceNames())
				}
				if !isSource(args[1]) {
					return why.Bad("source", fmt.Sprintf("%q is not a source.", args[1]), "One of: "+sourceNames())
				}
				if err := w.Pin(c.Context(), show.Pin{Piece: id, Source: args[1], Garment: show.GarmentID(garment), Cloth: show.ClothID(cloth)}); err != nil {
					return err
				}
				fmt.Fprintf(a.out, "%s is pinned to %s. See what else moved: hemwright plan\n", id, args[1])
				return nil
			})
		}}
	c.Flags().StringVar(&garment, "garment", "", "the garment or find it comes from")
	c.Flags().StringVar(&cloth, "cloth", "", "the cloth it is made of")
	c.Flags().BoolVar(&out, "out", false, "take the pin out")
	return c
}

func (a *app) unitsCmd() *cobra.Command {
	return &cobra.Command{Use: "units cm|in", Short: "Show lengths in centimetres or in inches", Args: cobra.ExactArgs(1), RunE: func(c *cobra.Command, args []string) error {
		return a.with(func(w *workshop.Workshop) error {
			sys, err := units.SystemOf(args[0])
			if err != nil {
				return why.Bad("units", err.Error()+".", "One of: cm, in")
			}
			if err := w.SetUnits(c.Context(), sys); err != nil {
				return err
			}
			fmt.Fprintf(a.out, "Lengths are shown in %s. What was typed is kept as it was.\n", sys)
			return nil
		})
	}}
}

func (a *app) figuresCmd() *cobra.Command {
	return &cobra.Command{Use: "figures [NAME]", Short: "List the texts of figures, or write one out to change it", Args: cobra.MaximumNArgs(1), RunE: func(_ *cobra.Command, args []string) error {
		for _, t := range workshop.Tables() {
			switch {
			case len(args) == 0:
				fmt.Fprintf(a.out, "%-11s %s\n", t.Name, t.Says)
			case args[0] == t.Name:
				fmt.Fprint(a.out, t.Ships)
				return nil
			}
		}
		if len(args) == 1 {
			return why.NotFound("table", args[0])
		}
		t := workshop.Tables()[0].Name
		fmt.Fprintf(a.out, "\nFor figures of your own: hemwright figures %s > %s.txt in the folder of the house, change it, and open the house again.\n", t, t)
		return nil
	}}
}

func (a *app) tellCmd() *cobra.Command {
	return &cobra.Command{Use: "tell [FILE]", Short: "Take what you have as you wrote it, from a file or typed in", Args: cobra.MaximumNArgs(1), RunE: func(c *cobra.Command, args []string) error {
		read := func() ([]byte, error) { return io.ReadAll(c.InOrStdin()) }
		if len(args) == 1 {
			read = func() ([]byte, error) { return os.ReadFile(args[0]) }
		}
		text, err := read()
		if err != nil {
			return why.Bad("file", fmt.Sprintf("%s cannot be read.", args[0]), "Look at how its name is written.")
		}
		return a.with(func(w *workshop.Workshop) error {
			heard, err := w.Tell(c.Context(), string(text))
			if err != nil {
				return err
			}
			a.guesses(heard.Guesses)
			for _, s := range heard.Said {
				fmt.Fprintln(a.out, strings.TrimSpace(fmt.Sprintf("%3d  %s %s", s.Line, or(s.Says, fmt.Sprintf("%q is kept as it is.", s.Text)), s.Ask)))
			}
			return nil
		})
	}}
}

// guesses says in plain lines what tables and their columns were taken for.
func (a *app) guesses(all []intake.Guess) {
	for _, g := range all {
		if len(g.Fields) == 0 {
			continue
		}
		fmt.Fprintf(a.out, "%s, a list of %s:\n", g.File, g.Many)
		for _, c := range g.Columns {
			fmt.Fprintf(a.out, "  %s\n", c)
		}
	}
}

// or is s, or other where s is empty.
func or(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

func (a *app) shopCmd() *cobra.Command {
	c := &cobra.Command{Use: "shop WORDS…", Short: "Should I buy this? As: gown violet 45 36.5 49 136 zip, 9", Args: cobra.MinimumNArgs(1), RunE: func(c *cobra.Command, args []string) error {
		return a.with(func(w *workshop.Workshop) error {
			p, err := w.Prepared(c.Context())
			if err != nil {
				return err
			}
			_, got, err := w.Appraise(strings.Join(args, " "))
			if err != nil {
				return err
			}
			return a.put(got, func(t *tabwriter.Writer) {
				fmt.Fprintf(t, "%s, up to %s.\n", got.Advice, got.UpTo)
				for _, r := range got.Why {
					fmt.Fprintln(t, r.Sentence(p.House.Units))
				}
				for _, s := range got.Serves {
					fmt.Fprintf(t, "%s\t%s\tinstead of %s\tsaves %s\tup to %s\n", s.Piece, s.Option.Minutes(), s.Instead, s.Saves, s.UpTo)
				}
			})
		})
	}}
	c.Flags().BoolVar(&a.json, "json", false, "as JSON, with stable names")
	return c
}

func (a *app) pocketCmd() *cobra.Command {
	return &cobra.Command{Use: "pocket PATH", Short: "Write the page that goes to the shop: one file, nobody's name in it", Args: cobra.ExactArgs(1), RunE: func(c *cobra.Command, args []string) error {
		return a.with(func(w *workshop.Workshop) (err error) {
			if _, err := w.Prepared(c.Context()); err != nil {
				return err
			}
			needs, p, err := w.Pocket()
			if err != nil {
				return err
			}
			f, err := os.OpenFile(args[0], os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
			if err != nil {
				return why.Bad("path", fmt.Sprintf("%s cannot be written.", args[0]), "Choose a folder you may write in.")
			}
			defer func() { err = errors.Join(err, f.Close()) }()
			fmt.Fprintf(a.out, "%d needs in %s. Take it along on a phone; it works with no network.\n", len(needs), args[0])
			return sheet.Pocket(f, p, needs)
		})
	}}
}

// leaving writes a file that leaves the house.
func (a *app) leaving(path, says string, write func(io.Writer, *workshop.Workshop) error) error {
	return a.with(func(w *workshop.Workshop) (err error) {
		f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
		if errors.Is(err, os.ErrExist) {
			return &why.Error{Kind: why.Conflict, Field: "path", What: path + " is there already.", Try: "Choose another name."}
		}
		if err != nil {
			return why.Bad("path", path+" cannot be written.", "Choose a folder you may write in.")
		}
		defer func() { err = errors.Join(err, f.Close()) }()
		if err := write(f, w); err != nil {
			return err
		}
		fmt.Fprintf(a.out, says+"\n", path)
		return nil
	})
}

func (a *app) bundleCmd() *cobra.Command {
	return &cobra.Command{Use: "bundle PATH.zip", Short: "Write the show for the next person: sheets, lists, pictures, nothing of anybody", Args: cobra.ExactArgs(1), RunE: func(c *cobra.Command, args []string) error {
		return a.leaving(args[0], "%s holds the show for the next person, readable without this program, and nothing of anybody.", func(f io.Writer, w *workshop.Workshop) error {
			if _, err := w.Prepared(c.Context()); err != nil {
				return err
			}
			return web.Bundle(f, w)
		})
	}}
}

func (a *app) datesCmd() *cobra.Command {
	var helper string
	c := &cobra.Command{Use: "dates PATH.ics", Short: "Write the dates for a calendar: the lead's, or a helper's with --helper", Args: cobra.ExactArgs(1), RunE: func(c *cobra.Command, args []string) error {
		return a.leaving(args[0], "%s can be opened by any calendar. It holds no date of a child.", func(f io.Writer, w *workshop.Workshop) error {
			if _, err := w.Prepared(c.Context()); err != nil {
				return err
			}
			p, err := w.Dates(show.HelperID(helper))
			if err != nil {
				return err
			}
			return file.Calendar(f, p, show.HelperID(helper), w.Now())
		})
	}}
	c.Flags().StringVar(&helper, "helper", "", "the code of a helper")
	return c
}

func (a *app) awayCmd() *cobra.Command {
	var cast string
	c := &cobra.Command{Use: "away PERFORMER", Short: "Who could step into the roles of somebody who is away, in their clothes?", Args: cobra.ExactArgs(1), RunE: func(c *cobra.Command, args []string) error {
		return a.with(func(w *workshop.Workshop) error {
			p, err := w.Prepared(c.Context())
			if err != nil {
				return err
			}
			id := show.PerformerID(args[0])
			if p.House.Performer(id) == nil {
				return why.NotFound("performer", args[0])
			}
			got := workshop.Away(p, show.Cast(cast), id)
			return a.put(got, func(t *tabwriter.Writer) {
				for _, role := range got {
					for _, in := range role.Ins {
						for _, r := range in.Why {
							fmt.Fprintln(t, r.Sentence(p.House.Units))
						}
					}
				}
			})
		})
	}}
	c.Flags().StringVar(&cast, "cast", "A", "the cast of that night")
	c.Flags().BoolVar(&a.json, "json", false, "as JSON, with stable names")
	return c
}

func (a *app) exportCmd() *cobra.Command {
	return &cobra.Command{Use: "export PATH", Short: "Write everything as spreadsheets: a folder, or one file that ends in .xlsx", Args: cobra.ExactArgs(1), RunE: func(_ *cobra.Command, args []string) error {
		return a.with(func(w *workshop.Workshop) error {
			n, err := w.Export(args[0])
			if err != nil {
				return err
			}
			fmt.Fprintf(a.out, "%d files written: %s. They hold people's measurements: keep them as you keep the house.\n", n, args[0])
			return nil
		})
	}}
}

func (a *app) backupCmd() *cobra.Command {
	return &cobra.Command{Use: "backup PATH", Short: "Write a whole copy of the house", Args: cobra.ExactArgs(1), RunE: func(_ *cobra.Command, args []string) error {
		return a.with(func(w *workshop.Workshop) error {
			if err := w.Backup(args[0]); err != nil {
				return err
			}
			fmt.Fprintf(a.out, "Copied to %s. It holds people's measurements: keep it as you keep this one.\n", args[0])
			return nil
		})
	}}
}

func (a *app) printCmd() *cobra.Command {
	var dir string
	var text bool
	c := &cobra.Command{Use: "print [SHEET]", Short: "Write the sheets as PDF, or one as text", Args: cobra.MaximumNArgs(1), RunE: func(c *cobra.Command, args []string) error {
		return a.with(func(w *workshop.Workshop) error {
			p, err := w.Prepared(c.Context())
			if err != nil {
				return err
			}
			sheets := sheet.Set(p)
			if len(args) == 1 {
				if sheets = pick(sheets, args[0]); len(sheets) == 0 {
					return why.NotFound("sheet", args[0])
				}
			}
			if text {
				for _, s := range sheets {
					if err := sheet.Text(a.out, s); err != nil {
						return err
					}
				}
				return nil
			}
			n, err := writeSheets(dir, sheets)
			for _, s := range sheets {
				if err == nil {
					err = w.Printed(s.Name + " in " + dir)
				}
			}
			if err == nil {
				fmt.Fprintf(a.out, "%d sheets in %d files in %s.\n", len(sheets), n, dir)
			}
			return err
		})
	}}
	c.Flags().StringVar(&dir, "out", "sheets", "the folder to write to")
	c.Flags().BoolVar(&text, "text", false, "as text on the terminal")
	return c
}

// pick finds sheets by key, or by the beginning of it.
func pick(all []sheet.Sheet, key string) []sheet.Sheet {
	var out []sheet.Sheet
	for _, s := range all {
		if s.Key == key {
			return []sheet.Sheet{s}
		}
		if len(s.Key) > len(key) && s.Key[:len(key)] == key {
			out = append(out, s)
		}
	}
	return out
}

// writeSheets writes sheets as PDF, those of one kind into one file.
func writeSheets(dir string, sheets []sheet.Sheet) (int, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return 0, why.Bad("out", fmt.Sprintf("The folder %s cannot be made.", dir), "Choose one you may write in.")
	}
	byName := map[string][]sheet.Sheet{}
	var names []string
	for _, s := range sheets {
		if byName[s.Name] == nil {
			names = append(names, s.Name)
		}
		byName[s.Name] = append(byName[s.Name], s)
	}
	for _, n := range names {
		if err := writePDF(filepath.Join(dir, fileName(n)+".pdf"), byName[n]); err != nil {
			return 0, err
		}
	}
	return len(names), nil
}

func writePDF(path string, sheets []sheet.Sheet) (err error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return why.Bad("out", fmt.Sprintf("%s cannot be written.", path), "Close it where it is open, or choose another folder.")
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	return sheet.PDF(f, sheets...)
}

func fileName(s string) string {
	out := []rune{}
	for _, r := range s {
		if r == ' ' {
			r = '-'
		}
		out = append(out, r)
	}
	return string(out)
}

func (a *app) openCmd() *cobra.Command {
	var port int
	c := &cobra.Command{Use: "open", Short: "Show the pages, on this machine only", Args: cobra.NoArgs, RunE: func(c *cobra.Command, _ []string) error {
		w, err := a.open()
		if err != nil {
			return err
		}
		return errors.Join(a.serve(c.Context(), w, port), w.Close())
	}}
	c.Flags().IntVar(&port, "port", 8347, "the port on 127.0.0.1; 0 takes any")
	return c
}

// serve shows the pages until it is stopped.
func (a *app) serve(ctx context.Context, w *workshop.Workshop, port int) error {
	log := slog.New(slog.NewTextHandler(a.err, &slog.HandlerOptions{Level: slog.LevelWarn}))
	pages, err := web.New(w, log)
	if err != nil {
		return err
	}
	l, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", port))
	if err != nil {
		if l, err = net.Listen("tcp", "127.0.0.1:0"); err != nil {
			return err
		}
	}
	fmt.Fprintf(a.out, "\nThe pages are at http://%s/ on this machine only. Ctrl-C closes them.\n", l.Addr())
	go func() { // a large file is still being looked through
		if err := w.NotCopied(); err != nil {
			log.Warn("no copy was made", "err", err)
		}
	}()
	srv := &http.Server{Handler: pages, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 30 * time.Second, IdleTimeout: time.Minute}
	go func() {
		<-ctx.Done()
		end, cancel := context.WithTimeout(context.Background(), 2*time.Second)
		defer cancel()
		srv.Shutdown(end)
	}()
	if err := srv.Serve(l); err != nil && !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	fmt.Fprintln(a.out, "Closed. Everything is kept.")
	return nil
}
