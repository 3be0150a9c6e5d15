package workshop

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"sync"
	"time"

	"hemwright/internal/demo"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/store"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// version of the stored document; another version is worked out anew.
const version = 5

// Settings are what a workshop is told from outside.
type Settings struct {
	Day    units.Date // the day it is taken to be; 0 is today
	Budget solve.Budget
	Step   func(string) // told what is being worked out; may be nil
	Log    *slog.Logger // may be nil
}

// Workshop is one open house and what was worked out for it.
type Workshop struct {
	mu    sync.Mutex // one deed or one working-out at a time
	store *store.Store
	clock func() time.Time
	set   Settings

	now  sync.Mutex // guards what follows, never for long
	last *Prepared
	hash string             // of what last was made from
	stop context.CancelFunc // of the working-out under way
	done bool               // it was stopped by the person: the best so far will do
	step func(string)       // told as well what is being worked out

	weigh sync.Mutex // one weighing at a time
	on    weighed
}

// New makes a new, empty house in a file that is not there yet.
func New(path string, set Settings) (*Workshop, error) {
	s, err := store.Create(path)
	if err != nil {
		return nil, err
	}
	return start(s, set), nil
}

// Open opens a house.
func Open(path string, set Settings) (*Workshop, error) {
	s, err := store.Open(path)
	if err != nil {
		return nil, err
	}
	return start(s, set), nil
}

func start(s *store.Store, set Settings) *Workshop {
	if set.Step == nil {
		set.Step = func(string) {}
	}
	if set.Log == nil {
		set.Log = slog.New(slog.DiscardHandler)
	}
	return &Workshop{store: s, clock: time.Now, set: set}
}

// Demo makes a house with the invented show in it.
func Demo(path string, set Settings) (*Workshop, intake.Report, error) {
	w, err := New(path, set)
	if err != nil {
		return nil, intake.Report{}, err
	}
	files, err := readFolder(demo.Files(), ".")
	if err != nil {
		return nil, intake.Report{}, err
	}
	rep, err := w.take("The demo show brought in", files, nil, func(h *show.House) {
		h.Show.Code, h.Show.Name = demo.Code, demo.Name
	})
	if err != nil {
		w.Close()
		return nil, rep, err
	}
	return w, rep, nil
}

// Close closes the file.
func (w *Workshop) Close() error { return w.store.Close() }

// Import takes files, or folders of them, into the house: all or, on an
// error, nothing. The report says what was taken, changed and left.
func (w *Workshop) Import(paths ...string) (intake.Report, error) {
	return w.ImportAs(intake.Told{}, paths...)
}

// ImportAs takes files as Import does, and obeys what is told of the one table
// in them.
func (w *Workshop) ImportAs(told intake.Told, paths ...string) (intake.Report, error) {
	var files []intake.File
	for _, p := range paths {
		info, err := os.Stat(p)
		if err != nil {
			return intake.Report{}, &why.Error{Kind: why.Missing, Field: "file", What: fmt.Sprintf("There is no file or folder %s.", p), Try: "Look at how its name is written."}
		}
		dir, name := filepath.Dir(p), filepath.Base(p)
		if info.IsDir() {
			dir, name = p, "."
		}
		more, err := readFolder(os.DirFS(dir), name)
		if err != nil {
			return intake.Report{}, why.Bad("file", fmt.Sprintf("%s cannot be read.", p), "Look at who may read it.")
		}
		files = append(files, more...)
	}
	if len(files) == 0 {
		return intake.Report{}, why.Bad("file", "There is no spreadsheet in "+strings.Join(paths, ", ")+".", "Files end in .csv or .xlsx.")
	}
	said := map[string]intake.Told{}
	if told.Kind != "" || len(told.Columns) > 0 {
		if len(files) > 1 {
			return intake.Report{}, why.Bad("column", fmt.Sprintf("There are %d files; which is meant?", len(files)), "Bring that one in by itself.")
		}
		said[files[0].Name] = told
	}
	words := files[0].Name + " brought in"
	if len(files) > 1 {
		words = fmt.Sprintf("%s and %d more brought in", files[0].Name, len(files)-1)
	}
	rep, err := w.take(words, files, said, func(*show.House) {})
	for _, f := range files {
		if err == nil {
			err = w.left("spreadsheet", f.Name)
		}
	}
	return rep, err
}

// readFolder reads one file, or the spreadsheets of a folder by name.
func readFolder(fsys fs.FS, name string) ([]intake.File, error) {
	names := []string{name}
	if name == "." {
		all, err := fs.ReadDir(fsys, ".")
		if err != nil {
			return nil, err
		}
		names = nil
		for _, e := range all {
			if ext := strings.ToLower(filepath.Ext(e.Name())); !e.IsDir() && (ext == ".csv" || ext == ".xlsx" || ext == ".tsv") {
				names = append(names, e.Name())
			}
		}
		sort.Strings(names)
	}
	var out []intake.File
	for _, n := range names {
		b, err := fs.ReadFile(fsys, n)
		if err != nil {
			return nil, err
		}
		out = append(out, intake.File{Name: n, Data: b})
	}
	return out, nil
}

func (w *Workshop) take(words string, files []intake.File, told map[string]intake.Told, also func(*show.House)) (intake.Report, error) {
	var rep intake.Report
	err := w.act(context.Background(), words, func(h *show.House) error {
		taken, r, err := intake.TakeAs(*h, files, told)
		rep = r
		if err != nil {
			return err
		}
		*h = taken
		also(h)
		return nil
	})
	return rep, err
}

// act loads the house, changes it, and keeps the change as one deed.
func (w *Workshop) act(ctx context.Context, words string, change func(*show.House) error) error {
	w.lock()
	defer w.mu.Unlock()
	return w.store.Do(ctx, w.deed(words), func(tx *store.Tx) error {
		before, err := tx.House()
		if err != nil {
			return err
		}
		h := before.Own()
		if err := change(&h); err != nil {
			return err
		}
		return tx.Change(before, h)
	})
}

// deed is what the journal holds of something done now.
func (w *Workshop) deed(words string) store.Act {
	return store.Act{Who: "you", Words: words, When: w.clock()}
}

// Day is the day the house is looked at: the one set, the demo show's own, or
// the clock's.
func (w *Workshop) Day(show show.Show) units.Date {
	if w.set.Day != 0 {
		return w.set.Day
	}
	if show.Code == demo.Code {
		return demo.Today
	}
	y, m, d := w.clock().Date()
	day, err := units.Day(y, int(m), d)
	if err != nil {
		return 0
	}
	return day
}

// latest is what was worked out last, and of what.
func (w *Workshop) latest() (*Prepared, string) {
	w.now.Lock()
	defer w.now.Unlock()
	return w.last, w.hash
}

// current is the answer in hand if no act and no midnight came since, else
// nil. Rows change by acts alone, so a large house need not be read again.
func (w *Workshop) current(act int64) *Prepared {
	last, _ := w.latest()
	if last == nil || act == 0 || last.Act != act || last.Day != w.Day(last.House.Show) {
		return nil
	}
	return last
}

func (w *Workshop) remember(p *Prepared, hash string) {
	w.now.Lock()
	defer w.now.Unlock()
	w.last, w.hash = p, hash
}

// tell says what is being worked out.
func (w *Workshop) tell(words string) {
	w.set.Step(words)
	w.now.Lock()
	step := w.step
	w.now.Unlock()
	if step != nil {
		step(words)
	}
}

// Watch lets somebody else be told what is being worked out; nil ends it.
func (w *Workshop) Watch(step func(string)) {
	w.now.Lock()
	defer w.now.Unlock()
	w.step = step
}

// Stop ends a working-out under way with the best it has.
func (w *Workshop) Stop() { w.interrupt(true) }

func (w *Workshop) interrupt(done bool) {
	w.now.Lock()
	defer w.now.Unlock()
	if w.stop != nil {
		w.done = done
		w.stop()
	}
}

// lock waits for the turn of a deed. A working-out under way is stopped:
// the deed is about to change what it rests on.
func (w *Workshop) lock() {
	w.interrupt(false)
	w.mu.Lock()
}

// Prepared is everything worked out for the house as it is now. What was
// worked out before for the same rows and day is taken from the file.
func (w *Workshop) Prepared(ctx context.Context) (*Prepared, error) {
	for {
		p, again, err := w.attempt(ctx)
		if !again {
			return p, err
		}
	}
}

// attempt works out what is not yet; again says that a deed came between.
func (w *Workshop) attempt(outer context.Context) (p *Prepared, again bool, err error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	act, err := w.store.LastAct()
	if err != nil {
		return nil, false, err
	}
	if last := w.current(act); last != nil {
		return last, false, nil
	}
	ctx, stop := context.WithCancel(outer)
	defer stop()
	w.now.Lock()
	w.stop, w.done = stop, false
	w.now.Unlock()
	p, err = w.prepared(ctx)
	w.now.Lock()
	defer w.now.Unlock()
	w.stop = nil
	if ctx.Err() != nil && outer.Err() == nil && !w.done {
		return nil, true, nil
	}
	if p == nil || p.Act == act {
		return p, false, err
	}
	now := *p // pages may still be reading the one before
	now.Act = act
	if w.last == p {
		w.last = &now
	}
	return &now, false, err
}

func (w *Workshop) prepared(ctx context.Context) (*Prepared, error) {
	h, err := w.house()
	if err != nil {
		return nil, err
	}
	hash, err := store.InputHash(h)
	if err != nil {
		return nil, err
	}
	day := w.Day(h.Show)
	hash += " " + day.String()
	last, of := w.latest()
	if last != nil && of == hash {
		return last, nil
	}
	if p, ok := w.stored(h, hash); ok {
		w.remember(p, hash)
		return p, nil
	}
	if last == nil { // of other rows or another day: what was acted on is held to it
		last = w.kept(func(string) bool { return true })
	}
	begun := w.clock()
	p, err := Prepare(ctx, h, day, last, w.set.Budget, w.tell)
	if err != nil {
		return nil, err
	}
	w.set.Log.Info("prepared", "took", w.clock().Sub(begun), "rounds", p.Rounds)
	if ctx.Err() != nil {
		w.now.Lock()
		defer w.now.Unlock()
		if w.done { // the best so far is what was asked for; the file does not keep it
			w.last, w.hash = p, hash
		}
		return p, nil
	}
	w.remember(p, hash)
	if err := w.keep(ctx, p, hash); err != nil {
		w.set.Log.Warn("the answers are not kept", "err", err) // they can be read all the same
	}
	return p, nil
}

const preparedKind = "prepared"

// stored is what the file holds that was worked out for a house.
func (w *Workshop) stored(h show.House, hash string) (*Prepared, bool) {
	p := w.kept(func(of string) bool { return of == hash })
	if p == nil {
		return nil, false
	}
	p.know(h)
	return p, true
}

// kept is what the file holds, if the rows it was worked out for are wanted, by
// their hash; nil where there is none.
func (w *Workshop) kept(wanted func(hash string) bool) *Prepared {
	r, ok, err := w.store.Result(preparedKind)
	if err != nil || !ok || r.Version != version || !wanted(r.InputHash) {
		return nil
	}
	p := &Prepared{}
	if json.Unmarshal(r.Document, p) != nil {
		return nil
	}
	return p
}

func (w *Workshop) keep(ctx context.Context, p *Prepared, hash string) error {
	doc, err := json.Marshal(p)
	if err != nil {
		return err
	}
	return w.store.SaveResult(ctx, store.Result{Kind: preparedKind, Version: version, InputHash: hash, Seed: p.Plan.Outcome.Seed,
		Steps: p.Plan.Outcome.Steps, AboutBody: true, At: w.clock().UTC().Format(time.RFC3339), Document: doc})
}

// Pin sets a person's choice for a piece; an earlier pin on it goes.
func (w *Workshop) Pin(ctx context.Context, pin show.Pin) error {
	return w.act(ctx, fmt.Sprintf("%s pinned to %s", pin.Piece, pin.Source), func(h *show.House) error {
		if h.Piece(pin.Piece) == nil {
			return why.NotFound("piece", string(pin.Piece))
		}
		if pin.Garment != "" && h.Garment(pin.Garment) == nil {
			return why.NotFound("garment", string(pin.Garment))
		}
		if pin.Cloth != "" && h.Cloth(pin.Cloth) == nil {
			return why.NotFound("cloth", string(pin.Cloth))
		}
		pin.Day, pin.Who = w.Day(h.Show), "you"
		h.Pins = append(withoutPin(h.Pins, pin.Piece), pin)
		return nil
	})
}

// Unpin takes a pin out.
func (w *Workshop) Unpin(ctx context.Context, id show.PieceID) error {
	return w.act(ctx, fmt.Sprintf("The pin taken out of %s", id), func(h *show.House) error {
		if h.PinOf(id) == nil {
			return why.NotFound("pin on", string(id))
		}
		h.Pins = withoutPin(h.Pins, id)
		return nil
	})
}

func withoutPin(pins []show.Pin, id show.PieceID) []show.Pin {
	var out []show.Pin
	for _, p := range pins {
		if p.Piece != id {
			out = append(out, p)
		}
	}
	return out
}

// SetHowFar notes how far a piece has come.
func (w *Workshop) SetHowFar(ctx context.Context, id show.PieceID, far show.HowFar) error {
	name := string(far)
	switch far {
	case show.ThoughtOf:
		name = "thought of"
	case show.FoundIt, show.InWork, show.ToBeFitted, show.Finished, show.Hung:
	default:
		return why.Bad("howfar", fmt.Sprintf("%q is not one of the steps of a piece.", far), "Choose one of the list.")
	}
	return w.act(ctx, fmt.Sprintf("%s is %s", id, name), func(h *show.House) error {
		p := h.Piece(id)
		if p == nil {
			return why.NotFound("piece", string(id))
		}
		p.HowFar = far
		return nil
	})
}

// SetUnits chooses what lengths are shown in.
func (w *Workshop) SetUnits(ctx context.Context, sys units.System) error {
	return w.act(ctx, "Lengths shown in "+sys.String(), func(h *show.House) error {
		h.Units = sys
		return nil
	})
}

// Undo takes the last deed back and says which it was.
func (w *Workshop) Undo(ctx context.Context) (string, error) {
	w.lock()
	defer w.mu.Unlock()
	a, err := w.store.Undo(ctx, "you", w.clock())
	return a.Words, err
}

// Redo does again what was undone last.
func (w *Workshop) Redo(ctx context.Context) (string, error) {
	w.lock()
	defer w.mu.Unlock()
	a, err := w.store.Redo(ctx, "you", w.clock())
	return a.Words, err
}

// LastDeed says what was done last and still stands, and whether something
// undone can be done again.
func (w *Workshop) LastDeed() (words string, again bool) {
	acts, err := w.store.Acts(50)
	if err != nil || len(acts) == 0 {
		return "", false
	}
	again = acts[0].Kind == "undo" && !acts[0].Gone
	for _, a := range acts {
		if a.Kind != "undo" && !a.Gone {
			return a.Words, again
		}
	}
	return "", again
}

// IsDemo says whether the house holds the demo show.
func (w *Workshop) IsDemo() (bool, error) {
	h, err := w.store.House()
	return h.Show.Code == demo.Code, err
}
