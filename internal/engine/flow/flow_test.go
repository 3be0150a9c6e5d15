package flow

import (
	"testing"

	"pgregory.net/rapid"
)

// from: closed forms. The complete graph of 4 and 6 matches 4; a crown of n
// (everybody but the own number) matches n; a star matches 1; a path of 7
// points, odd ones left, matches 3.
func TestMatchClosedForms(t *testing.T) {
	crown := make([][]int, 5)
	for i := range crown {
		for j := range 5 {
			if i != j {
				crown[i] = append(crown[i], j)
			}
		}
	}
	all := []int{0, 1, 2, 3, 4, 5}
	for name, c := range map[string]struct {
		l, r  int
		edges [][]int
		want  int
	}{
		"complete": {4, 6, [][]int{all, all, all, all}, 4}, "crown": {5, 5, crown, 5}, "star": {3, 1, [][]int{{0}, {0}, {0}}, 1},
		"path": {4, 3, [][]int{{0}, {0, 1}, {1, 2}, {2}}, 3}, "nothing": {2, 2, [][]int{nil, nil}, 0},
	} {
		m := Match(c.l, c.r, c.edges)
		if bad := CheckMatch(m, c.edges); bad != "" || m.Size != c.want {
			t.Errorf("%s: %d pairs, known to be %d; %s", name, m.Size, c.want, bad)
		}
	}
}

// Every way of pairing is tried.
func TestMatchAgainstAllPairings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, r := rapid.IntRange(0, 6).Draw(t, "left"), rapid.IntRange(1, 6).Draw(t, "right")
		edges := drawEdges(t, l, r)
		m := Match(l, r, edges)
		if bad := CheckMatch(m, edges); bad != "" {
			t.Fatal(bad)
		}
		if want := bestPairing(edges, 0, 0); m.Size != want {
			t.Fatalf("%d pairs, %d by trying all", m.Size, want)
		}
	})
}

func drawEdges(t *rapid.T, l, r int) [][]int {
	edges := make([][]int, l)
	for i := range edges {
		for j := range r {
			if rapid.IntRange(0, 2).Draw(t, "edge") == 0 {
				edges[i] = append(edges[i], j)
			}
		}
	}
	return edges
}

func bestPairing(edges [][]int, l int, used int) int {
	if l == len(edges) {
		return 0
	}
	best := bestPairing(edges, l+1, used)
	for _, r := range edges[l] {
		if used&(1<<r) == 0 {
			best = max(best, 1+bestPairing(edges, l+1, used|1<<r))
		}
	}
	return best
}

// from: Sperner 1928: the subsets of 4 things by inclusion need C(4,2) = 6
// chains; the order of numbers one chain; nothing in common, n chains. The
// divisors of 1 to 12 need 6: 7 to 12 divide one another never.
func TestChainsClosedForms(t *testing.T) {
	subsets, line, divide := make([][]int, 16), make([][]int, 9), make([][]int, 13)
	for a := range 16 {
		for b := range 16 {
			if a != b && a&b == a {
				subsets[a] = append(subsets[a], b)
			}
		}
	}
	for i := range 8 {
		line[i] = []int{i + 1}
	}
	for a := 1; a <= 12; a++ {
		for b := 2 * a; b <= 12; b += a {
			divide[a] = append(divide[a], b)
		}
	}
	divide[0] = []int{1}
	for name, c := range map[string]struct {
		after [][]int
		want  int
	}{"subsets of four": {subsets, 6}, "a line": {line, 1}, "apart": {make([][]int, 5), 5}, "divisors to 12": {divide, 6}} {
		got, err := Fewest(len(c.after), c.after)
		if bad := CheckChains(len(c.after), c.after, got); err != nil || bad != "" || len(got.Chains) != c.want {
			t.Errorf("%s: %d chains, known to be %d; %v %s", name, len(got.Chains), c.want, err, bad)
		}
	}
	if _, err := Fewest(2, [][]int{{1}, {0}}); err == nil {
		t.Error("a circle is taken for an order")
	}
}

// The largest set apart, over all subsets, is as large as the fewest chains.
func TestChainsAgainstAllSubsets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		after, reach := make([][]int, n), make([][]bool, n)
		for a := n - 1; a >= 0; a-- {
			reach[a] = make([]bool, n)
			for b := a + 1; b < n; b++ {
				if rapid.IntRange(0, 2).Draw(t, "before") == 0 {
					after[a] = append(after[a], b)
					reach[a][b] = true
					for c := range n {
						reach[a][c] = reach[a][c] || reach[b][c]
					}
				}
			}
		}
		got, err := Fewest(n, after)
		if bad := CheckChains(n, after, got); err != nil || bad != "" {
			t.Fatal(err, bad)
		}
		best := 0
		for set := range 1 << n {
			size, apart := 0, true
			for a := range n {
				if set&(1<<a) == 0 {
					continue
				}
				size++
				for b := range n {
					apart = apart && (set&(1<<b) == 0 || !reach[a][b])
				}
			}
			if apart {
				best = max(best, size)
			}
		}
		if len(got.Chains) != best {
			t.Fatalf("%d chains, %d apart by trying all", len(got.Chains), best)
		}
	})
}

// drawNet draws a small network from 0 to n-1 with its arcs as they were put
// in.
func drawNet(t *rapid.T) (*Net, int, [][4]int64) {
	n := rapid.IntRange(2, 5).Draw(t, "points")
	net := New(n)
	var arcs [][4]int64
	for range rapid.IntRange(0, 9).Draw(t, "arcs") {
		a, b := rapid.IntRange(0, n-1).Draw(t, "from"), rapid.IntRange(0, n-1).Draw(t, "to")
		if a == b {
			continue
		}
		capacity, cost := int64(rapid.IntRange(0, 2).Draw(t, "cap")), int64(rapid.IntRange(0, 5).Draw(t, "cost"))
		net.Add(a, b, capacity, cost)
		arcs = append(arcs, [4]int64{int64(a), int64(b), capacity, cost})
	}
	return net, n, arcs
}

// The flow is as large as the smallest cut, over all cuts.
func TestMaxAgainstAllCuts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		net, n, arcs := drawNet(t)
		got := net.Max(0, n-1)
		if bad := CheckMax(net, 0, n-1, got); bad != "" {
			t.Fatal(bad)
		}
		least := int64(1 << 40)
		for set := range 1 << n {
			if set&1 == 0 || set&(1<<(n-1)) != 0 {
				continue
			}
			var cut int64
			for _, a := range arcs {
				if set&(1<<a[0]) != 0 && set&(1<<a[1]) == 0 {
					cut += a[2]
				}
			}
			least = min(least, cut)
		}
		near := net.Near(0)
		if got != least || !near[0] || near[n-1] {
			t.Fatalf("%d flow, the smallest cut is %d", got, least)
		}
	})
}

// Every flow over the arcs is tried; of those that send as much, none is
// cheaper.
func TestCheapestAgainstAllFlows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		net, n, arcs := drawNet(t)
		want := int64(rapid.IntRange(0, 4).Draw(t, "want"))
		sent, cost := net.Cheapest(0, n-1, want)
		if bad := CheckCheapest(net, 0, n-1, sent, cost); bad != "" {
			t.Fatal(bad)
		}
		most, cheapest := int64(0), int64(0)
		var try func(i int, sum []int64, c int64)
		try = func(i int, sum []int64, c int64) {
			if i < len(arcs) {
				for f := int64(0); f <= arcs[i][2]; f++ {
					sum[arcs[i][0]] += f
					sum[arcs[i][1]] -= f
					try(i+1, sum, c+f*arcs[i][3])
					sum[arcs[i][0]] -= f
					sum[arcs[i][1]] += f
				}
				return
			}
			for p := 1; p < n-1; p++ {
				if sum[p] != 0 {
					return
				}
			}
			if s := sum[0]; s >= 0 && s <= want && (s > most || s == most && c < cheapest) {
				most, cheapest = s, c
			}
		}
		try(0, make([]int64, n), 0)
		if sent != most || cost != cheapest {
			t.Fatalf("%d sent for %d; by trying all %d for %d", sent, cost, most, cheapest)
		}
	})
}

// A check that cannot fail is none.
func TestChecksSee(t *testing.T) {
	edges := [][]int{{0, 1}, {0}}
	m := Match(2, 2, edges)
	m.Size = 1
	if CheckMatch(m, edges) == "" {
		t.Error("a wrong size of a matching is not seen")
	}
	if CheckChains(2, [][]int{{1}, nil}, Chains{Chains: [][]int{{0}, {1}}, Apart: []int{0, 1}}) == "" {
		t.Error("two chains where one is enough are not seen")
	}
	net := New(2)
	net.Add(0, 1, 3, 0)
	if CheckMax(net, 0, 1, 0) == "" {
		t.Error("a flow that could be larger is not seen")
	}
	dear := New(3)
	dear.Add(0, 1, 1, 1)
	i := dear.Add(0, 2, 1, 2)
	j := dear.Add(2, 1, 1, 2)
	for _, k := range []int{i, j} {
		dear.arcs[k].left, dear.arcs[k+1].left = 0, 1
	}
	if CheckCheapest(dear, 0, 1, 1, 4) == "" {
		t.Error("a dear way is not seen")
	}
}
