package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"hemwright/internal/value/why"
)

// Repaired says what came out of a damaged file.
type Repaired struct {
	Path     string   // the new file
	From     string   // the copy it was begun from, or empty
	Rows     int      // read out of the damaged file
	InPart   []string // tables not read to their end; what the copy had of them stays
	Dropped  int64    // rows left out because what they belong to is lost
	Unopened bool     // nothing of the damaged file could be read
}

// Repair makes a new file of what can be read of a damaged one, table by
// table, over its newest whole copy. The damaged file is not touched. Its
// own journal is not brought over: the repair is one act on top of the
// copy's.
func Repair(ctx context.Context, path string, a Act) (Repaired, error) {
	var out Repaired
	if _, err := os.Stat(path); err != nil {
		return out, look(path)
	}
	if look(path) == nil && whole(path) {
		return out, &why.Error{Kind: why.Conflict, Field: "file", What: fmt.Sprintf("%s is whole; there is nothing to repair.", path), Try: "Open it: hemwright open --file " + path}
	}
	ext := filepath.Ext(path)
	out.Path = strings.TrimSuffix(path, ext) + "-repaired" + ext
	if _, err := os.Stat(out.Path); err == nil {
		return out, &why.Error{Kind: why.Conflict, Field: "file", What: fmt.Sprintf("%s is there already.", out.Path), Try: "Look into it; move it away to repair again."}
	}
	s, err := out.begin(path)
	if err != nil {
		return out, err
	}
	if err = out.fill(ctx, s, path, a); err != nil {
		s.Close()
		os.Remove(out.Path)
		return out, err
	}
	return out, s.Close()
}

// begin makes the new file: the newest whole copy, or an empty house.
func (out *Repaired) begin(path string) (*Store, error) {
	c, ok := newestWhole(path)
	if !ok {
		f, err := os.OpenFile(out.Path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
		if err != nil {
			return nil, why.Bad("file", fmt.Sprintf("%s cannot be written: %s.", out.Path, reason(err)), "Copy the damaged file to a folder you may write in.")
		}
		f.Close()
		return open(out.Path, false)
	}
	out.From = c.Path
	if err := copyFile(out.Path, c.Path); err != nil {
		return nil, why.Bad("file", fmt.Sprintf("%s cannot be written: %s.", out.Path, reason(err)), "Copy the damaged file to a folder you may write in.")
	}
	return open(out.Path, false)
}

// fill reads the damaged file, from a copy of it so that an act cut off is
// taken back there, and puts what was read over the new file.
func (out *Repaired) fill(ctx context.Context, s *Store, path string, a Act) error {
	dir, err := os.MkdirTemp(filepath.Dir(path), ".repair-")
	if err != nil {
		return s.words(err)
	}
	defer os.RemoveAll(dir)
	sick := filepath.Join(dir, "sick")
	if err := copyFile(sick, path); err != nil {
		return s.words(err)
	}
	if err := copyFile(sick+"-journal", path+"-journal"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return s.words(err)
	}
	db, err := sql.Open("sqlite", dsn(sick, "rw")+"&_pragma=writable_schema(1)") // a short file is read as far as it goes
	if err != nil {
		return err
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	names, err := journaled(s.w)
	if err != nil {
		return err
	}
	if err := db.QueryRow("SELECT count(*) FROM sqlite_schema").Scan(new(int)); err != nil {
		out.Unopened = true
		return nil
	}
	part := map[string]bool{}
	for _, name := range names {
		n, ended, err := salvage(s.w, db, name)
		if err != nil {
			return fmt.Errorf("table %s: %w", name, err)
		}
		out.Rows += n
		if part[name] = !ended; part[name] {
			out.InPart = append(out.InPart, name)
		}
	}
	_, err = s.do(ctx, a, "act", 0, func(tx *Tx) error {
		if err := tx.replaceAll("temp.", part); err != nil {
			return err
		}
		out.Dropped, err = tx.dropOrphans(names)
		return err
	})
	return err
}

// salvage reads a table's rows from the front, and where it breaks off from
// the back, into a temporary table of its name. ended says that all were
// read.
func salvage(to, sick *sql.DB, name string) (n int, ended bool, err error) {
	cols, err := columnsIn(to, name)
	if err != nil {
		return 0, false, err
	}
	var all, keys, back []string
	for _, c := range cols {
		all = append(all, c.name)
		if c.key {
			keys, back = append(keys, c.name), append(back, c.name+" DESC")
		}
	}
	list := strings.Join(all, ", ")
	if _, err := to.Exec(fmt.Sprintf("CREATE TEMP TABLE %s AS SELECT %s FROM main.%s LIMIT 0", name, list, name)); err != nil {
		return 0, false, err
	}
	if _, err := to.Exec(fmt.Sprintf("CREATE UNIQUE INDEX temp.%s_key ON %s (%s)", name, name, strings.Join(keys, ", "))); err != nil {
		return 0, false, err
	}
	insert := fmt.Sprintf("INSERT OR IGNORE INTO temp.%s VALUES (%s)", name, strings.TrimSuffix(strings.Repeat("?, ", len(all)), ", "))
	for _, order := range [][]string{keys, back} {
		rows, err := sick.Query(fmt.Sprintf("SELECT %s FROM %s ORDER BY %s", list, name, strings.Join(order, ", ")))
		if err != nil {
			return n, false, nil // the table itself cannot be found
		}
		got, err := copyRows(rows, len(all), func(vals []any) error { _, err := to.Exec(insert, vals...); return err })
		n += got
		if err == nil {
			return n, true, nil
		}
	}
	return n, false, nil
}

func copyRows(rows *sql.Rows, width int, put func([]any) error) (n int, err error) {
	defer rows.Close()
	vals, at := make([]any, width), make([]any, width)
	for i := range vals {
		at[i] = &vals[i]
	}
	for rows.Next() {
		if err := rows.Scan(at...); err != nil {
			return n, err
		}
		if err := put(vals); err != nil {
			return n, err
		}
		n++
	}
	return n, rows.Err()
}

// dropOrphans removes rows whose parent is not there, until none is left.
func (tx *Tx) dropOrphans(names []string) (int64, error) {
	var dropped int64
	for again := true; again; {
		again = false
		for _, name := range names {
			wheres, err := tx.orphans(name)
			if err != nil {
				return dropped, err
			}
			for _, where := range wheres {
				res, err := tx.tx.Exec("DELETE FROM main." + name + " WHERE " + where)
				if err != nil {
					return dropped, err
				}
				n, err := res.RowsAffected()
				if err != nil {
					return dropped, err
				}
				dropped, again = dropped+n, again || n > 0
			}
		}
	}
	return dropped, nil
}

// orphans are conditions, one for each foreign key of a table, under which a
// row has no parent.
func (tx *Tx) orphans(name string) ([]string, error) {
	rows, err := tx.tx.Query(`SELECT "table", group_concat('p.' || "to" || ' = main.' || ?1 || '.' || "from", ' AND '),
		group_concat('main.' || ?1 || '.' || "from" || ' IS NOT NULL', ' AND ') FROM pragma_foreign_key_list(?1, 'main') GROUP BY id`, name)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var parent, joined, set string
		if err := rows.Scan(&parent, &joined, &set); err != nil {
			return nil, err
		}
		out = append(out, fmt.Sprintf("%s AND NOT EXISTS (SELECT 1 FROM main.%s p WHERE %s)", set, parent, joined))
	}
	return out, rows.Err()
}
