package units

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// from: international yard and pound agreement, 1959 (an inch is 25.4 mm);
// the rest by hand.
func TestParseLength(t *testing.T) {
	cases := []struct {
		in   string
		unit Length
		want Length
	}{
		{"1 in", Centimetre, 25_400}, {"1/8 in", Centimetre, 3_175}, {"5/8\"", Centimetre, 15_875},
		{"1 yd", Centimetre, 914_400}, {`5'4"`, Centimetre, 64 * 25_400}, {"4 ft 8", Centimetre, 56 * 25_400},
		{"5'4", Centimetre, 64 * 25_400}, {"28 1/2", Inch, 723_900}, {"28½", Inch, 723_900},
		{"28.5", Centimetre, 285_000}, {"28,5", Centimetre, 285_000}, {"71 cm", Inch, 710_000},
		{"1,36 m", Centimetre, 1_360_000}, {"1.36m", Inch, 1_360_000}, {"350 mm", Centimetre, 350_000},
		{"-2", Centimetre, -20_000}, {"12", Centimetre, 120_000}, {"2 m 13 cm", Centimetre, 2_130_000},
	}
	for _, c := range cases {
		if got, err := ParseLength(c.in, c.unit); err != nil || got != c.want {
			t.Errorf("ParseLength(%q) = %d, %v; want %d", c.in, got, err, c.want)
		}
	}
	for _, bad := range []string{"", "abc", "5 parsecs", "1//2", "1/0", "--3", "4'5'", "12 12"} {
		if got, err := ParseLength(bad, Centimetre); err == nil {
			t.Errorf("ParseLength(%q) = %d; want an error", bad, got)
		}
	}
}

func TestPrintParseRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := Length(rapid.Int64Range(-100_000, 100_000).Draw(t, "mm")) * Millimetre
		if back, err := ParseLength(Metric.Print(mm), Centimetre); err != nil || back != mm {
			t.Fatalf("%d prints %q, reads %d, %v", mm, Metric.Print(mm), back, err)
		}
		e := Length(rapid.Int64Range(0, 8000).Draw(t, "eighths")) * (Inch / 8)
		if back, err := ParseLength(Imperial.Print(e), Inch); err != nil || back != e {
			t.Fatalf("%d prints %q, reads %d, %v", e, Imperial.Print(e), back, err)
		}
	})
}

func TestCoins(t *testing.T) {
	for in, want := range map[string]Money{"12": 1200, "12.50": 1250, "12,5": 1250, "€ 9": 900, "0": 0, "-3.07": -307, ".5": 50} {
		if got, err := Coins(in); err != nil || got != want {
			t.Errorf("Coins(%q) = %d, %v; want %d", in, got, err, want)
		}
	}
	for _, bad := range []string{"", "free", "1.234", "1.2.3"} {
		if _, err := Coins(bad); err == nil {
			t.Errorf("Coins(%q) gave no error", bad)
		}
	}
	// 112 cm at 4.99 a metre is 5.5888, so a shop asks 5.59.
	if got := Money(499).PerMetre(Cm(112)); got != 559 {
		t.Errorf("PerMetre = %d; want 559", got)
	}
}

// from: the standard library's proleptic Gregorian calendar.
func TestDateAgainstTime(t *testing.T) {
	start := time.Date(1899, 12, 31, 0, 0, 0, 0, time.UTC)
	for n := 1; n < 109_000; n += 13 {
		want := start.AddDate(0, 0, n)
		y, m, d := Date(n).YMD()
		if y != want.Year() || m != int(want.Month()) || d != want.Day() || Date(n).Weekday() != int(want.Weekday()) {
			t.Fatalf("day %d is %d-%d-%d; want %s", n, y, m, d, want.Format("2006-01-02 Mon"))
		}
		if back, err := Day(y, m, d); err != nil || back != Date(n) {
			t.Fatalf("Day(%d,%d,%d) = %d, %v; want %d", y, m, d, back, err, n)
		}
	}
}

func TestParseDate(t *testing.T) {
	want, _ := Day(2027, 3, 14)
	for _, in := range []string{"2027-03-14", "14.3.2027", "14 March 2027", "14 Mar 2027", "14/03/2027"} {
		if got, err := ParseDate(in); err != nil || got != want {
			t.Errorf("ParseDate(%q) = %s, %v", in, got, err)
		}
	}
	for _, bad := range []string{"2027-02-29", "yesterday", "2027-13-01", "14.3"} {
		if _, err := ParseDate(bad); err == nil {
			t.Errorf("ParseDate(%q) gave no error", bad)
		}
	}
	if want.Long() != "Sunday 14 March 2027" {
		t.Errorf("Long = %q", want.Long())
	}
}

func TestSpan(t *testing.T) {
	a, b := Between(Cm(70), Cm(73)), Exactly(Cm(4))
	if got := a.Minus(b); got.Lo != Cm(66) || got.Hi != Cm(69) {
		t.Errorf("Minus = %v", got)
	}
	if (Span{}).Plus(a).Known || a.Minus(Span{}).Known {
		t.Error("an unknown span became known")
	}
	if Metric.PrintSpan(a) != "70 to 73" || Metric.PrintSpan(Span{}) != "not known" {
		t.Error("PrintSpan")
	}
}

func TestZeroValues(t *testing.T) {
	if (Maybe[Length]{}).Known || (Span{}).Known || Date(0).String() != "" || Minutes(0).String() != "0 min" {
		t.Error("a zero value claims to know something")
	}
}
