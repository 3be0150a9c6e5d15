// Package web serves the pages, on this machine only. It shows what workshop
// worked out and passes on what a person does; it computes nothing of its own.
package web

import (
	"embed"
	"errors"
	"html/template"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"

	"eliasnaur.com/font/roboto/robotocondensedbold"
	"eliasnaur.com/font/roboto/robotomedium"
	"eliasnaur.com/font/roboto/robotoregular"
	"github.com/go-fonts/stix/stix2textitalic"
	"github.com/go-fonts/stix/stix2textregular"

	"hemwright/internal/intake"
	"hemwright/internal/show/answer"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

//go:embed templates/*.html style.css keys.js grid.js list.js byhand.js find.js fold.js phone.js working.js trace.js icon.svg
var files embed.FS

// server holds the workshop the pages show.
type server struct {
	ws    *workshop.Workshop
	pages map[units.System]*template.Template
	log   *slog.Logger

	mu      sync.Mutex
	heard   workshop.Heard // the last text told
	file    intake.File    // the last file brought in, to be read again
	tracing tracing        // the picture of a cloth at hand

	work  *work
	hall  hall
	hosts func() []string // the addresses phones can come to
}

// New makes the handler for all pages.
func New(ws *workshop.Workshop, log *slog.Logger) (http.Handler, error) {
	s, err := newServer(ws, log)
	if err != nil {
		return nil, err
	}
	return s.desk(), nil
}

func newServer(ws *workshop.Workshop, log *slog.Logger) (*server, error) {
	s := &server{ws: ws, log: log, pages: map[units.System]*template.Template{}, hosts: lanHosts}
	s.hall.clock = time.Now
	for _, sys := range []units.System{units.Metric, units.Imperial} {
		t, err := template.New("").Funcs(helpers(sys)).ParseFS(files, "templates/*.html")
		if err != nil {
			return nil, err
		}
		s.pages[sys] = t
	}
	return s, nil
}

// desk is all that is shown on this machine.
func (s *server) desk() http.Handler {
	mux := http.NewServeMux()
	for path, page := range map[string]func(http.ResponseWriter, *http.Request, *workshop.Prepared) error{
		"/{$}": s.today, "/who": s.whoIsOn, "/running": s.running, "/performers": s.performers,
		"/pieces": s.pieces, "/pieces/{id}": s.piece, "/rail": s.rail, "/rail/{id}/cut-up": s.cutUp, "/shelf": s.shelf, "/shelf/{id}": s.cloth, "/rail/{id}": s.garment, "/shelf/{id}/by-hand": s.byHand, "/shelf/{id}/cut-up": s.cutUp, "/workroom": s.workroom,
		"/fittings": s.fittings, "/money": s.money, "/cautions": s.cautions, "/sheets": s.sheets, "/sheets/{file}": s.oneSheet,
		"/changed": s.changed, "/house": s.house, "/house/erase": s.beforeErasing,
	} {
		mux.HandleFunc("GET "+path, s.answer(s.prepared(page)))
	}
	for path, page := range map[string]func(http.ResponseWriter, *http.Request, *workshop.Prepared) error{
		"/start": s.start, "/edit/{kind}": s.edit, "/edit/{kind}/{code}": s.edit, "/who/grid": s.grid, "/rail/fit": s.fitGrid, "/rail/operations": s.operations, "/looks": s.looks, "/phone": s.phone,
		"/list/{kind}": s.list, "/calendar": s.countBack,
		"/shelf/{id}/outline": s.outline, "/shelf/{id}/outline/trace": s.tracePage,
	} {
		mux.HandleFunc("GET "+path, s.answer(s.light(page)))
	}
	for path, act := range map[string]func(http.ResponseWriter, *http.Request) error{
		"/pieces/{id}/pin": s.pin, "/pieces/{id}/unpin": s.unpin, "/pieces/{id}/howfar": s.howFar, "/running/best": s.best, "/workroom/took": s.took, "/shelf/{id}/left": s.cutOff, "/rail/{id}/altered": s.altered, "/shelf/{id}/longer": s.longer, "/shelf/{id}/by-hand": s.putByHand, "/shop": s.keepFind, "/stop": s.stopWork, "/phone": s.openPhone, "/looks": s.giveLook, "/who/grid": s.tick, "/who/times": s.setTimes, "/start": s.tell, "/start/kept": s.settleKept, "/edit/{kind}": s.save, "/edit/{kind}/{code}": s.save, "/edit/{kind}/{code}/out": s.remove,
		"/list/{kind}":                s.changeList,
		"/shelf/{id}/outline/picture": s.bringPicture, "/shelf/{id}/outline/trace": s.traceNow, "/shelf/{id}/outline/keep": s.keepTrace, "/shelf/{id}/outline/leave": s.leaveTrace,
		"/shelf/{id}/outline/tape": s.walked, "/shelf/{id}/outline/sold": s.setSold, "/shelf/sold": s.addSold,
		"/units": s.setUnits, "/undo": s.undo, "/redo": s.redo,
		"/calendar":      s.takeDates,
		"/start/file":    s.bringFile,
		"/house/restore": s.restore, "/house/erase": s.erase, "/house/erase-day": s.eraseDay,
	} {
		mux.HandleFunc("POST "+path, s.answer(act))
	}
	mux.HandleFunc("GET /performers/{id}/away", s.answer(s.away))
	mux.HandleFunc("GET /shelf/{id}/{file}", s.answer(s.layFile))
	mux.HandleFunc("GET /shop", s.answer(s.shop))
	mux.HandleFunc("GET /pocket.html", s.answer(s.pocket))
	mux.HandleFunc("GET /house/{file}", s.answer(s.oneTable))
	mux.HandleFunc("GET /show.zip", s.answer(s.bundle))
	mux.HandleFunc("GET /dates.ics", s.answer(s.calendar))
	mux.HandleFunc("GET /stream", s.answer(s.stream))
	mux.HandleFunc("GET /performers/{id}", s.answer(s.performer))
	mux.HandleFunc("GET /everything.xlsx", s.answer(s.everything))
	mux.HandleFunc("GET /pictures/{code}", s.answer(s.picture))
	mux.HandleFunc("GET /shelf/{id}/picture.jpg", s.answer(s.clothPhoto))
	mux.HandleFunc("GET /shelf/{id}/outline/picture.jpg", s.answer(s.tracePicture))
	mux.HandleFunc("/", s.answer(func(http.ResponseWriter, *http.Request) error {
		return &why.Error{Kind: why.Missing, What: "There is no such page.", Try: "The pages are named in the line at the top."}
	}))
	s.stills(mux)
	return guard(http.NewCrossOriginProtection().Handler(mux))
}

// stills serves what does not change: style, scripts, typefaces.
func (s *server) stills(mux *http.ServeMux) {
	for path, kind := range map[string]string{"style.css": "text/css; charset=utf-8", "keys.js": "text/javascript; charset=utf-8", "grid.js": "text/javascript; charset=utf-8", "list.js": "text/javascript; charset=utf-8", "byhand.js": "text/javascript; charset=utf-8", "fold.js": "text/javascript; charset=utf-8", "find.js": "text/javascript; charset=utf-8", "phone.js": "text/javascript; charset=utf-8", "working.js": "text/javascript; charset=utf-8", "trace.js": "text/javascript; charset=utf-8", "icon.svg": "image/svg+xml"} {
		body, err := files.ReadFile(path)
		if err != nil {
			panic(err) // they are in the program
		}
		mux.HandleFunc("GET /"+path, still(kind, body))
	}
	for name, body := range map[string][]byte{"plain.ttf": robotoregular.TTF, "plain-medium.ttf": robotomedium.TTF, "tape.ttf": robotocondensedbold.TTF,
		"serif.otf": stix2textregular.TTF, "serif-italic.otf": stix2textitalic.TTF} {
		mux.HandleFunc("GET /type/"+name, still("font/ttf", body))
	}
}

// still serves bytes that do not change while the program runs.
func still(kind string, body []byte) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", kind)
		if kind == "font/ttf" {
			w.Header().Set("Cache-Control", "max-age=3600")
		} else {
			w.Header().Set("Cache-Control", "no-cache") // another version of the program has another style
		}
		w.Write(body)
	}
}

// guard keeps strangers out: only names of this machine, a strict content
// policy, no framing, no large requests.
func guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host, _, err := net.SplitHostPort(r.Host)
		if err != nil {
			host = r.Host
		}
		if host != "127.0.0.1" && host != "localhost" && host != "::1" {
			http.Error(w, "These pages answer on this machine only.", http.StatusForbidden)
			return
		}
		secure(w.Header())
		most := int64(1 << 20)
		if r.URL.Path == "/start/file" {
			most = largestFile
		}
		if strings.HasPrefix(r.URL.Path, "/shelf/") && strings.HasSuffix(r.URL.Path, "/outline/picture") {
			most = mostPicture + 1<<16 // and what the form puts round it
		}
		r.Body = http.MaxBytesReader(w, r.Body, most)
		next.ServeHTTP(w, r)
	})
}

// secure sets what every answer carries: a strict content policy.
func secure(h http.Header) {
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'self'; font-src 'self'; img-src 'self'; script-src 'self'; connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin")
}

// light gives a page the house and its changes, quickly: nothing of the plan.
func (s *server) light(page func(http.ResponseWriter, *http.Request, *workshop.Prepared) error) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		p, err := s.ws.Running()
		if err != nil {
			return err
		}
		return page(w, r, p)
	}
}

// answer runs a page and puts an error into words on a page of its own.
func (s *server) answer(page func(http.ResponseWriter, *http.Request) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		err := page(w, r)
		if err == nil {
			return
		}
		kind := why.KindOf(err)
		var e *why.Error
		if !errors.As(err, &e) {
			s.log.Error("page", "path", r.URL.Path, "err", err)
			e = &why.Error{What: "Something went wrong in the program itself.", Try: "What you did before is kept. Go back and try again."}
		}
		view := struct {
			Frame
			What, Try string
		}{What: e.What, Try: e.Try}
		if p, _, perr := s.ws.Glance(); perr == nil {
			view.Frame = s.frame(p, "Not done", "", nil)
		} else {
			view.Title, view.Nav = "Not done", pages
		}
		s.show(w, kind.HTTPStatus(), "refused", view)
	}
}

// view is what a page shows, inside its frame.
type view interface{ units() units.System }

func (s *server) show(w http.ResponseWriter, status int, name string, view view) error {
	var b strings.Builder
	if err := s.pages[view.units()].ExecuteTemplate(&b, name, view); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, err := w.Write([]byte(b.String()))
	return err
}

// frame adds the last deed to a page's frame.
func (s *server) frame(p *workshop.Prepared, title, here string, colours []string) Frame {
	fr := frame(p, title, here, colours)
	fr.Last, fr.CanRedo = s.ws.LastDeed()
	return fr
}

// helpers are what templates may call, lengths in the house's units.
func helpers(sys units.System) template.FuncMap {
	return template.FuncMap{
		"swatch": func(hex string) template.HTML { return swatchOf(hex) },
		"length": sys.Print,
		"span":   sys.PrintSpan,
		"unit":   sys.Unit,
		"seg":    url.PathEscape,
		"units":  sys.String,
		"says":   func(r why.Reason) string { return r.Sentence(sys) },
		"railfield": func(v phonePaper, key, label, mode string) any {
			return struct{ Key, Label, Mode, Value, Fault string }{key, label, mode, v.Rail[key], v.Faults[key]}
		},
		"walk": func(v outlineView, key, label, like string) any {
			return struct{ Key, Label, Like, Value, Fault string }{key, label, like, v.Typed[key], v.Faults[key]}
		},
		"basis":   func(r why.Reason) string { return r.Basis().Title },
		"minutes": func(o answer.Option) units.Minutes { return o.Minutes() },
		"hours":   func(m units.Minutes) int { return int((m + 30) / 60) },
	}
}
