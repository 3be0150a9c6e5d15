package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"hemwright/internal/engine/assign"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
)

// words reads whitespace-separated numbers and names from a file and keeps
// the first mistake.
type words struct {
	sc  *bufio.Scanner
	err error
}

func newWords(r io.Reader) *words {
	sc := bufio.NewScanner(r)
	sc.Buffer(make([]byte, 1<<16), 1<<22)
	sc.Split(bufio.ScanWords)
	return &words{sc: sc}
}

func (w *words) next() string {
	if w.err == nil && !w.sc.Scan() {
		w.err = io.ErrUnexpectedEOF
	}
	return w.sc.Text()
}

func (w *words) want(word string) {
	if got := w.next(); w.err == nil && got != word {
		w.err = fmt.Errorf("found %q where %q should stand", got, word)
	}
}

func (w *words) num() int {
	n, err := strconv.Atoi(w.next())
	if w.err == nil {
		w.err = err
	}
	return n
}

func (w *words) nums(n int) []int {
	out := make([]int, 0, max(n, 0))
	for range n {
		out = append(out, w.num())
	}
	return out
}

// readSourcing reads a sourcing instance: one option for each need under
// money, three kinds of hours and cloth.
func readSourcing(r io.Reader) (assign.Problem, string, error) {
	w := newWords(r)
	w.want("SOURCING")
	w.num()
	name := w.next()
	w.want("needs")
	needs := w.num()
	w.want("garments")
	p := assign.Problem{Things: w.num()}
	w.want("cloths")
	cloths := w.num()
	w.want("scenes")
	w.num()
	w.want("groups")
	p.Groups = w.num()
	w.want("fams")
	p.Families = w.num()
	w.want("money")
	p.Budgets = append(p.Budgets, int64(w.num()))
	w.want("hours")
	for _, h := range w.nums(3) {
		p.Budgets = append(p.Budgets, int64(h))
	}
	w.want("cloth")
	for _, l := range w.nums(cloths) {
		p.Budgets = append(p.Budgets, int64(l))
	}
	for i := 0; i < needs && w.err == nil; i++ {
		w.want("need")
		w.next() // the weight is already in the costs
		w.num()
		n := assign.Need{Group: w.num(), Pin: assign.None}
		options := w.num()
		n.Slots = w.nums(w.num())
		for range options {
			n.Options = append(n.Options, readOption(w))
		}
		p.Needs = append(p.Needs, n)
	}
	return p, name, w.err
}

func readOption(w *words) assign.Option {
	w.next() // the kind
	o := assign.Option{Thing: w.num(), Exclusive: w.num() == 1}
	cloth, length := w.num(), w.num()
	for k, amount := range w.nums(4) {
		if amount > 0 {
			o.Uses = append(o.Uses, assign.Use{Budget: k, Amount: int64(amount)})
		}
	}
	if cloth >= 0 && length > 0 {
		o.Uses = append(o.Uses, assign.Use{Budget: 4 + cloth, Amount: int64(length)})
	}
	o.Cost = int64(w.num())
	o.Family = w.num()
	return o
}

func loadSourcing(path string) (assign.Problem, string, error) {
	f, err := os.Open(path)
	if err != nil {
		return assign.Problem{}, "", err
	}
	defer f.Close()
	var r io.Reader = f
	if strings.HasSuffix(path, ".gz") {
		if r, err = gzip.NewReader(f); err != nil {
			return assign.Problem{}, "", err
		}
	}
	return readSourcing(r)
}

// sourceVerb shares out one instance and writes the option of each need, one
// a line.
func sourceVerb(ctx context.Context, r *run) (result, error) {
	p, name, err := loadSourcing(r.file)
	if err != nil {
		return result{}, fmt.Errorf("%s is not a sourcing instance: %w", r.file, err)
	}
	var curve [][2]float64
	last := math.Inf(1)
	b := r.budget(func(q solve.Progress) {
		if q.Value < last {
			last = q.Value
			curve = append(curve, [2]float64{r.elapsed(), q.Value})
		}
	})
	plan, err := assign.Solve(ctx, p, nil, b)
	if err != nil {
		return result{}, err
	}
	if bad := assign.Check(p, plan); len(bad) > 0 {
		return result{}, fmt.Errorf("the answer does not hold: %s", bad[0].Sentence(units.Metric))
	}
	var out bytes.Buffer
	for _, j := range plan.Chosen {
		fmt.Fprintln(&out, j)
	}
	o := plan.Outcome
	return result{Name: name, Seconds: r.elapsed(), Steps: o.Steps, Seed: o.Seed, Value: o.Value, Bound: &o.Bound, Proof: o.Proof.String(), Stopped: o.Stopped, Curve: curve}, r.write(out.Bytes())
}
