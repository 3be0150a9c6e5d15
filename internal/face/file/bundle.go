package file

import (
	"archive/zip"
	"html/template"
	"io"
	"time"
)

// Entry is one file of a bundle.
type Entry struct {
	Name string // with its folder: "sheets/rail.html"
	Says string // what it is, for the list; empty: not listed
	Body []byte
}

var cover = template.Must(template.New("cover").Parse(`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>{{.Title}}</title></head>
<body><h1>{{.Title}}</h1><p>{{.Day}}. Everything of this show that outlives it, readable without the program: sheets to open and print, lists as spreadsheets, pictures. It holds no name and no measure of a performer.</p>
<ul>{{range .Entries}}{{if .Says}}<li><a href="{{.Name}}">{{.Says}}</a></li>{{end}}{{end}}</ul></body></html>
`))

// Bundle writes entries as one ZIP file with a cover that lists them.
func Bundle(w io.Writer, title, day string, at time.Time, entries []Entry) error {
	z := zip.NewWriter(w)
	create := func(name string) (io.Writer, error) {
		return z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: at})
	}
	f, err := create("index.html")
	if err != nil {
		return err
	}
	if err := cover.Execute(f, struct {
		Title, Day string
		Entries    []Entry
	}{title, day, entries}); err != nil {
		return err
	}
	for _, e := range entries {
		f, err := create(e.Name)
		if err != nil {
			return err
		}
		if _, err := f.Write(e.Body); err != nil {
			return err
		}
	}
	return z.Close()
}
