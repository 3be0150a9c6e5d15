package store

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/value/why"
)

// kills is how often the season is killed: all of it with make faults, some in
// every run.
func kills() int {
	if os.Getenv("HEMWRIGHT_FAULTS") != "" {
		return 200
	}
	return 12
}

// A process killed at a random moment leaves a whole file: it opens, every
// page of it is sound, and the journal played from the beginning gives the
// rows that are there.
func TestFaultsKilledAtAnyMoment(t *testing.T) {
	for house := range 4 {
		t.Run(fmt.Sprint("house ", house), func(t *testing.T) {
			t.Parallel()
			killed(t, kills()/4)
		})
	}
}

// killed kills the season of one house so many times.
func killed(t *testing.T, times int) {
	path := filepath.Join(t.TempDir(), "house.hemwright")
	s, err := Create(path)
	if err != nil {
		t.Fatal(err)
	}
	put(t, s, "import", demotest.House(t))
	s.Close()
	seed := uint64(time.Now().UnixNano())
	r := rand.New(rand.NewPCG(seed, 2))
	hot, acts := 0, int64(0)
	for k := range times {
		c := task(t, "season", path)
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		// wait for it to be at work, then a random moment more
		line, err := bufio.NewReader(out).ReadString('\n')
		if err != nil || line != "done\n" {
			rest, _ := io.ReadAll(out)
			t.Fatalf("kill %d: the season stopped: %s%s", k, line, rest)
		}
		time.Sleep(time.Duration(r.IntN(80_000)) * time.Microsecond)
		if err := c.Process.Signal(syscall.SIGKILL); err != nil {
			t.Fatal(err)
		}
		if err := c.Wait(); err == nil {
			t.Fatal("it ended by itself")
		}
		if _, err := os.Stat(path + "-journal"); err == nil {
			hot++
		}
		acts = afterKill(t, k, path, acts)
	}
	t.Logf("%d kills, %d in the middle of a write; %d acts stand; seed %d", times, hot, acts, seed)
}

func afterKill(t *testing.T, k int, path string, before int64) int64 {
	t.Helper()
	s, err := Open(path)
	if err != nil {
		t.Fatalf("kill %d: %v", k, err)
	}
	defer s.Close()
	if err := s.NotCopied(); err != nil {
		t.Fatalf("kill %d: %v", k, err)
	}
	var ok string
	if err := s.r.QueryRow("PRAGMA integrity_check").Scan(&ok); err != nil || ok != "ok" {
		t.Fatalf("kill %d: %s %v", k, ok, err)
	}
	if _, err := s.House(); err != nil {
		t.Fatalf("kill %d: %v", k, err)
	}
	if got, want := replayed(t, s), everything(t, s); got != want {
		t.Fatalf("kill %d: the journal does not lead to the rows:\n%s", k, firstDiff(got, want))
	}
	for i, c := range s.Copies() {
		if (i < 2 || k%20 == 19) && !whole(c.Path) {
			t.Fatalf("kill %d: copy %d is not whole", k, c.N)
		}
	}
	acts, err := s.LastAct()
	if err != nil || acts < before {
		t.Fatalf("kill %d: %d acts, there were %d: %v", k, acts, before, err)
	}
	return acts
}

// sound checks that a house is what it was, with the journal leading there.
func sound(t testing.TB, path string) {
	t.Helper()
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if replayed(t, s) != everything(t, s) {
		t.Error("the journal does not lead to the rows")
	}
}

func TestFaultsFullDisk(t *testing.T) {
	const says = "There is no room to write"
	t.Run("pages", func(t *testing.T) {
		s, path := fresh(t)
		put(t, s, "import", demotest.House(t))
		var pages int
		if err := s.w.QueryRow("PRAGMA page_count").Scan(&pages); err != nil {
			t.Fatal(err)
		}
		if _, err := s.w.Exec(fmt.Sprintf("PRAGMA max_page_count = %d", pages+300)); err != nil {
			t.Fatal(err)
		}
		before := everything(t, s)
		err := fatten(s)
		if err == nil || !strings.Contains(err.Error(), says) || why.KindOf(err) != why.Invalid {
			t.Errorf("full: %v", err)
		}
		if before == everything(t, s) {
			t.Error("nothing was written before it was full: no test")
		}
		s.Close()
		sound(t, path)
	})
	t.Run("file size", func(t *testing.T) {
		s, path := fresh(t)
		put(t, s, "import", demotest.House(t))
		s.Close()
		out, err := task(t, "small files", path).CombinedOutput()
		if err == nil || !strings.Contains(string(out), says) && !strings.Contains(string(out), "cannot be reached") {
			t.Errorf("full: %v, %s", err, out)
		}
		sound(t, path)
	})
	t.Run("copy", func(t *testing.T) {
		s, _ := fresh(t)
		put(t, s, "import", demotest.House(t))
		if _, err := os.Stat("/dev/full"); err != nil {
			t.Skip("no /dev/full here")
		}
		if err := copyFile("/dev/full", s.path); err == nil {
			t.Error("a copy onto a full disk was taken for whole")
		}
		if err := s.writeCopy("/proc/nothing"); err == nil {
			t.Error("a copy into nothing was taken for whole")
		}
	})
}

func TestFaultsTornAndForeign(t *testing.T) {
	s, path := fresh(t)
	put(t, s, "import", demotest.House(t))
	s = reopen(t, s)
	s.Close()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for what, c := range map[string]struct {
		is   []byte
		says string
	}{
		"cut in the head":     {b[:50], "is damaged"},
		"cut after the head":  {b[:100], "is damaged"},
		"cut in a page":       {b[:len(b)/2+7], "is damaged"},
		"a page less":         {b[:len(b)-4096], "is damaged"},
		"nothing":             {nil, "is damaged"},
		"zeros":               {make([]byte, len(b)), "is damaged"},
		"another's":           {[]byte("name,chest\nIda,80\n"), "is damaged"},
		"a torn page":         {torn(b), "is damaged"},
		"a newer one":         {newer(b), "newer"},
		"somebody's database": {foreign(b), "is damaged"},
	} {
		if err := os.WriteFile(path, c.is, 0o600); err != nil {
			t.Fatal(err)
		}
		got, err := Open(path)
		if err == nil {
			got.Close()
		}
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", what, err)
		} else if c.says == "is damaged" && !strings.Contains(err.Error(), "The newest whole copy is ") {
			t.Errorf("%s names no copy: %v", what, err)
		}
		if now, _ := os.ReadFile(path); string(now) != string(c.is) {
			t.Errorf("%s was touched", what)
		}
	}
	// a journal left by somebody else's file beside a whole one
	os.WriteFile(path, b, 0o600)
	os.WriteFile(path+"-journal", []byte("no journal at all"), 0o600)
	sound(t, path)
}

func torn(b []byte) []byte {
	out := append([]byte(nil), b...)
	for p := 3; p < 60; p++ { // the second half of many pages
		clear(out[p*4096+2048 : (p+1)*4096])
	}
	return out
}

func newer(b []byte) []byte {
	out := append([]byte(nil), b...)
	out[63] = 99
	return out
}

func foreign(b []byte) []byte {
	out := append([]byte(nil), b...)
	out[70] ^= 0xff
	return out
}

func TestFaultsTwoPrograms(t *testing.T) {
	s, path := fresh(t)
	put(t, s, "import", demotest.House(t))
	s.Close()
	c := task(t, "hold", path)
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "holding\n" {
		t.Fatalf("%q %v", line, err)
	}
	if s, err = Open(path); err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if h := read(t, s); h.Pieces[0].Note == "held" {
		t.Error("what is not done yet is seen")
	}
	if _, err := s.w.Exec("PRAGMA busy_timeout = 50"); err != nil {
		t.Fatal(err)
	}
	note := func(tx *Tx) error { _, err := tx.tx.Exec("UPDATE piece SET world = '' WHERE 0"); _ = err; return nil }
	err = s.Do(context.Background(), Act{Words: "meanwhile", When: noon}, note)
	if why.KindOf(err) != why.Conflict || !strings.Contains(err.Error(), "Another program is writing to") {
		t.Errorf("writing meanwhile: %v", err)
	}
	io.WriteString(in, "\n")
	if err := c.Wait(); err != nil {
		t.Fatal(err)
	}
	// what the other wrote is read within the act, and not lost
	err = s.Do(context.Background(), Act{Words: "after", When: noon}, func(tx *Tx) error {
		h, err := tx.House()
		if err != nil {
			return err
		}
		h.Show.Name = "mine too"
		return tx.Replace(h)
	})
	if h := read(t, s); err != nil || h.Pieces[0].Note != "held" || h.Show.Name != "mine too" {
		t.Errorf("%v: %q %q", err, h.Pieces[0].Note, h.Show.Name)
	}
}

// A medium or a folder that cannot be written to: the house is read, and an
// act is refused with words. Root may write anywhere, so a child of less
// rights tries.
func TestFaultsReadOnly(t *testing.T) {
	for _, what := range []string{"file", "folder"} {
		s, path := fresh(t)
		put(t, s, "import", demotest.House(t))
		s.Close()
		dir := filepath.Dir(path)
		os.Chmod(filepath.Dir(dir), 0o755)
		os.Chmod(path, 0o644)
		os.Chmod(dir, 0o755)
		if what == "file" {
			os.Chmod(path, 0o444)
		}
		c := task(t, "open and write", path)
		if os.Getuid() == 0 {
			me, err := os.Executable() // where others may run it
			if err != nil {
				t.Fatal(err)
			}
			run, err := os.MkdirTemp("", "run")
			if err != nil {
				t.Fatal(err)
			}
			defer os.RemoveAll(run)
			os.Chmod(run, 0o755)
			if err := copyFile(run+"/me", me); err != nil {
				t.Fatal(err)
			}
			os.Chmod(run+"/me", 0o755)
			c.Path = run + "/me"
			c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		} else {
			os.Chmod(dir, 0o555)
			defer os.Chmod(dir, 0o755)
		}
		c.Dir = "/"
		out, err := c.CombinedOutput()
		if err == nil || !strings.Contains(string(out), "cannot be written. Copy it to a folder you may write in") {
			t.Errorf("read-only %s: %v: %s", what, err, out)
		}
	}
}

func TestFaultsTakenAway(t *testing.T) {
	for what, take := range map[string]func(path string) error{
		"removed":   os.Remove,
		"moved":     func(p string) error { return os.Rename(p, p+".moved") },
		"replaced":  func(p string) error { return errors.Join(os.Remove(p), os.WriteFile(p, []byte("other"), 0o600)) },
		"unplugged": func(p string) error { return os.RemoveAll(filepath.Dir(p)) },
	} {
		dir := filepath.Join(t.TempDir(), "stick")
		os.Mkdir(dir, 0o700)
		path := filepath.Join(dir, "house.hemwright")
		s, err := Create(path)
		if err != nil {
			t.Fatal(err)
		}
		h := demotest.House(t)
		put(t, s, "import", h)
		want := everything(t, s)
		if err := take(path); err != nil {
			t.Fatal(err)
		}
		h.Pieces[0].Note = "lost?"
		err = s.Do(context.Background(), Act{Words: "w", When: noon}, func(tx *Tx) error { return tx.Replace(h) })
		if why.KindOf(err) != why.Invalid || !strings.Contains(err.Error(), "was moved, removed or replaced while it was open; nothing was changed.") {
			t.Fatalf("%s: %v", what, err)
		}
		if c := s.Copies(); len(c) == 1 {
			if !strings.Contains(err.Error(), c[0].Path) {
				t.Errorf("%s: it does not say where it is kept: %v", what, err)
			}
			kept, err := open(c[0].Path, false)
			if err != nil {
				t.Fatal(err)
			}
			if everything(t, kept) != want {
				t.Errorf("%s: what is kept is not what was there", what)
			}
			kept.Close()
		} else if what != "unplugged" {
			t.Errorf("%s: nothing is kept: %v", what, err)
		}
		s.Close()
	}
}

// A clock set back: acts keep their order, nothing is hidden, no copy goes.
func TestFaultsClockSetBack(t *testing.T) {
	s, _ := fresh(t)
	h := demotest.House(t)
	put(t, s, "import", h)
	for i, days := range []int{0, 400, -3000, -3000, 1} {
		s = reopen(t, s)
		h.Pieces[0].Note = fmt.Sprint(i)
		err := s.Do(context.Background(), Act{Words: fmt.Sprint(i), When: noon.AddDate(0, 0, days)}, func(tx *Tx) error { return tx.Replace(h) })
		if err != nil {
			t.Fatal(err)
		}
	}
	s = reopen(t, s)
	if c := s.Copies(); len(c) != 6 || c[0].Act != 6 || c[5].Act != 1 {
		t.Errorf("copies: %+v", c)
	}
	if id, err := s.ActBefore(noon.AddDate(0, 0, 300)); err != nil || id != 2 {
		t.Errorf("since a day before the clock jumped: act %d, %v", id, err)
	}
	if a, err := s.Undo(context.Background(), "", noon.AddDate(0, 0, -5000)); err != nil || a.Words != "4" {
		t.Errorf("undone %q, %v", a.Words, err)
	}
}
