package cutting

import (
	"context"
	"fmt"
	"slices"
	"sort"
	"strings"

	"hemwright/internal/craft/remake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	ruleDoes    = why.Declare("cutting.does", "{cloth} does: {used} of {have}, {left} over.", why.Exact)
	ruleTight   = why.Declare("cutting.tight", "{cloth} does by {left} only, and {reserve} is usually kept beyond a lay: lay it out before anything is cut.", reserveBasis)
	ruleLacks   = why.Declare("cutting.lacks", "{cloth} does not: by rule of thumb about {short} short of {wanted}.", why.House)
	ruleTooWide = why.Declare("cutting.too-wide", "{cloth} does not: {part} of {piece} is wider than the cloth and may not lie across.", why.Exact)
	ruleCannotL = why.Declare("cutting.cannot", "{cloth} does not: {n} parts cannot lie on it, which is proved.", why.Exact)
	ruleMaybe   = why.Declare("cutting.maybe", "No place was found for {n} parts on {cloth}, which proves nothing.", why.House)
	ruleRepeat  = why.Declare("cutting.repeat", "{cloth} comes again every {repeat}: one repeat is reckoned for every row, and what has to match is laid by eye, mark on mark.", why.Common)
	ruleBuy     = why.Declare("cutting.buy", "To make them of something else: {buy} of {width} wide, what is kept beyond the lay included; of {other} wide {much}.", reserveBasis)

	reserveBasis = why.Basis{Key: "reserve", Kind: why.Practice, Title: "what costumers keep beyond a lay: 12 in 100 of old cloth, 6 of new; from practice"}
)

// otherWidth is the other width shops have.
const otherWidth = 112 * units.Centimetre

// Reserve is what is kept beyond a lay, in hundredths: more on cloth that has
// been something before.
func Reserve(c *show.Cloth) int64 {
	for _, old := range []string{"curtain", "sheet", "tablecloth", "harvested", "duvet", "blanket", "pillow"} {
		if strings.Contains(strings.ToLower(c.Name+" "+c.Source), old) {
			return remake.KeptOfOld
		}
	}
	return remake.KeptOfNew
}

// Does says whether a cloth does for some pieces: the rule of thumb at once,
// then a lay; and where it does not, what to change so that it does, each
// change laid anew, the least seen first.
func Does(ctx context.Context, h *show.House, id show.ClothID, pieces []show.PieceID, b solve.Budget) (answer.ClothDoes, error) {
	h = washed(h)
	c := h.Cloth(id)
	if c == nil {
		return answer.ClothDoes{}, why.NotFound("cloth", string(id))
	}
	d := newDrafter(h)
	out := answer.ClothDoes{Cloth: id, Have: c.Length, Width: usualWidth}
	var drafts []answer.Draft
	var all, usual, narrow []answer.DraftPart
	for _, p := range pieces {
		q := h.Piece(p)
		if q == nil {
			return out, why.NotFound("piece", string(p))
		}
		x := d.draft(q, c)
		if x.Parts == nil {
			out.None = append(out.None, p)
			continue
		}
		out.Pieces = append(out.Pieces, p)
		drafts = append(drafts, x)
		all = append(all, x.Parts...)
		m, _ := d.measures(q)
		_, parts, _ := d.seams.Draft(kindOf(q), m, usualWidth)
		usual = append(usual, parts...)
		_, parts, _ = d.seams.Draft(kindOf(q), m, otherWidth)
		narrow = append(narrow, parts...)
	}
	if len(drafts) == 0 {
		return out, nil
	}
	l, rows, _ := thumb(all, freeWidth(c))
	out.Thumb = Matched(l, c.Repeat.Or(0), rows)
	if l, ok := Thumb(usual, usualWidth); ok {
		out.Buy = stepUp(remake.Reserve(l, false))
	}
	if l, ok := Thumb(narrow, otherWidth); ok {
		out.BuyNarrow = stepUp(remake.Reserve(l, false))
	}
	lay, err := layOn(ctx, c, drafts, nil, b, out.Thumb*9 <= out.Have*10)
	if err != nil {
		return out, err
	}
	out.Lay = lay
	out.Reserve = Matched(lay.Used.Times(Reserve(c), 100), c.Repeat.Or(0), rows)
	doesVerdict(&out, c, drafts)
	if len(lay.Missing) > 0 {
		m := mender{ctx: ctx, h: h, d: d, c: c, drafts: drafts, b: b}
		if out.Changes, err = m.changes(); err != nil {
			return out, err
		}
	}
	return out, nil
}

// stepUp rounds what is bought up to 5 cm.
func stepUp(l units.Length) units.Length {
	const step = 5 * units.Centimetre
	return (l + step - 1) / step * step
}

// doesVerdict puts the answer into words.
func doesVerdict(out *answer.ClothDoes, c *show.Cloth, drafts []answer.Draft) {
	ref := why.Of("cloth", why.Ref{Kind: "cloth", Code: string(c.ID)})
	v := why.Verdict{Grade: why.Yes}
	never := 0
	for _, d := range drafts {
		for _, p := range d.Parts {
			if w, l := p.Outline.Box().Width(), p.Outline.Box().Height(); w > c.Width && !(p.AnyWay && l <= c.Width) {
				v.Reasons = append(v.Reasons, ruleTooWide.Because(why.No, ref, why.Of("part", p.Name), why.Of("piece", why.Ref{Kind: "piece", Code: string(d.Piece)})))
				never++
			}
		}
	}
	switch short := out.Thumb - c.Length; {
	case never > 0:
		v.Grade = why.No
	case len(out.Lay.Missing) == 0 && out.Lay.Left >= out.Reserve:
		v.Reasons = append(v.Reasons, ruleDoes.Because(why.Yes, ref, why.Of("used", out.Lay.Used), why.Of("have", c.Length), why.Of("left", out.Lay.Left)))
	case len(out.Lay.Missing) == 0:
		v.Grade = why.Work
		v.Reasons = append(v.Reasons, ruleTight.Because(why.Work, ref, why.Of("left", out.Lay.Left), why.Of("reserve", out.Reserve)))
	case out.Lay.Outcome.Proof == solve.Impossible:
		v.Grade = why.No
		v.Reasons = append(v.Reasons, ruleCannotL.Because(why.No, ref, why.Of("n", len(out.Lay.Missing))))
	case out.Thumb > 0 && short > 0:
		v.Grade = why.No
		v.Reasons = append(v.Reasons, ruleLacks.Because(why.No, ref, why.Of("short", short), why.Of("wanted", out.Thumb)))
	default:
		v.Grade = why.Unknown
		v.Reasons = append(v.Reasons, ruleMaybe.Because(why.Unknown, ref, why.Of("n", len(out.Lay.Missing))))
	}
	if r := c.Repeat.Or(0); r > 0 {
		v.Reasons = append(v.Reasons, ruleRepeat.Because(why.Work, ref, why.Of("repeat", r)))
	}
	if v.Grade == why.No && out.Buy > 0 && out.BuyNarrow > 0 {
		v.Reasons = append(v.Reasons, ruleBuy.Because(why.Work, why.Of("buy", out.Buy), why.Of("width", out.Width), why.Of("other", otherWidth), why.Of("much", out.BuyNarrow)))
	}
	out.Verdict = v
}

// mender looks for what to change so that a cloth does.
type mender struct {
	ctx    context.Context
	h      *show.House
	d      *drafter
	c      *show.Cloth
	drafts []answer.Draft
	b      solve.Budget
}

// change is one thing that could be done otherwise: what is said of it, what
// the house sees of it, and the drafts after it; false where it changes
// nothing here.
type change struct {
	seen int
	do   func(c *show.Cloth, d []answer.Draft) (says string, out []answer.Draft, ok bool)
}

// ladder is the changes in the order of what the house sees of them.
var ladder = []change{
	{0, bandsElsewhere}, {0, bandsAcross}, {0, bandsPieced}, {1, shallowHem}, {2, plainNeck}, {2, narrowSleeve}, {3, fewerWidths}, {4, shorter},
}

// changes tries every change by itself, then all up to each rung together;
// then one piece after the other of another cloth of its set's colours. Only
// what lays is told.
func (m *mender) changes() ([]answer.ClothChange, error) {
	var out []answer.ClothChange
	var says []string
	sum := m.drafts
	for _, x := range ladder {
		word, alone, ok := x.do(m.c, clone(m.drafts))
		if !ok {
			continue
		}
		done, err := m.try(&out, []string{word}, x.seen, alone)
		if err != nil {
			return nil, err
		}
		says = append(says, word)
		_, sum, _ = x.do(m.c, clone(sum))
		if !done && len(says) > 1 {
			if done, err = m.try(&out, slices.Clone(says), x.seen, sum); err != nil {
				return nil, err
			}
		}
		if done && len(out) >= 3 {
			break
		}
	}
	err := m.elsewhere(&out)
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].Seen != out[j].Seen {
			return out[i].Seen < out[j].Seen
		}
		return len(out[i].Says) < len(out[j].Says)
	})
	return needed(out), err
}

// needed leaves out what changes all that another does, and more.
func needed(in []answer.ClothChange) []answer.ClothChange {
	return slices.DeleteFunc(slices.Clone(in), func(x answer.ClothChange) bool {
		return slices.ContainsFunc(in, func(y answer.ClothChange) bool {
			if len(y.Says) >= len(x.Says) {
				return false
			}
			for _, s := range y.Says {
				if !slices.Contains(x.Says, s) {
					return false
				}
			}
			return true
		})
	})
}

// try lays changed drafts and keeps them where all have a place.
func (m *mender) try(out *[]answer.ClothChange, says []string, seen int, drafts []answer.Draft) (bool, error) {
	lay, err := layOn(m.ctx, m.c, drafts, nil, m.b, false)
	if err != nil || len(lay.Missing) > 0 {
		return false, err
	}
	*out = append(*out, answer.ClothChange{Says: says, Seen: seen, Left: lay.Left, Lay: lay})
	return true, nil
}

// elsewhere makes one piece of another cloth, in a colour its set has or its
// own, and lays the rest here and it there.
func (m *mender) elsewhere(out *[]answer.ClothChange) error {
	for i, d := range m.drafts {
		p := m.h.Piece(d.Piece)
		rest := slices.Delete(slices.Clone(m.drafts), i, i+1)
		if len(rest) == 0 {
			return nil
		}
		here, err := layOn(m.ctx, m.c, rest, nil, m.b, false)
		if err != nil {
			return err
		}
		if len(here.Missing) > 0 {
			continue
		}
		for k := range m.h.Cloths {
			c := &m.h.Cloths[k]
			if c.ID == m.c.ID || !m.h.MayBe(p, c.Colour) {
				continue
			}
			there, err := layOn(m.ctx, c, []answer.Draft{m.d.draft(p, c)}, nil, m.b, false)
			if err != nil || len(there.Missing) > 0 {
				continue
			}
			*out = append(*out, answer.ClothChange{Says: []string{fmt.Sprintf("%s of %s %s", p.ID, c.ID, c.Colour)}, Seen: 5, Left: here.Left, Lay: here, Pieces: []show.PieceID{p.ID}, Cloth: c.ID})
			break
		}
	}
	return nil
}

func clone(in []answer.Draft) []answer.Draft {
	out := slices.Clone(in)
	for i := range out {
		out[i].Parts = slices.Clone(out[i].Parts)
	}
	return out
}

// each changes every part that is meant, and says whether there was one.
func each(in []answer.Draft, meant func(p answer.DraftPart) bool, do func(p answer.DraftPart) []answer.DraftPart) ([]answer.Draft, bool) {
	any := false
	for i := range in {
		var parts []answer.DraftPart
		for _, p := range in[i].Parts {
			if meant(p) {
				any = true
				parts = append(parts, do(p)...)
			} else {
				parts = append(parts, p)
			}
		}
		in[i].Parts = parts
	}
	return in, any
}

func isBand(p answer.DraftPart) bool {
	return p.Hidden || strings.Contains(p.Name, "band") || strings.Contains(p.Name, "strap") || strings.Contains(p.Name, "facing") || strings.Contains(p.Name, "lining")
}

func bandsElsewhere(_ *show.Cloth, d []answer.Draft) (string, []answer.Draft, bool) {
	d, ok := each(d, isBand, func(answer.DraftPart) []answer.DraftPart { return nil })
	return "bands, facings and what is hidden from another cloth", d, ok
}

// bandsAcross lays on cloth with a nap what else may lie any way across it.
func bandsAcross(c *show.Cloth, d []answer.Draft) (string, []answer.Draft, bool) {
	d, ok := each(d, func(p answer.DraftPart) bool { return p.AnyWay && c.OneWay }, func(p answer.DraftPart) []answer.DraftPart {
		p.Outline = p.Outline.Turn(90)
		p.Outline = p.Outline.Move(geom.Point{}.Minus(p.Outline.Box().Min))
		return []answer.DraftPart{p}
	})
	return "bands across the nap", d, ok
}

// bandsPieced cuts a band in two with a seam where nobody looks.
func bandsPieced(_ *show.Cloth, d []answer.Draft) (string, []answer.Draft, bool) {
	const seams = 3 * units.Centimetre
	d, ok := each(d, func(p answer.DraftPart) bool { return strings.Contains(p.Name, "band") }, func(p answer.DraftPart) []answer.DraftPart {
		b := p.Outline.Box()
		p.Outline, p.Copies = geom.Rect(b.Width(), b.Height()/2+seams/2), p.Copies*2
		return []answer.DraftPart{p}
	})
	return "bands pieced with a seam at the side", d, ok
}

func isLong(p answer.DraftPart) bool {
	return strings.HasSuffix(p.Name, "width") || p.Name == "apron"
}

// cropped takes so much off the length of a part.
func cropped(p answer.DraftPart, off units.Length) answer.DraftPart {
	b := p.Outline.Box()
	if b.Height() > 2*off {
		p.Outline = geom.Rect(b.Width(), b.Height()-off)
	}
	return p
}

// shallowHem faces the hem: 2 of the 8 stay.
func shallowHem(_ *show.Cloth, d []answer.Draft) (string, []answer.Draft, bool) {
	d, ok := each(d, isLong, func(p answer.DraftPart) []answer.DraftPart { return []answer.DraftPart{cropped(p, 6*units.Centimetre)} })
	return "hems faced instead of turned, 6 cm less in each length; nothing left to let down", d, ok
}

func plainNeck(_ *show.Cloth, d []answer.Draft) (string, []answer.Draft, bool) {
	d, ok := each(d, func(p answer.DraftPart) bool { return strings.Contains(p.Name, "collar") }, func(answer.DraftPart) []answer.DraftPart { return nil })
	return "collars left off", d, ok
}

// narrowSleeve takes a sixth off the width of a sleeve.
func narrowSleeve(_ *show.Cloth, d []answer.Draft) (string, []answer.Draft, bool) {
	d, ok := each(d, func(p answer.DraftPart) bool { return strings.Contains(p.Name, "sleeve") }, func(p answer.DraftPart) []answer.DraftPart {
		b := p.Outline.Box()
		var o geom.Outline
		for _, q := range p.Outline {
			o = append(o, geom.Point{X: b.Min.X + (q.X-b.Min.X).Times(5, 6), Y: q.Y})
		}
		p.Outline = o
		return []answer.DraftPart{p}
	})
	return "sleeves a sixth narrower", d, ok
}

// fewerWidths takes one width out of every skirt that has two or more.
func fewerWidths(_ *show.Cloth, d []answer.Draft) (string, []answer.Draft, bool) {
	d, ok := each(d, func(p answer.DraftPart) bool { return strings.HasSuffix(p.Name, "width") && p.Copies > 1 }, func(p answer.DraftPart) []answer.DraftPart {
		p.Copies--
		return []answer.DraftPart{p}
	})
	return "one width fewer in each skirt: less swing", d, ok
}

// shorter takes 5 off every length.
func shorter(_ *show.Cloth, d []answer.Draft) (string, []answer.Draft, bool) {
	d, ok := each(d, isLong, func(p answer.DraftPart) []answer.DraftPart { return []answer.DraftPart{cropped(p, 5*units.Centimetre)} })
	return "all hems 5 cm higher", d, ok
}
