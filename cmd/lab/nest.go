package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"

	"hemwright/internal/engine/nest"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
)

// nestFile is a published cutting instance, in units of its own.
type nestFile struct {
	Name   string  `json:"name"`
	Width  float64 `json:"strip_width"`
	Gap    float64 `json:"min_gap"`
	Pieces []struct {
		ID        string       `json:"id"`
		Copies    int          `json:"copies"`
		Rotations []float64    `json:"rotations"`
		Outline   [][2]float64 `json:"outline"`
	} `json:"pieces"`
	Container *struct {
		Outline [][2]float64   `json:"outline"`
		Holes   [][][2]float64 `json:"holes"`
	} `json:"container"`
}

// NestFigures is what the verb adds to the common line.
type NestFigures struct {
	Length float64 `json:"length"`
	Placed int     `json:"placed"`
	Wanted int     `json:"wanted"`
	Rate   float64 `json:"evaluations_per_second"`
}

// nestPlacement and nestAnswer are the layout as it is written.
type nestPlacement struct {
	ID   string  `json:"id"`
	Turn int     `json:"rotation_deg"`
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
}

type nestAnswer struct {
	Length     float64         `json:"strip_length"`
	Placements []nestPlacement `json:"placements"`
}

// nestVerb lays out a cutting instance.
func nestVerb(ctx context.Context, r *run) (result, error) {
	var f nestFile
	data, err := os.ReadFile(r.file)
	if err != nil {
		return result{}, fmt.Errorf("the file %s cannot be read: %w", r.file, err)
	}
	if err := json.Unmarshal(data, &f); err != nil {
		return result{}, fmt.Errorf("the file %s is no instance: %w", r.file, err)
	}
	p, scale, err := f.problem()
	if err != nil {
		return result{}, err
	}
	area, cloth := 0.0, float64(p.Cloths[0].Outline.Area())
	for _, q := range p.Pieces {
		area += float64(q.Outline.Area()) * float64(q.Copies)
	}
	for _, h := range p.Cloths[0].Flaws {
		cloth -= float64(h.Area())
	}
	density := func(value float64) float64 {
		if p.Cloths[0].Strip {
			return 100 * area / (value * f.Width * scale)
		}
		return 100 * (area - value*1e6) / cloth
	}
	var curve [][2]float64
	l, err := nest.Pack(ctx, p, r.budget(func(q solve.Progress) {
		curve = append(curve, [2]float64{math.Round(r.elapsed()*1000) / 1000, density(q.Value)})
	}))
	if err != nil {
		return result{}, err
	}
	if bad := nest.Check(p, l); len(bad) > 0 {
		return result{}, fmt.Errorf("the answer is not legal: %s", bad[0].Sentence(units.Metric))
	}
	res := result{Name: f.Name, Seconds: r.elapsed(), Steps: l.Outcome.Steps, Seed: l.Outcome.Seed, Value: density(l.Outcome.Value),
		Proof: l.Outcome.Proof.String(), Stopped: l.Outcome.Stopped, Curve: curve,
		NestFigures: &NestFigures{Length: float64(l.Length) / scale, Placed: len(l.Placed), Wanted: len(l.Placed) + len(l.Missing)}}
	res.Rate = math.Round(float64(l.Looked) / res.Seconds)
	if l.Outcome.HasBound {
		bound := density(l.Outcome.Bound)
		res.Bound = &bound
	}
	return res, r.write(written(l, scale))
}

func written(l nest.Layout, scale float64) []byte {
	a := nestAnswer{Length: float64(l.Length) / scale, Placements: []nestPlacement{}}
	for _, q := range l.Placed {
		a.Placements = append(a.Placements, nestPlacement{q.Piece, q.Turn, float64(q.At.X) / scale, float64(q.At.Y) / scale})
	}
	b, _ := json.Marshal(a)
	return append(b, '\n')
}

// problem brings the instance on the lattice: a power of ten of micrometres
// for one unit of the file, such that the cloth is about a metre wide or more.
func (f *nestFile) problem() (nest.Problem, float64, error) {
	var p nest.Problem
	width := f.Width
	if f.Container != nil {
		_, width = extent(f.Container.Outline)
	}
	if !(width > 0) || len(f.Pieces) == 0 {
		return p, 0, fmt.Errorf("the instance %q has no width or no pieces", f.Name)
	}
	scale := math.Pow(10, math.Ceil(math.Log10(1e6/width)))
	p.Gap = units.Length(math.Ceil(f.Gap * scale))
	longest, area := 0.0, 0.0
	for _, q := range f.Pieces {
		piece := nest.Piece{ID: q.ID, Copies: q.Copies, Outline: lattice(q.Outline, scale)}
		if q.Rotations != nil {
			piece.Turns = []int{}
		}
		for _, d := range q.Rotations {
			if d != math.Trunc(d) {
				return p, 0, fmt.Errorf("piece %s may be turned by %g degrees; only whole degrees are read", q.ID, d)
			}
			piece.Turns = append(piece.Turns, int(d))
		}
		p.Pieces = append(p.Pieces, piece)
		w, h := extent(q.Outline)
		longest = max(longest, math.Hypot(w, h))
		area += w * h * float64(q.Copies)
	}
	cloth := nest.Cloth{ID: "cloth", Strip: f.Container == nil}
	if cloth.Strip {
		cloth.Outline = geom.Rect(units.Length(min((3*area/width+2*longest)*scale, float64(geom.Reach))), units.Length(math.Round(width*scale)))
	} else {
		cloth.Outline = lattice(f.Container.Outline, scale)
		for _, h := range f.Container.Holes {
			cloth.Flaws = append(cloth.Flaws, lattice(h, scale))
		}
	}
	p.Cloths = []nest.Cloth{cloth}
	return p, scale, nil
}

func extent(o [][2]float64) (w, h float64) {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, c := range o {
		for k := range c {
			lo[k], hi[k] = min(lo[k], c[k]), max(hi[k], c[k])
		}
	}
	return hi[0] - lo[0], hi[1] - lo[1]
}

// lattice rounds an outline; a corner given twice in a row, or the first
// given again at the end, is dropped.
func lattice(o [][2]float64, scale float64) geom.Outline {
	var out geom.Outline
	for _, c := range o {
		p := geom.Point{X: units.Length(math.Round(c[0] * scale)), Y: units.Length(math.Round(c[1] * scale))}
		if len(out) == 0 || out[len(out)-1] != p {
			out = append(out, p)
		}
	}
	if len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	return out
}
