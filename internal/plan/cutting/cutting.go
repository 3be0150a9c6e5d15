package cutting

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"hemwright/internal/engine/nest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	ruleEnough  = why.Declare("cutting.enough", "Enough: {used} of {length} are used, {left} left over.", why.Exact)
	ruleNoPlace = why.Declare("cutting.no-place", "No place was found for {n} more; that proves nothing.", why.Exact)
	ruleNever   = why.Declare("cutting.never", "{n} parts cannot lie on {cloth} at all.", why.Exact)
	ruleWash    = why.Declare("cutting.wash", "{cloth} is not washed yet and is reckoned {share} in 100 shorter: wash and measure it again before it is cut.", why.Common)
	ruleShort   = why.Declare("cutting.short", "No cloth in {colour} for {pieces}: about {length} of {width} wide, or {other} of {narrow}.", why.House)
	ruleWrong   = why.Declare("cutting.check", "The lay does not hold: {what}.", why.Exact)
)

// Gap is what is kept between two parts for the shears.
const Gap = 2 * units.Millimetre

// Cut drafts what the plan makes and lays it on its cloths, each cloth by
// itself, and says which colours have no cloth. A lay of before that holds the
// very same drafts stands.
func Cut(ctx context.Context, h *show.House, plan answer.Plan, before answer.Cutting, b solve.Budget) (answer.Cutting, error) {
	var out answer.Cutting
	h = washed(h)
	d := newDrafter(h)
	byCloth := map[show.ClothID][]answer.Draft{}
	for _, c := range plan.Choices {
		if c.Source != answer.Make || c.Cloth == "" {
			continue
		}
		p, cloth := h.Piece(c.Piece), h.Cloth(c.Cloth)
		if p == nil || cloth == nil {
			continue
		}
		draft := d.draft(p, cloth)
		out.Drafts = append(out.Drafts, draft)
		byCloth[c.Cloth] = append(byCloth[c.Cloth], draft)
	}
	var cloths []*show.Cloth
	for i := range h.Cloths {
		if c := &h.Cloths[i]; len(byCloth[c.ID]) > 0 {
			cloths = append(cloths, c)
		}
	}
	lays, errs := make([]answer.Lay, len(cloths)), make([]error, len(cloths))
	twoAtATime(len(cloths), func(i int) {
		c := cloths[i]
		fixed, _ := putDown(c, byCloth[c.ID], h.HandLaid)
		lay, stands := standing(before, c, byCloth[c.ID], fixed)
		if !stands {
			lay, errs[i] = layOn(ctx, c, byCloth[c.ID], fixed, b, true)
		}
		lays[i] = lay
	})
	for i, err := range errs {
		if err != nil {
			return out, fmt.Errorf("laying %s: %w", cloths[i].ID, err)
		}
	}
	out.Lays = lays
	out.Short = short(h, plan)
	out.Apart = partLays(h, d, plan)
	return out, nil
}

// twoAtATime does all of some things that have nothing to do with one another,
// two at a time: most machines have two cores at least.
func twoAtATime(n int, do func(i int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(2, n) {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < int64(n); i = next.Add(1) - 1 {
				do(int(i))
			}
		})
	}
	wait.Wait()
}

// standing finds a whole lay of a cloth made from the same drafts, in which what
// was put by hand lies where it was put.
func standing(before answer.Cutting, c *show.Cloth, drafts []answer.Draft, fixed []answer.Laid) (answer.Lay, bool) {
	edge := Outline(c)
	for _, lay := range before.Lays {
		if lay.Cloth != c.ID || len(lay.Missing) > 0 {
			continue
		}
		on := map[show.PieceID]bool{}
		for _, q := range lay.Placed {
			on[q.Piece] = true
			if !geom.Within(q.Outline, edge) {
				return lay, false // the cloth is another than it was
			}
		}
		var was []answer.Draft
		for _, d := range before.Drafts {
			if on[d.Piece] {
				was = append(was, d)
			}
		}
		for _, f := range fixed {
			if !slices.ContainsFunc(lay.Placed, func(q answer.Laid) bool {
				return q.Piece == f.Piece && q.Part == f.Part && slices.Equal(q.Outline, f.Outline)
			}) {
				return lay, false
			}
		}
		return lay, reflect.DeepEqual(was, drafts)
	}
	return answer.Lay{}, false
}

func (d *drafter) draft(p *show.Piece, c *show.Cloth) answer.Draft {
	m, _ := d.measures(p)
	name, parts, v := d.seams.Draft(kindOf(p), m, freeWidth(c))
	return answer.Draft{Piece: p.ID, Name: name, Parts: parts, Verdict: v}
}

// The nester's length runs along x; a cloth's along y. down turns an outline
// of the cloth a quarter onto the nester's table, up turns it back.
func down(o geom.Outline, width units.Length) geom.Outline {
	out := make(geom.Outline, len(o))
	for i, p := range o {
		out[i] = geom.Point{X: p.Y, Y: width - p.X}
	}
	return out
}

func up(o geom.Outline, width units.Length) geom.Outline {
	out := make(geom.Outline, len(o))
	for i, p := range o {
		out[i] = geom.Point{X: width - p.Y, Y: p.X}
	}
	return out
}

// problemOf puts the drafts of one cloth before the nester. Names join piece,
// part and hand with a stroke.
func problemOf(c *show.Cloth, drafts []answer.Draft) nest.Problem {
	cloth := nest.Cloth{ID: string(c.ID), Outline: down(Outline(c), c.Width), Strip: len(c.Outline) == 0 && !c.Diameter.Known}
	if cloth.Strip {
		cloth.Outline = geom.Rect(c.Length, c.Width)
	}
	for _, f := range c.Flaws {
		cloth.Flaws = append(cloth.Flaws, down(FlawOutline(f), c.Width))
	}
	prob := nest.Problem{Cloths: []nest.Cloth{cloth}, Gap: Gap}
	for _, d := range drafts {
		for _, part := range d.Parts {
			q := nest.Piece{ID: join(d.Piece, part.Name, ""), Outline: down(part.Outline, 0), Copies: part.Copies, Turns: Turns(c, part), Hidden: part.Hidden}
			if !part.Mirror {
				prob.Pieces = append(prob.Pieces, q)
				continue
			}
			q.Copies = (part.Copies + 1) / 2
			prob.Pieces = append(prob.Pieces, q)
			q.ID, q.Outline, q.Copies = join(d.Piece, part.Name, "turned"), q.Outline.Mirror(), part.Copies/2
			if q.Copies > 0 {
				prob.Pieces = append(prob.Pieces, q)
			}
		}
	}
	return prob
}

func join(id show.PieceID, part, hand string) string { return string(id) + "/" + part + "/" + hand }

// Turns are the turns a part may lie in, in degrees counter-clockwise: it keeps parts with the grain; with a nap all one way up.
func Turns(c *show.Cloth, part answer.DraftPart) []int {
	switch {
	case c.OneWay:
		return []int{0}
	case part.AnyWay:
		return []int{0, 90, 180, 270}
	}
	return []int{0, 180}
}

// layOn lays drafts on a cloth. long looks longer before it says that no place
// was found.
func layOn(ctx context.Context, c *show.Cloth, drafts []answer.Draft, fixed []answer.Laid, b solve.Budget, long bool) (answer.Lay, error) {
	lay := answer.Lay{Cloth: c.ID}
	prob := problemOf(c, drafts)
	around(&prob, c, fixed)
	if len(prob.Pieces) == 0 {
		add(&lay, c, fixed)
		lay.Verdict = judge(c, lay, 0)
		return lay, nil
	}
	res, err := nest.Pack(ctx, prob, b)
	if err == nil && long && len(res.Missing) > 0 && b.Steps == 0 && res.Outcome.Proof != solve.Impossible {
		prob.Previous = res.Placed
		res, err = nest.Pack(ctx, prob, solve.Budget{Effort: solve.Normal, Seed: b.Seed, Spent: b.Spent})
	}
	if err != nil {
		return lay, err
	}
	if bad := nest.Check(prob, res); len(bad) > 0 {
		return lay, fmt.Errorf("%s", bad[0].Sentence(units.Metric))
	}
	lay.Outcome = res.Outcome
	never := 0
	for _, m := range res.Missing {
		if m.Never {
			never++
		}
		l := laid(m.Piece, m.Copy)
		lay.Missing = append(lay.Missing, l)
	}
	placed := slices.Clone(fixed)
	for _, q := range res.Placed {
		l := laid(q.Piece, q.Copy)
		l.Turn, l.Outline = q.Turn, up(q.Outline, c.Width)
		placed = append(placed, l)
	}
	add(&lay, c, placed)
	lay.Verdict = judge(c, lay, never)
	return lay, nil
}

// add puts parts on a lay and says how far they go.
func add(lay *answer.Lay, c *show.Cloth, placed []answer.Laid) {
	var area units.Area
	for _, l := range placed {
		lay.Used = max(lay.Used, l.Outline.Box().Max.Y)
		area += l.Outline.Area()
		lay.Placed = append(lay.Placed, l)
	}
	lay.Left = max(0, c.Length-lay.Used)
	lay.Share = int(float64(area) * 100 / float64(max(Outline(c).Area(), 1)))
}

// laid takes a name apart again.
func laid(id string, copy int) answer.Laid {
	f := strings.SplitN(id, "/", 3)
	return answer.Laid{Piece: show.PieceID(f[0]), Part: f[1], Copy: copy, Mirror: f[2] != ""}
}

func judge(c *show.Cloth, lay answer.Lay, never int) why.Verdict {
	ref := why.Of("cloth", why.Ref{Kind: "cloth", Code: string(c.ID)})
	v := why.Verdict{Grade: why.Yes}
	switch {
	case never > 0:
		v = why.Verdict{Grade: why.No, Reasons: []why.Reason{ruleNever.Because(why.No, ref, why.Of("n", never))}}
	case len(lay.Missing) > 0:
		v = why.Verdict{Grade: why.Unknown, Reasons: []why.Reason{ruleNoPlace.Because(why.Unknown, why.Of("n", len(lay.Missing)))}}
	default:
		v.Reasons = append(v.Reasons, ruleEnough.Because(why.Yes, why.Of("used", lay.Used), why.Of("length", c.Length), why.Of("left", lay.Left)))
	}
	if c.Washed == "no" {
		v.Reasons = append(v.Reasons, ruleWash.Because(why.Work, ref, why.Of("share", int(shrinks(c)/10))))
	}
	return v
}

// short groups what the plan makes of cloth that is still to be bought, by
// colour.
func short(h *show.House, plan answer.Plan) []answer.Shortage {
	var out []answer.Shortage
	at := map[string]int{}
	for _, c := range plan.Choices {
		p := h.Piece(c.Piece)
		if p == nil || c.Source != answer.Make || c.Cloth != "" || len(c.Parts) == 0 {
			continue
		}
		i, ok := at[p.Colour]
		if !ok {
			i = len(out)
			at[p.Colour] = i
			out = append(out, answer.Shortage{Colour: p.Colour, Width: usualWidth})
		}
		out[i].Pieces = append(out[i].Pieces, p.ID)
		for _, part := range c.Parts {
			out[i].Wanted += part.Length
		}
	}
	for i, s := range out {
		out[i].Why = ruleShort.Because(why.No, why.Of("pieces", codes(s.Pieces)), why.Of("colour", s.Colour), why.Of("length", s.Wanted), why.Of("width", s.Width),
			why.Of("other", AtWidth(s.Wanted, s.Width, otherWidth)), why.Of("narrow", otherWidth))
	}
	return out
}

func codes(ids []show.PieceID) string {
	var out []string
	for _, id := range ids {
		out = append(out, string(id))
	}
	return strings.Join(out, ", ")
}

// Check looks at every lay again on the lattice, from its outlines alone: no
// two parts overlap or come nearer than the gap, none leaves its cloth or
// touches a flaw, and every part of every draft is laid or missing, once; and
// what is cut from the parts of garments lies on them.
func Check(h *show.House, c answer.Cutting) []why.Reason {
	var bad []why.Reason
	h = washed(h)
	wrong := func(format string, args ...any) {
		bad = append(bad, ruleWrong.Because(why.No, why.Of("what", fmt.Sprintf(format, args...))))
	}
	count := map[string]int{}
	for _, d := range c.Drafts {
		for _, p := range d.Parts {
			count[string(d.Piece)+p.Name] += p.Copies
		}
	}
	for _, lay := range c.Lays {
		cloth := h.Cloth(lay.Cloth)
		if cloth == nil {
			wrong("%s does not exist", lay.Cloth)
			continue
		}
		edge := Outline(cloth)
		for i, a := range lay.Placed {
			count[string(a.Piece)+a.Part]--
			if !geom.Within(a.Outline, edge) {
				wrong("%s %s leaves %s", a.Piece, a.Part, lay.Cloth)
			}
			for _, f := range cloth.Flaws {
				if geom.Overlap(a.Outline, FlawOutline(f)) && !hidden(c, a) {
					wrong("%s %s lies on a flaw of %s", a.Piece, a.Part, lay.Cloth)
				}
			}
			for _, b := range lay.Placed[:i] {
				if geom.Overlap(a.Outline, b.Outline) || geom.Nearer(a.Outline, b.Outline, Gap) {
					wrong("%s %s and %s %s come too near on %s", a.Piece, a.Part, b.Piece, b.Part, lay.Cloth)
				}
			}
		}
		for _, m := range lay.Missing {
			count[string(m.Piece)+m.Part]--
		}
	}
	checkParts(h, c, wrong)
	for what, n := range count {
		if n != 0 {
			wrong("%s: %d parts unaccounted for", what, n)
		}
	}
	return bad
}

func hidden(c answer.Cutting, l answer.Laid) bool {
	for _, d := range c.Drafts {
		for _, p := range d.Parts {
			if d.Piece == l.Piece && p.Name == l.Part {
				return p.Hidden
			}
		}
	}
	return false
}
