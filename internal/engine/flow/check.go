package flow

import "fmt"

// CheckMatch says what is wrong with a matching: a pair that is no edge, a
// point paired twice, or a cover larger than the matching, which would leave
// it unproved. Empty where it holds.
func CheckMatch(m Matching, edges [][]int) string {
	pairs := 0
	for l, r := range m.Left {
		if r < 0 {
			continue
		}
		pairs++
		if m.Right[r] != l {
			return fmt.Sprintf("%d is paired with %d, which is not paired with it", l, r)
		}
		ok := false
		for _, e := range edges[l] {
			ok = ok || e == r
		}
		if !ok {
			return fmt.Sprintf("%d and %d may not be paired", l, r)
		}
	}
	left, right := m.Cover(edges)
	points := 0
	for _, side := range [][]bool{left, right} {
		for _, in := range side {
			if in {
				points++
			}
		}
	}
	for l, list := range edges {
		for _, r := range list {
			if !left[l] && !right[r] {
				return fmt.Sprintf("the edge from %d to %d is not covered", l, r)
			}
		}
	}
	if pairs != m.Size || points != m.Size {
		return fmt.Sprintf("%d pairs, said %d, covered by %d", pairs, m.Size, points)
	}
	return ""
}

// CheckChains says what is wrong with a cover by chains; empty where it holds
// and is proved the fewest.
func CheckChains(n int, after [][]int, c Chains) string {
	reaches := func(a, b int) bool {
		seen, stack := make([]bool, n), []int{a}
		for len(stack) > 0 {
			x := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, y := range after[x] {
				if y == b {
					return true
				}
				if !seen[y] {
					seen[y] = true
					stack = append(stack, y)
				}
			}
		}
		return false
	}
	times := make([]int, n)
	for _, chain := range c.Chains {
		for i, x := range chain {
			times[x]++
			if i > 0 && !reaches(chain[i-1], x) {
				return fmt.Sprintf("%d does not come after %d", x, chain[i-1])
			}
		}
	}
	for x, t := range times {
		if t != 1 {
			return fmt.Sprintf("%d is in %d chains", x, t)
		}
	}
	for i, a := range c.Apart {
		for _, b := range c.Apart[:i] {
			if a == b || reaches(a, b) || reaches(b, a) {
				return fmt.Sprintf("%d and %d are not apart", a, b)
			}
		}
	}
	if len(c.Apart) != len(c.Chains) {
		return fmt.Sprintf("%d chains, %d apart", len(c.Chains), len(c.Apart))
	}
	return ""
}

// CheckMax says what is wrong with a largest flow of this size: an arc above
// its capacity, a point where something is lost, or no full cut of that size.
func CheckMax(n *Net, source, sink int, size int64) string {
	if bad := n.holds(source, sink, size); bad != "" {
		return bad
	}
	near := map[int]bool{source: true}
	for grown := true; grown; {
		grown = false
		for i := range n.arcs {
			if from, to := n.arcs[i^1].to, n.arcs[i].to; near[from] && !near[to] && n.arcs[i].left > 0 {
				near[to], grown = true, true
			}
		}
	}
	var cut int64
	for i := 0; i < len(n.arcs); i += 2 {
		if near[n.arcs[i+1].to] && !near[n.arcs[i].to] {
			cut += n.arcs[i].cap
		}
	}
	if near[sink] || cut != size {
		return fmt.Sprintf("the cut holds %d, %d flow", cut, size)
	}
	return ""
}

// CheckCheapest says what is wrong with a cheapest flow: besides what CheckMax
// asks of capacities, that its arcs add up to the cost, and that no circle of
// what is left would save anything (M. Klein 1967).
func CheckCheapest(n *Net, source, sink int, sent, cost int64) string {
	if bad := n.holds(source, sink, sent); bad != "" {
		return bad
	}
	var sum int64
	for i := 0; i < len(n.arcs); i += 2 {
		sum += n.Flow(i) * n.arcs[i].cost
	}
	if sum != cost {
		return fmt.Sprintf("the arcs cost %d, said %d", sum, cost)
	}
	far := make([]int64, len(n.from))
	for round := 0; ; round++ {
		better := false
		for i := range n.arcs {
			from, to := n.arcs[i^1].to, n.arcs[i].to
			if n.arcs[i].left > 0 && far[from]+n.arcs[i].cost < far[to] {
				far[to], better = far[from]+n.arcs[i].cost, true
			}
		}
		if !better {
			return ""
		}
		if round > len(n.from) {
			return "a circle would save something"
		}
	}
}

func (n *Net) holds(source, sink int, size int64) string {
	sum := make([]int64, len(n.from))
	for i := 0; i < len(n.arcs); i += 2 {
		f := n.arcs[i].cap - n.arcs[i].left
		if f < 0 || f > n.arcs[i].cap {
			return fmt.Sprintf("%d flow through arc %d of %d", f, i, n.arcs[i].cap)
		}
		sum[n.arcs[i+1].to] += f
		sum[n.arcs[i].to] -= f
	}
	for p, s := range sum {
		switch {
		case p == source && s != size, p == sink && s != -size, p != source && p != sink && s != 0:
			return fmt.Sprintf("%d are lost at point %d", s, p)
		}
	}
	return ""
}
