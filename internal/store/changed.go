package store

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"fmt"
	"strings"
	"time"
)

// Change is one row that is not as it was: Was is nil for a new row, Is for
// one no longer there. Rows about people name the columns and hold no value.
type Change struct {
	Table   string
	Key     []string // without the show's number
	Was, Is map[string]any
	Columns []string // that differ, in the table's order
	People  bool
	Act     Act // the last that touched it
}

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
		rows, err := s.r.Query(`SELECT a.tbl, a.key, a.before, b.after, t.id, t.at, t.who, t.words, t.kind
			FROM (SELECT min(id) AS lo, max(id) AS hi FROM `+from+` WHERE act_id > ? GROUP BY tbl, key) x
			JOIN `+from+` a ON a.id = x.lo JOIN `+from+` b ON b.id = x.hi JOIN act t ON t.id = b.act_id ORDER BY a.tbl, x.lo`, since)
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
		if err := rows.Scan(&c.Table, &key, &was, &is, &c.Act.ID, &at, &c.Act.Who, &c.Act.Words, &c.Act.Kind); err != nil {
			return nil, err
		}
		if was.Valid == is.Valid && was.String == is.String {
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
		if err := c.fill(cols[c.Table], key, was, is); err != nil {
			return nil, err
		}
		if len(c.Columns) > 0 || c.Was == nil || c.Is == nil {
			out = append(out, c)
		}
	}
	return out, rows.Err()
}

// fill reads the images; where the row lies in its list is no change.
func (c *Change) fill(cols []column, key string, was, is sql.NullString) error {
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
	for in, to := range map[*sql.NullString]*map[string]any{&was: &c.Was, &is: &c.Is} {
		if in.Valid {
			if err := unmarshal(in.String, to); err != nil {
				return err
			}
		}
	}
	for _, col := range cols {
		if c.Was != nil && c.Is != nil && col.name != "position" && c.Was[col.name] != c.Is[col.name] {
			c.Columns = append(c.Columns, col.name)
		}
	}
	if c.People {
		for _, m := range []map[string]any{c.Was, c.Is} {
			clear(m)
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
