package assign

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/value/solve"
)

// standIn hides some options of a problem behind one that costs and uses no
// more than any of them.
func standIn(t *rapid.T, p Problem) Problem {
	q := p
	q.Needs = append([]Need{}, p.Needs...)
	for i, n := range q.Needs {
		var listed []Option
		var aside *Option
		for _, o := range n.Options[:len(n.Options)-1] { // the last stays, so that there is a plan
			if rapid.Bool().Draw(t, "listed") {
				listed = append(listed, o)
				continue
			}
			low := Option{Cost: o.Cost - rapid.Int64Range(0, o.Cost).Draw(t, "less"), Thing: None, Family: None, Unlisted: true}
			for _, u := range o.Uses {
				low.Uses = append(low.Uses, Use{u.Budget, u.Amount - rapid.Int64Range(0, u.Amount).Draw(t, "uses less")})
			}
			if aside != nil {
				low.Cost, low.Uses = min(low.Cost, aside.Cost), nil
			}
			aside = &low
		}
		n.Options = append(listed, n.Options[len(n.Options)-1])
		if aside != nil {
			n.Options = append(n.Options, *aside)
		}
		q.Needs[i] = n
	}
	return q
}

// The bound of a problem with options not listed lies below the best of the
// whole problem, by trying every plan of that; what is proved best is.
func TestUnlistedAgainstBruteForce(t *testing.T) {
	proved := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t)
		want := bruteForce(p)
		got, err := Solve(context.Background(), standIn(t, p), nil, solve.Budget{Steps: 60})
		if err != nil {
			t.Fatal(err)
		}
		if int64(got.Outcome.Bound) > want || got.Cost < want || got.Outcome.Proof == solve.Best && got.Cost != want {
			t.Fatalf("cost %d, bound %v (%s); the best of the whole is %d", got.Cost, got.Outcome.Bound, got.Outcome.Proof, want)
		}
		if got.Outcome.Proof == solve.Best {
			proved++
		}
	})
	if proved == 0 {
		t.Error("nothing was proved")
	}
}

// from: hand calculation. One need: listed 9, not listed at least 4: no plan
// lies below 4, and 9 is not proved. With that one at 9 or more, it is.
func TestUnlistedByHand(t *testing.T) {
	for low, proof := range map[int64]solve.Proof{4: solve.Found, 9: solve.Best, 12: solve.Best} {
		p := Problem{Needs: []Need{{Group: None, Pin: None, Options: []Option{{Cost: 9, Thing: None, Family: None}, {Cost: low, Thing: None, Family: None, Unlisted: true}}}}}
		got, err := Solve(context.Background(), p, nil, solve.Budget{})
		if err != nil || got.Cost != 9 || got.Outcome.Proof != proof || got.Outcome.Bound != float64(min(low, 9)) {
			t.Errorf("at %d: cost %d, bound %v, %s, %v", low, got.Cost, got.Outcome.Bound, got.Outcome.Proof, err)
		}
	}
	p := Problem{Needs: []Need{{Group: None, Pin: None, Options: []Option{{Thing: None, Family: None, Unlisted: true}}}}}
	if _, err := Solve(context.Background(), p, nil, solve.Budget{}); err == nil {
		t.Error("a need with nothing listed is taken")
	}
	if bad := Check(p, Plan{Chosen: []int{0}}); len(bad) == 0 {
		t.Error("an option that is not listed is let through")
	}
}
