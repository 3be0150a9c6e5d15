package fit

import (
	"testing"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"

	"pgregory.net/rapid"
)

// tape makes a body measured in centimetres, in the order of the tape; 0 is
// not measured.
func tape(height, chest, waist, hip, nape, knee, floor, sleeve, across, head float64) body.Body {
	var b body.Body
	for k, cm := range map[body.Kind]float64{body.Height: height, body.Chest: chest, body.Waist: waist, body.Hip: hip, body.NapeToWaist: nape,
		body.WaistToKnee: knee, body.WaistToFloor: floor, body.ShoulderToWrist: sleeve, body.AcrossShoulders: across, body.Head: head} {
		if cm > 0 {
			b[k] = body.Measure{Span: units.Exactly(units.Cm(cm)), Origin: body.Measured}
		}
	}
	return b
}

// stage is a house with one performer in one piece, in shoes of 2 cm.
func stage(b body.Body, p show.Piece) (*show.House, *show.Piece) {
	p.ID, p.Looks = "X1", []show.LookID{"L1"}
	if p.Layer == 0 {
		p.Layer = 3
	}
	return &show.House{
		Performers: []show.Performer{{ID: "A1", Body: b, Consent: "yes"}},
		Roles:      []show.Role{{ID: "Q1", Performer: "A1"}},
		Looks:      []show.Look{{ID: "L1", Role: "Q1"}},
		Pieces:     []show.Piece{p},
		Feet:       []show.Feet{{Performer: "A1", Heel: units.Some(units.Cm(2))}},
	}, &p
}

var whole = tape(160, 80, 65, 88, 40, 54, 98, 58, 37, 54)

func cm(v float64) units.Span { return units.Exactly(units.Cm(v)) }

func gown() show.Piece {
	return show.Piece{Category: show.Dress, Name: "gown", Fit: "fitted", LengthTo: "floor", HemClear: units.Some(units.Cm(5))}
}

func satin(chest, waist, hip, length float64) show.Garment {
	return show.Garment{ID: "G1", Category: show.Dress, Name: "bridesmaid gown", Chest: cm(chest), Waist: cm(waist), Hip: cm(hip), HemRound: cm(300),
		Length: cm(length), LengthFrom: "nape", Closure: "back zip", Lined: "yes", MayCut: true,
		LetOut: units.Some(units.Cm(3)), LetDown: units.Some(units.Cm(4))}
}

// from: by hand. Chest 80 + 4, waist 65 + 2, hip 88 + 6; length
// 40 + 98 + 2 - 5 = 135, up to 1 longer or 2 shorter. Lined sides in 50 min,
// out 70, hem 10 + 3 m at 6 = 28, press 8.
func TestGownByHand(t *testing.T) {
	cases := []struct {
		name    string
		g       show.Garment
		grade   why.Grade
		minutes units.Minutes
	}{
		{"as it hangs", satin(84, 67, 94, 135), why.Yes, 0},
		{"one longer still goes", satin(84, 67, 94, 136), why.Yes, 0},
		{"hem up 3", satin(84, 67, 94, 138), why.Work, 28 + 8},
		{"sides in 10", satin(94, 67, 94, 135), why.Work, 50 + 8},
		{"11 is over the limit", satin(95, 67, 94, 135), why.No, 0},
		{"sides out 3", satin(81, 67, 94, 135), why.Work, 70 + 8},
		{"hem down 4, faced: 10 + 3 m at 15", satin(84, 67, 94, 131), why.Work, 55 + 8},
		{"12 short wants panels beyond what there is", satin(68, 67, 94, 135), why.No, 0},
	}
	h, p := stage(whole, gown())
	w := Wanted(h, p)
	for _, c := range cases {
		f := Judge(w, c.g)
		if f.Verdict.Grade != c.grade || f.Minutes() != c.minutes {
			t.Errorf("%s: %s, %s; want %s, %s\n%v", c.name, f.Verdict.Grade, f.Minutes(), c.grade, c.minutes, f.Alterations)
		}
		if bad := Check(w, c.g, f); len(bad) > 0 {
			t.Errorf("%s: %s", c.name, bad[0].Sentence(units.Metric))
		}
	}
}

// from: by hand, windows in garment numbers.
func TestFinishedWindows(t *testing.T) {
	h, p := stage(whole, gown())
	w := Wanted(h, p)
	for _, c := range []struct {
		where    string
		lo, most float64
	}{{"chest", 84, 94}, {"waist", 67, 77}} {
		if win, ok := w.Window(c.where); !ok || win.Sits.Lo != units.Cm(c.lo) || win.Most != units.Cm(c.most) {
			t.Errorf("%s: %v", c.where, win)
		}
	}
}

func TestUnknownMeasureAsks(t *testing.T) {
	h, p := stage(tape(0, 0, 65, 88, 40, 54, 98, 58, 37, 54), gown())
	f := Judge(Wanted(h, p), satin(84, 67, 94, 135))
	if f.Verdict.Grade != why.Unknown || len(f.Settles) != 1 || f.Settles[0] != (answer.Question{Performer: "A1", Measure: body.Chest}) {
		t.Errorf("%s, asks %v", f.Verdict.Grade, f.Settles)
	}
	// With the height alone the lengths are in pencil, the chest very wide.
	h, p = stage(tape(160, 0, 0, 0, 0, 0, 0, 0, 0, 0), gown())
	if f := Judge(Wanted(h, p), satin(90, 70, 98, 135)); f.Verdict.Grade == why.Yes || f.Verdict.Grade == why.Work {
		t.Errorf("pencil gave %s", f.Verdict.Grade)
	}
}

func TestHeldNumbersAreNotUsed(t *testing.T) {
	h, p := stage(whole, gown())
	h.Performers[0].Consent = "not answered"
	if f := Judge(Wanted(h, p), satin(84, 67, 94, 135)); f.Verdict.Grade != why.Unknown {
		t.Errorf("held numbers gave %s", f.Verdict.Grade)
	}
}

func TestMayNotCut(t *testing.T) {
	h, p := stage(whole, gown())
	w := Wanted(h, p)
	g := satin(81, 67, 94, 135) // wants letting out, which leaves a line
	g.MayCut = false
	if f := Judge(w, g); f.Verdict.Grade != why.No {
		t.Errorf("a borrowed gown is let out: %s", f.Verdict.Grade)
	}
	g = satin(94, 67, 94, 138) // taken in with a long stitch and hemmed up: goes back
	g.MayCut = false
	f := Judge(w, g)
	if f.Verdict.Grade != why.Work {
		t.Errorf("%s", f.Verdict.Grade)
	}
	for _, a := range f.Alterations {
		if a.Undo != "yes" {
			t.Errorf("%s cannot be undone", a.Op)
		}
	}
}

// from: by hand. An elastic waist from 60 to 92 goes on a waist of 65, over a
// hip of 88; stretched to 84 only it does not pass.
func TestElasticSkirt(t *testing.T) {
	h, p := stage(whole, show.Piece{Category: show.Skirt, Name: "full skirt", Fit: "easy", LengthTo: "ankle", HemClear: units.Some(units.Cm(12))})
	w := Wanted(h, p)
	g := show.Garment{ID: "G2", Category: show.Skirt, Name: "full skirt", Waist: units.Between(units.Cm(60), units.Cm(92)), HemRound: cm(300),
		Length: cm(88), LengthFrom: "waist", Closure: "elastic waist", MayCut: true}
	if f := Judge(w, g); f.Verdict.Grade != why.Yes { // 98 + 2 - 12 = 88
		t.Errorf("%s %v", f.Verdict.Grade, f.Alterations)
	}
	g.Waist.Hi = units.Cm(80)
	if f := Judge(w, g); f.Verdict.Grade == why.Yes {
		t.Error("an elastic waist that does not pass the hip goes as it is")
	}
}

// Two wearers: one waist cannot serve 65 and 75, elastic in the back can.
func TestTwoWearers(t *testing.T) {
	h, p := stage(whole, show.Piece{Category: show.Skirt, Name: "skirt", Fit: "fitted", LengthTo: "ankle", HemClear: units.Some(units.Cm(12))})
	other := whole
	other[body.Waist].Span = cm(75)
	h.Performers = append(h.Performers, show.Performer{ID: "A2", Body: other})
	h.Casting = []show.Casting{{Role: "Q1", Cast: "B", Performer: "A2"}}
	w := Wanted(h, p)
	g := show.Garment{ID: "G3", Category: show.Skirt, Name: "skirt", Waist: cm(77), Hip: cm(96), HemRound: cm(240), Length: cm(88),
		LengthFrom: "waist", Closure: "side zip", MayCut: true}
	f := Judge(w, g)
	if f.Verdict.Grade != why.Work || len(f.Alterations) != 2 || f.Alterations[0].Op != shipped.elastic.Says {
		t.Errorf("%s %v", f.Verdict.Grade, f.Alterations)
	}
	g.Waist = cm(68) // right for the one, 8.5 short on the other
	if f := Judge(w, g); f.Verdict.Grade == why.Yes {
		t.Error("a skirt that closes on one wearer only goes as it is")
	}
}

// from: design of the demo, moment 3. The fog grey gown on its planned wearer
// is 14 too wide at the chest with 10 the limit; swapped with the lilac one
// both go with about 80 minutes each.
func TestFogGreyAndLilac(t *testing.T) {
	h := demo(t)
	fog, lilac := *h.Garment("S015"), *h.Garment("S011")
	planned, other := Wanted(h, h.Piece("C019")), Wanted(h, h.Piece("C020"))
	f := Judge(planned, fog)
	if f.Verdict.Grade != why.No || !says(f, ruleWide, "over", units.Cm(14)) {
		t.Errorf("fog grey as planned: %s", f.Verdict.Grade)
	}
	if f := Judge(other, lilac); f.Verdict.Grade == why.Yes || f.Verdict.Grade == why.Work && f.Minutes() < 120 {
		t.Errorf("lilac as planned: %s with %s", f.Verdict.Grade, f.Minutes())
	}
	for _, s := range []struct {
		w  Wearing
		g  show.Garment
		in units.Length
	}{{other, fog, units.Cm(7)}, {planned, lilac, units.Cm(4)}} {
		f := Judge(s.w, s.g)
		if f.Verdict.Grade != why.Work || f.Minutes() < 70 || f.Minutes() > 95 || f.Alterations[0].By != s.in {
			t.Errorf("%s: %s, %s, %v", s.g.ID, f.Verdict.Grade, f.Minutes(), f.Alterations)
		}
	}
}

// from: design of the demo, moments 4 and 6.
func TestVioletGownAndNarrowSkirt(t *testing.T) {
	h := demo(t)
	w := Wanted(h, h.Piece("C025"))
	if f := Judge(w, *h.Garment("F06")); f.Verdict.Grade != why.Yes {
		t.Errorf("the violet gown: %s %v", f.Verdict.Grade, f.Alterations)
	}
	// The list in the shop: chest 44 to 49 flat, waist 36 to 41.
	for where, flat := range map[string][2]float64{"chest": {44, 49}, "waist": {36, 41}} {
		win, _ := w.Window(where)
		if lo, hi := (win.Sits.Lo / 2).Cm(), (win.Most / 2).Cm(); lo < flat[0]-0.5 || lo > flat[0] || hi < flat[1]-0.5 || hi > flat[1] {
			t.Errorf("%s flat %g to %g", where, lo, hi)
		}
	}
	// Sea green misses at the waist by 2 beyond what its seams hold.
	if f := Judge(Wanted(h, h.Piece("C023")), *h.Garment("S012")); f.Verdict.Grade == why.Yes || f.Verdict.Grade == why.Work && f.Minutes() < 90 {
		t.Errorf("sea green: %s %v", f.Verdict.Grade, f.Alterations)
	}
	// The skirt over the roll wants about 120 at the hip.
	win, _ := Wanted(h, h.Piece("C047")).Window("hip")
	if win.Sits.Lo < units.Cm(119) || win.Sits.Lo > units.Cm(121) {
		t.Errorf("over the roll the hip wants %g", win.Sits.Lo.Cm())
	}
}

func says(f answer.Fit, r why.Rule, name string, l units.Length) bool {
	for _, x := range f.Verdict.Reasons {
		for _, fact := range x.Facts {
			if x.Rule == r.ID && fact.Name == name && fact.N == int64(l) {
				return true
			}
		}
	}
	return false
}

// Every accepted fit of the whole show passes the check, and nothing is said
// with a body's number in it.
func TestDemoHolds(t *testing.T) {
	h := demo(t)
	garments := all(h)
	for i := range h.Pieces {
		w := Wanted(h, &h.Pieces[i])
		for _, g := range garments {
			f := Judge(w, g)
			for _, b := range Check(w, g, f) {
				t.Error(b.Sentence(units.Metric))
			}
			if len(f.Verdict.Reasons) == 0 && f.Verdict.Grade != why.Yes {
				t.Errorf("%s for %s: %s without a reason", g.ID, w.Piece, f.Verdict.Grade)
			}
		}
	}
}

func anyGown(t *rapid.T) show.Garment {
	half := func(name string, lo, hi int) float64 { return float64(rapid.IntRange(2*lo, 2*hi).Draw(t, name)) / 2 }
	g := satin(half("chest", 60, 110), half("waist", 50, 90), half("hip", 70, 120), half("length", 100, 150))
	g.MayCut = rapid.Bool().Draw(t, "may be cut")
	g.LetOut = units.Some(units.Cm(half("let out", 0, 5)))
	return g
}

func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, p := stage(whole, gown())
		p.Fit = rapid.SampledFrom([]string{"fitted", "easy", "loose"}).Draw(t, "fit")
		w := Wanted(h, p)
		g := anyGown(t)
		f := Judge(w, g)
		if bad := Check(w, g, f); len(bad) > 0 {
			t.Fatal(bad[0].Sentence(units.Metric))
		}
		// A wider garment never becomes too narrow.
		wider := g
		wider.Chest = g.Chest.Add(units.Cm(2))
		if says := narrowAt(Judge(w, wider), "chest"); says && !narrowAt(f, "chest") {
			t.Fatal("wider became too narrow")
		}
		// A measure taken away never gives a firm answer where it was asked.
		k := rapid.SampledFrom([]body.Kind{body.Chest, body.WaistToFloor}).Draw(t, "missing")
		less := whole
		less[k], less[body.Height] = body.Measure{}, body.Measure{}
		h2, p2 := stage(less, *p)
		if f := Judge(Wanted(h2, p2), g); f.Verdict.Grade > why.No {
			t.Fatalf("without %s it is %s", k, f.Verdict.Grade)
		}
		// What may not be cut never goes better than what may.
		kept := g
		kept.MayCut = false
		if a, b := Judge(w, kept).Verdict.Grade, f.Verdict.Grade; g.MayCut && a > b {
			t.Fatalf("uncut %s, cut %s", a, b)
		}
	})
}

func narrowAt(f answer.Fit, where string) bool {
	for _, r := range f.Verdict.Reasons {
		for _, fact := range r.Facts {
			if r.Rule == ruleNarrow.ID && fact.Text == where {
				return true
			}
		}
	}
	return false
}

func BenchmarkWholeShow(b *testing.B) {
	h := demo(b)
	garments := all(h)
	b.ReportAllocs()
	for b.Loop() {
		for i := range h.Pieces {
			w := Wanted(h, &h.Pieces[i])
			for _, g := range garments {
				Judge(w, g)
			}
		}
	}
}

// from: by hand. A tied roll of 4 cm adds 19 to the hip of 88: a gown of 94
// presses it flat and says so, a skirt of 94 does not go, one of 107 does.
func TestOverARoll(t *testing.T) {
	roll := show.Piece{ID: "X2", Category: show.Under, Name: "hip roll", Layer: 2, Fit: "tied", Looks: []show.LookID{"L1"}}
	h, p := stage(whole, gown())
	h.Pieces = append(h.Pieces, roll)
	f := Judge(Wanted(h, p), satin(84, 67, 94, 135))
	if f.Verdict.Grade != why.Yes || f.Look == 0 {
		t.Errorf("the gown: %s, look %d", f.Verdict.Grade, f.Look)
	}
	if f := Judge(Wanted(h, p), satin(84, 67, 107, 135)); f.Look != 0 {
		t.Errorf("a gown that clears the roll: look %d", f.Look)
	}
	h, p = stage(whole, show.Piece{Category: show.Skirt, Name: "skirt", Fit: "easy", LengthTo: "floor", HemClear: units.Some(units.Cm(5))})
	h.Pieces = append(h.Pieces, roll)
	g := show.Garment{ID: "G4", Category: show.Skirt, Waist: cm(68), Hip: cm(94), HemRound: cm(300), Length: cm(95), LengthFrom: "waist", Closure: "side zip", MayCut: true}
	if f := Judge(Wanted(h, p), g); f.Verdict.Grade != why.No {
		t.Errorf("a skirt of 94 over the roll: %s", f.Verdict.Grade)
	}
	g.Hip = cm(107)
	if f := Judge(Wanted(h, p), g); f.Verdict.Grade != why.Yes {
		t.Errorf("a skirt of 107 over the roll: %s %v", f.Verdict.Grade, f.Alterations)
	}
}

// from: growth charts 2000, by hand: a boy of 140.0 cm and 144.5 months stands
// at 143.05 half a year later, 3.05 more. Nine in ten lie within 0.44 times 6
// to the power 3/4, 1.69, of that: 1.36 to 4.74, and 0.605 of it falls below
// the waist, 0.8 to 2.9. A month either way moves it by less than 0.15.
func TestGrowthIsLeftInTheHem(t *testing.T) {
	b := whole
	b[body.Height].Span = cm(140)
	day, _ := units.Day(2026, 1, 15)
	b[body.WaistToFloor].Day = day
	h, p := stage(b, gown())
	h.Performances = []show.Performance{{ID: "V1", Day: day + 182, Cast: "A"}}
	who := &h.Performers[0]
	who.BirthMonth, who.GrowthSex = "2014-01", "m"
	w := Wanted(h, p)
	near := func(a units.Length, b float64) bool { return max(a-units.Cm(b), units.Cm(b)-a) < units.Cm(.15) }
	if g := w.grows; !near(g.Lo, .82) || !near(g.Hi, 2.87) {
		t.Errorf("grows %v", g)
	}
	grows := func(w Wearing, long float64) bool {
		for _, x := range Judge(w, satin(84, 67, 94, long)).Verdict.Reasons {
			if x.Rule == ruleGrow.ID {
				return true
			}
		}
		return false
	}
	if !grows(w, 133) {
		t.Error("a hem with nothing to spare says nothing of growing")
	}
	if grows(w, 136) {
		t.Error("a hem with 3 to spare speaks of growing")
	}
	who.BirthMonth, who.Age = "", units.Some(12)
	if g := Wanted(h, p).grows; g.Lo > w.grows.Lo+mm || g.Hi < w.grows.Hi {
		t.Errorf("less is known and the range is narrower: %v", g)
	}
	for _, c := range []struct {
		age, cm float64
	}{{19, 178}, {12, 0}} {
		who.Age, who.GrowthSex = units.Some(int(c.age)), "m"
		who.Body[body.Height].Span = units.Span{}
		if c.cm > 0 {
			who.Body[body.Height].Span = cm(c.cm)
		}
		if g := Wanted(h, p).grows; g.Known {
			t.Errorf("%v: still grows %v", c, g)
		}
	}
}

// Check has to see what is wrong.
func TestCheckSees(t *testing.T) {
	h, p := stage(whole, gown())
	w := Wanted(h, p)
	g := satin(81, 67, 94, 138)
	for name, spoil := range map[string]func(*answer.Fit, *show.Garment){
		"work forgotten":   func(f *answer.Fit, g *show.Garment) { f.Alterations = f.Alterations[1:] },
		"hemmed too far":   func(f *answer.Fit, g *show.Garment) { f.Alterations[1].By += units.Cm(3) },
		"seams too poor":   func(f *answer.Fit, g *show.Garment) { g.LetOut = units.Some(units.Cm(1)) },
		"not to be cut":    func(f *answer.Fit, g *show.Garment) { g.MayCut = false },
		"as it is, worked": func(f *answer.Fit, g *show.Garment) { f.Verdict.Grade = why.Yes },
		"unheard of":       func(f *answer.Fit, g *show.Garment) { f.Alterations[0].Op = "wish" },
	} {
		f, g := Judge(w, g), g
		if len(f.Alterations) != 3 {
			t.Fatalf("%v", f.Alterations)
		}
		spoil(&f, &g)
		if len(Check(w, g, f)) == 0 {
			t.Errorf("%s passes the check", name)
		}
	}
}

// A window of house figures does not borrow the handbook's name, nor a guess
// from a garment the survey's.
func TestBasesAreHonest(t *testing.T) {
	basis := func(p show.Piece, g show.Garment, where string) string {
		h, q := stage(whole, p)
		for _, r := range Judge(Wanted(h, q), g).Verdict.Reasons {
			for _, f := range r.Facts {
				if f.Name == "where" && f.Text == where {
					return r.Basis().Key
				}
			}
		}
		return ""
	}
	if got := basis(gown(), satin(84, 67, 94, 135), "chest"); got != easeBasis.Key {
		t.Errorf("a fitted gown rests on %q", got)
	}
	coat := show.Garment{ID: "G5", Category: show.Jacket, Name: "coat", Chest: cm(100), Length: cm(94), LengthFrom: "nape", MayCut: true}
	if got := basis(show.Piece{Category: show.Jacket, Name: "coat", Fit: "loose", LengthTo: "knee"}, coat, "chest"); got != why.House.Key {
		t.Errorf("a loose coat rests on %q", got)
	}
	h, p := stage(body.Body{}, gown())
	h.Performers[0].FitsGarment, h.Garments = "G9", []show.Garment{{ID: "G9", Category: show.Dress, Chest: cm(88)}}
	for _, r := range Judge(Wanted(h, p), satin(90, 67, 94, 135)).Verdict.Reasons {
		if r.Rule == rulePencil.ID {
			t.Error("a guess from a garment names the survey")
		}
	}
}
