package store

import (
	"context"
	"database/sql"
	"errors"

	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Tries says how often a wrong code was tried since it was last cleared; it
// survives the program.
func (s *Store) Tries(name string) (int, error) {
	var n int
	err := s.r.QueryRow("SELECT tries FROM guard WHERE name = ?", name).Scan(&n)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return n, err
}

// SetTries writes how often a wrong code was tried.
func (s *Store) SetTries(ctx context.Context, name string, n int) error {
	if _, err := s.w.ExecContext(ctx, "INSERT INTO guard (name, tries) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET tries = excluded.tries", name, n); err != nil {
		return s.words(err)
	}
	return nil
}

// Photo is a picture of a thing.
type Photo struct {
	Of, Code string // "garment", "G001"
	N        int
	Day      units.Date
	Words    string
	Type     string // image/jpeg
	Picture  []byte
}

// AddPhoto keeps a picture as one more of its thing.
func (tx *Tx) AddPhoto(p Photo) error {
	_, err := tx.tx.Exec(`INSERT INTO photograph (of_kind, code, n, day, words, type, picture)
		SELECT ?1, ?2, coalesce(max(n) + 1, 0), nullif(?3, ''), ?4, ?5, ?6 FROM photograph WHERE of_kind = ?1 AND code = ?2`,
		p.Of, p.Code, p.Day.String(), p.Words, p.Type, p.Picture)
	return err
}

// Photo is the last picture of a thing; Missing where there is none.
func (s *Store) Photo(of, code string) (Photo, error) {
	p := Photo{Of: of, Code: code}
	err := s.r.QueryRow("SELECT n, words, type, picture FROM photograph WHERE of_kind = ? AND code = ? ORDER BY n DESC LIMIT 1", of, code).
		Scan(&p.N, &p.Words, &p.Type, &p.Picture)
	if errors.Is(err, sql.ErrNoRows) {
		return p, why.NotFound("picture of", code)
	}
	if err != nil {
		return p, s.words(err)
	}
	return p, nil
}
