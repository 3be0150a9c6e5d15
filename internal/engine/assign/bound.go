package assign

import (
	"context"
	"math"
	"math/big"

	"hemwright/internal/value/solve"
)

// dual is a set of prices with what they prove.
type dual struct {
	lambda []float64 // price of each scaled row
	value  float64   // the bound at lambda
	xbar   []float64 // how often each option was the cheapest: about the LP's answer
}

// evaluate finds the cheapest choice of every need at prices lambda: the
// relaxed problem falls apart by need, and by group and family. rc is scratch
// for the reduced costs, x gets the choice, v the rows' excess.
func (m *model) evaluate(lambda, rc []float64, x []int, v []float64) float64 {
	for o, c := range m.cost {
		if !m.alive[o] {
			rc[o] = never
			continue
		}
		for _, e := range m.rowOf[o] {
			c += lambda[e.row] * e.a
		}
		rc[o] = c
	}
	value := 0.0
	for _, i := range m.single {
		x[i] = m.cheapest(i, rc)
		value += rc[x[i]]
	}
	for g := range m.groups {
		value += m.groupChoice(g, rc, x)
	}
	for r := range v {
		v[r] = -m.have[r]
		value -= lambda[r] * m.have[r]
	}
	for i := range m.p.Needs {
		for _, e := range m.rowOf[x[i]] {
			v[e.row] += e.a
		}
	}
	return value
}

// cheapest is the option number of a need with the least reduced cost.
func (m *model) cheapest(i int, rc []float64) int {
	best := m.first[i]
	for o := best + 1; o < m.first[i+1]; o++ {
		if rc[o] < rc[best] {
			best = o
		}
	}
	return best
}

// ascend raises the bound from prices of zero.
func (m *model) ascend(ctx context.Context, s *search, b solve.Budget, rounds int) dual {
	d := dual{lambda: make([]float64, len(m.have)), value: math.Inf(-1)}
	return m.ascendFrom(ctx, s, b, d, rounds)
}

// ascendFrom runs the volume algorithm (Barahona and Anbil 2000) from the
// prices of d. Every so often the search builds a plan from the prices.
func (m *model) ascendFrom(ctx context.Context, s *search, b solve.Budget, d dual, rounds int) dual {
	rows := len(m.have)
	rc, x, v := make([]float64, len(m.cost)), make([]int, len(m.p.Needs)), make([]float64, rows)
	best := dual{lambda: append([]float64{}, d.lambda...), xbar: make([]float64, len(m.cost))}
	best.value = m.evaluate(best.lambda, rc, x, v)
	mean := append([]float64{}, v...)
	for _, o := range x {
		best.xbar[o] = 1
	}
	lambda := make([]float64, rows)
	f, amax, misses, settled := 0.1, 0.1, 0, math.Inf(-1)
	for round := 1; round <= rounds && !b.Over(ctx); round++ {
		norm := pull(best.lambda, mean)
		target := s.target(best.value)
		if norm < 1e-12 || target-best.value < 1e-6 {
			break
		}
		step := f * (target - best.value) / norm
		for r := range lambda {
			lambda[r] = math.Max(0, best.lambda[r]+step*mean[r])
		}
		value := m.evaluate(lambda, rc, x, v)
		a := blend(mean, v, amax)
		for r := range mean {
			mean[r] = a*v[r] + (1-a)*mean[r]
		}
		for o := range best.xbar {
			best.xbar[o] *= 1 - a
		}
		for _, o := range x {
			best.xbar[o] += a
		}
		if value > best.value+1e-9 {
			if dot(v, mean) > 0 {
				f = math.Min(f*1.1, 2)
			}
			best.value, misses = value, 0
			copy(best.lambda, lambda)
		} else if misses++; misses >= 20 {
			f, misses = math.Max(f*0.66, 1e-5), 0
		}
		if round%400 == 0 {
			amax = math.Max(amax/1.5, 1e-3)
			if best.value-settled < min(2e-5*math.Abs(best.value), 0.01*(target-best.value)) {
				break // it has settled
			}
			settled = best.value
		}
		if round%50 == 0 {
			s.construct(rc)
			b.Tell(solve.Progress{Step: s.steps, Value: float64(s.bestCost), Bound: min(best.value, float64(s.bestCost)), HasBound: true, Words: "finding what is scarce"})
		}
	}
	return best
}

// pull is the square of the excess a price can answer to: a row with room and
// no price stays out of it.
func pull(lambda, mean []float64) float64 {
	s := 0.0
	for r, v := range mean {
		if v > 0 || lambda[r] > 0 {
			s += float64(v * v)
		}
	}
	return s
}

// blend is the share of the newest excess that makes the mean smallest,
// within bounds.
func blend(mean, v []float64, amax float64) float64 {
	num, den := 0.0, 0.0
	for r := range v {
		diff := v[r] - mean[r]
		num -= mean[r] * diff
		den += diff * diff
	}
	if den < 1e-12 {
		return amax
	}
	return math.Min(math.Max(num/den, amax/10), amax)
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += float64(a[i] * b[i])
	}
	return s
}

// honestBound evaluates the relaxation once more in whole numbers: prices are
// rounded to 1/2^32 of a cost point per unit, so the bound does not rest on
// floating point. Every cost is whole, so the bound is rounded up.
func (m *model) honestBound(lambda []float64) int64 {
	const one = 1 << 32
	price := make([]*big.Int, len(lambda))
	total := new(big.Int)
	have := m.exactHave()
	for r, l := range lambda {
		price[r], _ = big.NewFloat(math.Round(l / m.scale[r] * one)).Int(nil)
		total.Sub(total, new(big.Int).Mul(price[r], big.NewInt(have[r])))
	}
	rc := make([]float64, len(m.cost))
	exact := make([]*big.Int, len(m.cost))
	for o := range m.cost {
		c := new(big.Int).Mul(big.NewInt(int64(m.cost[o])), big.NewInt(one))
		for _, e := range m.rowOf[o] {
			c.Add(c, new(big.Int).Mul(price[e.row], big.NewInt(int64(math.Round(e.a*m.scale[e.row])))))
		}
		exact[o] = c
		rc[o] = never
		if m.alive[o] {
			rc[o], _ = new(big.Float).SetInt(c).Float64()
		}
	}
	for _, i := range m.single {
		least := (*big.Int)(nil) // floats choose nothing here: the least whole number is looked up
		for o := m.first[i]; o < m.first[i+1]; o++ {
			if m.alive[o] && (least == nil || exact[o].Cmp(least) < 0) {
				least = exact[o]
			}
		}
		total.Add(total, least)
	}
	for g := range m.groups {
		total.Add(total, m.honestGroup(g, rc, exact))
	}
	q, r := new(big.Int).DivMod(total, big.NewInt(one), new(big.Int))
	if r.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64()
}

func (m *model) exactHave() []int64 {
	have := make([]int64, len(m.have))
	for r := range have {
		have[r] = int64(math.Round(m.have[r] * m.scale[r]))
	}
	return have
}

// worth is the price of one unit of each budget.
func (m *model) worth(d dual) []float64 {
	w := make([]float64, len(m.p.Budgets))
	for k := range w {
		w[k] = d.lambda[k] / m.scale[k]
	}
	return w
}

// reduced is how far each option lies above its need's cheapest.
func (m *model) reduced(d dual) [][]int64 {
	rc, x, v := make([]float64, len(m.cost)), make([]int, len(m.p.Needs)), make([]float64, len(m.have))
	alive := m.alive
	m.alive = make([]bool, len(alive)) // a pinned need is priced too
	for o := range m.alive {
		m.alive[o] = true
	}
	m.evaluate(d.lambda, rc, x, v)
	m.alive = alive
	out := make([][]int64, len(m.p.Needs))
	for i := range out {
		for o := m.first[i]; o < m.first[i+1]; o++ {
			out[i] = append(out[i], int64(math.Min(rc[o]-rc[x[i]], 1e15)))
		}
	}
	return out
}
