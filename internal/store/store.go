// Package store keeps one house in one SQLite file: rows in STRICT tables,
// every write one transaction and one act in a journal that triggers write,
// results as documents. It reads no clock: times come in.
package store

import (
	"bytes"
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"sync"

	_ "modernc.org/sqlite" // the driver

	"hemwright/internal/value/why"
)

//go:embed migrations/*.sql
var migrations embed.FS

// applicationID marks a file as ours: "HEMW".
const applicationID = 0x48454D57

// Store is one open file. All writing goes through one connection.
type Store struct {
	path string
	w, r *sql.DB
	show int64       // the show the workroom is busy with
	file os.FileInfo // to notice when it is taken away

	busy      sync.Mutex // held by an act, and by a copy being made
	looked    chan struct{}
	trouble   error // what looking through found; read after looked
	notCopied error // why no copy was made; the same
}

// Create makes a new, empty house. An existing file is a Conflict.
func Create(path string) (*Store, error) {
	if _, err := os.Stat(path); err == nil {
		return nil, &why.Error{Kind: why.Conflict, Field: "file", What: fmt.Sprintf("%s is there already.", path), Try: "Choose another name, or open it."}
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return nil, why.Bad("file", fmt.Sprintf("%s cannot be written: %s.", path, reason(err)), "Choose a folder you may write in.")
	}
	f.Close()
	s, err := open(path, true)
	if err != nil {
		os.Remove(path)
		return nil, err
	}
	return s, nil
}

// Open opens an existing house, after looking whether it is one, whole and
// not newer than this program. What changed since the last copy is copied
// beside it while work goes on; an older file is copied, then brought up to
// date.
func Open(path string) (*Store, error) {
	if err := look(path); err != nil {
		return nil, err
	}
	return open(path, true)
}

// look reads the head of a file: whether it is there, one of ours, and as
// long as it says.
func look(path string) error {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return &why.Error{Kind: why.Missing, Field: "file", What: fmt.Sprintf("There is no file %s.", path), Try: "Look for it, or make a new house with: hemwright new --file " + path}
	}
	if err != nil {
		return why.Bad("file", fmt.Sprintf("%s cannot be read: %s.", path, reason(err)), "Look at who may read it.")
	}
	defer f.Close()
	head := make([]byte, 100)
	if _, err = io.ReadFull(f, head); err != nil || !bytes.HasPrefix(head, []byte("SQLite format 3\x00")) || be32(head[68:]) != applicationID {
		if len(copiesOf(path)) > 0 {
			return damaged(path)
		}
		return why.Bad("file", fmt.Sprintf("%s is not a Hemwright house.", path), "To bring in spreadsheets use: hemwright import")
	}
	return nil
}

// small is up to which size a file is looked through before it is opened; a
// larger one is looked through meanwhile, and the first act waits for it.
const small = 8 << 20

func open(path string, copies bool) (*Store, error) {
	s := &Store{path: path, looked: make(chan struct{})}
	var err error
	if s.file, err = os.Stat(path); err != nil {
		return nil, s.words(err)
	}
	if s.w, err = sql.Open("sqlite", dsn(path, "rw")); err != nil {
		return nil, err
	}
	s.w.SetMaxOpenConns(1)
	if s.r, err = sql.Open("sqlite", dsn(path, "ro")); err != nil {
		return nil, err
	}
	begin := s.file.Size() <= small
	if err := s.ready(begin, copies); err != nil {
		close(s.looked)
		s.Close()
		return nil, s.words(err)
	}
	if !copies {
		close(s.looked)
		return s, nil
	}
	go func() {
		defer close(s.looked)
		if !begin {
			s.trouble = s.lookThrough()
		}
		if s.trouble == nil {
			if err := s.keepCopy(); err != nil {
				s.notCopied = err
			}
		}
	}()
	return s, nil
}

// ready checks the file, brings it up to date and finds the show in hand.
func (s *Store) ready(check, copies bool) error {
	var version int // the first look also takes back an act that was cut off
	if err := s.w.QueryRow("PRAGMA user_version").Scan(&version); err != nil {
		return err
	}
	if check {
		if err := s.lookThrough(); err != nil {
			return err
		}
	}
	if err := s.migrate(copies); err != nil {
		return err
	}
	var cutOff bool // an erasing, after its rows were gone
	if err := s.w.QueryRow("SELECT show_id, (SELECT count(*) FROM act WHERE final = 2) FROM current_show").Scan(&s.show, &cutOff); err != nil || !cutOff {
		return err
	}
	return s.rebuild()
}

// lookThrough reads every page of the file.
func (s *Store) lookThrough() error {
	var ok string
	if err := s.r.QueryRow("PRAGMA quick_check(1)").Scan(&ok); err != nil || ok != "ok" {
		return s.words(fmt.Errorf("the file is malformed: %s %v", ok, err))
	}
	return nil
}

// damaged says that a file is, and what to do.
func damaged(path string) error {
	try := "Make a new file of what can be read: hemwright repair --file " + path
	if c, ok := newestWhole(path); ok {
		try = fmt.Sprintf("The newest whole copy is %s, of act %d on %s. %s", c.Path, c.Act, c.Day, try)
	}
	return why.Bad("file", fmt.Sprintf("%s is damaged.", path), try)
}

// NotCopied waits until the file is looked through and copied, and says what
// stood in the way; nil where nothing did.
func (s *Store) NotCopied() error {
	<-s.looked
	return errors.Join(s.trouble, s.notCopied)
}

// dsn names the file and how every connection behaves: a rollback journal, so
// that no side file holds committed data; every commit synced; deleted rows
// overwritten.
func dsn(path, mode string) string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs // a relative name would be read as a host
	}
	q := url.Values{"mode": {mode}, "_txlock": {"immediate"}, "_pragma": {"busy_timeout(5000)", "foreign_keys(1)", "synchronous(FULL)", "secure_delete(1)"}}
	if mode == "rw" {
		q.Add("_pragma", "journal_mode(DELETE)")
	}
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(path), RawQuery: q.Encode()}).String()
}

// words turns what the file system or the database says into a sentence.
func (s *Store) words(err error) error {
	var known *why.Error
	if errors.As(err, &known) {
		return err
	}
	text := err.Error()
	switch {
	case strings.Contains(text, "readonly") || strings.Contains(text, "read-only") || strings.Contains(text, "unable to open"):
		return why.Bad("file", fmt.Sprintf("%s cannot be written.", s.path), "Copy it to a folder you may write in, and open it there.")
	case strings.Contains(text, "malformed") || strings.Contains(text, "not a database"):
		return damaged(s.path)
	case strings.Contains(text, "constraint failed"):
		return &why.Error{Kind: why.Conflict, Field: "file", What: fmt.Sprintf("That would leave something in %s that contradicts the rest (%s); nothing was changed.", s.path, text), Try: "Look at the codes it names."}
	case strings.Contains(text, "full"):
		return why.Bad("file", fmt.Sprintf("There is no room to write %s; nothing was changed.", s.path), "Make room on the disk and do it again.")
	case strings.Contains(text, "disk I/O") || errors.Is(err, fs.ErrNotExist):
		return why.Bad("file", fmt.Sprintf("%s cannot be reached any more; nothing was changed.", s.path), "Put the disk or the file back and open it again.")
	case strings.Contains(text, "locked") || strings.Contains(text, "busy"):
		return &why.Error{Kind: why.Conflict, Field: "file", What: fmt.Sprintf("Another program is writing to %s.", s.path), Try: "Close it there, or wait and do it again."}
	}
	return fmt.Errorf("%s: %w", s.path, err)
}

// migrate brings the file up to this program's version, one transaction each.
func (s *Store) migrate(copies bool) error {
	names, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		return err
	}
	sort.Strings(names)
	var version int
	if err := s.w.QueryRow("PRAGMA user_version").Scan(&version); err != nil {
		return err
	}
	if version > len(names) {
		return &why.Error{Kind: why.Conflict, Field: "file", What: fmt.Sprintf("%s was made by a newer Hemwright (version %d, this one knows %d).", s.path, version, len(names)), Try: "Get the newer program; the file was not touched."}
	}
	if version > 0 && version < len(names) && copies {
		if err := s.lookThrough(); err != nil {
			return err
		}
		if err := s.keepCopy(); err != nil {
			return err
		}
	}
	for v := version; v < len(names); v++ {
		if err := s.step(names[v], v+1); err != nil {
			return fmt.Errorf("%s: %w", names[v], err)
		}
	}
	return nil
}

func (s *Store) step(name string, version int) error {
	body, err := migrations.ReadFile(name)
	if err != nil {
		return err
	}
	tx, err := s.w.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if _, err := tx.Exec(string(body)); err != nil {
		return err
	}
	if err := makeTriggers(tx); err != nil {
		return err
	}
	if _, err := tx.Exec(fmt.Sprintf("PRAGMA user_version = %d; PRAGMA application_id = %d", version, applicationID)); err != nil {
		return err
	}
	return tx.Commit()
}

// Close closes the file, once a copy under way is made; it is then whole in
// itself.
func (s *Store) Close() error {
	<-s.looked
	return errors.Join(s.r.Close(), s.w.Close())
}

// Backup writes a whole copy of the file to a path that is not there yet.
func (s *Store) Backup(path string) error {
	if _, err := os.Stat(path); err == nil {
		return &why.Error{Kind: why.Conflict, Field: "file", What: fmt.Sprintf("%s is there already.", path), Try: "Choose another name."}
	}
	if err := s.writeCopy(path); err != nil {
		return why.Bad("file", fmt.Sprintf("%s could not be written: %v.", path, err), "Choose a folder you may write in.")
	}
	return nil
}

// Result is something computed, as a document that can be made again.
type Result struct {
	Kind      string
	Version   int
	InputHash string
	Seed      uint64
	Steps     int64
	AboutBody bool
	At        string
	Document  []byte
}

// SaveResult keeps the latest result of a kind.
func (s *Store) SaveResult(ctx context.Context, r Result) error {
	_, err := s.w.ExecContext(ctx, `INSERT OR REPLACE INTO result (show_id, kind, version, input_hash, seed, steps, about_body, at, document)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`, s.show, r.Kind, r.Version, r.InputHash, int64(r.Seed), r.Steps, r.AboutBody, r.At, r.Document)
	if err != nil {
		return s.words(err)
	}
	return nil
}

// Result is the latest result of a kind; false where there is none.
func (s *Store) Result(kind string) (Result, bool, error) {
	r := Result{Kind: kind}
	var seed int64
	err := s.r.QueryRow(`SELECT version, input_hash, seed, steps, about_body, at, document FROM result WHERE show_id = ? AND kind = ?`, s.show, kind).
		Scan(&r.Version, &r.InputHash, &seed, &r.Steps, &r.AboutBody, &r.At, &r.Document)
	if errors.Is(err, sql.ErrNoRows) {
		return r, false, nil
	}
	if err != nil {
		return r, false, s.words(err)
	}
	r.Seed = uint64(seed)
	return r, true, nil
}
func be32(b []byte) uint32 {
	return uint32(b[0])<<24 | uint32(b[1])<<16 | uint32(b[2])<<8 | uint32(b[3])
}

// reason is what the system says of a file, without the path.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}
