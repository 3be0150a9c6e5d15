package remake

import (
	"strings"
	"testing"

	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// from: common practice: what is not ours, not free or marked is not cut; a
// garment with sisters is worth more whole; nobody cuts before its use whole
// has been looked at in any colour.
func TestMayCut(t *testing.T) {
	own := show.Garment{ID: "S1", Category: show.Dress, Name: "evening gown", Fibre: "satin", Owner: "own", MayCut: true}
	sister := own
	sister.ID = "S2"
	spoil := func(f func(g *show.Garment)) show.Garment { g := own; f(&g); return g }
	looked := Whole{Looked: true}
	for _, c := range []struct {
		what  string
		g     show.Garment
		whole Whole
		rail  []show.Garment
		loans []show.Loan
		want  why.Grade
		says  string
	}{
		{"free", own, looked, nil, nil, why.Yes, "no piece of this show"},
		{"not looked", own, Whole{}, nil, nil, why.Unknown, "Look first"},
		{"serves whole", own, Whole{Looked: true, Serves: []show.PieceID{"C7"}}, nil, nil, why.Work, "C7"},
		{"sister", own, looked, []show.Garment{own, sister}, nil, why.Work, "S2"},
		{"marked", spoil(func(g *show.Garment) { g.MayCut = false }), looked, nil, nil, why.No, "marked not to be cut"},
		{"borrowed", spoil(func(g *show.Garment) { g.Owner = "town band" }), looked, nil, nil, why.No, "town band"},
		{"to go back", spoil(func(g *show.Garment) { g.Owner, g.ReturnBy = "", 46170 }), looked, nil, nil, why.No, "somebody else"},
		{"on loan", own, looked, nil, []show.Loan{{Garment: "S1", Whom: "the school"}}, why.No, "the school"},
		{"lent out by us", own, looked, nil, []show.Loan{{Garment: "S1", Whom: "the school", Out: true}}, why.Yes, "no piece"},
		{"promised", spoil(func(g *show.Garment) { g.PromisedTo = "the spring play" }), looked, nil, nil, why.No, "the spring play"},
		{"promised to this show", spoil(func(g *show.Garment) { g.PromisedTo = "US" }), looked, nil, nil, why.Yes, "no piece"},
		{"cut already", spoil(func(g *show.Garment) { g.Fate = "cut" }), looked, nil, nil, why.No, "cut already"},
		{"only seen", spoil(func(g *show.Garment) { g.ID = "F1" }), looked, nil, nil, why.No, "not ours"},
		{"in the plan", own, Whole{Looked: true, Planned: []show.PieceID{"C9"}}, nil, nil, why.No, "C9"},
	} {
		h := show.House{Show: show.Show{Code: "US"}, Garments: c.rail, Loans: c.loans, Finds: []show.Find{{ID: "F1", Decision: "left"}}}
		v := MayCut(&h, &c.g, c.whole)
		var says []string
		for _, r := range v.Reasons {
			says = append(says, r.Sentence(units.Metric))
		}
		if v.Grade != c.want || !strings.Contains(strings.Join(says, " "), c.says) {
			t.Errorf("%s: %v, %v", c.what, v.Grade, says)
		}
	}
}

// By hand: a lay of 200 is given 224 of old cloth and 212 of new.
func TestReserve(t *testing.T) {
	if Reserve(units.Cm(200), true) != units.Cm(224) || Reserve(units.Cm(200), false) != units.Cm(212) {
		t.Error(Reserve(units.Cm(200), true), Reserve(units.Cm(200), false))
	}
}

// By hand: an A-line gown of hem 300 has four panels that hold 37 x 69; a
// shirt's back 55 x 70 and fronts 27 x 70 hold three of 27 x 69, its sleeves
// 45 to 25 by 55 none.
func TestGiving(t *testing.T) {
	gown, shirt := nominal["evening gown, A-line"], nominal["shirt"]
	gown.ID, shirt.ID = "S1", "S2"
	rail := []show.Garment{shirt, gown, {ID: "S3", Name: "hip roll"}, {ID: "S4", Name: "evening gown"}}
	rect := func(along, across float64, n int) []Wanted {
		return []Wanted{{Name: "strip", Outline: geom.Rect(units.Cm(along), units.Cm(across)), Count: n}}
	}
	got := Giving(rail, rect(69, 37, 4))
	if len(got) != 2 || got[0].Garment != "S1" || got[0].Held != 4 || got[0].Grade != why.Yes || got[1].Held != 1 || got[1].Grade != why.Work {
		t.Errorf("%+v", got)
	}
	if got := Giving(rail[:1], rect(69, 27, 5)); len(got) != 1 || got[0].Held != 3 {
		t.Errorf("%+v", got)
	}
	if got := Giving(rail, rect(37, 69, 1)); len(got) != 0 { // across the grain
		t.Errorf("%+v", got)
	}
	across := rect(27, 69, 1)
	across[0].AnyWay = true
	if got := Giving(rail[:1], across); len(got) != 1 {
		t.Errorf("%+v", got)
	}
	both := append(rect(69, 50, 1), rect(69, 27, 2)...) // the back must be kept for the wide one
	if got := Giving(rail[:1], both); len(got) != 1 || got[0].Grade != why.Yes {
		t.Errorf("%+v", got)
	}
	scarf := show.Garment{ID: "S5", Name: "square scarf"} // nobody has measured it
	if got := Giving([]show.Garment{scarf}, rect(100, 100, 1)); len(got) != 1 || got[0].Grade != why.Likely {
		t.Errorf("%+v", got)
	}
	down := []Wanted{{Name: "godet", Outline: trapeze(units.Cm(70), units.Cm(25), units.Cm(90)), Count: 1, AnyWay: true}} // wide end up
	cotton := gown
	cotton.Name = "evening gown"
	if up, plain := Giving([]show.Garment{gown}, down), Giving([]show.Garment{cotton}, down); len(up) != 0 || len(plain) != 1 {
		t.Errorf("with a nap %+v, without %+v", up, plain)
	}
	nape := gown
	nape.Length, nape.LengthFrom = units.Exactly(units.Cm(140)), "nape" // the skirt 96 to 106: panels 95 to 105
	if got := Giving([]show.Garment{nape}, rect(70, 37, 1)); len(got) != 1 || got[0].Grade != why.Likely {
		t.Errorf("%+v", got) // 37 lies on b-a 54: 100 x 38/54 = 70.4 of the longest, 66.9 of the shortest
	}
}
