package live

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// lesson stands in for what computes.
type lesson struct {
	asked atomic.Int32 // times that anything was computed or saved
	at    atomic.Value
	slow  chan struct{} // nil: answers at once
	ended chan error    // how slow ones ended
}

func (l *lesson) HTML() ([]byte, error) { return []byte("<p>the page"), nil }

func (l *lesson) Save() (string, error) {
	l.asked.Add(1)
	return "page.html", nil
}

func (l *lesson) Case(ctx context.Context, at []int, have int, progress func(float64)) (any, error) {
	l.asked.Add(1)
	l.at.Store(at)
	if len(at) > 0 && at[0] > 5 {
		return nil, Refusal("no such level")
	}
	if l.slow != nil {
		time.Sleep(2 * between)
		progress(0.5)
		select {
		case <-l.slow:
		case <-ctx.Done():
			l.ended <- ctx.Err()
			return nil, ctx.Err()
		}
	}
	return have, nil
}

// started serves a page until the test ends.
func started(t *testing.T, l *lesson) (s *Server, stop func()) {
	t.Helper()
	s, err := Listen(0, l)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, io.Discard) }()
	stop = func() {
		cancel()
		select {
		case err := <-ended:
			if err != nil {
				t.Error(err)
			}
			ended <- nil
		case <-time.After(5 * time.Second):
			t.Error("does not stop")
		}
	}
	t.Cleanup(stop)
	return s, stop
}

// request is what a browser, or somebody else, sends.
type request struct {
	method, path, host, body string
	origin                   []string
	kind                     string // of the body
}

func (s *Server) good() request {
	return request{"POST", "/" + s.token + "/case", s.host, `{"at":[1,2],"have":3}`, []string{"http://" + s.host}, "application/json"}
}

func (s *Server) send(t *testing.T, q request) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequest(q.method, "http://"+s.host+q.path, strings.NewReader(q.body))
	if err != nil {
		t.Fatal(err)
	}
	r.Host = q.host
	r.Header["Origin"] = q.origin
	if q.kind != "" {
		r.Header.Set("Content-Type", q.kind)
	}
	answer, err := (&http.Transport{DisableKeepAlives: true}).RoundTrip(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer, string(text)
}

func TestAnswers(t *testing.T) {
	l := &lesson{}
	s, _ := started(t, l)
	if host, _, _ := net.SplitHostPort(s.host); host != "127.0.0.1" {
		t.Errorf("listens on %s", host)
	}
	page, text := s.send(t, request{method: "GET", path: "/" + s.token + "/", host: s.host})
	if page.StatusCode != 200 || text != "<p>the page" || page.Header.Get("Content-Type") != "text/html; charset=utf-8" || page.Header.Get("Content-Security-Policy") != "frame-ancestors 'none'" ||
		page.Header.Get("Cache-Control") != "no-store" || page.Header.Get("X-Content-Type-Options") != "nosniff" || page.Header.Get("Referrer-Policy") != "same-origin" || page.Header.Get("Access-Control-Allow-Origin") != "" {
		t.Errorf("page: %d %q %v", page.StatusCode, text, page.Header)
	}
	if answer, text := s.send(t, s.good()); answer.StatusCode != 200 || text != "{\"grown\":3}\n" || !strings.Contains(answer.Header.Get("Content-Security-Policy"), "default-src 'none'") {
		t.Errorf("case: %d %q", answer.StatusCode, text)
	}
	if at := l.at.Load().([]int); len(at) != 2 || at[0] != 1 || at[1] != 2 {
		t.Errorf("asked for %v", at)
	}
	save := s.good()
	save.path, save.body = "/"+s.token+"/save", "{}"
	if answer, text := s.send(t, save); answer.StatusCode != 200 || text != "{\"saved\":\"page.html\"}\n" {
		t.Errorf("save: %d %q", answer.StatusCode, text)
	}
	other, _ := started(t, l)
	if s.token == other.token || len(s.token) != 32 {
		t.Errorf("tokens %s and %s", s.token, other.token)
	}
}

// TestHostile sends what the page never does: nothing is computed, saved or shown.
func TestHostile(t *testing.T) {
	l := &lesson{}
	s, _ := started(t, l)
	_, port, _ := net.SplitHostPort(s.host)
	for _, tt := range []struct {
		name string
		want int
		make func(q *request)
	}{
		{"another host", 421, func(q *request) { q.host = "evil.example" }},
		{"another host, the same port", 421, func(q *request) { q.host = "evil.example:" + port }},
		{"another name of this machine", 421, func(q *request) { q.host = "localhost:" + port }},
		{"another port", 421, func(q *request) { q.host = "127.0.0.1:1" }},
		{"the page for another host", 421, func(q *request) { *q = request{method: "GET", path: "/" + s.token + "/", host: "evil.example"} }},
		{"another origin", 403, func(q *request) { q.origin = []string{"http://evil.example"} }},
		{"an origin that begins alike", 403, func(q *request) { q.origin = []string{"http://" + s.host + ".evil.example"} }},
		{"https", 403, func(q *request) { q.origin = []string{"https://" + s.host} }},
		{"no place", 403, func(q *request) { q.origin = []string{"null"} }},
		{"no origin", 403, func(q *request) { q.origin = nil }},
		{"two origins", 403, func(q *request) { q.origin = append(q.origin, "http://evil.example") }},
		{"the page for another origin", 403, func(q *request) {
			*q = request{method: "GET", path: "/" + s.token + "/", host: s.host, origin: []string{"http://evil.example"}}
		}},
		{"no token", 404, func(q *request) { q.path = "/case" }},
		{"an empty token", 404, func(q *request) { q.path = "//case" }},
		{"another token", 404, func(q *request) { q.path = "/" + strings.Repeat("0", 32) + "/case" }},
		{"part of the token", 404, func(q *request) { q.path = "/" + s.token[:31] + "/case" }},
		{"the root", 404, func(q *request) { *q = request{method: "GET", path: "/", host: s.host} }},
		{"something else", 404, func(q *request) { q.path = "/" + s.token + "/other" }},
		{"a way up", 404, func(q *request) { q.path = "/" + s.token + "/../../etc/passwd" }},
		{"a query", 404, func(q *request) { q.path += "?at=1" }},
		{"GET", 405, func(q *request) { q.method, q.body = "GET", "" }},
		{"DELETE", 405, func(q *request) { q.method = "DELETE" }},
		{"OPTIONS", 405, func(q *request) { q.method, q.body = "OPTIONS", "" }},
		{"saving by GET", 405, func(q *request) { q.method, q.path, q.body = "GET", "/"+s.token+"/save", "" }},
		{"a form", 415, func(q *request) { q.kind = "application/x-www-form-urlencoded" }},
		{"plain text", 415, func(q *request) { q.kind = "text/plain" }},
		{"no type", 415, func(q *request) { q.kind = "" }},
		{"too large", 413, func(q *request) { q.body = `{"at":[` + strings.Repeat("1,", mostBody) + `1]}` }},
		{"too large behind", 413, func(q *request) { q.body += strings.Repeat(" ", mostBody) }},
		{"an unknown key", 400, func(q *request) { q.body = `{"at":[1,2],"set":{"current.power_W":1e9}}` }},
		{"a key to save", 400, func(q *request) { q.path = "/" + s.token + "/save" }},
		{"not a number", 400, func(q *request) { q.body = `{"at":[NaN,2]}` }},
		{"infinite", 400, func(q *request) { q.body = `{"at":[1e999,2]}` }},
		{"a fraction", 400, func(q *request) { q.body = `{"at":[1.5,2]}` }},
		{"more than fits", 400, func(q *request) { q.body = `{"at":[99999999999999999999,2]}` }},
		{"words", 400, func(q *request) { q.body = `{"at":["1","2"]}` }},
		{"a list", 400, func(q *request) { q.body = `[1,2]` }},
		{"nothing", 400, func(q *request) { q.body = `` }},
		{"half", 400, func(q *request) { q.body = `{"at":[1` }},
		{"two", 400, func(q *request) { q.body += q.body }},
		{"many levels", 400, func(q *request) { q.body = `{"at":[` + strings.Repeat("1,", mostLevels) + `1]}` }},
	} {
		q := s.good()
		tt.make(&q)
		answer, text := s.send(t, q)
		if answer.StatusCode != tt.want || strings.Contains(text, s.token) || strings.Contains(text, "the page") {
			t.Errorf("%s: %d %q, want %d", tt.name, answer.StatusCode, text, tt.want)
		}
	}
	if n := l.asked.Load(); n != 0 {
		t.Errorf("%d were computed or saved", n)
	}
	q := s.good()
	q.body = `{"at":[6]}`
	if answer, text := s.send(t, q); answer.StatusCode != 422 || text != "no such level\n" {
		t.Errorf("refused: %d %q", answer.StatusCode, text)
	}
}

// TestHangUp: a browser that hangs up ends the computing; too many at a time are refused; stopping ends them all.
func TestHangUp(t *testing.T) {
	l := &lesson{slow: make(chan struct{}), ended: make(chan error, 10)}
	s, stop := started(t, l)
	post := func(ctx context.Context) (*http.Response, error) {
		q := s.good()
		r, err := http.NewRequestWithContext(ctx, "POST", "http://"+s.host+q.path, strings.NewReader(q.body))
		if err != nil {
			return nil, err
		}
		r.Header.Set("Origin", q.origin[0])
		r.Header.Set("Content-Type", q.kind)
		return (&http.Transport{}).RoundTrip(r)
	}
	ctx, cancel := context.WithCancel(context.Background())
	answer, err := post(ctx)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if line, err := bufio.NewReader(answer.Body).ReadString('\n'); err != nil || line != "{\"share\":0.5}\n" {
		t.Errorf("progress: %q, %v", line, err)
	}
	for len(s.waiting) < mostWaiting {
		go post(ctx)
		time.Sleep(10 * time.Millisecond)
	}
	if answer, text := s.send(t, s.good()); answer.StatusCode != 503 || !strings.Contains(text, "Busy") {
		t.Errorf("one too many: %d %q", answer.StatusCode, text)
	}
	if n := l.asked.Load(); n != 1 {
		t.Errorf("%d at a time", n)
	}
	cancel()
	select {
	case err := <-l.ended:
		if !errors.Is(err, context.Canceled) {
			t.Error(err)
		}
	case <-time.After(5 * time.Second):
		t.Fatal("it goes on without anybody to see it")
	}
	for range 500 {
		if len(s.waiting) == 0 {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	go post(context.Background())
	for range 500 {
		if len(s.turn) == 1 {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	stop()
	if len(s.turn) != 0 || len(s.waiting) != 0 {
		t.Error("stopped, but something is at work")
	}
}

// A browser that sends its request slowly, or not to its end, is given up.
func TestHalfARequest(t *testing.T) {
	l := &lesson{}
	s, _ := started(t, l)
	c, err := net.Dial("tcp", s.host)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	c.Write([]byte("POST /" + s.token + "/case HTTP/1.1\r\nHost: " + s.host + "\r\nOrigin: http://" + s.host + "\r\nContent-Type: application/json\r\nContent-Length: 20\r\n\r\n{\"at\""))
	if answer, text := s.send(t, s.good()); answer.StatusCode != 200 || text != "{\"grown\":3}\n" { // another is not held up
		t.Errorf("%d %q", answer.StatusCode, text)
	}
	var head bytes.Buffer
	c.(*net.TCPConn).CloseWrite()
	c.SetReadDeadline(time.Now().Add(5 * time.Second))
	io.Copy(&head, c)
	if !strings.HasPrefix(head.String(), "HTTP/1.1 400") || l.asked.Load() != 1 {
		t.Errorf("%q, %d computed", head.String(), l.asked.Load())
	}
}
