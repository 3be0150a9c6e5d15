package workshop

import (
	"testing"

	"hemwright/internal/craft/fit"
	"hemwright/internal/demo"
	"hemwright/internal/plan/fittings"
	"hemwright/internal/plan/running"
	"hemwright/internal/plan/workroom"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// What the list of traps made with the demo changes for a reason, answered:
// each in the room it belongs to, by what has to be different then.
func TestWhatIfs(t *testing.T) {
	oneAtATime(t)
	var house show.House
	steps := 0
	w := demoIn(t, t.TempDir()+"/h", &steps)
	house, err := w.store.House()
	if err != nil {
		t.Fatal(err)
	}
	now := house.At(demo.Today)
	spoil := func(change func(h *show.House)) show.House {
		h := now.Own()
		change(&h)
		return h
	}

	// measured again eight weeks later, 2 cm more: every hem to the floor of
	// hers is wanted longer, by about 0.605 of that in what is measured too
	taller := spoil(func(h *show.House) {
		p := h.Performer("P30")
		for k, more := range map[body.Kind]float64{body.Height: 2, body.WaistToFloor: 1.2} {
			p.Body[k].Span = p.Body[k].Span.Add(units.Cm(more))
		}
	})
	hems := 0
	for i := range now.Pieces {
		q := &now.Pieces[i]
		a, ok := fit.Wanted(&now, q).Window("length")
		b, _ := fit.Wanted(&taller, q).Window("length")
		if worn := now.Wearers(q); ok && q.LengthTo == "floor" && len(worn) == 1 && worn[0] == "P30" && a.Sits.Known {
			hems++
			if b.Goal <= a.Goal {
				t.Errorf("%s: the hem of one who grew stays at %v", q.ID, a.Goal)
			}
		}
	}
	if hems == 0 {
		t.Error("P30 has no hem to the floor")
	}

	// the harbourmistress on at once in S13: her change into it is shorter
	early := spoil(func(h *show.House) {
		for i := range h.Appearances {
			if a := &h.Appearances[i]; a.Scene == "S13" && a.Role == "R04" {
				a.Enter = 0
			}
		}
	})
	into := func(h *show.House) int {
		for _, c := range running.Timelines(h)[0].Changes {
			if who := h.PlayedBy("R04", "A"); c.Performer == who && c.ToScene == "S13" {
				return c.Seconds
			}
		}
		return -1
	}
	if a, b := into(&now), into(&early); b >= a || b < 0 {
		t.Errorf("%d s before, %d s when she is on at once", a, b)
	}

	// the boat-smith leaves: somebody could step in, and is named
	leave := running.WhoCouldStepIn(&now, "A", "P31", answer.Plan{})
	named := 0
	for _, x := range leave {
		named += len(x.Ins)
	}
	if len(leave) == 0 || named == 0 {
		t.Errorf("nobody could step in for P31: %d roles", len(leave))
	}

	// the best sewer falls ill three weeks early: fewer hours are offered
	ill := spoil(func(h *show.House) { h.Helper("H2").To, _ = units.Day(2027, 4, 20) })
	offered := func(h *show.House) (sum units.Minutes) {
		for _, o := range workroom.Offers(h, demo.Today) {
			sum += o.Lead
		}
		return sum
	}
	if a, b := offered(&now), offered(&ill); b >= a {
		t.Errorf("%s offered, and %s without her last weeks", a, b)
	}

	// second fittings moved by four days: they are booked on the new day
	later := spoil(func(h *show.House) {
		for i := range h.Calendar {
			if e := &h.Calendar[i]; e.Kind == "fit" && e.Day.String() == "2027-04-24" {
				e.Day += 4
			}
		}
	})
	p := fit.OfGarment(&now, now.Garment("F02"))
	goes := 0
	for _, f := range p {
		if f.Verdict.Grade > why.No {
			goes++
		}
	}
	if goes == 0 {
		t.Error("the twins' find goes for nobody even now")
	}
	for _, a := range fittings.Arrange(&later, demo.Today, answer.Plan{}).Appointments {
		if a.Day.String() == "2027-04-24" {
			t.Error("somebody is fitted in a hall that is not free")
		}
	}
}
