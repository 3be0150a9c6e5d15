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
	cols, err := columnsIn(s.r, name)
	if err != nil {
		t.Fatal(err)
	}
	var quoted []string
	for _, c := range cols {
		quoted = append(quoted, "quote("+c.name+")")
	}
	rows, err := s.r.Query("SELECT " + strings.Join(quoted, " || ', ' || ") + " FROM " + name)
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
