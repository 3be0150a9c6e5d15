package cli

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

func sourceNames() string {
	var out []string
	for _, s := range answer.Sources() {
		out = append(out, string(s))
	}
	return strings.Join(out, ", ") + "."
}

func isSource(s string) bool {
	return slices.Contains(answer.Sources(), answer.Source(s))
}

// answers are the commands that ask one question each.
func (a *app) answers() []*cobra.Command {
	ask := func(use, short string, say func(*workshop.Prepared, *tabwriter.Writer), doc func(*workshop.Prepared) any) *cobra.Command {
		c := &cobra.Command{Use: use, Short: short, Args: cobra.NoArgs, RunE: func(c *cobra.Command, _ []string) error {
			return a.with(func(w *workshop.Workshop) error {
				p, err := w.Prepared(c.Context())
				if err != nil {
					return err
				}
				return a.put(doc(p), func(t *tabwriter.Writer) { say(p, t) })
			})
		}}
		c.Flags().BoolVar(&a.json, "json", false, "as JSON, with stable names")
		return c
	}
	return []*cobra.Command{
		ask("today", "What cannot wait? What do I do tonight?", sayToday, func(p *workshop.Prepared) any { return p.Today }),
		ask("changes", "Who changes when, and in how many seconds?", sayChanges, changeRows),
		ask("needs", "What do I need in all?", sayNeeds, func(p *workshop.Prepared) any { return p.Needs }),
		ask("plan", "Where does every piece come from?", sayPlan, planRows),
		ask("cut", "Will the cloth do?", sayCut, func(p *workshop.Prepared) any { return p.Cutting }),
		ask("work", "Have we the hours? Who does what?", sayWork, func(p *workshop.Prepared) any { return p.Workroom }),
		ask("fittings", "When do I fit whom?", sayFittings, func(p *workshop.Prepared) any { return p.Fittings }),
		ask("money", "Have we the money?", sayMoney, func(p *workshop.Prepared) any { return p.Money }),
		ask("cautions", "What could hurt or upset somebody?", sayCautions, func(p *workshop.Prepared) any { return p.Cautions }),
		a.fitCmd(),
		a.doesCmd(),
		a.cutUpCmd(),
		a.shortCmd(),
		a.insteadCmd(),
	}
}

func sayToday(p *workshop.Prepared, t *tabwriter.Writer) {
	fmt.Fprintf(t, "%s%s\n\n", p.Day.Long(), toOpening(p))
	for _, u := range p.Today.Urgent {
		fmt.Fprintf(t, "%s\t%s\n\t%s\n", u.Number.Words(p.House.Units), u.Say, u.Why)
	}
	if len(p.Today.Tonight) > 0 {
		fmt.Fprintf(t, "\nNext, %s:\n", p.Today.Tonight[0].Day.Long())
		names := taskNames(p)
		for _, s := range p.Today.Tonight {
			fmt.Fprintf(t, "%s\t%s\n", s.Minutes, names[s.Task])
		}
	}
}

// toOpening says how long there is, where an opening is set.
func toOpening(p *workshop.Prepared) string {
	if o := p.House.Opening(); o != 0 {
		return fmt.Sprintf(", %d days to the opening", int(o-p.Day))
	}
	return ". No opening is set yet."
}

// taskNames says each task with its piece.
func taskNames(p *workshop.Prepared) map[string]string {
	out := map[string]string{}
	for _, x := range p.Workroom.Tasks {
		name := ""
		if q := p.House.Piece(x.Piece); q != nil {
			name = q.Name
		}
		out[x.ID] = fmt.Sprintf("%s %s: %s", x.Piece, name, x.Do)
	}
	return out
}

// changeRow is one change, as programs read it.
type changeRow struct {
	Performer show.PerformerID `json:"performer"`
	Cast      show.Cast        `json:"cast"`
	FromScene show.SceneID     `json:"from_scene"`
	ToScene   show.SceneID     `json:"to_scene"`
	FromLook  show.LookID      `json:"from_look"`
	ToLook    show.LookID      `json:"to_look"`
	Seconds   int              `json:"seconds"`
	FromSide  show.Side        `json:"from_side"`
	ToSide    show.Side        `json:"to_side"`
}

// changeRows are the changes of every cast, by cast, time and performer.
func changeRows(p *workshop.Prepared) any {
	out := []changeRow{}
	for _, t := range p.Timelines {
		for _, c := range t.Changes {
			out = append(out, changeRow{c.Performer, c.Cast, c.FromScene, c.ToScene, c.FromLook, c.ToLook, c.Seconds, c.FromSide, c.ToSide})
		}
	}
	return out
}

func sayChanges(p *workshop.Prepared, t *tabwriter.Writer) {
	for _, tl := range p.Timelines {
		n := map[int]int{}
		for _, c := range tl.Changes {
			for _, limit := range []int{180, 120, 45} {
				if c.Seconds < limit {
					n[limit]++
				}
			}
		}
		fmt.Fprintf(t, "Cast %s: %d changes, %d under 180 s, %d under 120 s, %d under 45 s. At most %d people in a fast change at once.\n",
			tl.Cast, len(tl.Changes), n[180], n[120], n[45], tl.MostAtOnce)
		fmt.Fprintln(t, "at\tseconds\twanted\twho\tfrom\tto\tside\t")
		for _, c := range tl.Changes {
			if c.Seconds >= 180 {
				continue
			}
			wanted := fmt.Sprintf("%d to %d", c.Wanted.Lo, c.Wanted.Hi)
			if c.InView {
				wanted = "in view"
			}
			name := string(c.Performer)
			if who := p.House.Performer(c.Performer); who != nil {
				name = who.Name
			}
			fmt.Fprintf(t, "%s\t%d\t%s\t%s\t%s %s\t%s %s\t%s>%s\t\n", sheet.Clock(c.Leaves), c.Seconds, wanted, name, c.FromScene, c.FromLook, c.ToScene, c.ToLook, c.FromSide, c.ToSide)
		}
		fmt.Fprintln(t)
	}
	fmt.Fprintln(t, "Seconds wanted are house estimates, with one dresser to alone. All changes: --json")
}

func sayNeeds(p *workshop.Prepared, t *tabwriter.Writer) {
	count, order := map[show.Category]int{}, []show.Category{}
	for _, n := range p.Needs.Needs {
		if count[n.Category] == 0 {
			order = append(order, n.Category)
		}
		count[n.Category]++
	}
	fmt.Fprintf(t, "%d pieces in %d looks.\n", len(p.Needs.Needs), len(p.House.Looks))
	for _, c := range order {
		fmt.Fprintf(t, "%d\t%s\n", count[c], c)
	}
	for _, m := range p.Needs.Missing {
		fmt.Fprintf(t, "\n%s\n", m.Why.Sentence(p.House.Units))
	}
	fmt.Fprintln(t, "\nnotion\tneed\thave\tunit")
	for _, n := range p.Needs.Notions {
		fmt.Fprintf(t, "%s %s\t%d\t%d\t%s\n", n.Name, n.Size, n.Need, n.Have, n.Unit)
	}
}

// planRow is one piece of the plan, as programs read it.
type planRow struct {
	Piece    show.PieceID   `json:"piece"`
	Source   answer.Source  `json:"source"`
	Garment  show.GarmentID `json:"garment,omitempty"`
	Cloth    show.ClothID   `json:"cloth,omitempty"`
	ClothCM  float64        `json:"cloth_cm,omitempty"`
	Minutes  units.Minutes  `json:"minutes"`
	Price    units.Money    `json:"price_coins"`
	Look     int            `json:"look"`
	Pencil   bool           `json:"pencil"`
	Pinned   bool           `json:"pinned"`
	Held     string         `json:"held,omitempty"` // cut, bought, told
	Because  []string       `json:"because"`
	PinPrice int64          `json:"pin_price,omitempty"`
}

func planRows(p *workshop.Prepared) any {
	rows := []planRow{}
	for _, c := range p.Plan.Choices {
		r := planRow{Piece: c.Piece, Source: c.Source, Garment: c.Garment, Cloth: c.Cloth, ClothCM: c.ClothLength.Cm(), Minutes: c.Minutes(),
			Price: c.Money, Look: c.Look, Pencil: c.Pencil, Pinned: c.Pinned, Held: c.Held, PinPrice: c.Price, Because: []string{}}
		for _, why := range c.Why.Reasons {
			r.Because = append(r.Because, why.Sentence(p.House.Units))
		}
		rows = append(rows, r)
	}
	return struct {
		Proof   string         `json:"proof"`
		Value   float64        `json:"value"`
		Bound   float64        `json:"bound"`
		Saves   units.Minutes  `json:"could_save_minutes"`
		Limits  []answer.Limit `json:"limits"`
		Choices []planRow      `json:"choices"`
	}{p.Plan.Outcome.Proof.String(), p.Plan.Outcome.Value, p.Plan.Outcome.Bound, p.Plan.Saves, p.Plan.Limits, rows}
}

func sayPlan(p *workshop.Prepared, t *tabwriter.Writer) {
	if len(p.Plan.Choices) == 0 {
		fmt.Fprintln(t, "No pieces yet. Bring in looks and pieces.")
		return
	}
	fmt.Fprintln(t, planLine(p))
	fmt.Fprintln(t, "piece\twhat\tcolour\tsource\tfrom\tminutes\tprice\t")
	for _, c := range p.Plan.Choices {
		q := p.House.Piece(c.Piece)
		from := string(c.Garment)
		if c.Cloth != "" {
			from = string(c.Cloth)
		}
		mark := c.Held
		if c.Pinned {
			mark = "pinned"
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%d\t%s\t%s\n", c.Piece, q.Name, q.Colour, c.Source, from, int64(c.Minutes()), c.Money, mark)
	}
}

// planLine says the plan in a line.
func planLine(p *workshop.Prepared) string {
	n := map[answer.Source]int{}
	var minutes units.Minutes
	for _, c := range p.Plan.Choices {
		n[c.Source]++
		minutes += c.Minutes()
	}
	var parts []string
	for _, s := range answer.Sources() {
		if n[s] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[s], s))
		}
	}
	s := fmt.Sprintf("%d pieces: %s. %d lead-hours of work.", len(p.Plan.Choices), strings.Join(parts, ", "), (minutes+30)/60)
	if p.Plan.Saves > 0 {
		s += fmt.Sprintf(" Nothing better found; one could save at most %s, or its worth in money and looks.", p.Plan.Saves)
	}
	return s
}

func sayCut(p *workshop.Prepared, t *tabwriter.Writer) {
	for _, l := range p.Cutting.Lays {
		c := p.House.Cloth(l.Cloth)
		fmt.Fprintf(t, "%s %s, %s\t%d parts\t%s\n", l.Cloth, c.Name, c.Colour, len(l.Placed), sentences(p, l.Verdict))
	}
	for _, l := range p.Cutting.Apart {
		fmt.Fprintf(t, "%s\t%d shapes from the parts of garments: hemwright print parts-%s --text\n", l.Piece, len(l.Shapes), l.Piece)
	}
	for _, s := range p.Cutting.Short {
		fmt.Fprintln(t, s.Why.Sentence(p.House.Units))
	}
}

func sentences(p *workshop.Prepared, v why.Verdict) string {
	var out []string
	for _, r := range v.Reasons {
		out = append(out, r.Sentence(p.House.Units))
	}
	return strings.Join(out, " ")
}

func sayWork(p *workshop.Prepared, t *tabwriter.Writer) {
	w := p.Workroom
	fmt.Fprintf(t, "%s wanted with redoing, %s offered to the parade, at the lead's pace.\n", w.Wanted, w.Offered)
	fmt.Fprintln(t, sentences(p, w.Verdict))
	fmt.Fprintln(t, "\nwho\toffered\tplanned\tskills")
	for _, o := range w.Offers {
		name := string(o.Helper)
		if h := p.House.Helper(o.Helper); h != nil {
			name = h.Name
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%v\n", name, o.Lead, o.Given, o.Skills)
	}
	for _, l := range w.Late {
		fmt.Fprintln(t, l.Why.Sentence(p.House.Units))
	}
	for _, b := range w.Back {
		due := ""
		if b.Due != 0 {
			due = " by " + b.Due.Words()
		}
		fmt.Fprintf(t, "after the last night, undo on %s, back to %s%s: %s\t%s\n", b.Garment, b.To, due, strings.Join(b.Do, "; "), b.Minutes)
	}
	if len(w.Savings) > 0 {
		fmt.Fprintln(t, "\nTo let go with least harm:")
	}
	for _, s := range w.Savings {
		fmt.Fprintf(t, "%s\t%s\t%s\n", s.What, s.Minutes, s.Seen)
	}
	fmt.Fprintln(t, "\nEverybody's list: hemwright print work")
}

func sayFittings(p *workshop.Prepared, t *tabwriter.Writer) {
	for _, f := range p.Fittings.Appointments {
		name := string(f.Performer)
		if who := p.House.Performer(f.Performer); who != nil {
			name = who.Name
		}
		fmt.Fprintf(t, "%s\t%s\t%d min\tstation %d\t%s\t%d pieces\n", f.Day.Short(), f.Start, int64(f.Minutes), f.Station, name, len(f.Pieces))
	}
	for _, f := range p.Fittings.Unplaced {
		fmt.Fprintf(t, "no slot\t\t\t\t%s\t%s\n", f.Performer, f.Why.Sentence(p.House.Units))
	}
}

func sayMoney(p *workshop.Prepared, t *tabwriter.Writer) {
	m := p.Money
	fmt.Fprintln(t, sentences(p, m.Verdict))
	fmt.Fprintln(t, "line\tplanned\tspent\tpromised\tstill needed\t")
	for _, l := range m.Lines {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t\n", l.Line, l.Planned, l.Spent, l.Promised, l.Needed)
	}
	fmt.Fprintf(t, "in all\t%s\t%s\t%s\t%s\t\n", m.Sum, m.Spent, m.Promised, m.Needed)
	for _, o := range m.Owed {
		fmt.Fprintf(t, "%s is owed %s\n", o.To, o.Sum)
	}
}

func sayCautions(p *workshop.Prepared, t *tabwriter.Writer) {
	for _, c := range p.Cautions {
		fmt.Fprintf(t, "%s\n    %s %s decides. Rule: %s.\n", c.Reason.Sentence(p.House.Units), c.Suggest, c.Decides, c.Reason.Basis().Title)
	}
}

// fitRow is one garment held against one piece, as programs read it.
type fitRow struct {
	Piece   show.PieceID   `json:"piece"`
	Garment show.GarmentID `json:"garment"`
	Verdict string         `json:"verdict"`
	Minutes units.Minutes  `json:"minutes"`
	Look    int            `json:"look"`
	Because []string       `json:"because"`
}

func (a *app) fitCmd() *cobra.Command {
	c := &cobra.Command{Use: "fit PIECE|GARMENT", Short: "Which garments go for a piece, or which pieces for a garment?", Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			return a.with(func(w *workshop.Workshop) error {
				p, err := w.Prepared(c.Context())
				if err != nil {
					return err
				}
				fits, err := w.Fits(c.Context(), args[0])
				if err != nil {
					return err
				}
				rows := make([]fitRow, 0, len(fits))
				for _, f := range fits {
					r := fitRow{f.Piece, f.Garment, goesWords(f), f.Minutes(), f.Look, []string{}}
					for _, x := range f.Verdict.Reasons {
						if !x.AboutBody() {
							r.Because = append(r.Because, x.Sentence(p.House.Units))
						}
					}
					rows = append(rows, r)
				}
				return a.put(rows, func(t *tabwriter.Writer) { sayFits(rows, t) })
			})
		}}
	c.Flags().BoolVar(&a.json, "json", false, "as JSON, with stable names")
	return c
}

// doesCmd asks whether a cloth does for some pieces.
func (a *app) doesCmd() *cobra.Command {
	c := &cobra.Command{Use: "does CLOTH PIECE…", Short: "Does this cloth do for these pieces, and if not, what to change?", Args: cobra.MinimumNArgs(2),
		RunE: func(c *cobra.Command, args []string) error {
			return a.with(func(w *workshop.Workshop) error {
				var pieces []show.PieceID
				for _, x := range args[1:] {
					pieces = append(pieces, show.PieceID(x))
				}
				p, _, err := w.Glance()
				if err != nil {
					return err
				}
				out, err := w.ClothDoes(c.Context(), show.ClothID(args[0]), pieces)
				if err != nil {
					return err
				}
				return a.put(out, func(t *tabwriter.Writer) { sayDoes(p, out, t) })
			})
		}}
	c.Flags().BoolVar(&a.json, "json", false, "as JSON, with stable names")
	return c
}

func sayDoes(p *workshop.Prepared, out answer.ClothDoes, t *tabwriter.Writer) {
	fmt.Fprintln(t, sentences(p, out.Verdict))
	for _, id := range out.None {
		fmt.Fprintf(t, "No draft, or no measure, for %s.\n", id)
	}
	for _, x := range out.Changes {
		fmt.Fprintf(t, "It does with: %s.\t%s left over\n", strings.Join(x.Says, "; "), p.House.Units.Print(x.Left)+" "+p.House.Units.Unit())
	}
}

// goesWords are the three words of a fit, with "likely" in pencil.
func goesWords(f answer.Fit) string {
	switch f.Verdict.Grade {
	case why.Yes:
		return "goes as it is"
	case why.Work:
		return "goes with work"
	case why.Likely:
		return "likely"
	case why.No:
		return "not this one"
	}
	return "not known"
}

func sayFits(rows []fitRow, t *tabwriter.Writer) {
	for _, r := range rows {
		because := ""
		if len(r.Because) > 0 {
			because = r.Because[0]
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", r.Piece, r.Garment, r.Verdict, r.Minutes, because)
	}
	if len(rows) == 0 {
		fmt.Fprintln(t, "Nothing of that kind is there.")
	}
}
