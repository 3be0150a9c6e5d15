// Command lab runs the engines on published benchmark files and prints what
// they reach, one JSON object a run. It is a tool for the people who build
// Hemwright, not for those who use it.
//
//	lab nest INSTANCE.json -seconds 60 -seed 1 -out layout.json
//	lab schedule FILE.sm -schedules 5000 -seed 1 -out starts.json
//	lab source FILE.srcp.gz -seconds 20 -seed 1 -out file.sol
//	lab season 300x20000 -seconds 60 -seed 1
//
// Every verb takes -seconds or -steps, -seed, -out and -watch. Ctrl-C ends a
// run with the best answer so far.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"os/signal"
	"slices"
	"strings"
	"time"

	"hemwright/internal/value/solve"
)

// verbs are what the lab can run. Each reads the file named first and returns
// its result, having written its answer.
var verbs = map[string]func(ctx context.Context, run *run) (result, error){
	"nest":     nestVerb,
	"schedule": scheduleVerb,
	"source":   sourceVerb,
	"season":   seasonVerb,
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(lab(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// lab runs one verb and returns the exit code: 0, or 2 for a bad call or file.
func lab(ctx context.Context, args []string, out, errs io.Writer) int {
	r, err := parse(args, errs)
	if err == nil {
		var res result
		if res, err = verbs[args[0]](ctx, r); err == nil {
			line, _ := json.Marshal(res)
			fmt.Fprintln(out, string(line))
			return 0
		}
	}
	if !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(errs, err)
	}
	return 2
}

// run is one call: its file, its effort, and the clock.
type run struct {
	file    string
	out     string
	seconds float64
	steps   int64
	seed    uint64
	watch   bool
	errs    io.Writer
	began   time.Time
}

// parse reads verb, file and flags; flags may stand before or after the file.
func parse(args []string, errs io.Writer) (*run, error) {
	if len(args) == 0 || verbs[args[0]] == nil {
		return nil, fmt.Errorf("say what to run: lab VERB FILE, where VERB is one of %s", strings.Join(names(), ", "))
	}
	r := &run{errs: errs}
	set := flag.NewFlagSet("lab "+args[0], flag.ContinueOnError)
	set.SetOutput(errs)
	set.Float64Var(&r.seconds, "seconds", 20, "how long to look")
	set.Int64Var(&r.steps, "steps", 0, "look exactly this many steps instead")
	set.Int64Var(&r.steps, "schedules", 0, "the same, for schedules")
	set.Uint64Var(&r.seed, "seed", 1, "seed of chance")
	set.StringVar(&r.out, "out", "", "where to write the answer")
	set.BoolVar(&r.watch, "watch", false, "show progress")
	var files []string
	for rest := args[1:]; len(rest) > 0; {
		if err := set.Parse(rest); err != nil {
			return nil, err
		}
		if rest = set.Args(); len(rest) > 0 {
			files, rest = append(files, rest[0]), rest[1:]
		}
	}
	if len(files) != 1 {
		return nil, fmt.Errorf("name one file to run, not %d", len(files))
	}
	r.file, r.began = files[0], time.Now()
	return r, nil
}

func names() []string {
	var all []string
	for v := range verbs {
		all = append(all, v)
	}
	slices.Sort(all)
	return all
}

func (r *run) elapsed() float64 { return time.Since(r.began).Seconds() }

// budget is the effort asked for; saw, if given, hears of every report.
func (r *run) budget(saw func(solve.Progress)) solve.Budget {
	b := solve.Budget{Steps: r.steps, Seed: r.seed}
	if r.steps == 0 {
		b.Steps = math.MaxInt64
		b.Spent = func() float64 { return r.elapsed() / r.seconds }
	}
	b.Watch = func(p solve.Progress) {
		if r.watch {
			fmt.Fprintf(r.errs, "%8.2f s  step %d  value %g\n", r.elapsed(), p.Step, p.Value)
		}
		if saw != nil {
			saw(p)
		}
	}
	return b
}

// result is the line every verb prints.
type result struct {
	Name    string       `json:"name"`
	Seconds float64      `json:"seconds"`
	Steps   int64        `json:"steps"`
	Seed    uint64       `json:"seed"`
	Value   float64      `json:"value"`
	Bound   *float64     `json:"bound"`
	Proof   string       `json:"proof"`
	Stopped bool         `json:"stopped"`
	Curve   [][2]float64 `json:"curve"`
	*NestFigures
}

// write writes an answer to -out, if given.
func (r *run) write(b []byte) error {
	if r.out == "" {
		return nil
	}
	return os.WriteFile(r.out, b, 0o644)
}
