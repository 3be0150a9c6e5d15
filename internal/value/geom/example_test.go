package geom_test

import (
	"fmt"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// A cloth of two metres by one with a flaw: what is left after a hem of 2 cm
// and a gap of 1 cm round the flaw, and the largest disc it yields. By hand:
// 196 by 96, less 10 by 20 and 60 by 1 and a disc of radius 1.
func Example() {
	const cm = units.Centimetre
	cloth := geom.Region{geom.Rect(200*cm, 100*cm)}
	flaw := geom.Region{geom.Rect(10*cm, 20*cm).Move(geom.Point{X: 100 * cm, Y: 40 * cm})}

	left := cloth.Offset(-2*cm, geom.Mitred(2)).Minus(flaw.Offset(1*cm, geom.Rounded(100)))
	centre, radius := left.Pole(10)

	fmt.Printf("%d outlines, %.4f m²\n", len(left), left.Area().M2())
	fmt.Printf("a disc %.1f cm wide, its middle %.0f cm from the selvedge\n", 2*radius.Cm(), centre.Y.Cm())
	// Output:
	// 2 outlines, 1.8553 m²
	// a disc 96.0 cm wide, its middle 50 cm from the selvedge
}

// A bow tie crosses itself; filled, it is two triangles.
func ExampleFill() {
	tie := geom.Outline{{X: 0, Y: 0}, {X: 20, Y: 20}, {X: 20, Y: 0}, {X: 0, Y: 20}}
	fmt.Println(tie.Fault())
	fmt.Println(geom.Fill(tie))
	// Output:
	// touches or crosses itself at edges 1 and 3
	// [[{0 0} {10 10} {0 20}] [{10 10} {20 0} {20 20}]]
}
