package cli

import (
	"fmt"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/workshop"
)

func (a *app) shortCmd() *cobra.Command {
	c := &cobra.Command{Use: "short", Short: "What is short, what would more of it buy, and what do the pins cost?", Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return a.with(func(w *workshop.Workshop) error {
				p, err := w.Prepared(c.Context())
				if err != nil {
					return err
				}
				x, err := w.Short(c.Context())
				if err != nil {
					return err
				}
				return a.put(x, func(t *tabwriter.Writer) { sayShort(p, x, t) })
			})
		}}
	c.Flags().BoolVar(&a.json, "json", false, "as JSON, with stable names")
	return c
}

func sayShort(p *workshop.Prepared, x answer.Short, t *tabwriter.Writer) {
	for _, s := range x.Scarce {
		fmt.Fprintf(t, "%s: %s.\n", sheet.MoreOf(&p.House, p.Workroom.Offers, s), sheet.TakesMore(s.Buys))
		sayMoves(p, s.Buys, t)
	}
	for _, s := range x.Pins {
		fmt.Fprintf(t, "%s. %s\n", sheet.PinWords(&p.House, s), sheet.PinCosts(s))
		sayMoves(p, s.Without, t)
	}
	fmt.Fprintln(t, "Each is the plan worked out again with that one thing changed.")
}

func sayMoves(p *workshop.Prepared, d answer.Difference, t *tabwriter.Writer) {
	for _, m := range d.Moves {
		fmt.Fprintf(t, "  %s: %s instead of %s\n", sheet.PieceWords(&p.House, m.Piece), sheet.TakenWords(m.Now), sheet.TakenWords(m.Was))
	}
}

func (a *app) insteadCmd() *cobra.Command {
	c := &cobra.Command{Use: "instead PIECE", Short: "What would the next best for a piece cost the whole plan, and when would it win?", Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			return a.with(func(w *workshop.Workshop) error {
				p, err := w.Prepared(c.Context())
				if err != nil {
					return err
				}
				xs, err := w.Instead(c.Context(), show.PieceID(args[0]))
				if err != nil {
					return err
				}
				return a.put(xs, func(t *tabwriter.Writer) { sayInstead(p, show.PieceID(args[0]), xs, t) })
			})
		}}
	c.Flags().BoolVar(&a.json, "json", false, "as JSON, with stable names")
	return c
}

func sayInstead(p *workshop.Prepared, id show.PieceID, xs []answer.Instead, t *tabwriter.Writer) {
	if c := p.Choice(id); c != nil {
		fmt.Fprintf(t, "%s: %s.\n", sheet.PieceWords(&p.House, id), sheet.TakenWords(c.Taken()))
	}
	for _, x := range xs {
		if x.Never {
			fmt.Fprintf(t, "%s: %s\n", sheet.TakenWords(x.Option.Taken()), sheet.ToWin(p.House.Show.Currency, x))
			continue
		}
		fmt.Fprintf(t, "%s: %s. %s\n", sheet.TakenWords(x.Option.Taken()), sheet.TakesMore(x.Whole), sheet.ToWin(p.House.Show.Currency, x))
		sayMoves(p, withoutPiece(x.Whole, id), t)
	}
}

// withoutPiece leaves one piece out of the moves.
func withoutPiece(d answer.Difference, id show.PieceID) answer.Difference {
	d.Moves = sheet.OtherMoves(d, id)
	return d
}
