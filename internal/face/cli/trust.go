package cli

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/show"
	"hemwright/internal/store"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// trust are the commands about what is kept, copied and forgotten.
func (a *app) trust() []*cobra.Command {
	return []*cobra.Command{a.changedCmd(), a.copiesCmd(), a.restoreCmd(), a.repairCmd(), a.eraseCmd(), a.numbersCmd()}
}

func (a *app) changedCmd() *cobra.Command {
	var since string
	c := &cobra.Command{Use: "changed --since DATE|ACT", Short: "What changed since a day, or since a sheet was printed", Args: cobra.NoArgs, RunE: func(*cobra.Command, []string) error {
		return a.with(func(w *workshop.Workshop) error {
			got, err := w.Changed(since)
			if err != nil {
				return err
			}
			return a.put(got, func(t *tabwriter.Writer) {
				if len(got.Lines)+len(got.Final) == 0 {
					fmt.Fprintf(t, "Nothing has changed since act %d.\n", got.Since)
				}
				for _, l := range append(got.Lines, got.Final...) {
					fmt.Fprintf(t, "%s\t%s\t%s\tact %d, %s: %s\n", l.Code, l.Name, l.What, l.Act, l.When.Local().Format("2 January"), l.Deed)
				}
			})
		})
	}}
	c.Flags().StringVar(&since, "since", "0", "a day as 2027-03-14, or the number of the act at the foot of a sheet")
	c.Flags().BoolVar(&a.json, "json", false, "as JSON, with stable names")
	return c
}

func (a *app) copiesCmd() *cobra.Command {
	return &cobra.Command{Use: "copies", Short: "Which copies lie beside the house", Args: cobra.NoArgs, RunE: func(*cobra.Command, []string) error {
		return a.with(func(w *workshop.Workshop) error {
			all := w.Copies()
			if len(all) == 0 {
				fmt.Fprintln(a.out, "No copies yet. One is made whenever the house is opened after a change.")
			}
			return a.put(all, func(t *tabwriter.Writer) {
				for _, c := range all {
					fmt.Fprintf(t, "%d\t%s %s\tact %d\t%s\n", c.N, c.Day, c.Time, c.Act, c.Path)
				}
			})
		})
	}}
}

func (a *app) restoreCmd() *cobra.Command {
	return &cobra.Command{Use: "restore COPY", Short: "Make the house what it was in a copy; that can be undone", Args: cobra.ExactArgs(1), RunE: func(c *cobra.Command, args []string) error {
		n, err := strconv.Atoi(args[0])
		if err != nil {
			return why.Bad("copy", fmt.Sprintf("%q is not the number of a copy.", args[0]), "See which there are: hemwright copies")
		}
		return a.with(func(w *workshop.Workshop) error {
			if err := w.Restore(c.Context(), n); err != nil {
				return err
			}
			fmt.Fprintf(a.out, "The house is as it was in copy %d. To take that back: hemwright undo\n", n)
			return nil
		})
	}}
}

func (a *app) repairCmd() *cobra.Command {
	return &cobra.Command{Use: "repair", Short: "Make a new file of what can be read of a damaged one", Args: cobra.NoArgs, RunE: func(c *cobra.Command, _ []string) error {
		got, err := workshop.Repair(c.Context(), a.file)
		if err != nil {
			return err
		}
		fmt.Fprintf(a.out, "%s is a new file; %s was not touched.\n", got.Path, a.file)
		if got.From != "" {
			fmt.Fprintf(a.out, "It begins with the copy %s.\n", got.From)
		}
		switch {
		case got.Unopened:
			fmt.Fprintln(a.out, "Nothing of the damaged file could be read.")
		case len(got.InPart) > 0:
			fmt.Fprintf(a.out, "%d rows were read; not to their end: %s. Look through those.\n", got.Rows, strings.Join(got.InPart, ", "))
		default:
			fmt.Fprintf(a.out, "All %d rows were read.\n", got.Rows)
		}
		if got.Dropped > 0 {
			fmt.Fprintf(a.out, "%d rows are left out, because what they belong to is lost.\n", got.Dropped)
		}
		return nil
	}}
}

func (a *app) eraseCmd() *cobra.Command {
	var people, yes, small bool
	var on string
	c := &cobra.Command{Use: "erase [PERFORMER]", Short: "Forget one performer, or with --people all of them, for good", Args: cobra.MaximumNArgs(1), RunE: func(c *cobra.Command, args []string) error {
		if on == "" && people == (len(args) == 1) {
			return why.Bad("who", "Say whom to erase.", "One: hemwright erase P07. All people of the show: hemwright erase --people")
		}
		return a.with(func(w *workshop.Workshop) error {
			if on != "" {
				return a.eraseOn(c, w, on)
			}
			var who show.PerformerID
			if len(args) == 1 {
				who = show.PerformerID(args[0])
			}
			if !yes {
				e, err := w.BeforeErasing(c.Context(), who, small)
				if err != nil {
					return err
				}
				return a.sayErasing(e)
			}
			e, err := w.Erase(c.Context(), who, small)
			if err != nil {
				return err
			}
			fmt.Fprintf(a.out, "Erased, here and in %d copies. It cannot be undone.\n", e.Copies)
			return sheet.Text(a.out, sheet.ToDestroy("", a.today(), e))
		})
	}}
	c.Flags().BoolVar(&people, "people", false, "all people of the show")
	c.Flags().BoolVar(&yes, "yes", false, "do it; without, it is only shown")
	c.Flags().BoolVar(&small, "small", false, "replace names written small, too: look at the lines first")
	c.Flags().StringVar(&on, "on", "", "only set the day people are to be erased on")
	return c
}

func (a *app) eraseOn(c *cobra.Command, w *workshop.Workshop, on string) error {
	day, err := units.ParseDate(on)
	if err != nil {
		return why.Bad("on", err.Error()+".", "")
	}
	if err := w.SetEraseDay(c.Context(), day); err != nil {
		return err
	}
	fmt.Fprintf(a.out, "People are to be erased on %s. It is never done without your yes.\n", day.Long())
	return nil
}

// today is the day a paper is printed.
func (a *app) today() string {
	if a.day != "" {
		return a.day
	}
	return time.Now().Format("2 January 2006")
}

// sayErasing shows what would go.
func (a *app) sayErasing(e store.Erasing) error {
	fmt.Fprintf(a.out, "%d rows about them go, and %d cells about people not understood; in %d copies the same.\n", e.Rows, e.Cells, e.Copies)
	err := a.put(nil, func(t *tabwriter.Writer) {
		for _, l := range e.Lines {
			if l.OnlySimilar {
				fmt.Fprintf(t, "%s\t%s\tstays: look at it yourself\n", l.Where, l.Before)
			} else {
				fmt.Fprintf(t, "%s\t%s\tbecomes: %s\n", l.Where, l.Before, l.After)
			}
		}
	})
	fmt.Fprintln(a.out, "Nothing is erased yet. To do it, for good: the same with --yes")
	return err
}

func (a *app) numbersCmd() *cobra.Command {
	var dir string
	c := &cobra.Command{Use: "numbers PERFORMER", Short: "What is kept about one performer, as one page for the family", Args: cobra.ExactArgs(1), RunE: func(c *cobra.Command, args []string) error {
		return a.with(func(w *workshop.Workshop) error {
			p, err := w.Prepared(c.Context())
			if err != nil {
				return err
			}
			id := show.PerformerID(args[0])
			if p.House.Performer(id) == nil {
				return why.NotFound("performer", args[0])
			}
			s := sheet.Numbers(p, id)
			if dir == "" {
				return sheet.Text(a.out, s)
			}
			path := filepath.Join(dir, s.Key+".pdf")
			if err := writePDF(path, []sheet.Sheet{s}); err != nil {
				return err
			}
			fmt.Fprintf(a.out, "Written to %s. Hand it to the family only.\n", path)
			return w.Printed(s.Name + " in " + dir)
		})
	}}
	c.Flags().StringVar(&dir, "out", "", "a folder to write it to as PDF; without, it is shown here")
	return c
}
