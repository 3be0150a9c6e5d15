// Package flow holds four exact answers about networks of whole numbers: the
// largest matching of two sides, the fewest chains that cover an order, the
// largest flow and the cheapest flow. Each is deterministic and comes with
// what proves it; the Check functions read the proof and share no code with
// the searches.
package flow

// Matching says who is paired with whom; -1 is nobody.
type Matching struct {
	Left  []int // for each of the left, its partner on the right
	Right []int // and the other way round
	Size  int
}

// Match finds a largest matching between left and right points; edges[l]
// lists the right points that l may be paired with.
//
// J. Hopcroft and R. Karp, "An n^5/2 algorithm for maximum matchings in
// bipartite graphs", SIAM Journal on Computing 2, 1973.
func Match(left, right int, edges [][]int) Matching {
	m := Matching{Left: nobody(left), Right: nobody(right)}
	depth := make([]int, left)
	next := make([]int, left)
	for m.layer(edges, depth) {
		clear(next)
		for l := range m.Left {
			if m.Left[l] < 0 && m.augment(l, edges, depth, next) {
				m.Size++
			}
		}
	}
	return m
}

func nobody(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = -1
	}
	return out
}

// layer gives every left point its distance from the free ones along
// alternating paths, and says whether a free right point can be reached.
func (m *Matching) layer(edges [][]int, depth []int) bool {
	var queue []int
	for l := range depth {
		depth[l] = -1
		if m.Left[l] < 0 {
			depth[l] = 0
			queue = append(queue, l)
		}
	}
	reached := false
	for i := 0; i < len(queue); i++ {
		l := queue[i]
		for _, r := range edges[l] {
			switch o := m.Right[r]; {
			case o < 0:
				reached = true
			case depth[o] < 0:
				depth[o] = depth[l] + 1
				queue = append(queue, o)
			}
		}
	}
	return reached
}

func (m *Matching) augment(l int, edges [][]int, depth, next []int) bool {
	for ; next[l] < len(edges[l]); next[l]++ {
		r := edges[l][next[l]]
		o := m.Right[r]
		if o < 0 || depth[o] == depth[l]+1 && m.augment(o, edges, depth, next) {
			m.Left[l], m.Right[r] = r, l
			return true
		}
	}
	return false
}

// Cover is a smallest set of points that touches every edge: as many as the
// matching has pairs (D. König 1931).
func (m Matching) Cover(edges [][]int) (left, right []bool) {
	left, right = make([]bool, len(m.Left)), make([]bool, len(m.Right))
	var stack []int
	for l := range left {
		left[l] = true
		if m.Left[l] < 0 {
			left[l] = false
			stack = append(stack, l)
		}
	}
	for len(stack) > 0 {
		l := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, r := range edges[l] {
			if right[r] {
				continue
			}
			right[r] = true
			if o := m.Right[r]; o >= 0 && left[o] {
				left[o] = false
				stack = append(stack, o)
			}
		}
	}
	return left, right
}
