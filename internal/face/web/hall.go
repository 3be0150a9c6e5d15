package web

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"errors"
	"fmt"
	"math/big"
	"net"
	"net/http"
	"slices"
	"sync"
	"time"

	"hemwright/internal/value/why"
)

// What the hall allows: how long it stays open without its page being looked
// at, how many wrong codes until it is locked, how large a picture may be.
const (
	unwatched  = 90 * time.Second
	mostTries  = 10
	mostUpload = 8 << 20
)

// Things a phone may be let in for.
const (
	toMeasure = "measure"
	toRail    = "rail"
	toCount   = "count"
)

var phoneWork = []struct{ Key, Name string }{
	{toRail, "write the rail down"}, {toCount, "count what hangs"}, {toMeasure, "measure, one child at a time"},
}

// hall is the door for phones: open only while its page is.
type hall struct {
	mu       sync.Mutex
	srv      *http.Server
	addr     string // host and port phones come to
	may      []string
	code     string
	sessions map[string]bool
	seen     time.Time
	clock    func() time.Time
}

// openHall lets phones in at an address of this machine.
func (s *server) openHall(host string, may []string) error {
	h := &s.hall
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.srv != nil {
		h.may = may
		return nil
	}
	l, err := net.Listen("tcp", net.JoinHostPort(host, "0"))
	if err != nil {
		return why.Bad("hall", "No door could be opened on "+host+".", "Look whether the network is still there.")
	}
	h.addr, h.may, h.sessions, h.seen = l.Addr().String(), may, map[string]bool{}, h.clock()
	if h.code, err = newCode(); err != nil {
		l.Close()
		return err
	}
	h.srv = &http.Server{Handler: s.doorway(), ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 30 * time.Second, WriteTimeout: 30 * time.Second, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10}
	go func(srv *http.Server) {
		if err := srv.Serve(l); err != nil && !errors.Is(err, http.ErrServerClosed) {
			s.log.Error("hall", "err", err)
		}
	}(h.srv)
	go s.watchHall(h.srv)
	return nil
}

// watchHall closes the hall when its page has not been looked at for a while.
func (s *server) watchHall(srv *http.Server) {
	for {
		time.Sleep(5 * time.Second)
		h := &s.hall
		h.mu.Lock()
		mine, late := h.srv == srv, h.clock().Sub(h.seen) > unwatched
		h.mu.Unlock()
		if !mine {
			return
		}
		if late {
			s.closeHall()
			return
		}
	}
}

// closeHall ends every session.
func (s *server) closeHall() {
	h := &s.hall
	h.mu.Lock()
	srv := h.srv
	h.srv, h.code, h.sessions = nil, "", nil
	h.mu.Unlock()
	if srv != nil {
		ctx, stop := context.WithTimeout(context.Background(), time.Second)
		defer stop()
		if srv.Shutdown(ctx) != nil {
			srv.Close()
		}
	}
}

// newCode is six digits nobody can guess ten times.
func newCode() (string, error) {
	n, err := rand.Int(rand.Reader, big.NewInt(1_000_000))
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("%06d", n), nil
}

// enter takes a code once; a right one gives a session and makes a new code
// for the next phone.
func (s *server) enter(ctx context.Context, code string) (session string, err error) {
	h := &s.hall
	h.mu.Lock()
	defer h.mu.Unlock()
	tries, err := s.ws.DoorTries()
	if err != nil {
		return "", err
	}
	if tries >= mostTries {
		return "", &why.Error{Kind: why.Conflict, Field: "code", What: "The door is locked: too many wrong codes.", Try: "Ask at the desk to unlock it."}
	}
	if h.srv == nil || subtle.ConstantTimeCompare([]byte(code), []byte(h.code)) != 1 {
		if err := s.ws.SetDoorTries(ctx, tries+1); err != nil {
			return "", err
		}
		return "", why.Bad("code", "That is not the code.", "It stands on the laptop, and is another for each phone.")
	}
	raw := make([]byte, 16)
	if _, err := rand.Read(raw); err != nil {
		return "", err
	}
	session = hex.EncodeToString(raw)
	h.sessions[session] = true
	if h.code, err = newCode(); err != nil {
		return "", err
	}
	return session, s.ws.SetDoorTries(ctx, 0)
}

// let says whether a request is of a phone that was let in, for that work.
func (s *server) let(r *http.Request, work string) bool {
	c, err := r.Cookie("hall")
	h := &s.hall
	h.mu.Lock()
	defer h.mu.Unlock()
	return err == nil && h.sessions[c.Value] && (work == "" || slices.Contains(h.may, work))
}

// doorway is all a phone can reach.
func (s *server) doorway() http.Handler {
	mux := http.NewServeMux()
	page := func(pattern, work string, do func(http.ResponseWriter, *http.Request) error) {
		mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
			if !s.let(r, work) {
				s.refuse(w, &why.Error{Kind: why.Missing, What: "This phone is not let in.", Try: "Ask at the desk for the code."}, http.StatusForbidden)
				return
			}
			if err := do(w, r); err != nil {
				s.refusePhone(w, r, err)
			}
		})
	}
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) { s.door(w, r, "") })
	mux.HandleFunc("POST /{$}", s.knock)
	page("GET /work", "", s.phoneMenu)
	page("GET /measure", toMeasure, s.phoneMeasure)
	page("GET /measure/{id}", toMeasure, s.phoneMeasure)
	page("POST /measure/{id}", toMeasure, s.phoneMeasured)
	page("GET /rail", toRail, s.phoneRail)
	page("POST /rail", toRail, s.phoneHung)
	page("GET /count", toCount, s.phoneCount)
	page("POST /count", toCount, s.phoneCounted)
	s.stills(mux)
	return s.doorGuard(http.NewCrossOriginProtection().Handler(mux))
}

// doorGuard answers only to the address the door was opened at.
func (s *server) doorGuard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.hall.mu.Lock()
		addr := s.hall.addr
		s.hall.mu.Unlock()
		if r.Host != addr {
			http.Error(w, "This door answers to its own address only.", http.StatusForbidden)
			return
		}
		secure(w.Header())
		r.Body = http.MaxBytesReader(w, r.Body, mostUpload)
		next.ServeHTTP(w, r)
	})
}

func (s *server) knock(w http.ResponseWriter, r *http.Request) {
	session, err := s.enter(r.Context(), r.FormValue("code"))
	if err != nil {
		var e *why.Error
		if !errors.As(err, &e) {
			s.log.Error("door", "err", err)
			e = &why.Error{What: "Something went wrong in the program itself.", Try: "Try again."}
		}
		s.door(w, r, e.Error())
		return
	}
	http.SetCookie(w, &http.Cookie{Name: "hall", Value: session, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
	http.Redirect(w, r, "/work", http.StatusSeeOther)
}

// lanHosts are the addresses of this machine that a phone on its network can
// come to.
func lanHosts() []string {
	var out []string
	addrs, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	for _, a := range addrs {
		if n, ok := a.(*net.IPNet); ok && n.IP.To4() != nil && n.IP.IsPrivate() {
			out = append(out, n.IP.String())
		}
	}
	return out
}
