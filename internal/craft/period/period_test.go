package period

import "testing"

// from: the descriptions behind the table: hips are held out from the 1720s to
// the 1780s, nothing holds a skirt out about 1800.
func TestOf(t *testing.T) {
	if s, ok := Of("hall-1780s"); !ok || s.Support == "" {
		t.Errorf("1780s: %+v %v", s, ok)
	}
	if s, ok := Of("1805"); !ok || s.Support != "" {
		t.Errorf("1805: %+v %v", s, ok)
	}
	for _, era := range []string{"", "once upon a time", "2210", "17", "12345"} {
		if _, ok := Of(era); ok {
			t.Errorf("%q has a silhouette", era)
		}
	}
}
