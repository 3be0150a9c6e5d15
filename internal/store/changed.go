package store

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"fmt"
	"strings"
	"time"
)

// Change is one row that is not as it was. Rows about people name the columns
// and hold no value.
type Change struct {
	Table     string
	Key       []string // without the show's number
	New, Gone bool     // not there before; no longer there
	Columns   []string // that differ where it is neither, in the table's order
	People    bool
	Act       Act // the last that touched it

	image string // what the row is now; read only where a value is asked for
}

// Is is what a column holds now: nil where the row is gone, about a person, as
// long as a picture, or a new garment, of which a rail has thousands.
func (c *Change) Is(column string) any {
	var now map[string]any
	if c.image == "" || unmarshal(c.image, &now) != nil {
		return nil
	}
	return now[column]
}

// long is from which length on, in bytes, an image is a picture's: it is held
// against the other and never read.
const long = 20_000

// LastAct is the number of the latest act, 0 in a new house.
func (s *Store) LastAct() (int64, error) {
	var id sql.NullInt64
	if err := s.r.QueryRow("SELECT max(id) FROM act").Scan(&id); err != nil {
		return 0, s.words(err)
	}
	return id.Int64, nil
}

// ActBefore is the number of the last act done before a moment, 0 where there
// was none. Acts are counted in their order, so that a clock set back hides
// none: what was written later counts as later.
func (s *Store) ActBefore(when time.Time) (int64, error) {
	var id sql.NullInt64
	err := s.r.QueryRow("SELECT min(id) - 1 FROM act WHERE at >= ?", when.UTC().Format(time.RFC3339)).Scan(&id)
	if err != nil {
		return 0, s.words(err)
	}
	if !id.Valid {
		return s.LastAct()
	}
	return id.Int64, nil
}

// Changed lists the rows that differ from what they were after an act, by
// table and in the order they were first touched; what was undone since is
// not among them.
func (s *Store) Changed(since int64) ([]Change, error) {
	var out []Change
	for _, from := range []string{"image", "person_image"} {
		rows, err := s.r.Query(`SELECT a.tbl, a.key, a.before IS NULL, b.after IS NULL, a.before IS b.after,
				CASE WHEN b.after IS NOT NULL AND octet_length(a.before) <= ?2 THEN a.before END, CASE WHEN octet_length(b.after) <= iif(a.before IS NULL AND a.tbl = 'garment', 0, ?2) THEN b.after END,
				t.id, t.at, t.who, t.words, t.kind
			FROM (SELECT min(id) AS lo, max(id) AS hi FROM `+from+` WHERE id >= (SELECT id FROM `+from+` WHERE act_id > ?1 ORDER BY act_id, id LIMIT 1) GROUP BY tbl, key) x
			JOIN `+from+` a ON a.id = x.lo JOIN `+from+` b ON b.id = x.hi JOIN act t ON t.id = b.act_id ORDER BY a.tbl, x.lo`, since, long)
		if err != nil {
			return nil, s.words(err)
		}
		got, err := s.readChanges(rows, from == "person_image")
		if err != nil {
			return nil, s.words(err)
		}
		out = append(out, got...)
	}
	return out, nil
}

func (s *Store) readChanges(rows *sql.Rows, people bool) ([]Change, error) {
	defer rows.Close()
	cols := map[string][]column{}
	var out []Change
	for rows.Next() {
		c := Change{People: people}
		var key, at string
		var was, is sql.NullString
		var same bool
		if err := rows.Scan(&c.Table, &key, &c.New, &c.Gone, &same, &was, &is, &c.Act.ID, &at, &c.Act.Who, &c.Act.Words, &c.Act.Kind); err != nil {
			return nil, err
		}
		if same {
			continue
		}
		if cols[c.Table] == nil {
			known, err := columnsIn(s.r, c.Table)
			if err != nil {
				return nil, err
			}
			cols[c.Table] = known
		}
		var err error
		if c.Act.When, err = time.Parse(time.RFC3339, at); err != nil {
			return nil, err
		}
		if err := c.fill(cols[c.Table], key, was.String, is.String); err != nil {
			return nil, err
		}
		if len(c.Columns) > 0 || c.New || c.Gone {
			out = append(out, c)
		}
	}
	return out, rows.Err()
}

// fill reads the images; where the row lies in its list is no change.
func (c *Change) fill(cols []column, key string, was, is string) error {
	var parts []any
	if err := unmarshal(key, &parts); err != nil {
		return err
	}
	if len(cols) > 0 && cols[0].name == "show_id" && len(parts) > 0 {
		parts = parts[1:]
	}
	for _, p := range parts {
		c.Key = append(c.Key, strings.TrimSpace(fmt.Sprint(p)))
	}
	if !c.People {
		c.image = is
	}
	switch {
	case c.New || c.Gone:
		return nil
	case was == "" || is == "": // long
		c.Columns = []string{cols[len(cols)-1].name}
		return nil
	}
	var before, after map[string]any
	if err := unmarshal(was, &before); err != nil {
		return err
	}
	if err := unmarshal(is, &after); err != nil {
		return err
	}
	for _, col := range cols {
		if col.name != "position" && before[col.name] != after[col.name] {
			c.Columns = append(c.Columns, col.name)
		}
	}
	return nil
}

// unmarshal keeps whole numbers whole.
func unmarshal(text string, to any) error {
	d := json.NewDecoder(bytes.NewReader([]byte(text)))
	d.UseNumber()
	return d.Decode(to)
}

// Erasings lists the acts after one that cannot be taken back.
func (s *Store) Erasings(since int64) ([]Act, error) {
	rows, err := s.r.Query("SELECT id, at, who, words, kind FROM act WHERE final > 0 AND id > ? ORDER BY id", since)
	if err != nil {
		return nil, s.words(err)
	}
	defer rows.Close()
	var out []Act
	for rows.Next() {
		var a Act
		var at string
		if err := rows.Scan(&a.ID, &at, &a.Who, &a.Words, &a.Kind); err != nil {
			return nil, err
		}
		if a.When, err = time.Parse(time.RFC3339, at); err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	return out, rows.Err()
}
