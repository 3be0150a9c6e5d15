package cli

import (
	"fmt"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"hemwright/internal/workshop"
)

// trust are the commands about what is kept, copied and forgotten.
func (a *app) trust() []*cobra.Command {
	return []*cobra.Command{a.changedCmd()}
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
