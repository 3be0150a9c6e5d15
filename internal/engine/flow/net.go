package flow

// Net is a network of arcs with capacities and costs, all whole numbers. The
// zero value has no points; begin with New.
type Net struct {
	arcs  []arc // arc i and its way back i^1
	from  [][]int
	level []int
	next  []int
}

type arc struct {
	to        int
	left      int64 // what may still flow
	cap, cost int64
}

// New makes a network of n points without arcs.
func New(n int) *Net { return &Net{from: make([][]int, n)} }

// Add puts an arc in and returns its number. The capacity is 0 or more; the
// cost is for each unit and may be negative, as long as no circle of arcs
// costs less than nothing.
func (n *Net) Add(from, to int, capacity, cost int64) int {
	i := len(n.arcs)
	n.arcs = append(n.arcs, arc{to, capacity, capacity, cost}, arc{from, 0, 0, -cost})
	n.from[from] = append(n.from[from], i)
	n.from[to] = append(n.from[to], i+1)
	return i
}

// Flow is how much flows through the arc with this number.
func (n *Net) Flow(i int) int64 { return n.arcs[i].cap - n.arcs[i].left }

// Max sends as much as it can from source to sink and returns how much.
//
// E. Dinic, "Algorithm for solution of a problem of maximum flow in networks
// with power estimation", Soviet Mathematics Doklady 11, 1970.
func (n *Net) Max(source, sink int) int64 {
	var sum int64
	n.level, n.next = make([]int, len(n.from)), make([]int, len(n.from))
	for n.levels(source); n.level[sink] >= 0; n.levels(source) {
		clear(n.next)
		for pushed := n.push(source, sink, 1<<62); pushed > 0; pushed = n.push(source, sink, 1<<62) {
			sum += pushed
		}
	}
	return sum
}

func (n *Net) levels(source int) {
	for i := range n.level {
		n.level[i] = -1
	}
	n.level[source] = 0
	queue := []int{source}
	for i := 0; i < len(queue); i++ {
		for _, a := range n.from[queue[i]] {
			if to := n.arcs[a].to; n.arcs[a].left > 0 && n.level[to] < 0 {
				n.level[to] = n.level[queue[i]] + 1
				queue = append(queue, to)
			}
		}
	}
}

func (n *Net) push(at, sink int, most int64) int64 {
	if at == sink {
		return most
	}
	for ; n.next[at] < len(n.from[at]); n.next[at]++ {
		a := n.from[at][n.next[at]]
		if n.arcs[a].left == 0 || n.level[n.arcs[a].to] != n.level[at]+1 {
			continue
		}
		if got := n.push(n.arcs[a].to, sink, min(most, n.arcs[a].left)); got > 0 {
			n.arcs[a].left -= got
			n.arcs[a^1].left += got
			return got
		}
	}
	return 0
}

// Near says which points can still be reached from the source after Max: the
// arcs that leave them are full and carry the whole flow, which proves that no
// more goes through (L. Ford and D. Fulkerson 1956).
func (n *Net) Near(source int) []bool {
	n.level = make([]int, len(n.from))
	n.levels(source)
	near := make([]bool, len(n.from))
	for i, l := range n.level {
		near[i] = l >= 0
	}
	return near
}

// Cheapest sends up to want units from source to sink at the least cost and
// returns how many went and what they cost. Of as many units, no cheaper way
// exists. By successive shortest paths (R. Busacker and P. Gowen 1960).
func (n *Net) Cheapest(source, sink int, want int64) (sent, cost int64) {
	for sent < want {
		by, far := n.shortest(source)
		if by[sink] < 0 {
			break
		}
		most := want - sent
		for at := sink; at != source; at = n.arcs[by[at]^1].to {
			most = min(most, n.arcs[by[at]].left)
		}
		for at := sink; at != source; at = n.arcs[by[at]^1].to {
			n.arcs[by[at]].left -= most
			n.arcs[by[at]^1].left += most
		}
		sent += most
		cost += most * far[sink]
	}
	return sent, cost
}

// shortest finds the cheapest way to every point, and the arc it comes by
// (R. Bellman 1958, with a queue); -1 where there is none.
func (n *Net) shortest(source int) (by []int, far []int64) {
	by, far = nobody(len(n.from)), make([]int64, len(n.from))
	known, waits := make([]bool, len(n.from)), make([]bool, len(n.from))
	known[source] = true
	queue := []int{source}
	for i := 0; i < len(queue); i++ {
		at := queue[i]
		waits[at] = false
		for _, a := range n.from[at] {
			to, d := n.arcs[a].to, far[at]+n.arcs[a].cost
			if n.arcs[a].left == 0 || known[to] && d >= far[to] {
				continue
			}
			known[to], far[to], by[to] = true, d, a
			if !waits[to] {
				waits[to] = true
				queue = append(queue, to)
			}
		}
	}
	return by, far
}
