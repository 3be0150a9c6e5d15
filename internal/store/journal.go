package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// Act is one deed of a person, in words.
type Act struct {
	ID    int64
	Who   string
	Words string
	When  time.Time
	Kind  string // act, undo, redo
	Gone  bool   // taken back since
}

// Tx is the transaction of one act.
type Tx struct {
	tx    *sql.Tx
	show  int64
	final bool // leaves no image and stands all the same

	putters map[string]putter
}

// Do runs one act: one transaction, one entry in the journal with an image of
// every row it touched. An act that touched nothing leaves no entry. On an
// error nothing is changed.
func (s *Store) Do(ctx context.Context, a Act, f func(*Tx) error) error {
	_, err := s.do(ctx, a, "act", 0, f)
	return err
}

// House reads the house within the act, so that nothing another program wrote
// meanwhile is lost.
func (tx *Tx) House() (show.House, error) { return readHouse(tx.tx, tx.show) }

func (s *Store) do(ctx context.Context, a Act, kind string, reverses int64, f func(*Tx) error) (int64, error) {
	if err := s.mayWrite(); err != nil {
		return 0, err
	}
	s.busy.Lock()
	defer s.busy.Unlock()
	tx, err := s.w.BeginTx(ctx, nil)
	if err != nil {
		return 0, s.words(err)
	}
	defer tx.Rollback()
	var back any
	if reverses != 0 {
		back = reverses
	}
	res, err := tx.Exec("INSERT INTO act (at, who, words, kind, reverses) VALUES (?, ?, ?, ?, ?)", a.When.UTC().Format(time.RFC3339), a.Who, a.Words, kind, back)
	if err != nil {
		return 0, s.words(err)
	}
	id, err := res.LastInsertId()
	if err != nil {
		return 0, err
	}
	if _, err := tx.Exec("INSERT OR REPLACE INTO current_act (one, act_id) VALUES (1, ?)", id); err != nil {
		return 0, s.words(err)
	}
	t := &Tx{tx: tx, show: s.show}
	if err := f(t); err != nil {
		return 0, s.words(err)
	}
	if _, err := tx.Exec("DELETE FROM current_act"); err != nil {
		return 0, s.words(err)
	}
	var touched int
	if err := tx.QueryRow("SELECT (SELECT count(*) FROM image WHERE act_id = ?1) + (SELECT count(*) FROM person_image WHERE act_id = ?1)", id).Scan(&touched); err != nil {
		return 0, s.words(err)
	}
	if touched == 0 && !t.final {
		return 0, nil
	}
	if reverses != 0 {
		if _, err := tx.Exec("UPDATE act SET reversed_by = ? WHERE id = ?", id, reverses); err != nil {
			return 0, s.words(err)
		}
	}
	if err := tx.Commit(); err != nil {
		return 0, s.words(err)
	}
	return id, nil
}

// mayWrite waits until the file is looked through, and refuses where it is
// damaged or was taken away while it was open: what is written into a removed
// file is gone with the program.
func (s *Store) mayWrite() error {
	<-s.looked
	if s.trouble != nil {
		return s.trouble
	}
	now, err := os.Stat(s.path)
	if err == nil && os.SameFile(now, s.file) {
		return nil
	}
	try := "Put it back and open it again."
	if rescued := s.rescue(); rescued != "" {
		try = fmt.Sprintf("What was in it is kept in %s: open that, or put the file back.", rescued)
	}
	return why.Bad("file", fmt.Sprintf("%s was moved, removed or replaced while it was open; nothing was changed.", s.path), try)
}

// rescue writes what a file taken away held as a copy beside its place, and
// says where; empty where that is no more.
func (s *Store) rescue() string {
	if s.keepCopy() != nil {
		return ""
	}
	if all := s.Copies(); len(all) > 0 {
		return all[0].Path
	}
	return ""
}

// Acts lists the latest acts, the newest first.
func (s *Store) Acts(limit int) ([]Act, error) {
	rows, err := s.r.Query("SELECT id, at, who, words, kind, reversed_by IS NOT NULL FROM act ORDER BY id DESC LIMIT ?", limit)
	if err != nil {
		return nil, s.words(err)
	}
	defer rows.Close()
	var out []Act
	for rows.Next() {
		var a Act
		var at string
		if err := rows.Scan(&a.ID, &at, &a.Who, &a.Words, &a.Kind, &a.Gone); err != nil {
			return nil, err
		}
		if a.When, err = time.Parse(time.RFC3339, at); err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	return out, rows.Err()
}

// Undo takes back the last act that stands. Redo does again what was undone
// last, as long as nothing was done since. Both are acts themselves.
func (s *Store) Undo(ctx context.Context, who string, when time.Time) (Act, error) {
	return s.back(ctx, "undo", who, when,
		"SELECT id, words, final FROM act WHERE kind IN ('act', 'redo') AND reversed_by IS NULL ORDER BY id DESC LIMIT 1",
		"There is nothing to undo.")
}

// Redo does again what was undone last.
func (s *Store) Redo(ctx context.Context, who string, when time.Time) (Act, error) {
	return s.back(ctx, "redo", who, when,
		`SELECT id, words, final FROM act WHERE kind = 'undo' AND reversed_by IS NULL
			AND id > coalesce((SELECT max(id) FROM act WHERE kind = 'act'), 0) ORDER BY id DESC LIMIT 1`,
		"There is nothing to do again.")
}

func (s *Store) back(ctx context.Context, kind, who string, when time.Time, pick, nothing string) (Act, error) {
	a := Act{Who: who, When: when, Kind: kind}
	var id int64
	var final bool
	err := s.r.QueryRow(pick).Scan(&id, &a.Words, &final)
	if errors.Is(err, sql.ErrNoRows) {
		return a, &why.Error{Kind: why.Conflict, What: nothing, Try: "What you do from now on can be undone."}
	}
	if err != nil {
		return a, s.words(err)
	}
	if final {
		return a, notBack(a.Words)
	}
	a.ID, err = s.do(ctx, a, kind, id, func(tx *Tx) error { return tx.reverse(id) })
	return a, err
}

// UndoAct takes back an older act, where no later act touched its rows.
func (s *Store) UndoAct(ctx context.Context, id int64, who string, when time.Time) (Act, error) {
	a := Act{Who: who, When: when, Kind: "undo"}
	var gone, before bool
	err := s.r.QueryRow("SELECT words, reversed_by IS NOT NULL, id <= (SELECT coalesce(max(id), 0) FROM act WHERE final > 0) FROM act WHERE id = ?", id).Scan(&a.Words, &gone, &before)
	if errors.Is(err, sql.ErrNoRows) {
		return a, why.NotFound("act", fmt.Sprint(id))
	}
	if err != nil {
		return a, s.words(err)
	}
	if before {
		return a, notBack(a.Words)
	}
	var later int
	for _, t := range []string{"image", "person_image"} {
		var n int
		err := s.r.QueryRow("SELECT count(*) FROM "+t+" a JOIN "+t+" b ON a.tbl = b.tbl AND a.key = b.key WHERE a.act_id = ? AND b.act_id > a.act_id", id).Scan(&n)
		if err != nil {
			return a, s.words(err)
		}
		later += n
	}
	if later > 0 || gone {
		return a, &why.Error{Kind: why.Conflict, What: fmt.Sprintf("%q cannot be taken back by itself: something later touched the same rows.", a.Words), Try: "Undo the later ones first."}
	}
	a.ID, err = s.do(ctx, a, "undo", id, func(tx *Tx) error { return tx.reverse(id) })
	return a, err
}

// notBack refuses to go behind an erasing.
func notBack(words string) error {
	return &why.Error{Kind: why.Conflict, What: fmt.Sprintf("%q cannot be taken back: an erasing is for good, and what was done before it stays.", words), Try: "What you do from now on can be undone."}
}

// touch is one row image of an act.
type touch struct {
	tbl           string
	before, after sql.NullString
}

// reverse puts every row an act touched back as it was, the last first.
func (tx *Tx) reverse(id int64) error {
	if _, err := tx.tx.Exec("PRAGMA defer_foreign_keys = ON"); err != nil {
		return err
	}
	for _, t := range []string{"image", "person_image"} {
		touches, err := tx.touches(t, id)
		if err != nil {
			return err
		}
		for _, x := range touches {
			if err := tx.putBack(x); err != nil {
				return fmt.Errorf("row of %s: %w", x.tbl, err)
			}
		}
	}
	return nil
}

func (tx *Tx) touches(table string, id int64) ([]touch, error) {
	rows, err := tx.tx.Query("SELECT tbl, before, after FROM "+table+" WHERE act_id = ? ORDER BY id DESC", id)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []touch
	for rows.Next() {
		var x touch
		if err := rows.Scan(&x.tbl, &x.before, &x.after); err != nil {
			return nil, err
		}
		out = append(out, x)
	}
	return out, rows.Err()
}

func (tx *Tx) putBack(x touch) error {
	b, err := tx.backFor(x.tbl)
	if err != nil {
		return err
	}
	if x.after.Valid {
		if _, err := b.remove.Exec(x.after.String); err != nil {
			return err
		}
	}
	if !x.before.Valid {
		return nil
	}
	_, err = b.insert.Exec(x.before.String)
	return err
}

// putter puts the rows of one table back from their images.
type putter struct{ remove, insert *sql.Stmt }

func (tx *Tx) backFor(table string) (putter, error) {
	if b, ok := tx.putters[table]; ok {
		return b, nil
	}
	var b putter
	cols, err := columnsIn(tx.tx, table)
	if err != nil {
		return b, err
	}
	var keys, names, vals []string
	for _, c := range cols {
		if c.key {
			keys = append(keys, fmt.Sprintf("%s IS %s", c.name, c.from("?1")))
		}
		names, vals = append(names, c.name), append(vals, c.from("?1"))
	}
	if b.remove, err = tx.tx.Prepare("DELETE FROM " + table + " WHERE " + strings.Join(keys, " AND ")); err != nil {
		return b, err
	}
	if b.insert, err = tx.tx.Prepare("INSERT INTO " + table + " (" + strings.Join(names, ", ") + ") SELECT " + strings.Join(vals, ", ")); err != nil {
		return b, err
	}
	if tx.putters == nil {
		tx.putters = map[string]putter{}
	}
	tx.putters[table] = b // closed with the transaction
	return b, nil
}

// column is one column of a table as the file describes it.
type column struct {
	name string
	blob bool
	text bool
	key  bool
}

// from reads the column out of an image given as a parameter.
func (c column) from(param string) string {
	v := fmt.Sprintf("json_extract(%s, '$.%s')", param, c.name)
	if c.blob {
		return "unhex(" + v + ")"
	}
	return v
}

func columnsIn(r reader, table string) ([]column, error) {
	rows, err := r.Query("SELECT name, type, pk FROM pragma_table_info(?, 'main')", table)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []column
	for rows.Next() {
		var c column
		var kind string
		var pk int
		if err := rows.Scan(&c.name, &kind, &pk); err != nil {
			return nil, err
		}
		c.blob, c.text, c.key = kind == "BLOB", kind == "TEXT", pk > 0
		out = append(out, c)
	}
	return out, rows.Err()
}

// unjournaled are the journal's own tables, and what can be made again.
var unjournaled = map[string]bool{"act": true, "current_act": true, "image": true, "person_image": true, "result": true, "current_show": true, "outside": true, "guard": true}

// journaled names the tables whose rows the journal keeps.
func journaled(r reader) ([]string, error) {
	rows, err := r.Query("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var names []string
	for rows.Next() {
		var n string
		if err := rows.Scan(&n); err != nil {
			return nil, err
		}
		if !unjournaled[n] {
			names = append(names, n)
		}
	}
	return names, rows.Err()
}

// makeTriggers gives every table the triggers that keep its row images; those
// of people's tables go apart. Existing ones are made anew.
func makeTriggers(tx *sql.Tx) error {
	names, err := journaled(tx)
	if err != nil {
		return err
	}
	for _, n := range names {
		cols, err := columnsIn(tx, n)
		if err != nil {
			return err
		}
		for _, event := range []string{"INSERT", "UPDATE", "DELETE"} {
			if _, err := tx.Exec(trigger(n, event, cols)); err != nil {
				return fmt.Errorf("trigger of %s: %w", n, err)
			}
		}
	}
	return nil
}

func trigger(table, event string, cols []column) string {
	into := "image"
	if strings.HasPrefix(table, "person") {
		into = "person_image"
	}
	image := func(row string) string {
		var parts []string
		for _, c := range cols {
			v := row + "." + c.name
			if c.blob {
				v = "hex(" + v + ")"
			}
			parts = append(parts, fmt.Sprintf("'%s', %s", c.name, v))
		}
		return "json_object(" + strings.Join(parts, ", ") + ")"
	}
	key := func(row string) string {
		var keys []string
		for _, c := range cols {
			if c.key {
				keys = append(keys, row+"."+c.name)
			}
		}
		return "json_array(" + strings.Join(keys, ", ") + ")"
	}
	before, after, row := "NULL", "NULL", "NEW"
	if event != "INSERT" {
		before, row = image("OLD"), "OLD"
	}
	if event != "DELETE" {
		after = image("NEW")
	}
	name := "journal_" + table + "_" + strings.ToLower(event)
	return fmt.Sprintf(`DROP TRIGGER IF EXISTS %s; CREATE TRIGGER %s AFTER %s ON %s BEGIN
		INSERT INTO %s (act_id, tbl, key, before, after) VALUES ((SELECT act_id FROM current_act), '%s', %s, %s, %s); END`,
		name, name, event, table, into, table, key(row), before, after)
}
