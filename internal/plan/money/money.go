// Package money says how the money stands: spent, promised, still needed,
// held back; who laid out what; and how much is free for the plan.
package money

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	ruleStands = why.Declare("money.stands", "{spent} spent of {sum}; {held} is held back, {free} is free.", why.Exact)
	ruleOver   = why.Declare("money.over", "{over} more than there is: {spent} spent, {promised} promised, {needed} still needed, {held} held back of {sum}.", why.Exact)
	ruleNoSlip = why.Declare("money.no-slip", "{sum} spent without a slip.", why.Common)
	ruleWrong  = why.Declare("money.check", "The money does not add up: {what}.", why.Exact)
)

// kind is what a line pays for.
type kind int

const (
	garments kind = iota
	cloth
	hats
	feet
	other
)

// words tell a line's kind; the first that occurs in its name counts.
var words = []struct {
	word string
	kind kind
}{
	{"shoe", feet}, {"tights", feet}, {"stocking", feet}, {"hats", hats}, {"second-hand", garments},
	{"garment", garments}, {"clothes", garments}, {"cloth", cloth}, {"fabric", cloth},
}

func kindOf(line string) kind {
	for _, w := range words {
		if strings.Contains(strings.ToLower(line), w.word) {
			return w.kind
		}
	}
	return other
}

// Limit is what a plan may still spend: the sum less what is held back, spent
// and promised, and less what the lines a plan does not decide on (thread,
// shoes, laundry …) have still set aside. Bought finds are spent and cost a
// plan nothing more. 0 where more is gone than there is.
func Limit(h *show.House) units.Money {
	m := Report(h, answer.Plan{})
	free := m.Sum
	for _, l := range m.Lines {
		gone := l.Spent + l.Promised
		if k := kindOf(l.Line); l.Held || k == feet || k == other {
			gone = max(l.Planned, gone+l.Needed)
		}
		free -= gone
	}
	return max(0, free)
}

// Report says how the money stands under a plan; the empty plan needs
// nothing. A bought find that no slip of its shop and day tells of is spent
// without a slip.
func Report(h *show.House, plan answer.Plan) answer.Money {
	b := newBook(h)
	owed := map[show.HelperID]units.Money{}
	for _, r := range Slips(h) {
		sum := r.Sum.V
		b.line(r.Line).Spent += sum
		if r.PaidBackOn == 0 {
			owed[r.PaidBy] += sum
		}
		if !r.Slip {
			b.m.NoSlip += sum
		}
	}
	b.loose(h)
	b.promise(h)
	b.need(h, plan)
	for who, sum := range owed {
		b.m.Owed = append(b.m.Owed, answer.Owed{To: who, Sum: sum})
	}
	sort.Slice(b.m.Owed, func(i, j int) bool { return b.m.Owed[i].To < b.m.Owed[j].To })
	b.finish()
	return b.m
}

// trip is a shop on a day.
type trip struct {
	shop string
	day  units.Date
}

// Slips are the receipts with every sum filled in. Where none is written, it is
// that of the bought finds of the shop and day; a second such slip has none of
// them left.
func Slips(h *show.House) []show.Receipt {
	bought := map[trip]units.Money{}
	for _, f := range h.Finds {
		if f.Decision == "bought" {
			bought[trip{f.Where, f.SeenOn}] += f.Price.Or(0)
		}
	}
	out := append([]show.Receipt{}, h.Receipts...)
	for i := range out {
		if r := &out[i]; !r.Sum.Known {
			at := trip{r.Shop, r.Day}
			r.Sum = units.Some(bought[at])
			delete(bought, at)
		}
	}
	return out
}

// book is the money being added up.
type book struct {
	m     answer.Money
	index map[string]int
}

func newBook(h *show.House) *book {
	b := &book{index: map[string]int{}}
	for _, l := range h.Budget {
		b.index[l.Line] = len(b.m.Lines)
		b.m.Lines = append(b.m.Lines, answer.MoneyLine{Line: l.Line, Planned: l.Planned, Held: l.HeldBack})
	}
	return b
}

// line finds a line, and opens one nobody planned.
func (b *book) line(name string) *answer.MoneyLine {
	i, ok := b.index[name]
	if !ok {
		i = len(b.m.Lines)
		b.index[name] = i
		b.m.Lines = append(b.m.Lines, answer.MoneyLine{Line: name})
	}
	return &b.m.Lines[i]
}

// lineFor finds the first line of a kind, or any that may be spent.
func (b *book) lineFor(k kind, fallback string) *answer.MoneyLine {
	for i := range b.m.Lines {
		if l := &b.m.Lines[i]; !l.Held && kindOf(l.Line) == k {
			return l
		}
	}
	return b.line(fallback)
}

// loose counts the bought finds of shops and days without a slip.
func (b *book) loose(h *show.House) {
	told := map[trip]bool{}
	for _, r := range h.Receipts {
		told[trip{r.Shop, r.Day}] = true
	}
	for _, f := range h.Finds {
		if price := f.Price.Or(0); f.Decision == "bought" && price > 0 && !told[trip{f.Where, f.SeenOn}] {
			k := garments
			if f.Garment.Category == show.Accessory {
				k = hats
			}
			b.lineFor(k, "not in any line").Spent += price
			b.m.NoSlip += price
		}
	}
}

// promise counts what is owed but not on a slip: cloth on the shelf that cost
// something, and fees of things borrowed.
func (b *book) promise(h *show.House) {
	var shelf, spent units.Money
	for _, c := range h.Cloths {
		shelf += c.Cost.Or(0)
	}
	for _, l := range b.m.Lines {
		if kindOf(l.Line) == cloth {
			spent += l.Spent
		}
	}
	if shelf > spent {
		b.lineFor(cloth, "cloth").Promised = shelf - spent
	}
	for _, loan := range h.Loans {
		if fee := loan.Fee.Or(0); !loan.Out && fee > 0 {
			b.line("fees of things borrowed").Promised += fee
		}
	}
}

// need counts what the plan still buys, and shoes and hosiery to buy at their
// limits.
func (b *book) need(h *show.House, plan answer.Plan) {
	for _, c := range plan.Choices {
		if c.Money == 0 {
			continue
		}
		k := garments
		if c.Source == answer.Make {
			k = cloth
		} else if p := h.Piece(c.Piece); p != nil && p.Category == show.Accessory {
			k = hats
		}
		b.lineFor(k, "not in any line").Needed += c.Money
	}
	var limits units.Money
	for _, f := range h.Feet {
		limits += f.ShoeLimit.Or(0) + f.HosieryLimit.Or(0)
	}
	for _, l := range b.m.Lines {
		if kindOf(l.Line) == feet {
			limits -= l.Spent
		}
	}
	if limits > 0 {
		b.lineFor(feet, "shoes and hosiery").Needed += limits
	}
}

func (b *book) finish() {
	m := &b.m
	for _, l := range m.Lines {
		m.Sum += l.Planned
		if l.Held { // what was taken of it is spent, the rest still held
			m.Held += max(0, l.Planned-l.Spent-l.Promised)
		}
		m.Spent, m.Promised, m.Needed = m.Spent+l.Spent, m.Promised+l.Promised, m.Needed+l.Needed
	}
	m.Free = m.Sum - m.Held - m.Spent - m.Promised - m.Needed
	facts := []why.Fact{why.Of("spent", m.Spent), why.Of("promised", m.Promised), why.Of("needed", m.Needed),
		why.Of("held", m.Held), why.Of("sum", m.Sum), why.Of("free", m.Free)}
	m.Verdict = why.Verdict{Grade: why.Yes, Reasons: []why.Reason{ruleStands.Because(why.Yes, facts...)}}
	if m.Free < 0 {
		m.Verdict = why.Verdict{Grade: why.No, Reasons: []why.Reason{ruleOver.Because(why.No, append(facts, why.Of("over", -m.Free))...)}}
	}
	if m.NoSlip > 0 {
		m.Verdict.Reasons = append(m.Verdict.Reasons, ruleNoSlip.Because(why.Work, why.Of("sum", m.NoSlip)))
	}
}

// Check adds the money up again the other way round: from slips, finds and
// choices to the totals.
func Check(h *show.House, plan answer.Plan, m answer.Money) []why.Reason {
	var bad []why.Reason
	same := func(what string, got, want units.Money) {
		if got != want {
			bad = append(bad, ruleWrong.Because(why.No, why.Of("what", fmt.Sprintf("%s is %s, the rows say %s", what, got, want))))
		}
	}
	var planned, spent, buys units.Money
	for _, l := range h.Budget {
		planned += l.Planned
	}
	slips := map[trip][]show.Receipt{}
	for _, r := range h.Receipts {
		spent += r.Sum.Or(0)
		at := trip{r.Shop, r.Day}
		slips[at] = append(slips[at], r)
	}
	for _, f := range h.Finds { // on the slips of their shop and day, unless each of those has its sum written
		of := slips[trip{f.Where, f.SeenOn}]
		bare := slices.ContainsFunc(of, func(r show.Receipt) bool { return !r.Sum.Known })
		if f.Decision == "bought" && (len(of) == 0 || bare) {
			spent += f.Price.Or(0)
		}
	}
	for _, c := range plan.Choices {
		buys += c.Money
	}
	var wanted, needed units.Money
	for _, f := range h.Feet {
		wanted += f.ShoeLimit.Or(0) + f.HosieryLimit.Or(0)
	}
	for _, l := range m.Lines {
		needed += l.Needed
	}
	same("the sum", m.Sum, planned)
	same("what is spent", m.Spent, spent)
	if needed < buys || needed > buys+wanted {
		same("what is needed", needed, buys+wanted)
	}
	same("what is free", m.Free, m.Sum-m.Held-m.Spent-m.Promised-m.Needed)
	return bad
}
