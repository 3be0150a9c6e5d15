package cli

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

func (a *app) demoCmd() *cobra.Command {
	var dir string
	var noServe bool
	var port int
	c := &cobra.Command{Use: "demo", Short: "Do the whole job on an invented show", Args: cobra.NoArgs, RunE: func(c *cobra.Command, _ []string) error {
		if !c.Flags().Changed("file") {
			a.file = "demo.hemwright"
		}
		set, err := a.settings()
		if err != nil {
			return err
		}
		if err := clear(a.file); err != nil {
			return err
		}
		begun := time.Now()
		w, rep, err := workshop.Demo(a.file, set)
		if err != nil {
			return err
		}
		defer w.Close()
		p, err := w.Prepared(c.Context())
		if err != nil {
			return err
		}
		took := time.Since(begun)
		sheets := sheet.Set(p)
		files, err := writeSheets(dir, sheets)
		if err != nil {
			return err
		}
		summary(a.out, p)
		fmt.Fprintf(a.out, "\n%d spreadsheets taken, worked out in %.1f s. %d sheets in %d files in %s. The house is in %s.\n", len(rep.Taken), took.Seconds(), len(sheets), files, dir, a.file)
		if noServe {
			fmt.Fprintf(a.out, "See the pages: hemwright open --file %s\n", a.file)
			return nil
		}
		return a.serve(c.Context(), w, port)
	}}
	c.Flags().StringVar(&dir, "sheets", "demo-sheets", "the folder for the sheets")
	c.Flags().BoolVar(&noServe, "no-serve", false, "stop before showing the pages")
	c.Flags().IntVar(&port, "port", 8347, "the port on 127.0.0.1; 0 takes any")
	return c
}

// clear takes away the demo of an earlier run; it never takes away a house
// that is not the demo.
func clear(path string) error {
	if _, err := os.Stat(path); err != nil {
		return nil
	}
	w, err := workshop.Open(path, workshop.Settings{})
	if err != nil {
		return err
	}
	isDemo, err := w.IsDemo()
	w.Close()
	if err != nil {
		return err
	}
	if !isDemo {
		return &why.Error{Kind: why.Conflict, Field: "file", What: fmt.Sprintf("%s holds a house of your own.", path), Try: "Give the demo another file: hemwright demo --file demo.hemwright"}
	}
	return os.Remove(path)
}

// summary says the whole job in about forty lines.
func summary(w io.Writer, p *workshop.Prepared) {
	h := &p.House
	t := p.Timelines[0]
	say := func(format string, args ...any) { fmt.Fprintf(w, format+"\n", args...) }
	say("\n%s. %s%s.", h.Show.Name, p.Day.Long(), toOpening(p))
	say("%d people wear %d looks made of %d pieces; %d scenes, %s of playing.", len(h.Performers), len(h.Looks), len(h.Pieces), len(h.Scenes), t.Playing)

	say("\nWHO CHANGES, AND HOW FAST")
	fast := 0
	for _, c := range t.Changes {
		if c.Seconds < 180 {
			fast++
		}
	}
	say("%d changes a night, %d under three minutes, at most %d people in one at once.", len(t.Changes), fast, t.MostAtOnce)
	for _, b := range batches(t) {
		say("  %s", b)
	}
	free := 0
	for _, d := range t.Duties {
		if d.Dresser == "" {
			free++
		}
	}
	if free > 0 {
		say("For %d of them nobody is free to help: see Running.", free)
	}
	for _, m := range p.Needs.Missing {
		say("%s", firstSentence(m.Why.Sentence(p.House.Units)))
	}

	say("\nWHERE THE PIECES COME FROM")
	say("%s", planLine(p))
	for _, c := range surprising(p) {
		say("  %s", c)
	}

	say("\nCLOTH")
	laid, missing := 0, 0
	for _, l := range p.Cutting.Lays {
		laid += len(l.Placed)
		missing += len(l.Missing)
	}
	say("%d parts laid on %d cloths, checked: none overlaps, none leaves its cloth or touches a flaw.", laid, len(p.Cutting.Lays))
	if missing > 0 {
		say("No place was found yet for %d more.", missing)
	}
	for _, s := range p.Cutting.Short {
		say("  %s", s.Why.Sentence(p.House.Units))
	}

	say("\nHOURS AND MONEY")
	say("%s wanted with redoing, %s offered to the parade on %s.", p.Workroom.Wanted, p.Workroom.Offered, h.Parade().Words())
	say("%d pieces come late. %d performers have a fitting, %d have none yet.", len(p.Workroom.Late), len(p.Fittings.Appointments), len(p.Fittings.Unplaced))
	cur := h.Show.Currency
	say("%s%s spent, %s promised, %s still needed, %s held back of %s: %s free.", cur, p.Money.Spent, p.Money.Promised, p.Money.Needed, p.Money.Held, p.Money.Sum, p.Money.Free)

	say("\nWHAT CANNOT WAIT")
	for _, u := range p.Today.Urgent {
		say("  %-8s %s", u.Number.Words(p.House.Units), u.Say)
	}
	say("%d cautions, each with who decides: see Cautions.", len(p.Cautions))
}

// batches joins the fast changes that go off and come on together.
func batches(t answer.Timeline) []string {
	type key struct {
		from, to show.SceneID
		seconds  int
	}
	n := map[key]int{}
	var order []key
	for _, c := range t.Changes {
		if c.Seconds >= 180 {
			continue
		}
		k := key{c.FromScene, c.ToScene, c.Seconds}
		if n[k] == 0 {
			order = append(order, k)
		}
		n[k]++
	}
	var out []string
	for _, k := range order {
		who := "1 person"
		if n[k] > 1 {
			who = fmt.Sprintf("%d people", n[k])
		}
		out = append(out, fmt.Sprintf("%s to %s: %s in %d s", k.from, k.to, who, k.seconds))
	}
	return out
}

// surprising are the pieces that go without, and the dearest to make.
func surprising(p *workshop.Prepared) []string {
	var out []string
	var dear *answer.Choice
	for i := range p.Plan.Choices {
		c := &p.Plan.Choices[i]
		if c.Source == answer.GoWithout {
			out = append(out, fmt.Sprintf("%s %s: nothing found; see what else there is.", c.Piece, p.House.Piece(c.Piece).Name))
		}
		if dear == nil || c.Minutes() > dear.Minutes() {
			dear = c
		}
	}
	if dear != nil {
		out = append(out, fmt.Sprintf("Most work: %s %s, %s, %s.", dear.Piece, p.House.Piece(dear.Piece).Name, dear.Source, dear.Minutes()))
	}
	return out
}

func firstSentence(s string) string {
	before, _, _ := strings.Cut(s, ". ")
	return before + "."
}
