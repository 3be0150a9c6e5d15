package flow

import "errors"

// Chains is a cover of an order by as few chains as can be.
type Chains struct {
	Chains [][]int // each in order; every point is in exactly one
	// Apart is a set of points of which none comes before another: each needs
	// a chain of its own. It is as large as there are chains, which proves it.
	Apart []int
}

// Fewest covers the points 0..n-1 with the fewest chains. after[a] lists the
// points that may come after a; what follows from it by passing on counts as
// well. A circle is an error.
//
// R. Dilworth, "A decomposition theorem for partially ordered sets", Annals
// of Mathematics 51, 1950; by way of a largest matching, D. Fulkerson 1956.
func Fewest(n int, after [][]int) (Chains, error) {
	edges, err := passOn(n, after)
	if err != nil {
		return Chains{}, err
	}
	m := Match(n, n, edges)
	var c Chains
	for i := range n {
		if m.Right[i] >= 0 {
			continue
		}
		var chain []int
		for j := i; j >= 0; j = m.Left[j] {
			chain = append(chain, j)
		}
		c.Chains = append(c.Chains, chain)
	}
	left, right := m.Cover(edges)
	for i := range n {
		if !left[i] && !right[i] {
			c.Apart = append(c.Apart, i)
		}
	}
	return c, nil
}

// passOn lists for every point all that come after it.
func passOn(n int, after [][]int) ([][]int, error) {
	order, err := sorted(n, after)
	if err != nil {
		return nil, err
	}
	words := (n + 63) / 64
	reach := make([][]uint64, n)
	edges := make([][]int, n)
	for i := n - 1; i >= 0; i-- {
		a := order[i]
		reach[a] = make([]uint64, words)
		for _, b := range after[a] {
			reach[a][b/64] |= 1 << (b % 64)
			for w, bits := range reach[b] {
				reach[a][w] |= bits
			}
		}
		for b := range n {
			if reach[a][b/64]&(1<<(b%64)) != 0 {
				edges[a] = append(edges[a], b)
			}
		}
	}
	return edges, nil
}

// sorted lists the points so that none comes before one it is after.
func sorted(n int, after [][]int) ([]int, error) {
	before := make([]int, n)
	for _, list := range after {
		for _, b := range list {
			before[b]++
		}
	}
	var order []int
	for i := range n {
		if before[i] == 0 {
			order = append(order, i)
		}
	}
	for i := 0; i < len(order); i++ {
		for _, b := range after[order[i]] {
			if before[b]--; before[b] == 0 {
				order = append(order, b)
			}
		}
	}
	if len(order) < n {
		return nil, errors.New("flow: the order goes round in a circle")
	}
	return order, nil
}
