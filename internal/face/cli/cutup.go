package cli

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"hemwright/internal/face/sheet"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

func (a *app) cutUpCmd() *cobra.Command {
	var card bool
	c := &cobra.Command{Use: "cut-up GARMENT|CLOTH", Short: "What does it give when it is cut up, and may it be?", Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			return a.with(func(w *workshop.Workshop) error {
				p, err := w.Prepared(c.Context())
				if err != nil {
					return err
				}
				cut, err := w.CutUp(c.Context(), args[0])
				if err != nil {
					return err
				}
				if card {
					return sheet.Text(a.out, sheet.UnpickCard(p, cut))
				}
				return a.put(cut, func(t *tabwriter.Writer) { sayCutUp(p, cut, t) })
			})
		}}
	c.Flags().BoolVar(&card, "card", false, "the unpick card, as text")
	c.Flags().BoolVar(&a.json, "json", false, "as JSON, with stable names")
	return c
}

func sayCutUp(p *workshop.Prepared, c workshop.CutUp, t *tabwriter.Writer) {
	fmt.Fprintf(t, "%s %s, %s\n", c.Code, c.Name, c.Colour)
	if len(c.May.Reasons) > 0 {
		fmt.Fprintln(t, sentences(p, c.May))
	}
	h := c.Harvest
	if c.Known {
		fmt.Fprintf(t, "\nhow many\twhat\tacross\talong\t%s\n", p.House.Units.Unit())
	}
	for _, q := range h.Parts {
		across, along := sheet.PartSize(p.House.Units, q)
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", sheet.HowMany(q), q.Name, across, along)
	}
	if len(h.Parts) > 0 {
		fmt.Fprintf(t, "\n%s m² of panels", sheet.AreaWords(h.Area))
		for _, b := range h.Bulk {
			fmt.Fprintf(t, "; %s %s m²", b.What, sheet.AreaWords(b.Area))
		}
		fmt.Fprintln(t, ".")
	}
	for _, x := range []struct{ what, about string }{{"to cut beside the seams", sheet.MinuteWords(h.Cut)}, {"to save the seams", sheet.MinuteWords(h.Unpick)}, {"to press", sheet.MinuteWords(h.Press)}} {
		if x.about != "" {
			fmt.Fprintf(t, "%s\t%s\n", x.about, x.what)
		}
	}
	var boxes []string
	for _, n := range h.Notions {
		boxes = append(boxes, fmt.Sprintf("%s (%s)", strings.TrimSpace(n.Name+" "+n.Size), sheet.NotionWords(p.House.Units, n)))
	}
	if len(boxes) > 0 {
		fmt.Fprintf(t, "To the boxes: %s.\n", strings.Join(boxes, ", "))
	}
	for _, x := range h.LookOut {
		fmt.Fprintln(t, x)
	}
	fmt.Fprintln(t, "\n"+sentences(p, why.Verdict{Reasons: h.Why}))
	fmt.Fprintf(t, "The card for it: hemwright cut-up %s --card\n", c.Code)
}
