package sheet

import (
	_ "embed" // the page
	"encoding/json"
	"html/template"
	"io"
	"strings"

	"hemwright/internal/intake"
	"hemwright/internal/show/answer"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

//go:embed pocket.html
var pocketPage string

// pocketNeed is a need as the page reads it: numbers in the shown unit.
type pocketNeed struct {
	Letter  string       `json:"letter"`
	Kind    string       `json:"kind"`
	What    string       `json:"what"`
	Colour  string       `json:"colour"`
	Hex     string       `json:"hex,omitempty"`
	Windows []pocketSpan `json:"windows"`
	Limit   float64      `json:"limit,omitempty"`
	Saves   int64        `json:"saves,omitempty"`
	Count   int          `json:"count"`
}

type pocketSpan struct {
	Where string  `json:"where"`
	Lo    float64 `json:"lo"`
	Hi    float64 `json:"hi"`
	Most  float64 `json:"most"`
}

// Pocket writes the page that goes to the shop: one file that works with no
// network and holds letters, colours and flat windows, no name and no body.
func Pocket(w io.Writer, p *workshop.Prepared, needs []answer.PocketNeed) error {
	in := func(l units.Length) float64 {
		if p.House.Units == units.Imperial {
			return l.Inches()
		}
		return l.Cm()
	}
	data := struct {
		Needs []pocketNeed      `json:"needs"`
		Words map[string]string `json:"words"`
		Kinds map[string]string `json:"kinds"`
	}{Words: map[string]string{}, Kinds: map[string]string{}}
	for word, kind := range intake.GarmentWords() {
		short := strings.Fields(kind)[0]
		data.Words[word], data.Kinds[short] = short, kind
	}
	for _, n := range needs {
		q := pocketNeed{Letter: n.Letter, Kind: string(n.Kind), What: n.What, Colour: n.Colour, Hex: n.Hex, Limit: float64(n.Limit) / 100, Saves: int64(n.Saves), Count: n.Count}
		for _, s := range n.Windows {
			q.Windows = append(q.Windows, pocketSpan{s.Where, in(s.Lo), in(s.Hi), in(s.Most)})
		}
		data.Needs = append(data.Needs, q)
	}
	b, err := json.Marshal(data)
	if err != nil {
		return err
	}
	t, err := template.New("pocket").Parse(pocketPage)
	if err != nil {
		return err
	}
	return t.Execute(w, struct {
		Day, Units string
		JSON       template.JS
	}{p.Day.Long(), p.House.Units.String(), template.JS(b)}) // json.Marshal writes < > & as escapes: it cannot end the element
}
