package geom

import (
	"cmp"
	"slices"
)

// winds is how often each operand winds round a place.
type winds [2]int32

func (w winds) plus(v winds) winds  { return winds{w[0] + v[0], w[1] + v[1]} }
func (w winds) minus(v winds) winds { return winds{w[0] - v[0], w[1] - v[1]} }

// edge joins two corners, from < to by X then Y. net is how often each operand
// runs along it in that direction, less how often in the other: the winding
// on its left less that on its right.
type edge struct {
	from, to int32
	net      winds
}

// chart is the edges as a plane graph: none crosses another. Half-edge 2k runs
// along edge k, 2k+1 against it.
type chart struct {
	at    []Point
	edges []edge
	first []int32 // of each corner, its first place in star
	star  []int32 // half-edges by where they begin, then counter-clockwise from X
	place []int32 // of each half-edge, where in star it stands
	right []winds // of each half-edge, the windings on its right
}

// overlay is the region of all places the windings of which are wanted.
func overlay(r, s Region, wanted func(winds) bool) Region {
	segs := segments(r, s)
	if len(segs) == 0 {
		return nil
	}
	g := newGrid(segs)
	n := newSnap(segs, g)
	c := &chart{at: n.hot, edges: n.cut(segs)}
	c.sortStars()
	c.wind(g)
	return c.trace(wanted)
}

// cut leads the segments through the hot pixels and adds up those that lie on
// one another.
func (n *snap) cut(segs []segment) []edge {
	all := make([]edge, 0, 2*len(segs))
	var stops []int32
	for _, s := range segs {
		stops = n.route(s, stops)
		for i := 1; i < len(stops); i++ {
			e := edge{from: stops[i-1], to: stops[i]}
			e.net[s.of] = 1
			if e.from > e.to {
				e.from, e.to = e.to, e.from
				e.net[s.of] = -1
			}
			all = append(all, e)
		}
	}
	slices.SortFunc(all, func(d, e edge) int { return cmp.Or(cmp.Compare(d.from, e.from), cmp.Compare(d.to, e.to)) })
	out := all[:0]
	for i, j := 0, 0; i < len(all); i = j {
		e := all[i]
		for j = i + 1; j < len(all) && all[j].from == e.from && all[j].to == e.to; j++ {
			e.net = e.net.plus(all[j].net)
		}
		out = append(out, e)
	}
	return out
}

// begin and end of a half-edge.
func (c *chart) begin(h int32) int32 {
	if h&1 == 0 {
		return c.edges[h>>1].from
	}
	return c.edges[h>>1].to
}

func (c *chart) end(h int32) int32 { return c.begin(h ^ 1) }

// net is left less right of a half-edge.
func (c *chart) net(h int32) winds {
	n := c.edges[h>>1].net
	if h&1 == 1 {
		return winds{}.minus(n)
	}
	return n
}

// sortStars sorts the half-edges round each corner.
func (c *chart) sortStars() {
	n := int32(2 * len(c.edges))
	c.first = make([]int32, len(c.at)+1)
	for h := range n {
		c.first[c.begin(h)+1]++
	}
	for v := range c.at {
		c.first[v+1] += c.first[v]
	}
	c.star, c.place = make([]int32, n), make([]int32, n)
	next := slices.Clone(c.first)
	for h := range n {
		v := c.begin(h)
		c.star[next[v]] = h
		next[v]++
	}
	for v := range c.at {
		slices.SortFunc(c.star[c.first[v]:c.first[v+1]], func(h, k int32) int {
			return turning(c.at[c.end(h)].Minus(c.at[v]), c.at[c.end(k)].Minus(c.at[v]))
		})
	}
	for i, h := range c.star {
		c.place[h] = int32(i)
	}
}

// turning orders ways counter-clockwise from X.
func turning(p, q Point) int {
	if lp, lq := lower(p), lower(q); lp != lq {
		return lp - lq
	}
	return Orient(Point{}, q, p)
}

// lower is 1 for ways that point down, or left along X.
func lower(p Point) int {
	if p.Y < 0 || p.Y == 0 && p.X < 0 {
		return 1
	}
	return 0
}

// wind finds the windings on both sides of every half-edge. Corners come by X,
// so the first of each connected part has nothing of its part to the left of
// it: the windings there are those of the edges of other parts on the ray to
// the left. From there they follow round corners and along edges.
func (c *chart) wind(g *grid) {
	c.right = make([]winds, len(c.star))
	seen := make([]bool, len(c.at))
	var ray *rays
	type known struct {
		half  int32
		right winds
	}
	var todo []known
	for v := range c.at {
		if seen[v] || c.first[v] == c.first[v+1] {
			continue
		}
		seen[v] = true
		var outer winds
		if ray == nil { // the first part of all has nothing to the left
			ray = newRays(c, g)
		} else {
			outer = ray.leftOf(c.at[v])
		}
		for todo = append(todo, known{c.afterLeft(v), outer}); len(todo) > 0; {
			k := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			c.around(k.half, k.right, func(h int32, left winds) {
				if w := c.end(h); !seen[w] {
					seen[w] = true
					todo = append(todo, known{h ^ 1, left})
				}
			})
		}
	}
}

// afterLeft is the half-edge at v that comes first counter-clockwise from
// the way to the left; none points that way.
func (c *chart) afterLeft(v int) int32 {
	star := c.star[c.first[v]:c.first[v+1]]
	for _, h := range star {
		if lower(c.at[c.end(h)].Minus(c.at[v])) == 1 {
			return h
		}
	}
	return star[0]
}

// around goes once round the corner where h begins, sets what is right of each
// half-edge and says what is left of it.
func (c *chart) around(h int32, right winds, each func(h int32, left winds)) {
	v := c.begin(h)
	lo, hi := c.first[v], c.first[v+1]
	for i, n := c.place[h], lo; n < hi; n++ {
		k := c.star[i]
		c.right[k] = right
		right = right.plus(c.net(k))
		each(k, right)
		if i++; i == hi {
			i = lo
		}
	}
}

// rays answers what lies to the left of a corner.
type rays struct {
	c     *chart
	g     *grid
	stamp []int
	asked int
}

func newRays(c *chart, g *grid) *rays {
	return &rays{c: c, g: g, stamp: make([]int, len(c.edges))}
}

// leftOf is the windings just left of p: the sum over the edges on the ray
// from p to the left, each of which counts its lower end and not its upper.
func (r *rays) leftOf(p Point) winds {
	if r.g.start == nil {
		r.g = r.g.fill(len(r.c.edges), func(k int, visit func(int)) {
			r.g.walk(r.c.at[r.c.edges[k].from], r.c.at[r.c.edges[k].to], visit)
		})
	}
	r.asked++
	var sum winds
	for row, i := r.g.row(p.Y)*r.g.nx, 0; i <= r.g.col(p.X); i++ {
		for _, k := range r.g.in(row + i) {
			if r.stamp[k] == r.asked {
				continue
			}
			r.stamp[k] = r.asked
			e := r.c.edges[k]
			a, b := r.c.at[e.from], r.c.at[e.to]
			switch {
			case a.Y <= p.Y && b.Y > p.Y && Orient(a, b, p) < 0:
				sum = sum.minus(e.net) // rising, and p on its right
			case b.Y <= p.Y && a.Y > p.Y && Orient(b, a, p) < 0:
				sum = sum.plus(e.net)
			}
		}
	}
	return sum
}

// trace follows the border of what is wanted, with it to the left. It leaves
// no half-edge of the border at the corner where a way began.
func (c *chart) trace(wanted func(winds) bool) Region {
	border := make([]bool, len(c.star))
	for h := range border {
		border[h] = wanted(c.right[h^1]) && !wanted(c.right[h])
	}
	var out Region
	on := make([]int32, len(c.at)) // where on the way a corner stands, from 1
	var way []int32
	for start, is := range border {
		if !is {
			continue
		}
		way = append(way[:0], c.begin(int32(start)))
		on[way[0]] = 1
		for h := int32(start); border[h]; h = c.next(h, border) {
			border[h] = false
			v := c.end(h)
			if k := on[v]; k > 0 { // back at a corner: that is an outline
				out = append(out, c.outline(way[k-1:]))
				for _, u := range way[k:] {
					on[u] = 0
				}
				way = way[:k]
				continue
			}
			way = append(way, v)
			on[v] = int32(len(way))
		}
	}
	slices.SortFunc(out, func(o, p Outline) int { return cmp.Or(byXY(o[0], p[0]), byXY(o[1], p[1])) })
	return out
}

// next is the half-edge of the border on which the way goes on after h: the
// sharpest turn to the left, so that areas which share a corner stay apart.
// It is h itself where the way has come to its end.
func (c *chart) next(h int32, border []bool) int32 {
	v := c.end(h)
	lo, hi := c.first[v], c.first[v+1]
	for i, n := c.place[h^1], lo; n < hi; n++ {
		if i--; i < lo {
			i = hi - 1
		}
		if border[c.star[i]] {
			return c.star[i]
		}
	}
	return h
}

// outline is the way as an outline, from its least corner, without corners
// on straight runs.
func (c *chart) outline(way []int32) Outline {
	least := slices.Index(way, slices.Min(way))
	out := make(Outline, 0, len(way))
	n := len(way)
	for i := range n {
		prev, v, next := way[(least+i+n-1)%n], way[(least+i)%n], way[(least+i+1)%n]
		if Orient(c.at[prev], c.at[v], c.at[next]) != 0 {
			out = append(out, c.at[v])
		}
	}
	return out
}
