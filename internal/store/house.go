package store

import (
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"sort"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// reader is a transaction or the read-only pool.
type reader interface {
	Query(query string, args ...any) (*sql.Rows, error)
	QueryRow(query string, args ...any) *sql.Row
}

// House reads everything of the house and the show in hand.
func (s *Store) House() (show.House, error) {
	h, err := readHouse(s.r, s.show)
	if err != nil {
		return h, s.words(err)
	}
	return h, nil
}

func readHouse(r reader, id int64) (show.House, error) {
	var h show.House
	if err := loadShow(r, id, &h); err != nil {
		return h, err
	}
	l := &loading{h: &h}
	for _, t := range tables {
		rows, err := readRows(r, t.spec(), id, false)
		if err != nil {
			return h, err
		}
		if err := t.load(l, rows); err != nil {
			return h, err
		}
	}
	sort.SliceStable(l.unread, func(i, j int) bool { return l.unread[i].at < l.unread[j].at })
	for _, p := range l.unread {
		h.Unread = append(h.Unread, p.u)
	}
	return h, nil
}

func loadShow(r reader, id int64, h *show.House) error {
	var day sql.NullString
	err := r.QueryRow("SELECT code, name, currency, erase_on, erase_on_ink FROM show WHERE id = ?", id).
		Scan(&h.Show.Code, &h.Show.Name, &h.Show.Currency, &day, &h.Show.EraseOnInk)
	if err != nil {
		return err
	}
	if err := decode(&h.Show.EraseOn, []any{day.String}); err != nil {
		return err
	}
	var in string
	err = r.QueryRow("SELECT lengths_in FROM house_choice").Scan(&in)
	if in == units.Imperial.Unit() {
		h.Units = units.Imperial
	}
	if errors.Is(err, sql.ErrNoRows) {
		return nil // nothing chosen yet
	}
	return err
}

// readRows reads a table's rows in their order, as values; position only
// where asked.
func readRows(r reader, s *spec, id int64, position bool) ([][]any, error) {
	cols := s.columns()
	order := strings.Join(s.key, ", ")
	if s.ordered {
		order = "position"
		if !position {
			cols = cols[:len(cols)-1]
		}
	}
	where, args := "", []any{}
	if s.life != ofHouse {
		where, args = " WHERE show_id = ?", []any{id}
	}
	rows, err := r.Query("SELECT "+strings.Join(cols, ", ")+" FROM "+s.name+where+" ORDER BY "+order, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out [][]any
	for rows.Next() {
		vals, at := make([]any, len(cols)), make([]any, len(cols))
		for i := range vals {
			at[i] = &vals[i]
		}
		if err := rows.Scan(at...); err != nil {
			return nil, err
		}
		for i, v := range vals {
			if b, ok := v.([]byte); ok {
				vals[i] = string(b)
			}
		}
		out = append(out, vals)
	}
	return out, rows.Err()
}

// Replace makes the file hold exactly the house given, writing only the rows
// that differ.
func (tx *Tx) Replace(h show.House) error {
	var day any
	if h.Show.EraseOn != 0 {
		day = h.Show.EraseOn.String()
	}
	var was show.House
	if err := loadShow(tx.tx, tx.show, &was); err != nil {
		return err
	}
	if was.Show != h.Show {
		if _, err := tx.tx.Exec("UPDATE show SET code = ?, name = ?, currency = ?, erase_on = ?, erase_on_ink = ? WHERE id = ?",
			h.Show.Code, h.Show.Name, h.Show.Currency, day, h.Show.EraseOnInk, tx.show); err != nil {
			return err
		}
	}
	if was.Units != h.Units {
		if _, err := tx.tx.Exec("INSERT INTO house_choice (one, lengths_in) VALUES (1, ?) ON CONFLICT (one) DO UPDATE SET lengths_in = excluded.lengths_in", h.Units.Unit()); err != nil {
			return err
		}
	}
	for _, t := range tables {
		if err := tx.replaceTable(t.spec(), t.rows(&h)); err != nil {
			return fmt.Errorf("table %s: %w", t.spec().name, err)
		}
	}
	return nil
}

func (tx *Tx) replaceTable(s *spec, want [][]any) error {
	have, err := readRows(tx.tx, s, tx.show, true)
	if err != nil {
		return err
	}
	old := map[string][]any{}
	for _, v := range have {
		old[keyOf(v[:len(s.key)])] = v
	}
	fresh := map[string]bool{}
	var puts [][]any
	var at []int64
	if s.ordered {
		at = placesOf(s, want, old)
	}
	for i, v := range want {
		if s.ordered {
			v = append(append([]any{}, v...), at[i])
		}
		k := keyOf(v[:len(s.key)])
		if fresh[k] {
			return &why.Error{Kind: why.Conflict, Field: s.name, What: fmt.Sprintf("%s %v is there twice.", s.name, v[:len(s.key)]), Try: "Give each a code of its own."}
		}
		fresh[k] = true
		if keyOf(old[k]) != keyOf(v) || old[k] == nil {
			puts = append(puts, v)
		}
	}
	for _, v := range have {
		if k := keyOf(v[:len(s.key)]); !fresh[k] {
			if err := tx.remove(s, v[:len(s.key)]); err != nil {
				return err
			}
		}
	}
	for _, v := range puts {
		if err := tx.put(s, v, old[keyOf(v[:len(s.key)])] != nil); err != nil {
			return err
		}
	}
	return nil
}

func (tx *Tx) remove(s *spec, key []any) error {
	where, args := tx.where(s, key)
	_, err := tx.tx.Exec("DELETE FROM "+s.name+where, args...)
	return err
}

func (tx *Tx) where(s *spec, key []any) (string, []any) {
	parts, args := []string{}, append([]any{}, key...)
	for _, k := range s.key {
		parts = append(parts, k+" IS ?")
	}
	if s.life != ofHouse {
		parts, args = append(parts, "show_id = ?"), append(args, tx.show)
	}
	return " WHERE " + strings.Join(parts, " AND "), args
}

func (tx *Tx) put(s *spec, vals []any, there bool) error {
	cols := s.columns()
	if there {
		var set []string
		for _, c := range cols[len(s.key):] {
			set = append(set, c+" = ?")
		}
		where, args := tx.where(s, vals[:len(s.key)])
		_, err := tx.tx.Exec("UPDATE "+s.name+" SET "+strings.Join(set, ", ")+where, append(append([]any{}, vals[len(s.key):]...), args...)...)
		return err
	}
	if s.life != ofHouse {
		cols, vals = append(cols, "show_id"), append(append([]any{}, vals...), tx.show)
	}
	marks := strings.TrimSuffix(strings.Repeat("?, ", len(cols)), ", ")
	_, err := tx.tx.Exec("INSERT INTO "+s.name+" ("+strings.Join(cols, ", ")+") VALUES ("+marks+")", vals...)
	return err
}

// InputHash is a fingerprint of everything a result rests on: two houses with
// the same rows have the same.
func InputHash(h show.House) (string, error) {
	b, err := json.Marshal(h)
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:16]), nil
}

// Change writes what differs between two houses: the lists that are the same
// in both are not looked at.
func (tx *Tx) Change(before, after show.House) error {
	if before.Show != after.Show || before.Units != after.Units {
		return tx.Replace(after)
	}
	for _, t := range tables {
		want := t.rows(&after)
		if reflect.DeepEqual(t.rows(&before), want) {
			continue
		}
		if err := tx.replaceTable(t.spec(), want); err != nil {
			return fmt.Errorf("table %s: %w", t.spec().name, err)
		}
	}
	return nil
}
