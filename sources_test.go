package hemwright_test

import (
	"os"
	"strings"
	"testing"

	_ "hemwright/internal/face/cli" // declares every rule the program has
	"hemwright/internal/value/why"
)

// Every rule has an id of its own, a basis that docs/sources.md lists, whole
// holes, and no word that is said of nobody.
func TestRules(t *testing.T) {
	doc, err := os.ReadFile("docs/sources.md")
	if err != nil {
		t.Fatal(err)
	}
	never := []string{"bust", "chubby", "percentile", "skinny", "overweight", "fat ", "abnormal", "!"}
	for _, r := range why.Rules() {
		if !strings.Contains(string(doc), "\n| "+r.Basis.Key+" |") {
			t.Errorf("rule %s rests on %q, which docs/sources.md does not list", r.ID, r.Basis.Key)
		}
		if strings.Count(r.Says, "{") != strings.Count(r.Says, "}") {
			t.Errorf("rule %s has a broken hole: %s", r.ID, r.Says)
		}
		for _, w := range never {
			if strings.Contains(strings.ToLower(r.Says), w) {
				t.Errorf("rule %s says %q", r.ID, w)
			}
		}
	}
}
