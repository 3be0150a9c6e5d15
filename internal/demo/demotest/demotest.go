// Package demotest gives tests the demo show as a house in memory.
package demotest

import (
	"embed"
	"io/fs"
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
)

// House is the whole demo show; House.At(demo.Today) is the day it is shown.
func House(t testing.TB) show.House {
	t.Helper()
	names, err := fs.Glob(demo.Files(), "*.csv")
	if err != nil {
		t.Fatal(err)
	}
	var files []intake.File
	for _, n := range names {
		b, err := fs.ReadFile(demo.Files(), n)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, intake.File{Name: n, Data: b})
	}
	h, _, err := intake.Take(show.House{Show: show.Show{Code: demo.Code, Name: demo.Name}}, files)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

//go:embed sparse
var sparse embed.FS

// Sparse is a text of somebody who begins the demo show with next to nothing:
// "cast_mail.txt", "scenes.txt", "who_is_on.csv", "rail_notes.txt",
// "shelf_and_people.txt", "typed_note.txt".
func Sparse(t testing.TB, name string) string {
	t.Helper()
	b, err := sparse.ReadFile("sparse/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
