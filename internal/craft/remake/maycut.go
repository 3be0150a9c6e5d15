package remake

import (
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	ruleNotCut   = why.Declare("harvest.not-cut", "{garment} is marked not to be cut.", why.Common)
	ruleBorrowed = why.Declare("harvest.borrowed", "{garment} belongs to {owner} and goes back{day}: nobody cuts it.", why.Common)
	ruleSeen     = why.Declare("harvest.seen", "{garment} was seen in a shop and is not ours.", why.Exact)
	rulePromised = why.Declare("harvest.promised", "{garment} is promised to {whom}: ask there before anybody cuts it.", why.Common)
	ruleGone     = why.Declare("harvest.gone", "{garment} is cut already. Bring in what is left of it as cloth.", why.Exact)
	rulePlanned  = why.Declare("harvest.planned", "{garment} is worn whole for {pieces} in the plan. Find another source first.", why.Common)
	ruleServes   = why.Declare("harvest.serves", "Whole it would go for {pieces}, colour not asked, and they have no garment yet. Cut it only if none of them wants it.", why.Common)
	ruleNoUse    = why.Declare("harvest.no-use", "Whole it goes for no piece of this show that is still without a garment, in any colour.", why.Common)
	ruleNotSeen  = why.Declare("harvest.not-looked", "Nobody has looked yet whether {garment} goes whole for a piece of this show, in any colour of a set. Look first.", why.Common)
	ruleSister   = why.Declare("harvest.sister", "It has sisters: {garments}. Sizes of one garment are worth more whole.", why.Common)
	ruleOnce     = why.Declare("harvest.once", "Cutting cannot be undone: one person says yes, and the unpick card goes with it.", why.Common)
)

// Whole is what is known of a garment's use as it is.
type Whole struct {
	Looked  bool           // against every piece of this show, in any colour of a set
	Serves  []show.PieceID // the pieces it would go for whole, that have no garment yet
	Planned []show.PieceID // the pieces the plan has it for whole
}

// MayCut says whether a garment may be cut up. No where it is not ours to cut,
// promised elsewhere, cut already or worn whole in the plan; Unknown where
// nobody has looked at its use whole; Work where it would serve whole or has
// sisters; else Yes.
func MayCut(h *show.House, g *show.Garment, whole Whole) why.Verdict {
	if no := refused(h, g, whole); len(no) > 0 {
		return why.Verdict{Grade: why.No, Reasons: no}
	}
	v := why.Verdict{Grade: why.Yes}
	ref := why.Of("garment", why.Ref{Kind: "garment", Code: string(g.ID)})
	if sisters := Sisters(h.OnOffer(), g); len(sisters) > 0 {
		v.Grade = why.Work
		v.Reasons = append(v.Reasons, ruleSister.Because(why.Work, why.Of("garments", joined(sisters))))
	}
	switch {
	case !whole.Looked:
		v.Grade = why.Unknown
		v.Reasons = append(v.Reasons, ruleNotSeen.Because(why.Unknown, ref))
	case len(whole.Serves) > 0:
		v.Grade = why.Work
		v.Reasons = append(v.Reasons, ruleServes.Because(why.Work, why.Of("pieces", joined(whole.Serves))))
	default:
		v.Reasons = append(v.Reasons, ruleNoUse.Because(why.Yes))
	}
	v.Reasons = append(v.Reasons, ruleOnce.Because(why.Yes))
	return v
}

// NotToCut says whether a garment is not to be cut at all, whatever the plan:
// not ours, not here, promised, marked so, or cut already.
func NotToCut(h *show.House, g *show.Garment) bool { return len(refused(h, g, Whole{})) > 0 }

// refused are the reasons why a garment is not cut at all.
func refused(h *show.House, g *show.Garment, whole Whole) []why.Reason {
	ref := why.Of("garment", why.Ref{Kind: "garment", Code: string(g.ID)})
	var no []why.Reason
	if g.Fate == "cut" {
		no = append(no, ruleGone.Because(why.No, ref))
	}
	if f := h.Find(show.FindID(g.ID)); f != nil && f.Decision != "bought" {
		no = append(no, ruleSeen.Because(why.No, ref))
	}
	if owner, back, ok := lender(h, g); ok {
		day := ""
		if back != 0 {
			day = " on " + back.Words()
		}
		no = append(no, ruleBorrowed.Because(why.No, ref, why.Of("owner", owner), why.Of("day", day)))
	}
	if !g.MayCut {
		no = append(no, ruleNotCut.Because(why.No, ref))
	}
	if g.PromisedTo != "" && g.PromisedTo != h.Show.Code {
		no = append(no, rulePromised.Because(why.No, ref, why.Of("whom", g.PromisedTo)))
	}
	if len(whole.Planned) > 0 {
		no = append(no, rulePlanned.Because(why.No, ref, why.Of("pieces", joined(whole.Planned))))
	}
	return no
}

// lender is whose a garment is where it is not ours, and when it goes back.
func lender(h *show.House, g *show.Garment) (owner string, back units.Date, ok bool) {
	if l := h.LoanOf(g.ID); l != nil {
		return l.Whom, l.Due, true
	}
	if g.ReturnBy != 0 || g.Owner != "" && g.Owner != "own" {
		owner = g.Owner
		if owner == "" {
			owner = "somebody else"
		}
		return owner, g.ReturnBy, true
	}
	return "", 0, false
}

// Sisters are the garments of the same name and fibre: sizes of one gown,
// which are worth more whole.
func Sisters(rail []show.Garment, g *show.Garment) []show.GarmentID {
	var out []show.GarmentID
	for i := range rail {
		if o := &rail[i]; o.ID != g.ID && o.Name != "" && o.Category == g.Category && strings.EqualFold(o.Name, g.Name) && strings.EqualFold(o.Fibre, g.Fibre) && o.Fate != "cut" {
			out = append(out, o.ID)
		}
	}
	return out
}

func joined[C ~string](codes []C) string {
	out := make([]string, len(codes))
	for i, c := range codes {
		out[i] = string(c)
	}
	return strings.Join(out, ", ")
}
