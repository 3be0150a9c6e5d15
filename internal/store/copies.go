package store

import (
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"

	"hemwright/internal/value/why"
)

// Copy is a whole copy of the house the program made by itself. Copies are
// numbered in the order they were made, whatever the clock said.
type Copy struct {
	N    int
	Act  int64  // the last act in it
	Day  string // of that act, as 2027-03-14
	Time string // of that act, as 15:42
	Path string
	Size int64
}

// How many copies are kept: the last ones, and one a day for so many days.
const (
	keepLast = 10
	keepDays = 14
)

// copiesDir is the folder beside a house in which its copies lie.
func copiesDir(path string) string {
	return strings.TrimSuffix(path, filepath.Ext(path)) + "-copies"
}

// Copies lists the copies the program made, the newest first.
func (s *Store) Copies() []Copy { return copiesOf(s.path) }

func copiesOf(path string) []Copy {
	entries, err := os.ReadDir(copiesDir(path))
	if err != nil {
		return nil // no folder yet: no copies
	}
	var out []Copy
	for _, e := range entries {
		var c Copy
		var hour, minute int
		if n, _ := fmt.Sscanf(e.Name(), "%d_%10s_%2d%2d_act%d.hemwright", &c.N, &c.Day, &hour, &minute, &c.Act); n != 5 || filepath.Ext(e.Name()) != ".hemwright" {
			continue
		}
		info, err := e.Info()
		if err != nil {
			continue
		}
		c.Time, c.Path, c.Size = fmt.Sprintf("%02d:%02d", hour, minute), filepath.Join(copiesDir(path), e.Name()), info.Size()
		out = append(out, c)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].N > out[j].N })
	return out
}

// keepCopy writes a copy of the file as it is, unless the newest holds the
// same, and removes those no longer kept. A damaged file makes none, so that
// no whole copy gives way to it.
func (s *Store) keepCopy() error { return s.keepCopySparing(0) }

// keepCopySparing keeps a copy as keepCopy does; the copy numbered spared, if
// above 0, does not go for it.
func (s *Store) keepCopySparing(spared int) error {
	s.busy.Lock()
	defer s.busy.Unlock()
	var act int64
	var at string
	err := s.r.QueryRow("SELECT id, at FROM act ORDER BY id DESC LIMIT 1").Scan(&act, &at)
	if errors.Is(err, sql.ErrNoRows) {
		return nil // nothing done yet
	}
	if err != nil {
		return s.words(err)
	}
	all := s.Copies()
	n := 1
	if len(all) > 0 {
		if all[0].Act == act {
			return nil
		}
		n = all[0].N + 1
	}
	when, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return err
	}
	dir := copiesDir(s.path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return s.words(err)
	}
	to := filepath.Join(dir, fmt.Sprintf("%04d_%s_act%d.hemwright", n, when.Local().Format("2006-01-02_1504"), act))
	if err := s.writeCopy(to); err != nil {
		return err
	}
	for _, p := range parts(s.path) {
		if filepath.Base(p) < fmt.Sprintf("%04d", n) {
			os.Remove(p)
		}
	}
	for _, c := range surplus(s.Copies()) {
		if c.N == spared {
			continue
		}
		if err := os.Remove(c.Path); err != nil {
			return s.words(err)
		}
	}
	return nil
}

// writeCopy writes a copy under another name and gives it its own once it is
// whole and on the disk.
func (s *Store) writeCopy(to string) error {
	part := fmt.Sprintf("%s.%d.part", to, os.Getpid())
	os.Remove(part) // left by a run that was cut off
	if _, err := s.r.Exec("VACUUM INTO ?", part); err != nil {
		os.Remove(part)
		return s.words(err)
	}
	if err := errors.Join(os.Chmod(part, 0o600), syncPath(part)); err != nil {
		os.Remove(part)
		return s.words(err)
	}
	if err := os.Rename(part, to); err != nil {
		return s.words(err)
	}
	syncPath(filepath.Dir(to)) // some file systems sync no folder; the copy is whole either way
	return nil
}

// parts are files of copying, restoring or erasing that was cut off, or is
// still under way in another program.
func parts(path string) []string {
	left, _ := filepath.Glob(filepath.Join(copiesDir(path), "*.part*")) // the pattern is well formed
	return left
}

func syncPath(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// surplus are the copies no longer kept, given the newest first: beyond the
// last ones, all but the last of each of the latest days. Days are counted
// among the copies, not from today: a wrong clock takes none away.
func surplus(all []Copy) []Copy {
	var out []Copy
	days := map[string]bool{}
	for i, c := range all {
		again := days[c.Day]
		if !again && len(days) < keepDays {
			days[c.Day] = true
		} else {
			again = true
		}
		if i >= keepLast && again {
			out = append(out, c)
		}
	}
	return out
}

// newestWhole is the newest copy of a house that is whole; false where there
// is none.
func newestWhole(path string) (Copy, bool) {
	for _, c := range copiesOf(path) {
		if whole(c.Path) {
			return c, true
		}
	}
	return Copy{}, false
}

// whole says whether a file is one of ours and undamaged, without writing.
func whole(path string) bool {
	db, err := sql.Open("sqlite", dsn(path, "ro")+"&immutable=1")
	if err != nil {
		return false
	}
	defer db.Close()
	var ok string
	var id int64
	err = errors.Join(db.QueryRow("PRAGMA application_id").Scan(&id), db.QueryRow("PRAGMA quick_check(1)").Scan(&ok))
	return err == nil && ok == "ok" && id == applicationID
}

// copyFile copies a file that nothing writes to.
func copyFile(to, from string) (err error) {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, out.Close()) }()
	if _, err := io.Copy(out, in); err != nil {
		return err
	}
	return out.Sync()
}

// copyNumbered finds a copy by its number.
func (s *Store) copyNumbered(n int) (Copy, error) {
	for _, c := range s.Copies() {
		if c.N == n {
			return c, nil
		}
	}
	return Copy{}, &why.Error{Kind: why.Missing, Field: "copy", What: fmt.Sprintf("There is no copy %d of %s.", n, s.path), Try: "See which there are: hemwright copies"}
}
