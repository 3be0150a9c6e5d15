package store

import (
	"fmt"
	"sort"
	"strings"
	"testing"
)

// everything is every row of every table the journal keeps, as text.
func everything(t testing.TB, s *Store) string {
	t.Helper()
	var b strings.Builder
	names, err := journaled(s.r)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		for _, r := range rowsOf(t, s, name) {
			fmt.Fprintf(&b, "%s: %s\n", name, r)
		}
	}
	return b.String()
}

func rowsOf(t testing.TB, s *Store, name string) []string {
	t.Helper()
	return rowsIn(t, s.r, name)
}

func rowsIn(t testing.TB, from reader, name string) []string {
	t.Helper()
	cols, err := columnsIn(from, name)
	if err != nil {
		t.Fatal(err)
	}
	var quoted []string
	for _, c := range cols {
		quoted = append(quoted, "quote("+c.name+")")
	}
	rows, err := from.Query("SELECT " + strings.Join(quoted, " || ', ' || ") + " FROM " + name)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var r string
		if err := rows.Scan(&r); err != nil {
			t.Fatal(err)
		}
		out = append(out, r)
	}
	sort.Strings(out)
	return out
}

// replayed is every row as the journal alone would have it: all images from
// an empty house, in their order.
func replayed(t testing.TB, s *Store) string {
	t.Helper()
	empty, err := Create(t.TempDir() + "/replay")
	if err != nil {
		t.Fatal(err)
	}
	defer empty.Close()
	tx, err := empty.w.Begin()
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	names, err := journaled(tx)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		for _, e := range []string{"insert", "update", "delete"} {
			if _, err := tx.Exec("DROP TRIGGER journal_" + n + "_" + e); err != nil {
				t.Fatal(err)
			}
		}
	}
	if _, err := tx.Exec("PRAGMA defer_foreign_keys = ON"); err != nil {
		t.Fatal(err)
	}
	into := &Tx{tx: tx}
	for _, from := range []string{"image", "person_image"} {
		rows, err := s.r.Query("SELECT tbl, before, after FROM " + from + " ORDER BY id")
		if err != nil {
			t.Fatal(err)
		}
		defer rows.Close()
		for rows.Next() {
			var x touch
			if err := rows.Scan(&x.tbl, &x.before, &x.after); err != nil {
				t.Fatal(err)
			}
			x.before, x.after = x.after, x.before // forth instead of back
			if err := into.putBack(x); err != nil {
				t.Fatalf("%s: %v", x.tbl, err)
			}
		}
	}
	var b strings.Builder
	for _, name := range names {
		for _, r := range rowsIn(t, tx, name) {
			fmt.Fprintf(&b, "%s: %s\n", name, r)
		}
	}
	return b.String()
}

func firstDiff(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return x[i] + "\n" + y[i]
		}
	}
	return fmt.Sprintf("%d and %d rows", len(x), len(y))
}
