package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// Erase says who is to be forgotten.
type Erase struct {
	Performers []show.PerformerID          // nobody is everybody of the show
	Roles      map[show.PerformerID]string // what each is called afterwards
	Small      bool                        // replace names written small, too: a rose, an amber silk
	Act        Act
}

// ErasedLine is a kept text that holds a name, before and after.
type ErasedLine struct {
	Where       string // table and key
	Before      string
	After       string // the same where it only resembles a name and stays
	OnlySimilar bool
}

// Erasing is what an erasing takes away, or took away.
type Erasing struct {
	Names   []string
	Rows    int // about them
	Cells   int // about people, not understood: nobody can say whose they are
	Lines   []ErasedLine
	Copies  int // rewritten or removed
	Outside []Outside
}

// Outside is a paper or file that left the house and may hold people's data.
type Outside struct{ Kind, Name, Day string }

// Preview says what an erasing would take away; nothing is changed.
func (s *Store) Preview(ctx context.Context, e Erase) (Erasing, error) {
	out, err := s.erase(ctx, e, true)
	out.Copies = len(s.Copies())
	out.Outside = append(out.Outside, s.beside()...)
	return out, err
}

// beside are other houses in the same folder, and their copies: made by hand,
// damaged or repaired. They are not touched.
func (s *Store) beside() []Outside {
	entries, err := os.ReadDir(filepath.Dir(s.path))
	if err != nil {
		return nil
	}
	var out []Outside
	for _, e := range entries {
		p := filepath.Join(filepath.Dir(s.path), e.Name())
		other := e.Type().IsRegular() && (look(p) == nil || len(copiesOf(p)) > 0) ||
			e.IsDir() && strings.HasSuffix(e.Name(), "-copies") && len(copiesOf(strings.TrimSuffix(p, "-copies"))) > 0
		if other && p != filepath.Clean(s.path) && p != filepath.Clean(copiesDir(s.path)) {
			out = append(out, Outside{Kind: "copy", Name: p})
		}
	}
	return out
}

// Erase forgets people for good: their rows, what the journal holds of them,
// every result, their names in kept texts, and the same in the copies the
// program made. Then the file is written anew. It cannot be undone, nor can
// what was done before it.
func (s *Store) Erase(ctx context.Context, e Erase) (Erasing, error) {
	if err := s.mayWrite(); err != nil {
		return Erasing{}, err
	}
	if err := s.keepCopy(); err != nil {
		return Erasing{}, err
	}
	// the copies first: cut off in between, the house still knows whom to
	// erase, and it is done again
	copies, err := s.eraseCopies(ctx, e)
	if err != nil {
		return Erasing{}, err
	}
	out, err := s.erase(ctx, e, false)
	if err != nil {
		return out, err
	}
	out.Copies = copies
	out.Outside = append(out.Outside, s.beside()...)
	return out, s.rebuild()
}

// rebuild writes the file anew, so that no free page holds what was erased.
func (s *Store) rebuild() error {
	s.busy.Lock()
	defer s.busy.Unlock()
	if _, err := s.w.Exec("VACUUM"); err != nil {
		return s.words(err)
	}
	_, err := s.w.Exec("UPDATE act SET final = 1 WHERE final = 2")
	if err != nil {
		return s.words(err)
	}
	return nil
}

// eraseCopies erases the same people in every copy the program made; a copy
// that cannot be opened is removed. Each is rewritten beside itself first, so
// that it is whole at any moment.
func (s *Store) eraseCopies(ctx context.Context, e Erase) (int, error) {
	var paths []string
	for _, c := range s.Copies() {
		paths = append(paths, c.Path)
	}
	older, _ := filepath.Glob(s.path + ".before-version-*") // the pattern is well formed
	for _, p := range parts(s.path) {
		if err := os.Remove(p); err != nil {
			return 0, s.words(err)
		}
	}
	for _, p := range append(paths, older...) {
		if eraseCopy(ctx, p, e) == nil {
			continue
		}
		if err := os.Remove(p); err != nil {
			return 0, s.words(err)
		}
	}
	return len(paths) + len(older), nil
}

func eraseCopy(ctx context.Context, path string, e Erase) error {
	if err := look(path); err != nil {
		return err
	}
	part := path + ".part"
	defer os.Remove(part)
	if err := copyFile(part, path); err != nil {
		return err
	}
	c, err := open(part, false)
	if err != nil {
		return err
	}
	if _, err = c.erase(ctx, e, false); err == nil {
		err = c.rebuild()
	}
	if err = errors.Join(err, c.Close()); err != nil {
		return err
	}
	return os.Rename(part, path)
}

// errPreview ends the transaction of a preview.
var errPreview = errors.New("only to look at")

func (s *Store) erase(ctx context.Context, e Erase, preview bool) (Erasing, error) {
	var x *eraser
	_, err := s.do(ctx, e.Act, "act", 0, func(tx *Tx) error {
		x = &eraser{tx: tx, show: s.show, e: e, roles: map[string]string{}}
		if err := x.run(preview); err != nil {
			return err
		}
		if preview {
			return errPreview
		}
		return nil
	})
	if x == nil {
		return Erasing{}, err
	}
	if errors.Is(err, errPreview) {
		err = nil
	}
	return x.out, err
}

// eraser is one erasing under way.
type eraser struct {
	tx    *Tx
	show  int64
	e     Erase
	who   []string // codes
	roles map[string]string
	names rewriter
	out   Erasing
}

// run erases; to look at what would go, the journal need not be gone through.
func (x *eraser) run(preview bool) error {
	if _, err := x.tx.tx.Exec("PRAGMA defer_foreign_keys = ON"); err != nil {
		return err
	}
	steps := []func() error{x.find, x.rows, x.texts, x.images, x.rest}
	if preview {
		steps = []func() error{x.find, x.rows, x.texts, x.outside}
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func (x *eraser) all() bool { return len(x.e.Performers) == 0 }

// strings reads one column of a query.
func (x *eraser) strings(query string, args ...any) ([]string, error) {
	rows, err := x.tx.tx.Query(query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, rows.Err()
}

// find gathers who is meant and every name and measure the file or its
// journal has of them.
func (x *eraser) find() error {
	for _, p := range x.e.Performers {
		x.who = append(x.who, string(p))
	}
	if x.all() {
		var err error
		x.who, err = x.strings(`SELECT code FROM performer WHERE show_id = ?1 UNION SELECT performer FROM person WHERE show_id = ?1
			UNION SELECT json_extract(key, '$[1]') FROM person_image WHERE tbl NOT IN ('person_unread', 'person_typed') AND json_extract(key, '$[0]') = ?1`, x.show)
		if err != nil {
			return err
		}
	}
	type known struct{ code, name string }
	var all []known
	x.names.small = x.e.Small
	var check rewriter
	numbers := map[string]bool{}
	for _, code := range x.who {
		names, err := x.strings(`SELECT name FROM person WHERE show_id = ?1 AND performer = ?2
			UNION SELECT json_extract(before, '$.name') FROM person_image WHERE tbl = 'person' AND before IS NOT NULL AND key = json_array(?1, ?2)
			UNION SELECT json_extract(after, '$.name') FROM person_image WHERE tbl = 'person' AND after IS NOT NULL AND key = json_array(?1, ?2)`, x.show, code)
		if err != nil {
			return err
		}
		for _, n := range names {
			if n != "" {
				all = append(all, known{code, n})
				x.out.Names = append(x.out.Names, n)
				check.add(n, "")
			}
		}
		if err := x.measures(code, numbers); err != nil {
			return err
		}
	}
	for _, k := range all {
		as := x.e.Roles[show.PerformerID(k.code)]
		if as == "" {
			as = k.code
		}
		x.names.add(k.name, check.clean(as, k.code))
	}
	for n := range numbers {
		x.names.numbers = append(x.names.numbers, n)
	}
	sort.Slice(x.names.numbers, func(i, j int) bool {
		a, b := x.names.numbers[i], x.names.numbers[j]
		return len(a) > len(b) || len(a) == len(b) && a < b
	})
	return nil
}

// measures adds somebody's measures as people write them: centimetres with a
// point or a comma, millimetres, inches.
func (x *eraser) measures(code string, into map[string]bool) error {
	um, err := x.strings(`SELECT lo_um FROM person_measure WHERE show_id = ?1 AND performer = ?2 AND lo_um IS NOT NULL
		UNION SELECT hi_um FROM person_measure WHERE show_id = ?1 AND performer = ?2 AND hi_um IS NOT NULL
		UNION SELECT json_extract(after, '$.lo_um') FROM person_image WHERE tbl = 'person_measure' AND json_extract(after, '$.lo_um') IS NOT NULL
			AND key > rtrim(json_array(?1, ?2), ']') || ',' AND key < rtrim(json_array(?1, ?2), ']') || '-'`, x.show, code) // their keys go on: a comma, and what is measured
	if err != nil {
		return err
	}
	for _, s := range um {
		var n int64
		if _, err := fmt.Sscan(s, &n); err != nil {
			return err
		}
		exact := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%d.%04d", n/10_000, n%10_000), "0"), ".")
		for _, cm := range []string{exact, units.Metric.Print(units.Length(n))} {
			into[cm], into[strings.Replace(cm, ".", ",", 1)] = true, true
		}
		into[fmt.Sprint(n/1000)], into[s], into[units.Imperial.Print(units.Length(n))] = true, true, true
	}
	return nil
}

// rows deletes what is kept about them.
func (x *eraser) rows() error {
	names, err := journaled(x.tx.tx)
	if err != nil {
		return err
	}
	list := encodeJSON(x.who)
	for _, name := range names {
		where := ""
		switch {
		case name == "person_unread":
			where = "show_id = ?1 AND ?2 <> ''"
		case name == "person_typed":
			where = "show_id = ?1 AND code IN (SELECT value FROM json_each(?2))"
		case strings.HasPrefix(name, "person"):
			where = "show_id = ?1 AND performer IN (SELECT value FROM json_each(?2))"
		case name == "photograph":
			where = "?1 AND of_kind IN ('performer', 'person') AND code IN (SELECT value FROM json_each(?2))"
		case name == "value_origin":
			where = "?1 AND kind IN ('performer', 'person', 'feet', 'pair of feet') AND code IN (SELECT value FROM json_each(?2))"
		default:
			continue
		}
		res, err := x.tx.tx.Exec("DELETE FROM "+name+" WHERE "+where, x.show, list)
		if err != nil {
			return err
		}
		n, err := res.RowsAffected()
		if err != nil {
			return err
		}
		if name == "person_unread" {
			x.out.Cells += int(n)
		} else {
			x.out.Rows += int(n)
		}
	}
	return nil
}

// images takes them out of the journal. The images this erasing made go, as
// does every image of their rows; in the others the names are replaced just
// as in the rows, so that the journal still leads to what is there.
func (x *eraser) images() error {
	list := encodeJSON(x.who)
	for _, q := range []string{
		"DELETE FROM image WHERE act_id = (SELECT act_id FROM current_act) AND ?1 AND ?2 <> ''",
		"DELETE FROM person_image WHERE act_id = (SELECT act_id FROM current_act) AND ?1 AND ?2 <> ''",
		"DELETE FROM person_image WHERE json_extract(key, '$[0]') = ?1 AND (tbl = 'person_unread' OR tbl <> 'person_typed' AND json_extract(key, '$[1]') IN (SELECT value FROM json_each(?2)))",
		"DELETE FROM person_image WHERE tbl = 'person_typed' AND json_extract(key, '$[0]') = ?1 AND json_extract(key, '$[2]') IN (SELECT value FROM json_each(?2))",
		"DELETE FROM image WHERE tbl IN ('photograph', 'value_origin') AND ?1 AND json_extract(key, '$[0]') IN ('performer', 'person', 'feet', 'pair of feet') AND json_extract(key, '$[1]') IN (SELECT value FROM json_each(?2))",
	} {
		if _, err := x.tx.tx.Exec(q, x.show, list); err != nil {
			return err
		}
	}
	for _, into := range []string{"image", "person_image"} {
		if err := x.rewriteImages(into); err != nil {
			return err
		}
	}
	return nil
}

// outside lists what left the house.
func (x *eraser) outside() error {
	rows, err := x.tx.tx.Query("SELECT kind, name, day FROM outside WHERE show_id = ? ORDER BY kind, day, name", x.show)
	if err != nil {
		return err
	}
	for rows.Next() {
		var o Outside
		if err := rows.Scan(&o.Kind, &o.Name, &o.Day); err != nil {
			return errors.Join(err, rows.Close())
		}
		x.out.Outside = append(x.out.Outside, o)
	}
	return errors.Join(rows.Err(), rows.Close())
}

// rest is what the journal does not keep: results, the words of acts, what
// lies outside.
func (x *eraser) rest() error {
	if _, err := x.tx.tx.Exec("DELETE FROM result WHERE show_id = ?", x.show); err != nil {
		return err
	}
	if err := x.outside(); err != nil {
		return err
	}
	if x.all() {
		if _, err := x.tx.tx.Exec("DELETE FROM outside WHERE show_id = ?", x.show); err != nil {
			return err
		}
	}
	for _, c := range [][2]string{{"act", "words"}, {"act", "who"}, {"outside", "name"}} {
		if err := x.rewriteColumn(c[0], c[1]); err != nil {
			return err
		}
	}
	x.tx.final = true
	_, err := x.tx.tx.Exec("UPDATE act SET final = 2 WHERE id = (SELECT act_id FROM current_act)")
	return err
}

// Left notes a paper or file that left the house: of kind paper, spreadsheet
// or copy.
func (s *Store) Left(kind, name, day string) error {
	s.busy.Lock()
	defer s.busy.Unlock()
	if _, err := s.w.Exec("INSERT OR IGNORE INTO outside (show_id, kind, name, day) VALUES (?, ?, ?, ?)", s.show, kind, name, day); err != nil {
		return s.words(err)
	}
	return nil
}
