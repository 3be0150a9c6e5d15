package units

import "testing"

// What reads a length gives one that prints and reads back within half the
// step it is printed in; or an error, never a fault.
func FuzzLength(f *testing.F) {
	for _, s := range []string{"71", "28 1/2", "5'4\"", "1,36 m", "12 yd", "-3", "½", "1/0", "9999999999999999999"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLength(s, Centimetre)
		if err != nil || l.Abs() > 1000*Metre {
			return
		}
		for _, sys := range []System{Metric, Imperial} {
			unit, step := Centimetre, Millimetre
			if sys == Imperial {
				unit, step = Inch, Inch/8
			}
			back, err := ParseLength(sys.Print(l), unit)
			if err != nil || (back-l).Abs() > step/2+1 {
				t.Fatalf("%q is %d, printed %q, read back as %d: %v", s, l, sys.Print(l), back, err)
			}
		}
	})
}

func FuzzDate(f *testing.F) {
	for _, s := range []string{"2027-03-14", "14.3.2027", "March 14th, 2027", "Sun 14 Mar 27", "31 2 2027", "29/2/28"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := ParseDate(s)
		if err != nil || d == 0 {
			return
		}
		if back, err := ParseDate(d.String()); err != nil || back != d {
			t.Fatalf("%q is %s, read back as %s: %v", s, d, back, err)
		}
		if back, err := ParseDate(d.Long()); err != nil || back != d {
			t.Fatalf("%q is %s, read back as %s: %v", s, d.Long(), back, err)
		}
	})
}

func FuzzMoney(f *testing.F) {
	for _, s := range []string{"12", "12.50", "12,5", "€ 3", "-1", "1e5"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := Coins(s)
		if err != nil {
			return
		}
		if back, err := Coins(m.String()); err != nil || back != m {
			t.Fatalf("%q is %s, read back as %s: %v", s, m, back, err)
		}
	})
}
