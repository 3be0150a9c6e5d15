// Package cli is the terminal's face: each command answers one question.
//
// Rules of speech: plain words, short sentences, no exclamation mark, numbers
// with their units, one suggestion for a problem. Answers go to standard
// output, progress and refusals to standard error.
package cli

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// app is one run of the program.
type app struct {
	out, err io.Writer
	file     string
	day      string
	json     bool
}

// Run runs the program and returns its exit code: 0 an answer, 2 input that
// cannot be taken, 3 nothing of that name, 4 something else was done
// meanwhile, 1 a fault of ours, 130 stopped with nothing.
func Run(args []string, out, errs io.Writer) int {
	a := &app{out: out, err: errs}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	root := a.root()
	root.SetArgs(args)
	root.SetOut(out)
	root.SetErr(errs)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return 0
	}
	if errors.Is(err, context.Canceled) {
		fmt.Fprintln(errs, "Stopped. Nothing was changed.")
		return 130
	}
	var known *why.Error
	if errors.As(err, &known) {
		fmt.Fprintln(errs, known.Error())
		return known.Kind.ExitCode()
	}
	if usage := new(usageError); errors.As(err, &usage) {
		fmt.Fprintf(errs, "%s\nTry: hemwright --help\n", usage.err)
		return why.Invalid.ExitCode()
	}
	fmt.Fprintf(errs, "Something went wrong in the program itself: %v\nWhat you did before is kept.\n", err)
	return why.Internal.ExitCode()
}

// usageError is a command line that cannot be understood.
type usageError struct{ err error }

func (e *usageError) Error() string { return e.err.Error() }

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "hemwright",
		Short: "Costumes a youth show on next to nothing: who wears what, from where, made when.",
		Long: `Hemwright does the arithmetic of costuming a youth show on next to nothing.

Start:     hemwright demo                      the whole job on an invented show
           hemwright new --file my.hemwright   an empty house of your own
           hemwright import --file my.hemwright cast.csv scenes.csv …
           hemwright open --file my.hemwright  the pages, on this machine only`,
		SilenceUsage: true, SilenceErrors: true,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return &usageError{fmt.Errorf("there is no command %q", args[0])}
			}
			return c.Help()
		},
		Args: cobra.ArbitraryArgs,
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.PersistentFlags().StringVar(&a.file, "file", "house.hemwright", "the house: one file")
	root.PersistentFlags().StringVar(&a.day, "day", "", "the day it is taken to be, as 2027-03-14 (default today)")
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return &usageError{err} })
	root.AddCommand(a.demoCmd(), a.newCmd(), a.importCmd(), a.openCmd(), a.undoCmd(), a.redoCmd(), a.backupCmd(), a.printCmd(), a.pinCmd(), a.unitsCmd(), a.figuresCmd(), a.tellCmd(), a.awayCmd(), a.bundleCmd(), a.datesCmd(), a.shopCmd(), a.pocketCmd(), a.exportCmd())
	root.AddCommand(a.answers()...)
	root.AddCommand(a.trust()...)
	for _, c := range root.Commands() {
		if c.Args != nil {
			check := c.Args
			c.Args = func(c *cobra.Command, args []string) error {
				if err := check(c, args); err != nil {
					return &usageError{err}
				}
				return nil
			}
		}
	}
	return root
}

// settings are what the flags say.
func (a *app) settings() (workshop.Settings, error) {
	set := workshop.Settings{Step: a.stepper()}
	if a.day != "" {
		day, err := units.ParseDate(a.day)
		if err != nil {
			return set, why.Bad("day", err.Error()+".", "")
		}
		set.Day = day
	}
	return set, nil
}

// stepper tells on standard error what is being worked out, with the seconds.
func (a *app) stepper() func(string) {
	begun := time.Now()
	return func(words string) {
		fmt.Fprintf(a.err, "%5.1f s  %s\n", time.Since(begun).Seconds(), words)
	}
}

// open opens the house the flags name.
func (a *app) open() (*workshop.Workshop, error) {
	set, err := a.settings()
	if err != nil {
		return nil, err
	}
	return workshop.Open(a.file, set)
}

// with runs something on the open house and closes it.
func (a *app) with(do func(*workshop.Workshop) error) (err error) {
	w, err := a.open()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, w.Close()) }()
	if err := w.NotCopied(); err != nil {
		fmt.Fprintf(a.err, "No copy was made. %v\n", err)
	}
	return do(w)
}

// put prints JSON, or the table of an answer.
func (a *app) put(v any, text func(t *tabwriter.Writer)) error {
	if a.json {
		enc := json.NewEncoder(a.out)
		enc.SetIndent("", "  ")
		return enc.Encode(v)
	}
	t := tabwriter.NewWriter(a.out, 0, 4, 2, ' ', 0)
	text(t)
	return t.Flush()
}
