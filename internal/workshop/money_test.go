package workshop

import (
	"context"
	"database/sql"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
)

// coins draws a sum that may be a gift, or not known.
func coins(rt *rapid.T, what string) units.Maybe[units.Money] {
	switch rapid.IntRange(0, 4).Draw(rt, what+" known") {
	case 0:
		return units.Maybe[units.Money]{}
	case 1:
		return units.Some(units.Money(0))
	}
	return units.Some(units.Money(rapid.Int64Range(1, 40_00).Draw(rt, what)))
}

// purse draws everything about money a house can hold, into a house that has
// pieces and people.
func purse(rt *rapid.T, h *show.House, day units.Date) {
	h.Budget = nil
	for _, l := range []string{"clothes", "second-hand garments", "cloth bought", "fabric for coats", "hats", "shoes and tights", "thread", "held back"} {
		if rapid.Bool().Draw(rt, l) {
			h.Budget = append(h.Budget, show.BudgetLine{Line: l, Planned: units.Money(rapid.Int64Range(0, 60_00).Draw(rt, "planned")), HeldBack: l == "held back" || rapid.IntRange(0, 7).Draw(rt, "held") == 0})
		}
	}
	shops := []string{"the market", "a shed"}
	for i := range rapid.IntRange(0, 4).Draw(rt, "slips") {
		h.Receipts = append(h.Receipts, show.Receipt{ID: show.ReceiptID(fmt.Sprint("Q", i)), Day: day - units.Date(rapid.IntRange(-1, 1).Draw(rt, "ago")), Shop: rapid.SampledFrom(shops).Draw(rt, "shop"),
			Line: rapid.SampledFrom([]string{"clothes", "cloth bought", "fabric for coats", "shoes and tights", "held back", "sweets"}).Draw(rt, "line"), Sum: coins(rt, "sum"),
			PaidBy: rapid.SampledFrom([]show.HelperID{"M1", "M2"}).Draw(rt, "by"), PaidBackOn: units.Date(rapid.IntRange(0, 1).Draw(rt, "back")) * day, Slip: rapid.Bool().Draw(rt, "slip")})
	}
	for i := range rapid.IntRange(0, 5).Draw(rt, "finds") {
		id := fmt.Sprint("F", i)
		g := show.Garment{ID: show.GarmentID(id), Category: show.Dress, Name: "day dress", Colour: "moss", Chest: units.Exactly(units.Cm(95)), Waist: units.Exactly(units.Cm(80)), Hip: units.Exactly(units.Cm(106)), Length: units.Exactly(units.Cm(112)), LengthFrom: "nape", Closure: "front buttons", MayCut: true}
		if rapid.Bool().Draw(rt, "a skirt") {
			g.Category, g.Name, g.Colour, g.LengthFrom, g.Closure = show.Skirt, "gathered skirt", "apple red", "waist", "elastic waist"
			g.Length, g.Waist = units.Exactly(units.Cm(62)), units.Between(units.Cm(55), units.Cm(110))
		}
		h.Finds = append(h.Finds, show.Find{ID: show.FindID(id), SeenOn: day - units.Date(rapid.IntRange(-1, 1).Draw(rt, "ago")), Where: rapid.SampledFrom(append(shops, "a friend")).Draw(rt, "where"), Garment: g, Price: coins(rt, "price"),
			Decision: rapid.SampledFrom([]string{"bought", "left", ""}).Draw(rt, "decision")})
	}
	for i := range rapid.IntRange(0, 2).Draw(rt, "loans") {
		h.Loans = append(h.Loans, show.Loan{ID: show.LoanID(fmt.Sprint("B", i)), Out: rapid.IntRange(0, 2).Draw(rt, "out") == 0, Garment: rapid.SampledFrom([]show.GarmentID{"", "G2", "G3"}).Draw(rt, "garment"),
			Fee: coins(rt, "fee"), Deposit: coins(rt, "deposit"), Since: day - units.Date(rapid.IntRange(-1, 1).Draw(rt, "ago"))})
	}
	for i := range h.Cloths {
		h.Cloths[i].Cost = coins(rt, "cost")
	}
	for i := range h.Pieces {
		h.Pieces[i].PriceLimit = coins(rt, "limit")
		if len(h.Pins) < 3 && rapid.IntRange(0, 5).Draw(rt, "pin") == 0 {
			h.Pins = append(h.Pins, show.Pin{Piece: h.Pieces[i].ID, Source: string(rapid.SampledFrom([]answer.Source{answer.Buy, answer.GoWithout, answer.Make}).Draw(rt, "to")), Day: day})
		}
	}
	for _, p := range h.Performers[:2] {
		h.Feet = append(h.Feet, show.Feet{Performer: p.ID, ShoeLimit: coins(rt, "shoes"), HosieryLimit: coins(rt, "hosiery")})
	}
}

// later acts on some pieces, buys or leaves finds, and plans other sums.
func later(rt *rapid.T, h *show.House, day units.Date) {
	for _, p := range h.Pieces {
		if rapid.IntRange(0, 2).Draw(rt, "acted on") == 0 {
			h.Done = append(h.Done, show.Done{Piece: p.ID, What: "told", Day: day})
		}
	}
	for i := range h.Finds {
		h.Finds[i].Decision = rapid.SampledFrom([]string{"bought", "left", ""}).Draw(rt, "decided")
	}
	for i := range h.Budget {
		h.Budget[i].Planned = units.Money(rapid.Int64Range(0, 60_00).Draw(rt, "planned now"))
	}
	if rapid.Bool().Draw(rt, "pins out") {
		h.Pins = nil
	}
}

// books are the sums of a house's rows, by the file itself.
type books struct {
	planned, held, spent, promised, feet, owed units.Money
}

const (
	known   = "(day IS NULL OR day <= ?1)"
	onCloth = "(line LIKE '%cloth%' OR line LIKE '%fabric%') AND line NOT LIKE '%clothes%'"
)

func readBooks(t *testing.T, path string, day units.Date) books {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	sum := func(query string) units.Money {
		var n sql.NullInt64
		if err := db.QueryRow(query, day.String()).Scan(&n); err != nil {
			t.Fatalf("%s: %v", query, err)
		}
		return units.Money(n.Int64)
	}
	// what each slip comes to: the sum on it, or else the finds of its shop and day, which only the first such slip has
	slips := `slip AS (SELECT line, paid_back_on, CASE WHEN sum_coins IS NOT NULL THEN sum_coins
		WHEN EXISTS (SELECT 1 FROM receipt e WHERE e.position < r.position AND e.sum_coins IS NULL AND e.shop = r.shop AND e.day = r.day) THEN 0
		ELSE (SELECT COALESCE(SUM(price_coins), 0) FROM find WHERE decision = 'bought' AND seen_at = r.shop AND seen_on = r.day) END AS coins FROM receipt r WHERE ` + known + `)`
	loose := "SELECT SUM(price_coins) FROM find f WHERE decision = 'bought' AND seen_on <= ?1 AND NOT EXISTS (SELECT 1 FROM receipt WHERE shop = f.seen_at AND day = f.seen_on)"
	b := books{
		planned: sum("SELECT SUM(planned_coins) FROM budget WHERE ?1 <> ''"),
		held:    sum("WITH " + slips + " SELECT SUM(MAX(0, planned_coins - COALESCE((SELECT SUM(coins) FROM slip s WHERE s.line = b.line), 0))) FROM budget b WHERE held_back"),
		spent:   sum("WITH "+slips+" SELECT SUM(coins) FROM slip") + sum(loose),
		owed:    sum("WITH " + slips + " SELECT SUM(coins) FROM slip WHERE paid_back_on IS NULL"),
	}
	b.promised = sum("SELECT SUM(fee_coins) FROM loan WHERE NOT lent_out AND since <= ?1") +
		max(0, sum("SELECT SUM(cost_coins) FROM cloth WHERE ?1 <> ''")-sum("WITH "+slips+" SELECT SUM(coins) FROM slip WHERE "+onCloth))
	b.feet = max(0, sum("SELECT SUM(COALESCE(shoe_limit_coins, 0) + COALESCE(hosiery_limit_coins, 0)) FROM person_feet WHERE ?1 <> ''")-
		sum("WITH "+slips+" SELECT SUM(coins) FROM slip WHERE line LIKE '%shoe%' OR line LIKE '%tights%'"))
	return b
}

// Whatever is planned, spent, found, borrowed and pinned: the plan, the money
// answer, the lines, the shopping list and the rows of the file agree to the
// coin, and what nobody pinned is never bought with money that is not there.
func TestMoneyAgreesToTheCoin(t *testing.T) {
	oneAtATime(t)
	w := orchard(t)
	house, err := w.store.House()
	if err != nil {
		t.Fatal(err)
	}
	day := w.set.Day
	w.Close()
	start, err := os.ReadFile(w.store.Path())
	if err != nil {
		t.Fatal(err)
	}
	if f := flag.Lookup("rapid.checks"); f.Value.String() == f.DefValue {
		f.Value.Set("40") // every one writes a file; ask for more with -rapid.checks
		defer f.Value.Set(f.DefValue)
	}
	rapid.Check(t, func(rt *rapid.T) {
		path := filepath.Join(t.TempDir(), "h")
		if err := os.WriteFile(path, start, 0o600); err != nil {
			t.Fatal(err)
		}
		w, err := Open(path, Settings{Day: day, Budget: solve.Budget{Steps: 300}})
		if err != nil {
			t.Fatal(err)
		}
		defer w.Close()
		if err := w.act(context.Background(), "a purse", func(h *show.House) error { *h = house.Own(); purse(rt, h, day); return nil }); err != nil {
			rt.Fatal(err)
		}
		p, err := w.Prepared(context.Background())
		if err != nil {
			rt.Fatal(err)
		}
		agree(rt, p, readBooks(t, path, day))
		if err := w.act(context.Background(), "later", func(h *show.House) error { later(rt, h, day); return nil }); err != nil {
			rt.Fatal(err)
		}
		if p, err = w.Prepared(context.Background()); err != nil {
			rt.Fatal(err)
		}
		agree(rt, p, readBooks(t, path, day))
	})
}

// agree holds everything said about money against the rows.
func agree(rt *rapid.T, p *Prepared, rows books) {
	same := func(what string, got, want units.Money) {
		if got != want {
			rt.Fatalf("%s: %s, the rows say %s", what, got, want)
		}
	}
	var bought, pinned, onList units.Money
	for _, c := range p.Plan.Choices {
		bought += c.Money
		if c.Pinned {
			pinned += c.Money
		}
	}
	for _, e := range p.Errands {
		onList += e.Price
	}
	m := p.Money
	same("the plan's limit, used", units.Money(p.Plan.Limits[0].Used), bought)
	same("the shopping list", onList, bought)
	same("the sum", m.Sum, rows.planned)
	same("held back", m.Held, rows.held)
	same("spent", m.Spent, rows.spent)
	same("promised", m.Promised, rows.promised)
	same("still needed", m.Needed, bought+rows.feet)
	same("free", m.Free, rows.planned-rows.held-rows.spent-rows.promised-rows.feet-bought)
	var planned, spent, promised, needed, owed, slips units.Money
	for _, l := range m.Lines {
		planned, spent, promised, needed = planned+l.Planned, spent+l.Spent, promised+l.Promised, needed+l.Needed
	}
	for _, o := range m.Owed {
		owed += o.Sum
	}
	for _, r := range p.Receipts {
		slips += r.Sum.V
	}
	same("the lines, planned", planned, m.Sum)
	same("the lines, spent", spent, m.Spent)
	same("the lines, promised", promised, m.Promised)
	same("the lines, needed", needed, m.Needed)
	same("owed", owed, rows.owed)
	if slips > m.Spent || m.Spent-slips > m.NoSlip {
		rt.Fatalf("the slips come to %s of %s spent, %s without a slip", slips, m.Spent, m.NoSlip)
	}
	free := max(0, rows.planned-rows.held-rows.spent-rows.promised)
	if bought > max(free, pinned) {
		rt.Fatalf("the plan buys for %s, of it pinned %s; %s is there that is neither spent, promised nor held back", bought, pinned, free)
	}
}
