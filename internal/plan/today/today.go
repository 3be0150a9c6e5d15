// Package today says what cannot wait, what to do in the next two hours, what
// waits for whom, and how far everything is.
package today

import (
	"fmt"
	"sort"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Known is what the other rooms found.
type Known struct {
	Day       units.Date
	Timelines []answer.Timeline
	Plan      answer.Plan
	Cutting   answer.Cutting
	Workroom  answer.Workroom
	Fittings  answer.Fittings
	Money     answer.Money
	Cautions  []answer.Caution
}

// evening is how much is laid out for tonight.
const evening units.Minutes = 120

// soon is how near a day has to be to carry a notch.
const soon = 7

// Look makes the page of the day.
func Look(h *show.House, k Known) answer.Today {
	t := answer.Today{HowFar: map[show.HowFar]int{}}
	for _, p := range h.Pieces {
		t.HowFar[p.HowFar]++
	}
	u := &urgent{h: h, k: k}
	u.blocking()
	u.shortCloth()
	u.unwashed()
	u.changes()
	u.hours()
	u.money()
	u.without()
	u.cautions()
	u.loans()
	u.asks()
	sort.SliceStable(u.out, func(i, j int) bool { return u.out[i].DueSoon && !u.out[j].DueSoon })
	t.Urgent = u.out
	t.Tonight = tonight(h, k)
	t.Waiting = waiting(h, k)
	return t
}

// urgent gathers what cannot wait, the worst first.
type urgent struct {
	h   *show.House
	k   Known
	out []answer.Urgent
}

func (u *urgent) add(n why.Fact, say, because, do, page string, due units.Date) {
	u.out = append(u.out, answer.Urgent{Number: n, Say: say, Why: because, Do: do, Page: page, Due: due,
		DueSoon: due != 0 && due-u.k.Day <= soon})
}

// nextMaking is the next day with a sewing session, or not set.
func (u *urgent) nextMaking() units.Date {
	for _, e := range u.h.Calendar {
		if e.Kind == "make" && e.Day >= u.k.Day {
			return e.Day
		}
	}
	return 0
}

func (u *urgent) blocking() {
	n := 0
	var what []string
	for _, note := range u.h.Notes {
		if note.Blocks && note.State != "done" {
			n++
			what = append(what, note.What)
		}
	}
	if n > 0 {
		u.add(why.Of("notes", n), "Notes that stop somebody going on.", strings.Join(what, "; ")+".", "Do these tonight", "workroom", u.k.Day)
	}
}

func (u *urgent) shortCloth() {
	var total units.Length
	var what []string
	for _, s := range u.k.Cutting.Short {
		total += s.Wanted
		what = append(what, fmt.Sprintf("%d in %s", len(s.Pieces), s.Colour))
	}
	if total > 0 {
		u.add(why.Of("cloth", total), "Pieces to be made have no cloth.", list(what, 6)+". By rule of thumb, a bought cloth's usual width.",
			"See which cloth is short", "shelf", u.nextMaking())
	}
}

func (u *urgent) unwashed() {
	used := map[show.ClothID]bool{}
	for _, c := range u.k.Plan.Choices {
		used[c.Cloth] = true
	}
	var what []string
	for _, c := range u.h.Cloths {
		if used[c.ID] && c.Washed == "no" {
			what = append(what, fmt.Sprintf("%s (%s, %s)", c.ID, c.Name, c.Fibre))
		}
	}
	if len(what) > 0 {
		u.add(why.Of("cloths", len(what)), "Wash these before anybody cuts them.", list(what, 4)+". Down as not washed; they may shrink.",
			"Put them on the wash sheet", "shelf", u.nextMaking())
	}
}

func (u *urgent) changes() {
	if len(u.k.Timelines) == 0 {
		return
	}
	if clashes := u.k.Timelines[0].Clashes; len(clashes) > 0 {
		var what []string
		for _, c := range clashes {
			what = append(what, fmt.Sprintf("%s in %s", c.Performer, c.Scene))
		}
		u.add(why.Of("clashes", len(clashes)), "Somebody is on stage twice at once.", list(what, 6)+". The minutes or the casting contradict each other.", "See who is on", "who", 0)
	}
	least, n := 0, 0
	title := ""
	for _, c := range u.k.Timelines[0].Changes {
		if c.Verdict.Grade != why.No {
			continue
		}
		if n++; n == 1 || c.Seconds < least {
			least = c.Seconds
			if s := u.h.Scene(c.ToScene); s != nil {
				title = string(s.ID) + ", " + s.Title
			}
		}
	}
	alone, first := 0, 0
	for _, d := range u.k.Timelines[0].Duties {
		if d.Dresser == "" {
			if alone++; alone == 1 {
				first = u.k.Timelines[0].Changes[d.Change].Seconds
			}
		}
	}
	if alone > 0 {
		u.add(why.Seconds("seconds", first), fmt.Sprintf("%s nobody to help.", count(alone, "fast change has", "fast changes have")),
			"The dressers there are do the others, one after another; these would be late.", "See who, and what could stay on underneath", "running", 0)
	}
	if n > 0 {
		u.add(why.Seconds("seconds", least), count(n, "change is too short as it stands.", "changes are too short as they stand."),
			fmt.Sprintf("The shortest goes into %s. Reckoned with one dresser for each; house estimates.", title), "See who and why", "running", 0)
	}
}

func (u *urgent) hours() {
	w := u.k.Workroom
	if short := w.Wanted - w.Offered; short > 0 {
		u.add(why.Of("short", short), "The evenings do not hold the work.",
			fmt.Sprintf("%s wanted with redoing, %s offered to the parade, at the lead's pace.", w.Wanted, w.Offered), "See what to simplify", "workroom", 0)
	}
	if n := len(w.Late); n > 0 {
		u.add(why.Of("pieces", n), fmt.Sprintf("%s late.", count(n, "piece comes", "pieces come")),
			"Nobody with the skill has the evening before it is due.", "See which", "workroom", 0)
	}
}

func (u *urgent) money() {
	if m := u.k.Money; m.Free < 0 {
		u.add(why.Of("over", -m.Free), "More money is needed than there is.",
			fmt.Sprintf("%s spent, %s promised, %s still needed, %s held back of %s.", m.Spent, m.Promised, m.Needed, m.Held, m.Sum), "See where it goes", "money", 0)
	}
}

func (u *urgent) without() {
	n := 0
	var what []string
	for _, c := range u.k.Plan.Choices {
		if c.Source == answer.GoWithout {
			n++
			if p := u.h.Piece(c.Piece); p != nil {
				what = append(what, fmt.Sprintf("%s %s", p.ID, p.Name))
			}
		}
	}
	if n > 0 {
		u.add(why.Of("pieces", n), fmt.Sprintf("%s without, as the plan stands.", count(n, "piece goes", "pieces go")), list(what, 6)+".",
			"See what else there is", "pieces", 0)
	}
}

func (u *urgent) cautions() {
	for _, c := range u.k.Cautions {
		if c.Key == "chaperones" && c.Decided == nil {
			u.add(missing(c), "Chaperones are missing.", c.Reason.Sentence(u.h.Units)+" Decided by "+c.Decides+".", c.Suggest, "performers", 0)
		}
	}
}

// missing is how many chaperones are still to be found.
func missing(c answer.Caution) why.Fact {
	var want, have int
	for _, f := range c.Reason.Facts {
		switch f.Name {
		case "want":
			want = int(f.N)
		case "have":
			have = int(f.N)
		}
	}
	return why.Of("chaperones", want-have)
}

func (u *urgent) loans() {
	for _, l := range u.h.Loans {
		if !l.Out && l.State == "here" && l.Due != 0 && l.Due-u.k.Day <= soon {
			u.add(why.Of("due", l.Due), fmt.Sprintf("%s goes back to %s.", l.What, l.Whom), l.Note+".", "Undo what was done to it", "rail", l.Due)
		}
	}
	for _, kit := range u.h.Kits {
		if kit.State == "out" && kit.DueOn < u.k.Day {
			u.add(why.Of("due", kit.DueOn), fmt.Sprintf("A bag is late: %s.", kit.What), "It was due then and is not back.", "Ring the helper", "workroom", kit.DueOn)
		}
	}
}

func (u *urgent) asks() {
	n := 0
	var what []string
	for _, a := range u.h.Asks {
		if a.Promised == "" {
			n++
			what = append(what, a.What)
		}
	}
	if n > 0 {
		u.add(why.Of("asks", n), "Questions nobody has answered.", list(what, 3)+".", "Ask again", "running", 0)
	}
}

// tonight is the lead's next two hours, in doing order.
func tonight(h *show.House, k Known) []answer.Slot {
	if len(h.Helpers) == 0 {
		return nil
	}
	lead := h.Helpers[0].ID
	var out []answer.Slot
	var sum units.Minutes
	for _, s := range k.Workroom.Slots {
		if s.Helper != lead || s.Day < k.Day || sum >= evening {
			continue
		}
		if len(out) > 0 && s.Day != out[0].Day {
			break
		}
		out = append(out, s)
		sum += s.Minutes
	}
	return out
}

// waiting lists the pieces that wait, and for what.
func waiting(h *show.House, k Known) []answer.Waiting {
	var out []answer.Waiting
	for _, kit := range h.Kits {
		if kit.State != "out" {
			continue
		}
		who := string(kit.Helper)
		if p := h.Helper(kit.Helper); p != nil {
			who = p.Name
		}
		for _, id := range kit.Pieces {
			out = append(out, answer.Waiting{Piece: id, For: "somebody else", What: "in " + who + "'s bag, due " + kit.DueOn.Words()})
		}
	}
	for _, c := range k.Plan.Choices {
		p := h.Piece(c.Piece)
		switch {
		case p == nil || p.HowFar == show.Finished || p.HowFar == show.Hung:
		case c.Source == answer.Buy && c.Money > 0:
			out = append(out, answer.Waiting{Piece: c.Piece, For: "a shop", What: p.Name + ", at most " + c.Money.String()})
		case p.HowFar == show.ToBeFitted:
			out = append(out, answer.Waiting{Piece: c.Piece, For: "a fitting", What: p.Name})
		}
	}
	return out
}

// list joins the first n things and says how many more there are.
func list(what []string, n int) string {
	if len(what) <= n {
		return strings.Join(what, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(what[:n], ", "), len(what)-n)
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
