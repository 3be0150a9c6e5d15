// Package fittings says who is fitted when: one appointment for everybody
// with a piece to be tried on, on the fitting days of the calendar.
package fittings

import (
	"cmp"
	"slices"

	"hemwright/internal/craft/fit"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var slotBasis = why.Basis{Key: "fitting-slots", Kind: why.Practice, Title: "length of a fitting: what designers on little money ask for, and house figures for the rest"}

var (
	ruleSlot   = why.Declare("fittings.slot", "{minutes} for {pieces} to try, on the day called for {called}.", slotBasis)
	ruleNoDay  = why.Declare("fittings.noday", "No fitting day before the parade calls {who}.", why.Exact)
	ruleFull   = why.Declare("fittings.full", "The days that call {who} hold {have}, and those who can come on no other want {wanted}.", why.Exact)
	ruleNoRoom = why.Declare("fittings.noroom", "No free place was found for {who} on {days} days.", why.Exact)
	ruleWrong  = why.Declare("fittings.check", "The fittings do not add up: {what}.", why.Exact)
)

// guest is somebody to be fitted.
type guest struct {
	id      show.PerformerID
	minutes units.Minutes
	pieces  []show.PieceID
	roles   []show.RoleID
	days    []int // sessions that call them, first choice first
	order   int
}

// session is one fitting day of the calendar.
type session struct {
	e      show.Entry
	roles  map[show.RoleID]bool
	listed bool
	who    []int // guests
}

// Arrange makes the appointments from a day to the parade. Everybody gets one,
// on a day that calls a role they are fitted for, never while the calendar
// has them in rehearsal; who finds no place is listed with the reason.
func Arrange(h *show.House, day units.Date, plan answer.Plan) answer.Fittings {
	var f answer.Fittings
	days := sessions(h, day)
	guests := needing(h, plan)
	for i := range guests {
		guests[i].days = callsFor(h, guests[i], days)
	}
	b := &book{h: h, slots: shipped.Of(h.Tables), guests: guests, days: days}
	order := make([]int, len(guests))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int {
		a, c := guests[x], guests[y]
		return cmp.Or(cmp.Compare(len(a.days), len(c.days)), cmp.Compare(c.minutes, a.minutes), cmp.Compare(a.order, c.order))
	})
	proved := true
	for _, g := range order {
		if b.put(g) {
			continue
		}
		reason, sure := b.whyNot(g)
		proved = proved && sure
		f.Unplaced = append(f.Unplaced, answer.Appointment{Performer: guests[g].id, Kind: "first", Minutes: guests[g].minutes, Pieces: guests[g].pieces, Why: reason})
	}
	for d := range days {
		laid, _ := b.lay(d, days[d].who)
		f.Appointments = append(f.Appointments, laid...)
	}
	slices.SortStableFunc(f.Appointments, func(a, b answer.Appointment) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Start, b.Start), cmp.Compare(a.Station, b.Station))
	})
	f.Outcome = solve.Outcome{Proof: solve.Found, Value: float64(len(f.Unplaced))}
	if proved {
		f.Outcome.Proof, f.Outcome.Bound, f.Outcome.HasBound = solve.Best, f.Outcome.Value, true
		if len(f.Unplaced) > 0 {
			f.Outcome.Proof = solve.Impossible
			f.Outcome.Bound = 1
		}
	}
	return f
}

// sessions lists the fitting days from a day to the parade, earliest first.
func sessions(h *show.House, day units.Date) []session {
	parade := h.Parade()
	var out []session
	for _, e := range h.Calendar {
		if e.Kind != "fit" || e.Day < day || parade != 0 && e.Day >= parade || e.Minutes == 0 {
			continue
		}
		roles, listed := fit.Called(h, e)
		s := session{e: e, listed: listed, roles: map[show.RoleID]bool{}}
		for _, r := range roles {
			s.roles[r] = true
		}
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(a, b session) int {
		return cmp.Or(cmp.Compare(a.e.Day, b.e.Day), cmp.Compare(a.e.Start, b.e.Start))
	})
	return apart(out)
}

// apart cuts off the beginning of a session that runs into the one before:
// there are only so many stations.
func apart(in []session) []session {
	var out []session
	for _, s := range in {
		if n := len(out); n > 0 && out[n-1].e.Day == s.e.Day {
			if over := end(out[n-1].e) - s.e.Start; over > 0 {
				s.e.Start, s.e.Minutes = s.e.Start+over, s.e.Minutes-units.Minutes(over)
			}
		}
		if s.e.Minutes > 0 {
			out = append(out, s)
		}
	}
	return out
}

// tried says whether a chosen piece is tried on: altered, remade, made or
// bought, and not hanging loose.
func tried(p *show.Piece, c answer.Choice) bool {
	if p == nil || p.Category == show.Accessory || p.HowFar == show.Finished || p.HowFar == show.Hung {
		return false
	}
	switch c.Source {
	case answer.Alter, answer.Remake, answer.Make, answer.Buy:
		return p.Fit == "fitted" || p.Fit == "easy"
	}
	return false
}

// needing lists everybody with a piece to try on, in the order of the
// performers.
func needing(h *show.House, plan answer.Plan) []guest {
	s, at := shipped.Of(h.Tables), map[show.PerformerID]*guest{}
	for _, c := range plan.Choices {
		p := h.Piece(c.Piece)
		if !tried(p, c) {
			continue
		}
		for _, who := range h.Wearers(p) {
			g := at[who]
			if g == nil {
				g = &guest{id: who, minutes: s.crowd}
				at[who] = g
			}
			g.pieces = append(g.pieces, p.ID)
			g.roles = append(g.roles, rolesIn(h, p, who)...)
		}
	}
	var out []guest
	for i, p := range h.Performers {
		g := at[p.ID]
		if g == nil {
			continue
		}
		g.order = i
		for _, r := range g.roles {
			if role := h.Role(r); role != nil && (role.Kind == "lead" || role.Kind == "support") {
				g.minutes = s.named
			}
		}
		out = append(out, *g)
	}
	return out
}

// rolesIn lists the roles in which somebody wears a piece.
func rolesIn(h *show.House, p *show.Piece, who show.PerformerID) []show.RoleID {
	var out []show.RoleID
	for _, l := range p.Looks {
		look := h.Look(l)
		if look == nil {
			continue
		}
		for _, c := range h.Casts() {
			if h.PlayedBy(look.Role, c) == who && !slices.Contains(out, look.Role) {
				out = append(out, look.Role)
			}
		}
	}
	return out
}

// callsFor lists the sessions somebody may come to: those that call a role
// they are fitted for, then those that call any role they play, then those
// for whoever is put on the list.
func callsFor(h *show.House, g guest, days []session) []int {
	var first, second, third []int
	for d, s := range days {
		switch {
		case s.listed:
			third = append(third, d)
		case slices.ContainsFunc(g.roles, func(r show.RoleID) bool { return s.roles[r] }):
			first = append(first, d)
		case slices.ContainsFunc(h.Roles, func(r show.Role) bool { return s.roles[r.ID] && r.Performer == g.id }):
			second = append(second, d)
		}
	}
	return append(append(first, second...), third...)
}
