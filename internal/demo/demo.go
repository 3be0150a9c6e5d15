// Package demo holds the invented show "The Night Ferry to Marigold Quay":
// for newcomers, for tests and for pictures. No other package names anything
// in it.
package demo

import (
	"embed"
	"io/fs"

	"hemwright/internal/value/units"
)

// Code and Name are the show's own.
const (
	Code = "demo"
	Name = "The Night Ferry to Marigold Quay"
)

// Today is 14 March 2027, the day on which the demo is shown: some finds are
// bought, no fitting has been held, the opening is two months away.
const Today units.Date = 46459

//go:embed data/*.csv
var data embed.FS

// Files are the demo's tables, by name: "cast.csv" and so on.
func Files() fs.FS {
	sub, err := fs.Sub(data, "data")
	if err != nil {
		panic(err) // the folder is built in
	}
	return sub
}
