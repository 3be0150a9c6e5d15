package body

import (
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"
)

// inSurvey says where the children's survey has each measure of the tables: a
// sum of columns. The fold under the seat stands for the fork.
var inSurvey = [tabled][]string{{"stature"}, {"chest_circ"}, {"natural_waist_circ"}, {"waist_circ"}, {"hip_circ"}, {"waist_height"},
	{"gluteal_furrow_height"}, {"acromion_radiale", "radiale_stylion"}, {"biacromial_breadth"}, {"upper_arm_circ"}, {"neck_circ"}, {"head_circ"}}

const tableHead = `# Body measures: logarithms of millimetres along an axis, their means, their
# spreads and the correlations of what is left.
# age, height: Snyder, Schneider, Owings, Reynolds, Golomb and Schork, Anthropometry
#   of Infants, Children and Youths to Age 18 (1977), individual records, two
#   thirds of them. grown: ANSUR II (Gordon and others, 2014), covariances of
#   the logarithms; the natural waist from the girth at the navel by the
#   difference in Heinz and others (2003), the height of the waist 0.604 of the
#   stature as in the children's survey from 14 on, the upper arm 0.95 of the
#   flexed one (from memory).
# table AXIS SEX FROM STEP KNOTS
`

// child is one record: the logarithms in millimetres, NaN where not taken.
type child struct {
	id  int
	sex string
	age float64
	ln  []float64
}

// heldOut says which records no table rests on: every third, by number.
func heldOut(id int) bool { return id%3 == 0 }

var update = flag.Bool("update", false, "write the tables of body measures anew")

// The tables the program carries are what the surveys give, on the records
// that are not held out: fitted anew they come out the same.
//
// from: Snyder and others 1977, individual records; ANSUR II 2012, covariances
// of the logarithms.
func TestTablesAreTheSurveys(t *testing.T) {
	kids := children(t)
	out := &strings.Builder{}
	out.WriteString(tableHead)
	for _, sex := range []string{"both", "F", "M"} {
		var use []child
		for _, k := range kids {
			if !heldOut(k.id) && (sex == "both" || k.sex == sex) {
				use = append(use, k)
			}
		}
		age := func(c child) float64 { return c.age }
		fitTable(use, 0, age, 4, 1, 15, 1.5).write(out, "age", sex)
		if sex == "both" {
			height := func(c child) float64 { return math.Exp(c.ln[0]) / 10 }
			fitTable(use, 1, height, 100, 8, 12, 10).write(out, "height", sex)
		}
	}
	grownTables(t, out)
	if *update {
		if err := os.WriteFile("tables.txt", []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if out.String() != tablesText {
		t.Error("the surveys give other tables than tables.txt holds; go test ./internal/show/body -run TestTablesAreTheSurveys -update")
	}
}

func children(t *testing.T) []child {
	var out []child
	for _, r := range reference(t, "snyder1977_individuals.csv") {
		c := child{sex: r["sex"], age: num(r["age_years"]), ln: make([]float64, len(inSurvey))}
		c.id = int(num(r["id"]))
		for i, cols := range inSurvey {
			sum := 0.0
			for _, col := range cols {
				sum += num(r[col])
			}
			c.ln[i] = math.Log(sum)
		}
		if !math.IsNaN(c.ln[0]) && c.age >= 3.5 {
			out = append(out, c)
		}
	}
	return out
}

// fitted is one model: along an axis (age in years, or height in cm) the mean
// and the spread of each logarithm, and how what is left of them hangs
// together.
type fitted struct {
	first     int // the first measure that is not the axis
	from      float64
	step      float64
	mean, sd  [][]float64 // [measure][knot]
	cor       [][]float64
	knotCount int
}

// fitTable fits means by local straight lines, spreads by local squares over
// twice the width, and the correlations of what is left by EM, as no child
// has every measure (Dempster, Laird and Rubin, 1977).
func fitTable(kids []child, first int, axis func(child) float64, from, step float64, knots int, width float64) fitted {
	t := fitted{first: first, from: from, step: step, knotCount: knots}
	n := len(inSurvey)
	t.mean, t.sd = make([][]float64, n), make([][]float64, n)
	for k := first; k < n; k++ {
		for i := range knots {
			m, _ := local(kids, axis, from+float64(i)*step, width, func(c child) float64 { return c.ln[k] })
			t.mean[k] = append(t.mean[k], m)
		}
		left := func(c child) float64 { d := c.ln[k] - t.at(t.mean[k], axis(c)); return d * d }
		for i := range knots {
			_, v := local(kids, axis, from+float64(i)*step, 2*width, left)
			t.sd[k] = append(t.sd[k], math.Sqrt(v))
		}
	}
	var z [][]float64
	for _, c := range kids {
		row := make([]float64, 0, n-first)
		for k := first; k < n; k++ {
			row = append(row, (c.ln[k]-t.at(t.mean[k], axis(c)))/t.at(t.sd[k], axis(c)))
		}
		z = append(z, row)
	}
	t.cor = correlations(z, n-first)
	return t
}

// at reads a row of knots, straight between two.
func (t fitted) at(row []float64, x float64) float64 {
	f := min(max((x-t.from)/t.step, 0), float64(t.knotCount-1))
	i := min(int(f), t.knotCount-2)
	return row[i] + (f-float64(i))*(row[i+1]-row[i])
}

// local is a straight line through what lies near x, at x, and the weighted
// mean; weights fall evenly to nothing at the width.
func local(kids []child, axis func(child) float64, x, width float64, of func(child) float64) (line, mean float64) {
	var w, wx, wy, wxx, wxy float64
	for _, c := range kids {
		d, y := axis(c)-x, of(c)
		if math.Abs(d) >= width || math.IsNaN(y) {
			continue
		}
		g := 1 - math.Abs(d)/width
		w, wx, wy, wxx, wxy = w+g, wx+g*d, wy+g*y, wxx+g*d*d, wxy+g*d*y
	}
	slope := (w*wxy - wx*wy) / (w*wxx - wx*wx)
	return (wy - slope*wx) / w, wy / w
}

// correlations of standard rows with gaps, mean nothing, by EM.
func correlations(z [][]float64, n int) [][]float64 {
	s := square(n)
	for i := range n {
		s[i][i] = 1
	}
	for range 60 {
		sum := square(n)
		for _, row := range z {
			expected(sum, s, row)
		}
		for i := range n {
			for j := range n {
				s[i][j] = sum[i][j] / float64(len(z))
			}
		}
	}
	out := square(n)
	for i := range n {
		for j := range n {
			out[i][j] = s[i][j] / math.Sqrt(s[i][i]*s[j][j])
		}
	}
	return out
}

func square(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range n {
		out[i] = make([]float64, n)
	}
	return out
}

// expected adds what one row says of the squares, its gaps filled by what the
// rest says of them.
func expected(sum, s [][]float64, row []float64) {
	var seen []int
	var value []float64
	for i, v := range row {
		if !math.IsNaN(v) {
			seen, value = append(seen, i), append(value, v)
		}
	}
	d := normal{make([]float64, len(row)), s}.given(seen, value, make([]float64, len(seen)))
	for i := range row {
		for j := range row {
			sum[i][j] += d.cov[i][j] + d.mean[i]*d.mean[j]
		}
	}
}

func (t fitted) write(out io.Writer, axis, sex string) {
	fmt.Fprintf(out, "table %s %s %g %g %d\n", axis, strings.ToLower(sex), t.from, t.step, t.knotCount)
	line := func(what, code string, v []float64) {
		fmt.Fprintf(out, "%s %s", what, code)
		for _, x := range v {
			fmt.Fprintf(out, " %.4f", x)
		}
		fmt.Fprintln(out)
	}
	for k := t.first; k < len(inSurvey); k++ {
		line("mean", tableCodes[k], t.mean[k])
		line("sd", tableCodes[k], t.sd[k])
		var row []float64
		for j := t.first; j <= k; j++ {
			row = append(row, t.cor[k-t.first][j-t.first])
		}
		line("cor", tableCodes[k], row)
	}
}

// grownTables writes the tables of adults. Both sexes together are the mean of the
// two, further apart by what lies between them.
func grownTables(t *testing.T, out io.Writer) {
	f, m := soldiers(t, "F", 139), soldiers(t, "M", 31)
	both := normal{make([]float64, tabled), square(tabled)}
	for i := range tabled {
		both.mean[i] = (f.mean[i] + m.mean[i]) / 2
		for j := range tabled {
			both.cov[i][j] = (f.cov[i][j]+m.cov[i][j])/2 + (f.mean[i]-m.mean[i])*(f.mean[j]-m.mean[j])/4
		}
	}
	for _, x := range []struct {
		sex string
		d   normal
	}{{"both", both}, {"f", f}, {"m", m}} {
		ft := fitted{knotCount: 1, mean: make([][]float64, tabled), sd: make([][]float64, tabled), cor: square(tabled)}
		for i := range tabled {
			ft.mean[i], ft.sd[i] = []float64{x.d.mean[i]}, []float64{math.Sqrt(x.d.cov[i][i])}
			for j := range tabled {
				ft.cor[i][j] = x.d.cov[i][j] / math.Sqrt(x.d.cov[i][i]*x.d.cov[j][j])
			}
		}
		ft.write(out, "grown", x.sex)
	}
}

// soldiers is the distribution of the tables' measures in ANSUR II. less is
// how far, in mm, the natural waist lies within the girth at the navel (Heinz
// and others, 2003: women 139, spread 55; men 31, spread 42).
func soldiers(t *testing.T, sex string, less float64) normal {
	cov := map[string]map[string]float64{}
	for _, r := range reference(t, "ansur2_cov_ln_"+sex+".csv") {
		name := r["cov_ln"]
		cov[name] = map[string]float64{}
		for k, v := range r {
			cov[name][k] = num(v)
		}
	}
	mean := cov["mean_ln"]
	arm, fore := math.Exp(mean["acromionradialelength"]), math.Exp(mean["radialestylionlength"])
	stature, navel := map[string]float64{"stature": 1}, map[string]float64{"waistcircumference": 1}
	made := [tabled]map[string]float64{stature, {"chestcircumference": 1}, navel, navel, {"buttockcircumference": 1}, stature, {"crotchheight": 1},
		{"acromionradialelength": arm / (arm + fore), "radialestylionlength": fore / (arm + fore)}, {"biacromialbreadth": 1},
		{"bicepscircumferenceflexed": 1}, {"neckcircumference": 1}, {"headcircumference": 1}}
	d := normal{make([]float64, tabled), square(tabled)}
	for i := range tabled {
		for a, wa := range made[i] {
			d.mean[i] += wa * mean[a]
			for j := range tabled {
				for b, wb := range made[j] {
					d.cov[i][j] += wa * wb * cov[a][b]
				}
			}
		}
	}
	d.mean[tSleeve] = math.Log(arm + fore)
	d.mean[tUpperArm] += math.Log(.95)
	d.mean[tWaistToFloor] += math.Log(.604)
	d.cov[tWaistToFloor][tWaistToFloor] += .018 * .018
	round := math.Exp(d.mean[tTrouserTop])
	d.mean[tWaist] = math.Log(round - less)
	apart := map[string]float64{"F": 55, "M": 42}[sex] / round
	d.cov[tTrouserTop][tTrouserTop] += apart * apart / 2
	d.cov[tWaist][tWaist] += apart * apart / 2
	return d
}
