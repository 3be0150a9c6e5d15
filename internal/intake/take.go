// Package intake turns the tables people have (lists of performers, scenes,
// garments, cloth) into rows of a house. A file is known by its column names,
// in any order; the unit stands in the column's name (chest_cm, price_eur).
//
// Nothing is guessed in silence: a cell that cannot be used stays unknown, is
// listed, and its text is kept.
package intake

import (
	"bytes"
	"fmt"
	"sort"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// File is a file as it came, by its name.
type File struct {
	Name string
	Data []byte
}

// Take merges the rows of files into a house. A row already there, by its
// code, is brought up to date; an empty cell says nothing and clears nothing;
// importing the same files twice changes nothing. The house given is not
// touched. The error is for a file that cannot be used at all: then nothing
// is taken.
func Take(h show.House, files []File) (show.House, Report, error) { return TakeAs(h, files, nil) }

// TakeAs takes files as Take does, and obeys what is told of their tables, by
// the name of the file, or of the file and the sheet as a guess names them.
func TakeAs(h show.House, files []File, told map[string]Told) (show.House, Report, error) {
	t := &taking{h: h, from: map[string]string{}}
	type job struct {
		rank int
		k    kind
		s    sheet
	}
	var jobs []job
	names := map[string]bool{}
	for _, f := range files {
		sheets, others, err := readFile(f)
		if err != nil {
			return h, Report{}, err
		}
		for _, name := range others {
			t.rep.Left = append(t.rep.Left, Line{File: f.Name, What: fmt.Sprintf("The sheet %q is no list known here; nothing in it was taken.", name)})
		}
		for _, s := range sheets {
			names[s.name] = true
			said, is := told[s.name]
			if !is && len(sheets) == 1 {
				said, is = told[f.Name]
			}
			if is {
				s.told = &said
			}
			if isShow(s) && s.told == nil {
				t.takeShow(s)
				continue
			}
			if isChangeList(s) {
				t.rep.Left = append(t.rep.Left, Line{File: s.name, What: "This is a list of changes to make, not a table of the show; nothing in it was taken."})
				continue
			}
			rank, err := recognise(s)
			if err != nil {
				return h, Report{}, err
			}
			jobs = append(jobs, job{rank, kinds[rank], s})
		}
	}
	sort.SliceStable(jobs, func(i, j int) bool { return jobs[i].rank < jobs[j].rank })
	var done []merged
	for _, j := range jobs {
		done = append(done, j.k.merge(t, j.s))
	}
	for _, m := range done {
		m.refs(t)
	}
	t.together()
	if t.from[performersList] != "" {
		t.namesakes()
	}
	for _, m := range done {
		m.changes(t)
	}
	var unread []show.Unread
	for _, u := range h.Unread {
		if !names[u.File] {
			unread = append(unread, u)
		}
	}
	t.h.Unread = append(unread, t.kept...)
	t.h.Typed, t.h.PeopleTyped = t.thingsTyped.onto(h.Typed), t.peopleTyped.onto(h.PeopleTyped)
	t.chooseUnits(h)
	return t.h, t.rep, nil
}

// recognise finds the kind of file a sheet is, by the most columns shared;
// the file's name breaks a tie.
func recognise(s sheet) (int, error) {
	if s.told != nil && s.told.Kind != "" {
		for i, k := range kinds {
			if k.editable() && k.kindName() == s.told.Kind {
				return i, nil
			}
		}
		return 0, why.NotFound("list of", s.told.Kind)
	}
	best, most := -1, 0
	for i, k := range kinds {
		n := 2 * k.score(s.header)
		if n > 0 && strings.Contains(strings.ToLower(s.name), strings.Fields(k.word())[0]) {
			n++
		}
		if n > most {
			best, most = i, n
		}
	}
	if best < 0 {
		return 0, why.Bad(s.name, fmt.Sprintf("%s begins with %q; that is no list known here.", s.name, strings.Join(s.header, ", ")),
			"Put the column names into the first row, for performers: performer_id, name, height_cm.")
	}
	return best, nil
}

// readFile reads the tables of a file: one of a CSV, those of a workbook.
func readFile(f File) (tables []sheet, others []string, err error) {
	if bytes.HasPrefix(f.Data, []byte("PK\x03\x04")) {
		return readWorkbook(f)
	}
	s, err := readSheet(f)
	return []sheet{s}, nil, err
}

// isChangeList says whether a sheet lists edits to other tables.
func isChangeList(s sheet) bool {
	have := map[string]bool{}
	for _, h := range s.header {
		have[tidy(h)] = true
	}
	return have["file"] && have["row"] && have["field"] && have["change"]
}
