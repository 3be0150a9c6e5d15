package intake

import (
	"fmt"
	"regexp"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

var (
	paidLine   = regexp.MustCompile(`(?i)^(.+?) (?:€|£|\$)?(\d{1,4}(?:[.,]\d{2})?)(?: ?(?:€|£|\$|eur|euros?))?,? paid(?: by (\w+))?(.*)$`)
	loanLine   = regexp.MustCompile(`(?i)^(.+?) (lends?|borrows?)(?: us| from us)? (?:the |a |an )?(.+?) (?:till|until|back by) (\d{1,2} \w+|\w+ \d{1,2})(.*)$`)
	askLine    = regexp.MustCompile(`(?i)^(?:(\w[\w ]*?)\?+ )?ask (?:the )?([\w ]+?)(?:[:,]| about) *(.*)$`)
	callLine   = regexp.MustCompile(`(?i)^(.+?) (?:on )?(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]* )?(\d{1,2} (?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*)(?: \d{4})?(?: at)? (\d{1,2}[:.]\d{2})$`)
	notionLine = regexp.MustCompile(`(?i)^(elastic|tape|cord|ribbon|ric-rac|bias|hook-and-loop|boning) (\d{1,3}) ?mm (?:[^\d]*)(\d{1,3}(?:[.,]\d)?) ?(m|yd)$`)
	countedOne = regexp.MustCompile(`(?i)^(\d{1,3}) (?:of |x )?(.+?)(?: in (?:the )?\w+)?$`)
)

// paid takes "haberdasher 38,40 paid by me, slip in the red folder".
func (r *jotting) paid(n int, text string) bool {
	m := paidLine.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	sum, err := units.Coins(m[2])
	if err != nil {
		return false
	}
	for _, x := range r.h.Receipts {
		if x.Shop == m[1] && x.Sum == units.Some(sum) && x.Day <= r.day {
			r.take(n, text, "%s at %s, noted already.", sum, m[1])
			return true
		}
	}
	low := strings.ToLower(m[4])
	slip := strings.Contains(low, "slip") && !strings.Contains(low, "no slip") && !strings.Contains(low, "lost")
	x := show.Receipt{Day: r.day, Shop: m[1], Sum: units.Some(sum), Slip: slip}
	x.ID = show.ReceiptID(next("E", 2, func(c string) bool {
		for _, o := range r.h.Receipts {
			if string(o.ID) == c {
				return true
			}
		}
		return false
	}))
	if p := r.helperNamed(m[3]); p != nil {
		x.PaidBy = p.ID
	}
	r.h.Receipts = append(append([]show.Receipt(nil), r.h.Receipts...), x)
	says := "no slip"
	if slip {
		says = "with its slip"
	}
	r.take(n, text, "%s spent at %s, %s.", sum, m[1], says)
	if x.PaidBy == "" {
		r.open("Who paid it? Write the helpers first, and the name.")
	}
	return true
}

// loan takes "band lends the jacket till 30 May, NO cutting".
func (r *jotting) loan(n int, text string) bool {
	m := loanLine.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	due, err := r.dayIn(m[4])
	if err != nil {
		return false
	}
	l := show.Loan{Out: strings.HasPrefix(strings.ToLower(m[2]), "borrow"), Whom: m[1], What: m[3], Since: r.day, Due: due, State: "agreed"}
	for _, o := range r.h.Loans {
		if o.Whom == l.Whom && o.What == l.What {
			r.take(n, text, "The loan of the %s, noted already.", l.What)
			return true
		}
	}
	l.ID = show.LoanID(next("B", 2, func(c string) bool {
		for _, o := range r.h.Loans {
			if string(o.ID) == c {
				return true
			}
		}
		return false
	}))
	r.h.Loans = append(append([]show.Loan(nil), r.h.Loans...), l)
	verb := "lends"
	if l.Out {
		verb = "borrows"
	}
	r.take(n, text, "%s %s %s, back by %s. Not to be cut, pinned or washed until it is said.", l.Whom, verb, l.What, due.Words())
	return true
}

// asked takes "ask director: can the waves come back on the side they left".
func (r *jotting) asked(n int, text string) bool {
	m := askLine.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	what := strings.TrimSpace(strings.TrimSpace(m[1]) + " " + strings.TrimSpace(m[3]))
	if what == "" {
		return false
	}
	for _, a := range r.h.Asks {
		if a.OfWhom == m[2] && a.What == what {
			r.take(n, text, "Asked of %s, noted already.", m[2])
			return true
		}
	}
	id := show.AskID(next("Q", 2, func(c string) bool {
		for _, o := range r.h.Asks {
			if string(o.ID) == c {
				return true
			}
		}
		return false
	}))
	r.h.Asks = append(append([]show.Ask(nil), r.h.Asks...), show.Ask{ID: id, Day: r.day, OfWhom: m[2], What: what})
	r.take(n, text, "To ask %s: %s.", m[2], what)
	return true
}

// called takes "first fitting little ones Sat 27 March 10:00".
func (r *jotting) called(n int, text string) bool {
	m := callLine.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	day, err := r.dayIn(m[2])
	if err != nil {
		return false
	}
	at, err := units.ParseClock(strings.Replace(m[3], ".", ":", 1))
	if err != nil {
		return false
	}
	kind := "rehearse"
	if strings.Contains(strings.ToLower(m[1]), "fitting") || strings.Contains(strings.ToLower(m[1]), "measur") {
		kind = "fit"
	}
	r.enter(show.Entry{Day: day, Start: at, Minutes: 120, What: m[1], Kind: kind, Who: []string{"all"}})
	r.take(n, text, "In the calendar: %s, %s %s.", m[1], day.Long(), at)
	r.open("How long? Two hours are assumed.")
	return true
}

// notion takes "elastic 6 mm 12 m" and "zips: 7 short ones, 2 of 50".
func (r *jotting) notion(n int, text string) bool {
	if m := notionLine.FindStringSubmatch(text); m != nil {
		r.count(show.Notion{Name: strings.ToLower(m[1]), Size: millimetres(m[2]), OnHand: m[3], Unit: m[4]})
		r.take(n, text, "In the box: %s of %s %s mm.", m[3]+" "+m[4], strings.ToLower(m[1]), m[2])
		return true
	}
	head, list, ok := strings.Cut(text, ":")
	name := singular(strings.ToLower(strings.TrimSpace(head)))
	if !ok || name != "zip" && name != "button" && name != "hook" && name != "snap" && name != "needle" && name != "safety pin" {
		return false
	}
	var says []string
	for _, part := range strings.Split(list, ",") {
		m := countedOne.FindStringSubmatch(strings.TrimSpace(part))
		if m == nil {
			r.keep(n, text, fmt.Sprintf("How many are %q?", strings.TrimSpace(part)))
			return true
		}
		size := strings.TrimSpace(strings.TrimSuffix(m[2], " ones"))
		colour := r.colourIn(size)
		size = strings.TrimSpace(strings.ReplaceAll(size, colour, ""))
		r.count(show.Notion{Name: name, Size: size, Colour: colour, OnHand: m[1], Unit: "piece"})
		says = append(says, strings.TrimSpace(m[1]+" "+name+" "+size+" "+colour))
	}
	r.take(n, text, "In the box: %s.", strings.Join(says, ", "))
	return true
}

// millimetres writes a size in millimetres as sizes are kept, in centimetres.
func millimetres(s string) string {
	l, err := units.ParseLength(s, units.Millimetre)
	if err != nil {
		return s + " mm"
	}
	return units.Metric.Print(l)
}

// count puts a notion into the box; the same one is counted anew.
func (r *jotting) count(x show.Notion) {
	for i := range r.h.Notions {
		if o := &r.h.Notions[i]; o.Name == x.Name && o.Size == x.Size && o.Colour == x.Colour && o.Unit == x.Unit {
			o.OnHand = x.OnHand
			return
		}
	}
	r.h.Notions = append(r.h.Notions, x)
}

// Note adds something to see to.
func Note(notes []show.Note, what string, day units.Date) []show.Note {
	id := next("T", 2, func(c string) bool {
		for _, o := range notes {
			if string(o.ID) == c {
				return true
			}
		}
		return false
	})
	return append(append([]show.Note(nil), notes...), show.Note{ID: show.NoteID(id), Day: day, What: what, State: "open"})
}
