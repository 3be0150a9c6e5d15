package store

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// large makes a house of 20,000 garments, 300 performers, 200,000 acts in the
// journal and 2,000 pictures of 50 kB.
func large(b *testing.B, path string) {
	b.Helper()
	s, err := Create(path)
	if err != nil {
		b.Fatal(err)
	}
	h := demotest.House(b)
	for i := len(h.Garments); i < 20_000; i++ {
		g := h.Garments[i%100]
		g.ID = show.GarmentID(fmt.Sprintf("L%05d", i))
		h.Garments = append(h.Garments, g)
	}
	for i := len(h.Performers); i < 300; i++ {
		p := h.Performers[i%40]
		p.ID = show.PerformerID(fmt.Sprintf("Q%03d", i))
		p.Body[body.Chest].Span = units.Exactly(units.Cm(float64(60 + i%40)))
		h.Performers = append(h.Performers, p)
	}
	put(b, s, "import", h)
	ctx := context.Background()
	err = s.Do(ctx, Act{Words: "pictures", When: noon}, func(tx *Tx) error {
		_, err := tx.tx.Exec(`INSERT INTO photograph SELECT 'garment', code, 0, NULL, '', 'image/jpeg', randomblob(50000) FROM garment ORDER BY code LIMIT 2000`)
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	// as triggers would have written them, one garment's place at a time
	if _, err = s.w.Exec(`WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 200000)
		INSERT INTO act (at, who, words, kind) SELECT '2027-03-14T12:00:00Z', 'you', 'a place', 'act' FROM n;
		INSERT INTO image (act_id, tbl, key, before, after) SELECT a.id, 'garment', json_array('S001'), x.after, x.after
			FROM act a, (SELECT after FROM image WHERE tbl = 'garment' LIMIT 1) x WHERE a.words = 'a place'`); err != nil {
		b.Fatal(err)
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	os.RemoveAll(copiesDir(path))
}

// resident is the memory of this process, in megabytes, where Linux tells it.
func resident() float64 {
	text, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	_, after, _ := strings.Cut(string(text), "VmHWM:")
	var kb float64
	fmt.Sscan(after, &kb)
	return kb / 1024
}

// Opening a very large house: until it can be read, all of it read, and the
// first act done (it waits until every page was looked at); then the copy.
func BenchmarkOpenLarge(b *testing.B) {
	path := filepath.Join(b.TempDir(), "large.hemwright")
	large(b, path)
	runtime.GC()
	info, err := os.Stat(path)
	if err != nil {
		b.Fatal(err)
	}
	for _, part := range []string{"open", "open and read", "open and act", "open and copy", "changed since"} {
		b.Run(part, func(b *testing.B) {
			for b.Loop() {
				os.RemoveAll(copiesDir(path))
				s, err := Open(path)
				if err != nil {
					b.Fatal(err)
				}
				switch part {
				case "open and read":
					if h := read(b, s); len(h.Garments) != 20_000 || len(h.Performers) != 300 {
						b.Fatal("not all there")
					}
				case "open and act":
					err = s.Do(context.Background(), Act{Words: "w", When: noon}, func(tx *Tx) error {
						_, err := tx.tx.Exec("UPDATE show SET name = name || 'x'")
						return err
					})
				case "open and copy":
					err = s.NotCopied()
				case "changed since":
					_, err = s.Changed(3)
				}
				if err != nil {
					b.Fatal(err)
				}
				b.StopTimer()
				s.Close()
				b.StartTimer()
			}
			b.ReportMetric(float64(info.Size())/(1<<20), "MB-file")
			b.ReportMetric(resident(), "MB-most")
		})
	}
}
