// Package colour compares colours as they are seen: CIELAB under daylight
// (D65) and the CIEDE2000 difference.
package colour

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Lab is a colour in CIELAB. The zero value is black.
type Lab struct{ L, A, B float64 }

// ParseHex reads "#9a2f33" or "9a2f33" as sRGB.
func ParseHex(s string) (Lab, error) {
	h := strings.TrimPrefix(strings.TrimSpace(s), "#")
	n, err := strconv.ParseUint(h, 16, 32)
	if err != nil || len(h) != 6 {
		return Lab{}, fmt.Errorf("%q is not a colour; write it as #9a2f33", s)
	}
	return OfRGB(uint8(n>>16), uint8(n>>8), uint8(n)), nil
}

// OfRGB is the colour of an sRGB pixel.
func OfRGB(red, green, blue uint8) Lab {
	r, g, b := linear[red], linear[green], linear[blue]
	// IEC 61966-2-1 (sRGB) to XYZ, then CIE 15 to L*a*b* with the D65 white.
	x := (0.4124*r + 0.3576*g + 0.1805*b) / 0.95047
	y := 0.2126*r + 0.7152*g + 0.0722*b
	z := (0.0193*r + 0.1192*g + 0.9505*b) / 1.08883
	fx, fy, fz := cube(x), cube(y), cube(z)
	return Lab{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}

// linear is the light of each value of a channel.
var linear = func() (t [256]float64) {
	for i := range t {
		v := float64(i) / 255
		if v <= 0.04045 {
			t[i] = v / 12.92
		} else {
			t[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return t
}()

func cube(t float64) float64 {
	if t > 216.0/24389 {
		return math.Cbrt(t)
	}
	return (24389.0/27*t + 16) / 116
}

// Difference is the CIEDE2000 colour difference after Sharma, Wu and Dalal,
// "The CIEDE2000 color-difference formula: implementation notes,
// supplementary test data, and mathematical observations", Color Research
// and Application 30 (2005). About 1 is just seen side by side, 10 is another
// shade, 40 another colour. It is symmetric and 0 for equal colours.
func Difference(p, q Lab) float64 {
	mean := (math.Hypot(p.A, p.B) + math.Hypot(q.A, q.B)) / 2
	g := 0.5 * (1 - math.Sqrt(pow7(mean)/(pow7(mean)+pow7(25))))
	a1, a2 := p.A*(1+g), q.A*(1+g)
	c1, c2 := math.Hypot(a1, p.B), math.Hypot(a2, q.B)
	h1, h2 := hue(a1, p.B), hue(a2, q.B)

	dL, dC := q.L-p.L, c2-c1
	dh := 0.0
	if c1*c2 != 0 {
		dh = h2 - h1
		if dh > 180 {
			dh -= 360
		} else if dh < -180 {
			dh += 360
		}
	}
	dH := 2 * math.Sqrt(c1*c2) * sin(dh/2)

	l, c := (p.L+q.L)/2, (c1+c2)/2
	h := h1 + h2
	if c1*c2 != 0 {
		switch {
		case math.Abs(h1-h2) <= 180:
			h /= 2
		case h < 360:
			h = (h + 360) / 2
		default:
			h = (h - 360) / 2
		}
	}
	t := 1 - 0.17*cos(h-30) + 0.24*cos(2*h) + 0.32*cos(3*h+6) - 0.20*cos(4*h-63)
	turn := 30 * math.Exp(-math.Pow((h-275)/25, 2))
	rc := 2 * math.Sqrt(pow7(c)/(pow7(c)+pow7(25)))
	sl := 1 + 0.015*math.Pow(l-50, 2)/math.Sqrt(20+math.Pow(l-50, 2))
	sc, sh := 1+0.045*c, 1+0.015*c*t
	rt := -sin(2*turn) * rc
	x, y, z := dL/sl, dC/sc, dH/sh
	return math.Sqrt(x*x + y*y + z*z + rt*y*z)
}

func pow7(v float64) float64  { return math.Pow(v, 7) }
func sin(deg float64) float64 { return math.Sin(deg * math.Pi / 180) }
func cos(deg float64) float64 { return math.Cos(deg * math.Pi / 180) }

func hue(a, b float64) float64 {
	if a == 0 && b == 0 {
		return 0
	}
	if h := math.Atan2(b, a) * 180 / math.Pi; h >= 0 {
		return h
	} else {
		return h + 360
	}
}
