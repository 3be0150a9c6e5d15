package assign

import (
	"context"
	"math"
	"math/big"
	"sort"
)

// A second bound, stronger where a budget is a cloth of which a few large
// pieces are cut: the "exactly one option" rows are relaxed with free prices,
// and each such budget becomes a 0/1 knapsack that is solved exactly; see
// S. Martello and P. Toth, "Knapsack Problems", 1990, chapter 7, on the
// generalized assignment problem. The other rows keep the prices of the first
// bound. All sums are whole numbers in 1/65536 of a cost point, so the bound
// does not rest on floating point.

const (
	point      = 1 << 16
	grains     = 512 // a budget is reckoned in so many parts; amounts are rounded down
	knapRounds = 300
)

// item is an option that draws on a knapsack.
type item struct {
	need   int
	weight int
	cost   int64 // at the prices of the rows that stay relaxed
}

// knapsacks is the relaxed problem.
type knapsacks struct {
	bags  [][]item
	plain []int64 // per need, the cheapest option that draws on no bag
	fixed int64   // what the relaxed rows take off
	table []int64
	from  [][]bool
}

// bagBudgets chooses the budgets to treat as knapsacks: those with a price,
// the dearest first, as long as no option draws on two.
func (m *model) bagBudgets(price, have []int64) map[int]bool {
	order := make([]int, 0, len(m.p.Budgets))
	for k := range m.p.Budgets {
		if price[k] > 0 && have[k] > 0 {
			order = append(order, k)
		}
	}
	sort.SliceStable(order, func(i, j int) bool {
		return float64(price[order[i]])*float64(have[order[i]]) > float64(price[order[j]])*float64(have[order[j]])
	})
	drawers := make([]map[int]bool, len(m.p.Budgets))
	for _, k := range order {
		drawers[k] = map[int]bool{}
	}
	for o, es := range m.rowOf {
		for _, e := range es {
			if e.row < len(drawers) && drawers[e.row] != nil {
				drawers[e.row][o] = true
			}
		}
	}
	bags, taken := map[int]bool{}, map[int]bool{}
	for _, k := range order {
		clash := false
		for o := range drawers[k] {
			clash = clash || taken[o]
		}
		if clash {
			continue
		}
		bags[k] = true
		for o := range drawers[k] {
			taken[o] = true
		}
	}
	return bags
}

// knapsackBound raises the second bound from the prices of the first. It
// returns the least whole cost any plan can have, or a very small number
// where the bound is not to be had.
func (m *model) knapsackBound(ctx context.Context, d dual, target int64) int64 {
	if m.p.Groups > 0 {
		return math.MinInt64
	}
	price, have := make([]int64, len(m.have)), m.exactHave()
	for r, l := range d.lambda {
		price[r] = int64(math.Round(l / m.scale[r] * point))
	}
	bags := m.bagBudgets(price, have)
	if len(bags) == 0 {
		return math.MinInt64
	}
	ks, mu, ok := m.fillBags(bags, price, have)
	if !ok {
		return math.MinInt64
	}
	best, uses := int64(math.MinInt64), make([]int, len(m.p.Needs))
	f, misses := 1.0, 0
	work := append([]int64{}, mu...)
	for range knapRounds {
		value := ks.evaluate(work, uses)
		if value > best {
			best, misses = value, 0
			copy(mu, work)
		} else if misses++; misses >= 10 {
			f, misses = f*0.7, 0
			copy(work, mu)
			ks.evaluate(work, uses)
		}
		norm := 0
		for _, u := range uses {
			norm += (1 - u) * (1 - u)
		}
		gap := float64(target)*point - float64(value)
		if norm == 0 || gap <= 0 || ctx.Err() != nil || f < 0.01 {
			break
		}
		step := f * gap / float64(norm)
		for i, u := range uses {
			work[i] += int64(step * float64(1-u))
		}
	}
	return int64(math.Ceil(float64(best) / point))
}

// fillBags sorts the options into bags and the rest, and gives the needs
// their first prices: the cheapest option with every row priced.
func (m *model) fillBags(bags map[int]bool, price, have []int64) (*knapsacks, []int64, bool) {
	ks := &knapsacks{plain: make([]int64, len(m.p.Needs)), table: make([]int64, grains+1)}
	mu := make([]int64, len(m.p.Needs))
	index := map[int]int{}
	fixed := new(big.Int)
	for r := range price {
		if r < len(m.p.Budgets) && bags[r] {
			index[r] = len(ks.bags)
			ks.bags = append(ks.bags, nil)
			continue
		}
		fixed.Add(fixed, new(big.Int).Mul(big.NewInt(price[r]), big.NewInt(have[r])))
	}
	if !fixed.IsInt64() || fixed.Int64() > math.MaxInt64/4 {
		return nil, nil, false
	}
	ks.fixed = fixed.Int64()
	for i := range m.p.Needs {
		ks.plain[i], mu[i] = math.MaxInt64/4, math.MaxInt64/4
		for o := m.first[i]; o < m.first[i+1]; o++ {
			if m.alive[o] {
				m.sortOption(ks, index, i, o, price, have, mu)
			}
		}
	}
	return ks, mu, true
}

func (m *model) sortOption(ks *knapsacks, index map[int]int, i, o int, price, have, mu []int64) {
	cost, whole := int64(m.cost[o])*point, int64(0)
	bag, weight := -1, 0
	for _, e := range m.rowOf[o] {
		a := int64(math.Round(e.a * m.scale[e.row]))
		if k, in := index[e.row]; in && e.row < len(m.p.Budgets) {
			bag, weight = k, int(a*grains/have[e.row])
			if a > have[e.row] {
				return // it can never be taken
			}
			whole += price[e.row] * a
			continue
		}
		cost += price[e.row] * a
	}
	mu[i] = min(mu[i], cost+whole)
	if bag < 0 {
		ks.plain[i] = min(ks.plain[i], cost)
		return
	}
	ks.bags[bag] = append(ks.bags[bag], item{i, weight, cost})
}

// evaluate solves the relaxed problem at prices mu; uses gets how often each
// need is served.
func (k *knapsacks) evaluate(mu []int64, uses []int) int64 {
	value := -k.fixed
	for i, p := range mu {
		value += p
		uses[i] = 0
		if k.plain[i] < p {
			value += k.plain[i] - p
			uses[i] = 1
		}
	}
	for _, bag := range k.bags {
		value += k.pack(bag, mu, uses)
	}
	return value
}

// pack fills one bag at least cost by dynamic programming over its grains.
func (k *knapsacks) pack(bag []item, mu []int64, uses []int) int64 {
	for w := range k.table {
		k.table[w] = 0
	}
	n := 0
	var worth []item
	for _, it := range bag {
		if it.cost < mu[it.need] {
			worth = append(worth, it)
		}
	}
	for len(k.from) < len(worth) {
		k.from = append(k.from, make([]bool, grains+1))
	}
	for _, it := range worth {
		gain := it.cost - mu[it.need] // below zero
		taken := k.from[n]
		n++
		for w := grains; w >= 0; w-- {
			taken[w] = false
			if w >= it.weight {
				if t := k.table[w-it.weight] + gain; t < k.table[w] {
					k.table[w], taken[w] = t, true
				}
			}
		}
	}
	w := grains
	for q := n - 1; q >= 0; q-- {
		if k.from[q][w] {
			uses[worth[q].need]++
			w -= worth[q].weight
		}
	}
	return k.table[grains]
}
