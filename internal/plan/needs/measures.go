package needs

import (
	"slices"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
)

// Measures lists, for each performer who may be measured, what the pieces of
// their looks want known, in the order of the tape. Height, chest, waist and
// hip carry every length and the whole upper body (survey of children's
// measures, 1975-77: lengths follow height within a hem, the upper body the
// chest within a seam); the rest is asked only where a piece hangs on it.
func Measures(h *show.House) map[show.PerformerID][]body.Kind {
	want := map[show.PerformerID][body.Kinds]bool{}
	for i := range h.Pieces {
		q := &h.Pieces[i]
		kinds := wantedBy(q)
		for _, id := range h.Wearers(q) {
			w := want[id]
			for _, k := range kinds {
				w[k] = true
			}
			want[id] = w
		}
	}
	out := map[show.PerformerID][]body.Kind{}
	for _, p := range h.Performers {
		if p.Consent == "no measuring" {
			continue
		}
		w := want[p.ID]
		for _, k := range body.All() {
			if w[k] {
				out[p.ID] = append(out[p.ID], k)
			}
		}
	}
	return out
}

// wantedBy is what one piece wants known of its wearer.
func wantedBy(q *show.Piece) []body.Kind {
	switch q.Fit {
	case "head":
		if q.Closure == "elastic" || q.Closure == "tie" {
			return nil
		}
		return []body.Kind{body.Head}
	case "neck":
		return []body.Kind{body.Neck}
	}
	if q.Category == show.Accessory {
		return nil
	}
	kinds := []body.Kind{body.Height, body.Chest, body.Waist, body.Hip}
	switch {
	case q.Fit == "fitted" && slices.Contains([]show.Category{show.Dress, show.Bodice, show.Jacket, show.Shirt}, q.Category):
		kinds = append(kinds, body.NapeToWaist, body.AcrossShoulders, body.ShoulderToWrist)
	case q.Category == show.Trousers:
		kinds = append(kinds, body.InsideLeg)
	}
	return kinds
}

// Sharpest is the one measure that would settle the most pieces if it were
// taken of everybody who lacks it; no people where nothing is missing.
func Sharpest(h *show.House) (k body.Kind, people []show.PerformerID, pieces []show.PieceID) {
	best := 0
	for _, kind := range body.All() {
		who, settled := lacking(h, kind)
		if len(settled) > best {
			best, k, people, pieces = len(settled), kind, who, settled
		}
	}
	return k, people, pieces
}

// lacking lists who may be measured and lacks a measure some piece wants, and
// the pieces.
func lacking(h *show.House, kind body.Kind) (people []show.PerformerID, pieces []show.PieceID) {
	seen := map[show.PerformerID]bool{}
	for i := range h.Pieces {
		q := &h.Pieces[i]
		if !slices.Contains(wantedBy(q), kind) {
			continue
		}
		open := false
		for _, id := range h.Wearers(q) {
			p := h.Performer(id)
			if p == nil || p.Consent == "no measuring" || p.Body[kind].Span.Known {
				continue
			}
			open = true
			if !seen[id] {
				seen[id] = true
				people = append(people, id)
			}
		}
		if open {
			pieces = append(pieces, q.ID)
		}
	}
	return people, pieces
}
