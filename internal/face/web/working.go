package web

import (
	"context"
	"fmt"
	"net/http"
	"sync"
	"time"

	"hemwright/internal/workshop"
)

// patience is how long a page waits for what is being worked out before it
// shows how far that is.
var patience = time.Second

// work is a working-out under way, shared by all pages that wait for it.
type work struct {
	done  chan struct{}
	since time.Time
	p     *workshop.Prepared
	err   error

	mu   sync.Mutex
	step string
}

func (k *work) says() string {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.step
}

// working is the page of a working-out under way.
type working struct {
	Frame
	Step    string
	Seconds int
	Back    string
}

// begun is the working-out under way; one is begun where there is none.
func (s *server) begun() *work {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.work != nil {
		return s.work
	}
	k := &work{done: make(chan struct{}), since: time.Now()}
	s.work = k
	s.ws.Watch(func(step string) {
		k.mu.Lock()
		k.step = step
		k.mu.Unlock()
	})
	go func() {
		k.p, k.err = s.ws.Prepared(context.Background())
		s.mu.Lock()
		s.work = nil
		s.mu.Unlock()
		close(k.done)
	}()
	return k
}

// prepared gives a page what was worked out; while that takes longer than a
// moment, the page says how far it is.
func (s *server) prepared(page func(http.ResponseWriter, *http.Request, *workshop.Prepared) error) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		k := s.begun()
		wait := time.NewTimer(patience)
		defer wait.Stop()
		select {
		case <-k.done:
			if k.err != nil {
				return k.err
			}
			return page(w, r, k.p)
		case <-r.Context().Done():
			return r.Context().Err()
		case <-wait.C:
		}
		p, _, err := s.ws.Glance()
		if err != nil {
			return err
		}
		v := working{Frame: s.frame(p, "Being worked out", "", nil), Step: k.says(), Seconds: int(time.Since(k.since).Seconds()), Back: r.URL.RequestURI()}
		return s.show(w, http.StatusAccepted, "working", v)
	}
}

// stream tells a page what is being worked out, and when it is done.
func (s *server) stream(w http.ResponseWriter, r *http.Request) error {
	out, ok := w.(http.Flusher)
	if !ok {
		return fmt.Errorf("this connection cannot stream")
	}
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("Cache-Control", "no-store")
	k := s.begun()
	tick := time.NewTicker(200 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-k.done:
			fmt.Fprint(w, "event: ready\ndata: ready\n\n")
			out.Flush()
			return nil
		case <-r.Context().Done():
			return nil
		case <-tick.C:
			fmt.Fprintf(w, "data: %.0f s: %s\n\n", time.Since(k.since).Seconds(), k.says())
			out.Flush()
		}
	}
}

// stopWork ends the working-out with the best it has.
func (s *server) stopWork(w http.ResponseWriter, r *http.Request) error {
	s.ws.Stop()
	to := r.FormValue("back")
	if to == "" || to[0] != '/' || len(to) > 1 && to[1] == '/' {
		to = "/"
	}
	return back(w, r, to)
}
