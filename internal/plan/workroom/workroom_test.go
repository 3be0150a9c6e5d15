package workroom

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"hemwright/internal/craft/fit"
	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"

	"pgregory.net/rapid"
)

func date(t testing.TB, s string) units.Date {
	d, err := units.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// small is a house with a lead, four weeks to the parade and a fitting day.
func small(t testing.TB) *show.House {
	return &show.House{
		Roles:   []show.Role{{ID: "Q1", Group: "sailors", Performer: "A1"}},
		Looks:   []show.Look{{ID: "L1", Role: "Q1"}},
		Pieces:  []show.Piece{{ID: "X1", Name: "gown", Category: show.Dress, Fit: "fitted", Looks: []show.LookID{"L1"}}, {ID: "X2", Name: "apron", Category: show.Accessory, Fit: "tied", Looks: []show.LookID{"L1"}}},
		Helpers: []show.Helper{{ID: "K1", Skills: []string{"cut", "fit", "any sewing"}, Pace: 100, Hours: 600}},
		Calendar: []show.Entry{
			{Day: date(t, "2030-05-11"), Start: 600, Minutes: 240, What: "sewing", Who: []string{"helpers"}, Kind: "make"},
			{Day: date(t, "2030-05-18"), Start: 600, Minutes: 240, What: "fittings", Who: []string{"SAI"}, Kind: "fit"},
			{Day: date(t, "2030-06-03"), Start: 600, Minutes: 240, What: "dress parade", Who: []string{"all"}, Kind: "rehearse"},
		},
	}
}

func made(p show.PieceID, s answer.Skill, m units.Minutes) answer.Choice {
	return answer.Choice{Option: answer.Option{Piece: p, Source: answer.Make, Work: []answer.Work{{Skill: s, Minutes: m}}}}
}

func checked(t testing.TB, h *show.House, day units.Date, plan answer.Plan) answer.Workroom {
	w := Arrange(h, day, plan)
	for _, r := range Check(h, day, plan, w) {
		t.Error(r.Sentence(units.Metric))
	}
	return w
}

// from: by hand. 10 h a week from Monday 6 May to the parade on Monday 3 June
// are 40 h; a gown of 10 h and an apron of 30 min want 10.5 h, and a quarter
// for redoing.
func TestSmall(t *testing.T) {
	h := small(t)
	day := date(t, "2030-05-06")
	w := checked(t, h, day, answer.Plan{Choices: []answer.Choice{made("X1", answer.Maker, 600), made("X2", answer.Straight, 30)}})
	if w.Offered != 2400 || w.Plain != 630 || w.Wanted != 630+150+8 || len(w.Late) != 0 || w.Verdict.Grade != why.Yes {
		t.Errorf("offered %d, plain %d, wanted %d, late %v", w.Offered, w.Plain, w.Wanted, w.Late)
	}
	var steps []string
	for _, task := range w.Tasks {
		if task.Piece == "X1" {
			steps = append(steps, task.Do)
		}
	}
	if want := []string{"cut", "sew", "fitting", "finish", "put right"}; !reflect.DeepEqual(steps, want) {
		t.Errorf("steps %v; want %v", steps, want)
	}
	for _, s := range w.Slots { // nothing is finished before the day after the fitting
		if (s.Task == "X1.4" || s.Task == "X1.5") && s.Day < date(t, "2030-05-19") {
			t.Errorf("%s on %s, before the fitting", s.Task, s.Day)
		}
	}
}

// from: by hand. 60 h do not go into 40: at least 20 h come late, named.
func TestTooMuch(t *testing.T) {
	h := small(t)
	h.Pieces = append(h.Pieces, h.Pieces[0])
	h.Pieces[2].ID = "X3"
	day := date(t, "2030-05-06")
	w := checked(t, h, day, answer.Plan{Choices: []answer.Choice{made("X1", answer.Maker, 1440), made("X3", answer.Maker, 1440)}})
	if len(w.Late) == 0 || w.Verdict.Grade != why.No || w.Outcome.Bound < 1200 {
		t.Errorf("late %v, bound %g", w.Late, w.Outcome.Bound)
	}
	// Nobody makes hats.
	w = checked(t, h, day, answer.Plan{Choices: []answer.Choice{made("X2", answer.Trim, 60)}})
	if len(w.Late) != 1 || w.Late[0].Ready != 0 || w.Late[0].Left != 75 {
		t.Errorf("%+v", w.Late)
	}
}

func TestSkillsOf(t *testing.T) {
	up := func(s answer.Skill) []answer.Skill { return skills[:number(s)+1] }
	for _, c := range []struct {
		who  show.Helper
		want []answer.Skill
	}{
		{show.Helper{Skills: []string{"tailoring", "buttonholes"}}, up(answer.Tailor)},
		{show.Helper{Skills: []string{"dressmaker, retired", "hems by hand"}}, up(answer.Maker)},
		{show.Helper{Skills: []string{"straight seams", "gathers"}}, up(answer.Straight)},
		{show.Helper{Skills: []string{"beginner: unpicking, aprons"}}, up(answer.Beginner)},
		{show.Helper{Skills: []string{"unpicking", "hand hems"}}, up(answer.Beginner)},
		{show.Helper{Skills: []string{"hats", "paint"}}, []answer.Skill{answer.Trim}},
		{show.Helper{Skills: []string{"laundry", "driving"}}, nil},
		{show.Helper{Skills: []string{"labels", "seams"}, Chaperone: true}, nil},
	} {
		if got := skillsOf(c.who); !slices.Equal(got, c.want) {
			t.Errorf("%v can %v; want %v", c.who.Skills, got, c.want)
		}
	}
}

// The sessions of the weeks add up to the hours, and Saturdays only means it.
func TestSessions(t *testing.T) {
	h := small(t)
	from, to := date(t, "2030-05-06"), date(t, "2030-06-03")
	for _, hours := range []units.Minutes{180, 300, 840} {
		p := show.Helper{ID: "K2", Hours: hours, Pace: 100}
		sum := 0
		for _, s := range sessions(h, p, from, to) {
			sum += s.To - s.From
		}
		if sum != int(hours)*4 {
			t.Errorf("%d minutes a week give %d in four weeks", hours, sum)
		}
	}
	for _, s := range sessions(h, show.Helper{ID: "K2", Hours: 180, Note: "Saturdays only"}, from, to) {
		if units.Date(s.From/1440).Weekday() != 6 {
			t.Errorf("a session on %s", units.Date(s.From/1440).Long())
		}
	}
}

func house(t testing.TB) *show.House {
	h := demotest.House(t)
	h = h.At(demo.Today)
	return &h
}

// likely is a plan good enough to load the workroom: the least work fit finds
// on the rail, else three hours of making.
func likely(h *show.House) answer.Plan {
	var plan answer.Plan
	for i := range h.Pieces {
		p := &h.Pieces[i]
		w := fit.Wanted(h, p)
		c := made(p.ID, answer.Maker, 180)
		for _, g := range h.Garments {
			if f := fit.Judge(w, g); f.Verdict.Grade >= why.Work && f.Minutes() < c.Minutes() {
				c = answer.Choice{Option: answer.Option{Piece: p.ID, Source: answer.Alter, Garment: g.ID, Alterations: f.Alterations}}
				for _, a := range f.Alterations {
					c.Work = append(c.Work, answer.Work{Skill: a.Skill, Minutes: a.Minutes})
				}
			}
		}
		plan.Choices = append(plan.Choices, c)
	}
	return plan
}

func TestDemo(t *testing.T) {
	h := house(t)
	plan := likely(h)
	w := checked(t, h, demo.Today, plan)
	if len(w.Tasks) < 200 || w.Offered < 250*60 || w.Offered > 450*60 {
		t.Errorf("%d tasks, %s offered", len(w.Tasks), w.Offered)
	}
	if again := Arrange(h, demo.Today, plan); !reflect.DeepEqual(w, again) {
		t.Error("the same plan gave another timetable")
	}
	for _, l := range w.Late {
		if l.Why.Sentence(units.Metric) == "" || l.Left <= 0 {
			t.Errorf("%s is late without a reason", l.Piece)
		}
	}
	t.Logf("%d tasks, wanted %s, offered %s, late %d, bound %g of %g", len(w.Tasks), w.Wanted, w.Offered, len(w.Late), w.Outcome.Bound, w.Outcome.Value)
}

// A way the plan itself knows to be shorter is listed, with what it saves.
func TestSavings(t *testing.T) {
	h := small(t)
	c := made("X1", answer.Maker, 600)
	c.Next = []answer.Option{made("X1", answer.Maker, 360).Option, {Piece: "X1", Source: answer.GoWithout}}
	c.Next[0].Look = 8
	plan := answer.Plan{Choices: []answer.Choice{c}}
	if s := savings(h, plan); len(s) != 1 || s[0].Minutes != 240 || len(s[0].Pieces) != 1 {
		t.Errorf("%+v", s)
	}
	plan.Choices[0].Pinned = true
	if s := savings(h, plan); len(s) != 0 {
		t.Errorf("a pinned choice is let go: %+v", s)
	}
}

// Check has to see what is wrong.
func TestCheckSees(t *testing.T) {
	h := small(t)
	day := date(t, "2030-05-06")
	plan := answer.Plan{Choices: []answer.Choice{made("X1", answer.Maker, 600)}}
	for name, spoil := range map[string]func(*answer.Workroom){
		"a slot lost":    func(w *answer.Workroom) { w.Slots = w.Slots[1:] },
		"before the day": func(w *answer.Workroom) { w.Slots[0].Day = day - 1 },
		"twice at once":  func(w *answer.Workroom) { w.Slots = append(w.Slots, w.Slots[0]) },
		"no such hand":   func(w *answer.Workroom) { w.Slots[0].Helper = "K9" },
		"work forgotten": func(w *answer.Workroom) { w.Tasks[0].Minutes -= 100 },
	} {
		w := checked(t, h, day, plan)
		spoil(&w)
		if len(Check(h, day, plan, w)) == 0 {
			t.Errorf("%s passes the check", name)
		}
	}
}

// Whatever work there is: the check agrees, and one more helper never leaves
// more work without hands.
func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := &show.House{Calendar: []show.Entry{{Day: 47030, Start: 600, Minutes: 240, What: "dress parade", Kind: "rehearse"}}}
		var plan answer.Plan
		for i := range rapid.IntRange(0, 12).Draw(t, "pieces") {
			id := show.PieceID(fmt.Sprint("X", i))
			h.Pieces = append(h.Pieces, show.Piece{ID: id, Category: show.Dress, Fit: rapid.SampledFrom([]string{"fitted", "loose"}).Draw(t, "fit")})
			c := made(id, rapid.SampledFrom(skills).Draw(t, "skill"), units.Minutes(rapid.IntRange(0, 900).Draw(t, "minutes")))
			c.Source = rapid.SampledFrom(answer.Sources()).Draw(t, "source")
			plan.Choices = append(plan.Choices, c)
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "helpers") {
			h.Helpers = append(h.Helpers, show.Helper{ID: show.HelperID(fmt.Sprint("K", i)), Pace: rapid.IntRange(30, 120).Draw(t, "pace"),
				Hours:  units.Minutes(rapid.IntRange(0, 900).Draw(t, "hours")),
				Skills: []string{rapid.SampledFrom([]string{"tailoring", "cut", "seams", "hats", "driving"}).Draw(t, "can")}})
		}
		day := units.Date(rapid.IntRange(46990, 47029).Draw(t, "day"))
		w := Arrange(h, day, plan)
		for _, r := range Check(h, day, plan, w) {
			t.Fatal(r.Sentence(units.Metric))
		}
		h.Helpers = append(h.Helpers, show.Helper{ID: "K9", Pace: 100, Hours: 900, Skills: []string{"any sewing"}})
		if more := Arrange(h, day, plan); more.Outcome.Bound > w.Outcome.Bound || more.Offered < w.Offered {
			t.Fatal("one more helper makes it worse")
		}
	})
}

func BenchmarkDemo(b *testing.B) {
	h := house(b)
	plan := likely(h)
	b.ReportAllocs()
	for b.Loop() {
		Arrange(h, demo.Today, plan)
	}
}
