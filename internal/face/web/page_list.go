package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"hemwright/internal/intake"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// listView is a list as a table one can write in.
type listView struct {
	Frame
	Kind, Many, Back, Listed string
	Find, Sort               string
	Down                     bool
	Query                    string // this view of the list, for the forms on it
	Heads                    []listHead
	Every                    []listColumn
	Rows                     []listRow
	Of, Found                int
	Before, After            string
	New                      []string // codes just made
	List                     intake.List
	Groups                   []string
	Column, Value, Group     string // as chosen and typed for several rows
	Fault                    string
}

type listHead struct {
	intake.Head
	Href, Sorted string
}

type listColumn struct {
	Key, Label string
	Shown      bool
}

type listRow struct {
	Kind, Code    string
	Ticked, Fresh bool
	Cells         []listCell
	Rest          string // what its other columns say, for the search
}

type listCell struct {
	Key, Label, Value, Assumed, Hex string
	Number                          bool
}

// shownAtFirst are as many columns as a list shows unless others are asked
// for: the first that say anything.
const shownAtFirst = 9

// columnsOf chooses the columns shown.
func columnsOf(l intake.List, asked []string) []int {
	var out, filled []int
	for i, h := range l.Heads {
		if slices.Contains(asked, h.Key) {
			out = append(out, i)
		}
		if (h.Filled > 0 || len(l.Rows) == 0) && len(filled) < shownAtFirst {
			filled = append(filled, i)
		}
	}
	if len(out) == 0 {
		return filled
	}
	return out
}

// list shows the rows of a kind.
func (s *server) list(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	v, err := s.listPage(r, p)
	if err != nil {
		return err
	}
	return s.show(w, http.StatusOK, "list", &v)
}

func (s *server) listPage(r *http.Request, p *workshop.Prepared) (listView, error) {
	kind := r.PathValue("kind")
	l, err := intake.ListOf(&p.House, kind)
	if err != nil {
		return listView{}, err
	}
	at, q := listPages[kind], r.URL.Query()
	v := listView{Kind: kind, Many: l.Many, Back: at.Href, Listed: at.Name, Find: q.Get("find"), Sort: q.Get("sort"), Down: q.Get("down") != "", Of: len(l.Rows), List: l,
		New: q["new"], Query: kept(q, "find", "sort", "down", "col", "from")}
	cols := columnsOf(l, q["col"])
	l.Find(v.Find)
	v.Found = len(l.Rows)
	if v.Sort != "" {
		by := v.Sort
		if by == "code" {
			by = ""
		}
		if err := l.Sort(by, v.Down); err != nil {
			return v, err
		}
	}
	for i, h := range l.Heads {
		v.Every = append(v.Every, listColumn{h.Key, h.Label, slices.Contains(cols, i)})
	}
	for _, i := range cols {
		v.Heads = append(v.Heads, v.head(l.Heads[i], q))
	}
	var rows []intake.ListRow
	rows, v.Before, v.After = stretch(l.Rows, r)
	for _, row := range rows {
		one := listRowOf(p, l, row, cols)
		one.Fresh = slices.Contains(v.New, row.Code)
		v.Rows = append(v.Rows, one)
	}
	if l.Group {
		v.Groups = intake.Groups(&p.House)
	}
	v.Frame = s.frame(p, why.Capital(l.Many), at.Href, nil)
	return v, nil
}

// kept is the part of a query that goes on to the next page.
func kept(q url.Values, keys ...string) string {
	out := url.Values{}
	for _, k := range keys {
		if len(q[k]) > 0 && q[k][0] != "" {
			out[k] = q[k]
		}
	}
	return out.Encode()
}

// head is a column's head, with the address of the list sorted by it: the
// other way round where it is already.
func (v *listView) head(h intake.Head, q url.Values) listHead {
	out := listHead{Head: h}
	to, _ := url.ParseQuery(kept(q, "find", "col"))
	to.Set("sort", h.Key)
	if v.Sort == h.Key {
		out.Sorted = "ascending"
		if v.Down {
			out.Sorted = "descending"
		} else {
			to.Set("down", "yes")
		}
	}
	out.Href = "/list/" + v.Kind + "?" + to.Encode()
	return out
}

// Code is the head of the codes.
func (v *listView) Code() listHead {
	q, _ := url.ParseQuery(v.Query)
	return v.head(intake.Head{Key: "code", Label: "code"}, q)
}

// Step says what one size up adds.
func (v *listView) Step() string { return intake.StepUp(v.Units) }

func listRowOf(p *workshop.Prepared, l intake.List, row intake.ListRow, cols []int) listRow {
	out := listRow{Kind: l.Kind, Code: row.Code}
	var rest []string
	for i, c := range row.Cells {
		if !slices.Contains(cols, i) {
			rest = append(rest, c.Value)
			continue
		}
		h := l.Heads[i]
		one := listCell{Key: h.Key, Label: h.Label, Value: c.Value, Assumed: c.Assumed, Number: h.Number}
		if h.Key == "colour" {
			one.Hex = hexOf(&p.House, c.Value)
		}
		out.Cells = append(out.Cells, one)
	}
	out.Rest = strings.Join(strings.Fields(strings.Join(rest, " ")), " ")
	return out
}

// changeList does something with the ticked rows of a list, all at once.
func (s *server) changeList(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return why.Bad("form", "The form did not arrive whole.", "Send it again.")
	}
	kind, rows := r.PathValue("kind"), r.PostForm["row"]
	q, _ := url.ParseQuery(kept(r.URL.Query(), "find", "sort", "down", "col", "from"))
	var made []string
	var err error
	switch do := r.PostFormValue("do"); do {
	case "set":
		err = s.ws.SetEach(r.Context(), kind, rows, r.PostFormValue("column"), r.PostFormValue("value"))
	case "again", "up":
		made, err = s.ws.Again(r.Context(), kind, rows, do == "up")
	case "group":
		made, err = s.ws.ToGroup(r.Context(), kind, rows, r.PostFormValue("group"))
		if kind != "piece" {
			made = nil
		}
	case "out":
		err = s.ws.RemoveEach(r.Context(), kind, rows)
	default:
		err = why.Bad("do", fmt.Sprintf("%q is nothing one can do with rows.", do), "Use the buttons under the list.")
	}
	if err != nil {
		return s.listAgain(w, r, err, rows)
	}
	if len(made) > 0 {
		q["new"] = made
		q.Del("find")
		q.Del("from")
	}
	to := "/list/" + kind + "?" + q.Encode()
	if len(made) > 0 {
		to += "#row-" + url.PathEscape(made[0])
	}
	return back(w, r, to)
}

// listAgain shows a list once more after a refusal, with what was ticked and
// typed.
func (s *server) listAgain(w http.ResponseWriter, r *http.Request, err error, ticked []string) error {
	var e *why.Error
	if !errors.As(err, &e) {
		return err
	}
	p, perr := s.ws.Running()
	if perr != nil {
		return perr
	}
	v, perr := s.listPage(r, p)
	if perr != nil {
		return perr
	}
	for i := range v.Rows {
		v.Rows[i].Ticked = slices.Contains(ticked, v.Rows[i].Code)
	}
	v.Fault, v.Column, v.Value, v.Group = e.Error(), r.PostFormValue("column"), r.PostFormValue("value"), r.PostFormValue("group")
	return s.show(w, e.Kind.HTTPStatus(), "list", &v)
}

// inPlace is the answer to one cell written in a list: the row anew and the
// line that undoes, or why it was not taken.
type inPlace struct {
	Row   string `json:"row,omitempty"`
	Code  string `json:"code,omitempty"`
	Undo  string `json:"undo,omitempty"`
	Fault string `json:"fault,omitempty"`
}

// savedInPlace answers a save from a cell of a list.
func (s *server) savedInPlace(w http.ResponseWriter, r *http.Request, kind string, row intake.Row, ok bool, err error) error {
	var e *why.Error
	var out inPlace
	status := http.StatusOK
	switch {
	case errors.As(err, &e):
		out.Fault, status = e.Error(), e.Kind.HTTPStatus()
	case err != nil:
		return err
	case !ok:
		out.Fault, status = faultsIn(row, r.PostFormValue("cell")), http.StatusUnprocessableEntity
	default:
		if out, err = s.rowAnew(r, kind, row.Code); err != nil {
			return err
		}
	}
	body, err := json.Marshal(out)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, err = w.Write(body)
	return err
}

// faultsIn says what is wrong with a row, the fault of the field itself first.
func faultsIn(row intake.Row, key string) string {
	var own, other []string
	for _, f := range row.Fields {
		switch {
		case f.Fault == "":
		case f.Key == key:
			own = append(own, f.Fault)
		default:
			other = append(other, why.Capital(f.Label)+": "+f.Fault)
		}
	}
	return strings.Join(append(own, other...), " ")
}

func (s *server) rowAnew(r *http.Request, kind, code string) (inPlace, error) {
	p, err := s.ws.Running()
	if err != nil {
		return inPlace{}, err
	}
	l, err := intake.ListOf(&p.House, kind)
	if err != nil {
		return inPlace{}, err
	}
	cols := columnsOf(l, r.URL.Query()["col"])
	var row, undo strings.Builder
	for _, one := range l.Rows {
		if one.Code == code {
			if err := s.pages[p.House.Units].ExecuteTemplate(&row, "listrow", listRowOf(p, l, one, cols)); err != nil {
				return inPlace{}, err
			}
			break
		}
	}
	err = s.pages[p.House.Units].ExecuteTemplate(&undo, "undo", s.frame(p, "", "", nil))
	return inPlace{Row: row.String(), Code: code, Undo: undo.String()}, err
}
