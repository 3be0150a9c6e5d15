package store

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"syscall"
	"testing"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// A child process is this test binary run again with a task in its
// environment: it does something to a house and is killed, or starved.
func TestMain(m *testing.M) {
	if task := os.Getenv("HEMWRIGHT_FAULT"); task != "" {
		if err := child(task, os.Getenv("HEMWRIGHT_FAULT_FILE")); err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func child(task, path string) error {
	switch task {
	case "season":
		return season(path)
	case "small files": // RLIMIT_FSIZE, as a full disk: a write beyond it fails
		info, err := os.Stat(path)
		if err != nil {
			return err
		}
		s, err := Open(path)
		if err != nil {
			return err
		}
		s.NotCopied()
		most := uint64(info.Size()) + 20<<10
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: most, Max: most}); err != nil {
			return err
		}
		defer s.Close()
		return fatten(s)
	case "open and write":
		s, err := Open(path)
		if err != nil {
			return err
		}
		defer s.Close()
		if err := errors.Join(s.NotCopied()); err != nil {
			fmt.Println("copy:", err)
		}
		if _, err := s.House(); err != nil {
			return err
		}
		return s.Do(context.Background(), Act{Words: "w", When: noon}, func(tx *Tx) error {
			_, err := tx.tx.Exec("UPDATE piece SET note = note || 'x'")
			return err
		})
	case "hold": // a second program in the middle of an act
		s, err := Open(path)
		if err != nil {
			return err
		}
		return s.Do(context.Background(), Act{Words: "hold", When: noon}, func(tx *Tx) error {
			if _, err := tx.tx.Exec("UPDATE piece SET note = 'held'"); err != nil {
				return err
			}
			fmt.Println("holding")
			_, err := bufio.NewReader(os.Stdin).ReadString('\n')
			return err
		})
	}
	return fmt.Errorf("no task %q", task)
}

// season does everything in turn until it is killed: acts of many kinds,
// undo, redo, results, restoring, erasing, closing and opening.
func season(path string) error {
	ctx := context.Background()
	r := rand.New(rand.NewPCG(uint64(os.Getpid()), 1))
	for round := 0; ; round++ {
		s, err := Open(path)
		if err != nil {
			return err
		}
		// hardly any memory: pages go into the file while an act is under way
		if _, err := s.w.Exec("PRAGMA cache_size = 10"); err != nil {
			return err
		}
		for range 1 + r.IntN(6) {
			h, err := s.House()
			if err != nil {
				return err
			}
			if len(h.Pieces) == 0 { // killed when bringing it all in was just undone
				if _, err := s.Redo(ctx, "", noon); err != nil {
					return err
				}
				fmt.Println("done")
				continue
			}
			switch r.IntN(9) {
			case 0, 1, 2:
				h.Pieces[r.IntN(len(h.Pieces))].Note = fmt.Sprint("round ", round)
				h.Pins = append(h.Pins, show.Pin{Piece: h.Pieces[0].ID, Source: "make"})
			case 3:
				h.Garments = append(h.Garments[5:], h.Garments[:5]...)
				h.Notes = nil
			case 4:
				h.Performers[r.IntN(40)].Body[body.Chest].Span = units.Exactly(units.Cm(float64(70 + r.IntN(20))))
			case 5:
				_, err = s.Undo(ctx, "", noon)
			case 6:
				_, err = s.Redo(ctx, "", noon)
			case 7:
				err = s.SaveResult(ctx, Result{Kind: "x", Document: make([]byte, r.IntN(200_000))})
			case 8:
				if c := s.Copies(); len(c) > 0 && r.IntN(3) > 0 {
					err = s.Restore(ctx, c[r.IntN(len(c))].N, Act{Words: "restored", When: noon})
				} else {
					_, err = s.Erase(ctx, Erase{Performers: []show.PerformerID{h.Performers[r.IntN(40)].ID}, Act: Act{Words: "erased", When: noon}})
				}
			}
			if err == nil {
				err = s.Do(ctx, Act{Words: "act", When: noon}, func(tx *Tx) error { return tx.Replace(h) })
			}
			if k := why.KindOf(err); err != nil && k != why.Conflict {
				return err
			}
			fmt.Println("done")
		}
		if err := s.Close(); err != nil {
			return err
		}
	}
}

func task(t testing.TB, name, path string) *exec.Cmd {
	t.Helper()
	me, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(me, "-test.run=^$")
	c.Env = append(os.Environ(), "HEMWRIGHT_FAULT="+name, "HEMWRIGHT_FAULT_FILE="+path)
	return c
}

// fatten writes until there is no room.
func fatten(s *Store) error {
	for range 200 {
		err := s.Do(context.Background(), Act{Words: "fat", When: noon}, func(tx *Tx) error {
			_, err := tx.tx.Exec("UPDATE garment SET note = note || 'a long note about a coat and what it could become'")
			return err
		})
		if err != nil {
			return err
		}
	}
	return errors.New("it never filled up")
}
