package why

import (
	"fmt"
	"testing"

	"hemwright/internal/value/units"
)

var short = Declare("test.short", "The {garment} lacks {short} at the {where}.", Common)

func TestSentence(t *testing.T) {
	r := short.Because(No, Of("garment", Ref{"garment", "S015"}), Of("short", units.Cm(4)), Of("where", "chest"))
	if got := r.Sentence(units.Metric); got != "The S015 lacks 4 cm at the chest." {
		t.Errorf("metric: %q", got)
	}
	if got := r.Sentence(units.Imperial); got != "The S015 lacks 1 5/8 in at the chest." { // 4/2.54 = 1.575
		t.Errorf("imperial: %q", got)
	}
	if got := short.Because(No).Sentence(units.Metric); got != "The not known lacks not known at the not known." {
		t.Errorf("holes: %q", got)
	}
}

func TestDeclareTwicePanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a second rule with the same id was taken")
		}
	}()
	Declare("test.short", "again", Common)
}

func TestDiff(t *testing.T) {
	a := short.Because(No, Of("short", units.Cm(4)))
	b := short.Because(No, Of("short", units.Cm(2)))
	gone, come := Diff(Verdict{Reasons: []Reason{a}}, Verdict{Reasons: []Reason{b}})
	if len(gone) != 1 || len(come) != 1 {
		t.Errorf("gone %v, come %v", gone, come)
	}
}

func TestKindOfWrapped(t *testing.T) {
	err := fmt.Errorf("import: %w", Bad("waist_cm", "Waist 23 is too short.", "Measure again."))
	if KindOf(err) != Invalid || KindOf(fmt.Errorf("boom")) != Internal || KindOf(err).ExitCode() != 2 {
		t.Error("kinds are lost on the way up")
	}
}

func TestZeroVerdictIsNoPass(t *testing.T) {
	if (Verdict{}).Grade != Unknown {
		t.Error("the zero verdict is not Unknown")
	}
}
