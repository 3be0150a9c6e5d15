package store

import (
	"database/sql"
	"fmt"
	"strings"
)

// column rewrites one text of a row. Names of colours are no names of people,
// and helpers and others keep their own names. A cell nobody understood that
// holds a name goes whole: what else stands in it is not known.
func (r *rewriter) column(table, col, s string) string {
	switch {
	case strings.Contains(col, "colour") || col == "hex" || col == "family" || col == "free_hues" || table == "colour" && col == "name":
		return s
	case (table == "helper" || table == "person") && col == "name":
		return s
	case table == "unread" && col == "text" && r.text(s) != s:
		return "erased"
	}
	if col == "file" {
		return r.files(r.value(s))
	}
	return r.value(s)
}

// texts replaces the names in every kept text.
func (x *eraser) texts() error {
	names, err := journaled(x.tx.tx)
	if err != nil {
		return err
	}
	for _, name := range names {
		if err := x.table(name); err != nil {
			return fmt.Errorf("table %s: %w", name, err)
		}
	}
	return nil
}

// table rewrites the rows of one table.
func (x *eraser) table(name string) error {
	cols, err := columnsIn(x.tx.tx, name)
	if err != nil {
		return err
	}
	var texts, keys []column
	var read []string
	for _, c := range cols {
		if c.key {
			keys = append(keys, c)
		}
	}
	for _, c := range append(append([]column{}, keys...), cols...) {
		if c.key || c.text {
			texts, read = append(texts, c), append(read, c.name)
		}
	}
	rows, err := x.tx.tx.Query("SELECT " + strings.Join(read, ", ") + " FROM " + name)
	if err != nil {
		return err
	}
	var changed [][]any
	_, err = copyRows(rows, len(read), func(vals []any) error {
		hit := false
		for i, c := range texts {
			s, ok := vals[i].(string)
			if !ok || !c.text || i < len(keys) {
				continue
			}
			is := x.names.column(name, c.name, s)
			switch {
			case is != s:
				hit = true
				x.line(name, vals[:len(keys)], s, is, false)
			case x.names.alike(s) && !strings.HasPrefix(name, "person"):
				x.line(name, vals[:len(keys)], s, s, true)
			}
		}
		if hit {
			changed = append(changed, append([]any{}, vals...))
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, vals := range changed {
		if err := x.rewriteRow(name, keys, texts, vals); err != nil {
			return err
		}
	}
	return nil
}

func (x *eraser) line(table string, key []any, before, after string, similar bool) {
	where := plainKey(key)
	x.out.Lines = append(x.out.Lines, ErasedLine{Where: strings.TrimSpace(table + " " + where), Before: before, After: after, OnlySimilar: similar})
}

// plainKey joins the words of a key; a show's number says nothing to people.
func plainKey(key []any) string {
	var out []string
	for _, k := range key {
		if s, ok := k.(string); ok {
			out = append(out, s)
		}
	}
	return strings.Join(out, " ")
}

// rewriteRow writes one row with its texts replaced; where that makes its key
// that of another row, it is numbered after it.
func (x *eraser) rewriteRow(name string, keys, texts []column, vals []any) error {
	var set, where []string
	var args, at []any
	n := -1
	for i, c := range texts {
		if i < len(keys) {
			where, at = append(where, c.name+" IS ?"), append(at, vals[i])
			continue
		}
		if c.name == "n" && c.key {
			n = len(args)
		}
		v := vals[i]
		if s, ok := v.(string); ok && c.text {
			v = x.names.column(name, c.name, s)
		}
		set, args = append(set, c.name+" = ?"), append(args, v)
	}
	query := "UPDATE " + name + " SET " + strings.Join(set, ", ") + " WHERE " + strings.Join(where, " AND ")
	_, err := x.tx.tx.Exec(query, append(args, at...)...)
	for tries := int64(1); err != nil && strings.Contains(err.Error(), "UNIQUE") && n >= 0 && tries < 1000; tries++ {
		was, _ := vals[len(keys)+n].(int64)
		args[n] = was + tries
		_, err = x.tx.tx.Exec(query, append(args, at...)...)
	}
	return err
}

// rewriteImages replaces the names in the images of the journal as they were
// in the rows.
func (x *eraser) rewriteImages(into string) error {
	rows, err := x.tx.tx.Query("SELECT id, tbl, key, before, after FROM " + into)
	if err != nil {
		return err
	}
	type image struct {
		id            int64
		tbl, key      string
		before, after sql.NullString
	}
	var changed []image
	for rows.Next() {
		var m image
		if err := rows.Scan(&m.id, &m.tbl, &m.key, &m.before, &m.after); err != nil {
			rows.Close()
			return err
		}
		if m.tbl == "unread" || x.names.holds(m.key) || x.names.holds(m.before.String) || x.names.holds(m.after.String) {
			changed = append(changed, m)
		}
	}
	if err := rows.Close(); err != nil {
		return err
	}
	for _, m := range changed {
		cols, err := columnsIn(x.tx.tx, m.tbl)
		if err != nil {
			return err
		}
		key, err := x.rewriteKey(m.tbl, cols, m.key)
		if err != nil {
			return err
		}
		for _, s := range []*sql.NullString{&m.before, &m.after} {
			if s.Valid {
				if s.String, err = x.rewriteImage(m.tbl, cols, s.String); err != nil {
					return err
				}
			}
		}
		if _, err := x.tx.tx.Exec("UPDATE "+into+" SET key = ?, before = ?, after = ? WHERE id = ?", key, m.before, m.after, m.id); err != nil {
			return err
		}
	}
	return nil
}

func (x *eraser) rewriteKey(table string, cols []column, key string) (string, error) {
	var parts []any
	if err := unmarshal(key, &parts); err != nil {
		return "", err
	}
	i := 0
	for _, c := range cols {
		if !c.key || i >= len(parts) {
			continue
		}
		if s, ok := parts[i].(string); ok {
			parts[i] = x.names.column(table, c.name, s)
		}
		i++
	}
	return encodeJSON(parts), nil
}

func (x *eraser) rewriteImage(table string, cols []column, text string) (string, error) {
	var m map[string]any
	if err := unmarshal(text, &m); err != nil {
		return "", err
	}
	for _, c := range cols {
		if s, ok := m[c.name].(string); ok && c.text {
			m[c.name] = x.names.column(table, c.name, s)
		}
	}
	return encodeJSON(m), nil
}

// rewriteColumn replaces the names in a table the journal does not keep.
func (x *eraser) rewriteColumn(table, col string) error {
	rows, err := x.tx.tx.Query("SELECT id, " + col + " FROM " + table)
	if err != nil {
		return err
	}
	changed := map[int64]string{}
	for rows.Next() {
		var id int64
		var s string
		if err := rows.Scan(&id, &s); err != nil {
			rows.Close()
			return err
		}
		is := x.names.files(x.names.value(s))
		// after a colon the words of an act hold what somebody typed, cut short
		if deed, _, typed := strings.Cut(s, ": "); typed && (x.all() || x.names.alike(s)) {
			is = deed + ": erased"
		}
		if is != s {
			changed[id] = is
		}
	}
	if err := rows.Close(); err != nil {
		return err
	}
	for id, s := range changed {
		if _, err := x.tx.tx.Exec("UPDATE OR REPLACE "+table+" SET "+col+" = ? WHERE id = ?", s, id); err != nil {
			return err
		}
	}
	return nil
}
