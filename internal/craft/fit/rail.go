package fit

import "hemwright/internal/show/show"

// Rail is garments hung by kind, so that a piece is held only against those
// that could be it. The zero value is empty.
type Rail struct {
	hung []Hung
	by   map[railKey][]*Hung
}

type railKey struct {
	category show.Category
	kind     string
}

// NewRail hangs garments. They must not change while the rail is used.
func NewRail(garments []show.Garment) *Rail {
	r := &Rail{hung: make([]Hung, len(garments)), by: map[railKey][]*Hung{}}
	for i := range garments {
		r.hung[i] = Hang(&garments[i])
		key := railKey{garments[i].Category, r.hung[i].kind}
		r.by[key] = append(r.by[key], &r.hung[i])
	}
	return r
}

// Of lists the garments of a wearing's kind, in the order they were hung. All
// others are another kind of thing: not this one.
func (r *Rail) Of(w *Wearing) []*Hung { return r.by[railKey{w.category, w.kind}] }

// Garment is the garment that hangs here.
func (x *Hung) Garment() *show.Garment { return x.g }
