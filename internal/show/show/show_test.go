package show

import (
	"testing"
	"time"
)

// By hand: 5 min, a gap of 20 s, 4 min, the interval of 15, 3 min: the third
// begins at 5:20 + 4:00 + 15:00 and the show ends at 27:20; the gap after the
// last scene does not count.
func TestStarts(t *testing.T) {
	h := House{Scenes: []Scene{{ID: "A", Running: 5 * time.Minute, GapAfter: 20 * time.Second}, {ID: "B", Running: 4 * time.Minute, Interval: 15 * time.Minute}, {ID: "C", Running: 3 * time.Minute, GapAfter: time.Minute}}}
	starts, end, playing := h.Starts()
	if starts["B"] != 5*time.Minute+20*time.Second || starts["C"] != 24*time.Minute+20*time.Second || end != 27*time.Minute+20*time.Second || playing != 12*time.Minute {
		t.Errorf("%v, end %v, playing %v", starts, end, playing)
	}
}

func TestWhoPlays(t *testing.T) {
	h := House{Roles: []Role{{ID: "R1", Performer: "P1"}, {ID: "R2", Performer: "P2"}}, Looks: []Look{{ID: "L1", Role: "R1"}, {ID: "L2", Role: "R2"}},
		Casting: []Casting{{Role: "R1", Cast: "B", Performer: "P3"}, {Role: "R1", Cast: "A", Performer: "P4", Cover: true}}}
	if h.PlayedBy("R1", "A") != "P1" || h.PlayedBy("R1", "B") != "P3" || h.PlayedBy("R2", "B") != "P2" {
		t.Error("the casting is read wrongly")
	}
	got := h.Wearers(&Piece{Looks: []LookID{"L1", "L2"}})
	if len(got) != 3 || got[0] != "P1" || got[1] != "P2" || got[2] != "P3" {
		t.Errorf("wearers %v: a cover wears nothing yet, the other cast does", got)
	}
}

// What is dated later is not known yet; what it was changed into neither.
func TestAtKnowsNothingOfLater(t *testing.T) {
	h := House{Finds: []Find{{ID: "F1", SeenOn: 10}, {ID: "F2", SeenOn: 20}}, Asks: []Ask{{ID: "A1", Day: 5, SeenOn: 15, Result: "yes"}}, Feet: []Feet{{Performer: "P1", LayerOneSeen: 15}}}
	early := h.At(12)
	if len(early.Finds) != 1 || early.Asks[0].Result != "" || early.Feet[0].LayerOneSeen != 0 {
		t.Errorf("%+v", early)
	}
	if h.Asks[0].Result != "yes" || h.Feet[0].LayerOneSeen != 15 {
		t.Error("looking at an earlier day changed the house")
	}
	if all := h.At(0); len(all.Finds) != 2 {
		t.Error("the zero day leaves something out")
	}
}

func TestNoun(t *testing.T) {
	for name, want := range map[string]string{"school pinafore dress, box pleats": "dress", "market skirt, gathered": "skirt", "dressing gown, piped": "coat", "hip-roll petticoat": "petticoat",
		"harbourmistress jacket with brass": "jacket", "crown of weed and pearl": "crown", "guild waistcoat, false front": "waistcoat", "something else": ""} {
		if got := Noun(name); got != want {
			t.Errorf("%q is a %q, taken as %q", name, want, got)
		}
	}
}

func TestParadeAndOpening(t *testing.T) {
	h := House{Performances: []Performance{{Day: 100}, {Day: 93}}}
	if h.Opening() != 93 || h.Parade() != 87 {
		t.Errorf("opening %d, parade %d: six days before where no parade is set", h.Opening(), h.Parade())
	}
	h.Calendar = []Entry{{Day: 90, Kind: "rehearse", What: "dress parade: in order"}, {Day: 80, Kind: "rehearse", What: "parades of thought"}}
	if h.Parade() != 90 {
		t.Errorf("parade %d", h.Parade())
	}
	var none House
	if none.Opening() != 0 || none.Parade() != 0 || len(none.Casts()) != 1 {
		t.Error("an empty house knows a day")
	}
}
