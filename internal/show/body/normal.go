package body

import "math"

// normal is a normal distribution of logarithms: means and covariances.
type normal struct {
	mean []float64
	cov  [][]float64
}

// given is the distribution once some of it has been observed: values, and how
// far each may be off (a variance, 0 for none). What is not observed keeps its
// place. A variance never grows by it.
func (d normal) given(seen []int, value, off []float64) normal {
	n, m := len(d.mean), len(seen)
	out := normal{append([]float64(nil), d.mean...), make([][]float64, n)}
	for i := range n {
		out.cov[i] = append([]float64(nil), d.cov[i]...)
	}
	if m == 0 {
		return out
	}
	a := make([][]float64, m)
	for i, k := range seen {
		a[i] = make([]float64, m)
		for j, l := range seen {
			a[i][j] = d.cov[k][l]
		}
		a[i][i] += off[i]
	}
	root := cholesky(a)
	// each row of half is what one measure shares with the observed, divided
	// by the root: products of two such rows are what the observed explain.
	half := make([][]float64, n)
	miss := make([]float64, m)
	for j, k := range seen {
		miss[j] = value[j] - d.mean[k]
	}
	miss = forward(root, miss)
	for i := range n {
		share := make([]float64, m)
		for j, k := range seen {
			share[j] = d.cov[i][k]
		}
		half[i] = forward(root, share)
		out.mean[i] += dot(half[i], miss)
	}
	for i := range n {
		for j := range n {
			out.cov[i][j] -= dot(half[i], half[j])
		}
	}
	return out
}

// cholesky is the lower root of a positive matrix. A direction that others
// explain wholly gets a root of next to nothing.
func cholesky(a [][]float64) [][]float64 {
	l := make([][]float64, len(a))
	for i := range a {
		l[i] = make([]float64, i+1)
		for j := range i + 1 {
			s := a[i][j] - dot(l[i][:j], l[j][:j])
			if i == j {
				l[i][i] = math.Sqrt(max(s, 1e-12))
			} else {
				l[i][j] = s / l[j][j]
			}
		}
	}
	return l
}

// forward solves l x = b.
func forward(l [][]float64, b []float64) []float64 {
	x := make([]float64, len(b))
	for i := range b {
		x[i] = (b[i] - dot(l[i][:i], x[:i])) / l[i][i]
	}
	return x
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}
