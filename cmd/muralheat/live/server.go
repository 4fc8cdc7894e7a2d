// Package live serves one page, and what its script asks for, to a browser on the same machine and to nobody else: on
// the loopback address only, under an address with a random token, to requests that name this host and, where they
// change anything, come from this page. It computes one case at a time.
//
//	GET  /TOKEN/      the page
//	POST /TOKEN/case  {"at": levels, "have": cases}: lines of JSON, {"share"} of the time simulated, then {"grown"} or {"failed"}
//	POST /TOKEN/save  {}: {"saved": file}
package live

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"
)

// Limits of what is taken from a browser; assumptions, all far above what the page needs.
const (
	mostBody    = 4 << 10 // bytes of a request
	mostHeader  = 16 << 10
	mostWaiting = 4 // requests that wait while one computes
	mostLevels  = 20
	patience    = 10 * time.Second // for a browser to send or to take something
	between     = 100 * time.Millisecond
)

// Page is what is shown.
type Page interface {
	HTML() ([]byte, error)
	// Case computes the case at some levels, unless it is known, and returns what the page needs that has the first so
	// many cases. A Refusal is an error of whoever asked.
	Case(ctx context.Context, at []int, have int, progress func(share float64)) (grown any, err error)
	// Save writes what was computed so far into a file and returns its name.
	Save() (file string, err error)
}

// Refusal is why a request is not answered, in words for the person.
type Refusal string

func (r Refusal) Error() string { return string(r) }

// Server shows a page.
type Server struct {
	page          Page
	listener      net.Listener
	host, token   string
	turn, waiting chan struct{}
	answering     sync.WaitGroup
}

// Listen makes a server of a page on a port of the loopback address; 0 is any that is free.
func Listen(port int, p Page) (*Server, error) {
	l, err := net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		return nil, err
	}
	secret := make([]byte, 16)
	rand.Read(secret) // never fails
	return &Server{page: p, listener: l, host: l.Addr().String(), token: hex.EncodeToString(secret), turn: make(chan struct{}, 1), waiting: make(chan struct{}, mostWaiting)}, nil
}

// URL is the address to open.
func (s *Server) URL() string { return "http://" + s.host + "/" + s.token + "/" }

// Serve answers until ctx ends, then stops what is computing and waits for it. What goes wrong in the server is written
// to messages.
func (s *Server) Serve(ctx context.Context, messages io.Writer) error {
	server := &http.Server{
		Handler: s, ErrorLog: log.New(messages, "muralheat: ", 0),
		ReadHeaderTimeout: patience, WriteTimeout: patience, IdleTimeout: time.Minute, MaxHeaderBytes: mostHeader,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(s.listener) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	err := server.Close()
	s.answering.Wait()
	return err
}

// ServeHTTP answers a request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	s.answering.Add(1)
	defer s.answering.Done()
	h := w.Header()
	h.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin") // the address is a secret
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
	token, what, ok := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
	methods := map[string]string{"": http.MethodGet, "case": http.MethodPost, "save": http.MethodPost}
	method, known := methods[what]
	origin := r.Header["Origin"]
	switch {
	case r.Host != s.host: // a name that leads here is somebody else's
		http.Error(w, "not the host of this page", http.StatusMisdirectedRequest)
	case len(origin) > 1 || len(origin) == 1 && origin[0] != "http://"+s.host || len(origin) == 0 && r.Method != http.MethodGet:
		http.Error(w, "not from this page", http.StatusForbidden)
	case !ok || subtle.ConstantTimeCompare([]byte(token), []byte(s.token)) != 1 || !known || r.URL.RawQuery != "":
		http.Error(w, "not found", http.StatusNotFound)
	case r.Method != method:
		h.Set("Allow", method)
		http.Error(w, "only "+method, http.StatusMethodNotAllowed)
	case what == "":
		s.show(w)
	case what == "save":
		if read(w, r, &struct{}{}) {
			s.save(w)
		}
	default:
		var asked struct {
			At   []int `json:"at"`
			Have int   `json:"have"`
		}
		if read(w, r, &asked) {
			s.compute(w, r, asked.At, asked.Have)
		}
	}
}

func (s *Server) show(w http.ResponseWriter) {
	text, err := s.page.HTML()
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	// The policy of the page itself stands in it; this one may only be given here.
	w.Header().Set("Content-Security-Policy", "frame-ancestors 'none'")
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Write(text)
}

func (s *Server) save(w http.ResponseWriter) {
	file, err := s.page.Save()
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/x-ndjson")
	json.NewEncoder(w).Encode(map[string]string{"saved": file})
}

// read reads the body of a request: one JSON object of known keys.
func read(w http.ResponseWriter, r *http.Request, into any) bool {
	if r.Header.Get("Content-Type") != "application/json" { // what no form of another page can send
		http.Error(w, "only application/json", http.StatusUnsupportedMediaType)
		return false
	}
	deadline := http.NewResponseController(w)
	deadline.SetReadDeadline(time.Now().Add(patience))
	d := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostBody))
	d.DisallowUnknownFields()
	err := d.Decode(into)
	if err == nil {
		switch err = d.Decode(&struct{}{}); {
		case err == nil:
			err = errors.New("more than one value")
		case errors.Is(err, io.EOF):
			err = nil
		}
	}
	deadline.SetReadDeadline(time.Time{}) // else the computing would end with it
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		http.Error(w, "too large", http.StatusRequestEntityTooLarge)
	case err != nil:
		http.Error(w, "not what is asked for here", http.StatusBadRequest)
	}
	return err == nil
}

// compute answers with a case. It ends when the browser hangs up.
func (s *Server) compute(w http.ResponseWriter, r *http.Request, at []int, have int) {
	ctx, out := r.Context(), http.NewResponseController(w)
	out.SetWriteDeadline(time.Time{}) // that of the server counts from when the request came
	if len(at) > mostLevels {
		http.Error(w, "too many levels", http.StatusBadRequest)
		return
	}
	select {
	case s.waiting <- struct{}{}:
		defer func() { <-s.waiting }()
	default:
		http.Error(w, "Busy: too many settings are asked for at once.", http.StatusServiceUnavailable)
		return
	}
	select {
	case s.turn <- struct{}{}:
		defer func() { <-s.turn }()
	case <-ctx.Done():
		return
	}
	begun := false
	tell := func(line map[string]any) {
		if !begun {
			w.Header().Set("Content-Type", "application/x-ndjson")
			begun = true
		}
		out.SetWriteDeadline(time.Now().Add(patience)) // one that does not read must not hold up the others
		if json.NewEncoder(w).Encode(line) == nil {
			out.Flush()
		}
	}
	last := time.Now()
	grown, err := s.page.Case(ctx, at, have, func(share float64) {
		if now := time.Now(); now.Sub(last) >= between {
			last = now
			tell(map[string]any{"share": share})
		}
	})
	var refusal Refusal
	switch {
	case ctx.Err() != nil: // nobody listens
	case err == nil:
		tell(map[string]any{"grown": grown})
	case begun:
		tell(map[string]any{"failed": err.Error()})
	case errors.As(err, &refusal):
		http.Error(w, err.Error(), http.StatusUnprocessableEntity)
	default:
		http.Error(w, err.Error(), http.StatusInternalServerError)
	}
}
