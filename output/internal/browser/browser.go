// Package browser shows pages in a real browser, for tests.
package browser

import (
	"bufio"
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// Browser is a headless Chromium that is spoken to over two pipes: one JSON message after
// the other, each ended by a zero byte (Chrome DevTools Protocol).
type Browser struct {
	T       *testing.T
	in      *os.File
	out     *bufio.Reader
	session string
	n       int
	events  []message // that came while an answer was waited for
}

type message struct {
	ID     int             `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Message string `json:"message"`
	} `json:"error"`
}

// Open starts one, or skips the test where there is none.
func Open(t *testing.T) *Browser {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		t.Skip("no Chromium here")
	}
	read, theirWrite, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	theirRead, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(path, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--remote-debugging-pipe", "--user-data-dir="+t.TempDir())
	cmd.ExtraFiles = []*os.File{theirRead, theirWrite} // as 3 and 4
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	theirRead.Close()
	theirWrite.Close()
	read.SetDeadline(time.Now().Add(5 * time.Minute))
	b := &Browser{T: t, in: write, out: bufio.NewReaderSize(read, 1<<20)}
	t.Cleanup(func() {
		write.Close() // ends it
		kill := time.AfterFunc(20*time.Second, func() { cmd.Process.Kill() })
		cmd.Wait()
		kill.Stop()
		read.Close()
	})
	var target struct{ TargetID, SessionID string }
	b.Call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	b.Call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &target)
	b.session = target.SessionID
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		b.Call(domain+".enable", nil, nil)
	}
	return b
}

func (b *Browser) read() message {
	text, err := b.out.ReadBytes(0)
	if err != nil {
		b.T.Fatalf("browser: %v", err)
	}
	var m message
	if err := json.Unmarshal(bytes.TrimRight(text, "\x00"), &m); err != nil {
		b.T.Fatal(err)
	}
	return m
}

// Call sends a command and reads its answer.
func (b *Browser) Call(method string, params map[string]any, result any) {
	b.T.Helper()
	b.n++
	text, err := json.Marshal(map[string]any{"id": b.n, "method": method, "params": params, "sessionId": b.session})
	if b.session == "" {
		text, err = json.Marshal(map[string]any{"id": b.n, "method": method, "params": params})
	}
	if err == nil {
		_, err = b.in.Write(append(text, 0))
	}
	if err != nil {
		b.T.Fatal(err)
	}
	for {
		m := b.read()
		if m.ID != b.n {
			b.events = append(b.events, m)
			continue
		}
		if m.Error != nil {
			b.T.Fatalf("browser: %s: %s", method, m.Error.Message)
		}
		if result != nil {
			if err := json.Unmarshal(m.Result, result); err != nil {
				b.T.Fatal(err)
			}
		}
		return
	}
}

// Show loads the page of a file, or of an http address, and waits until all of it is there.
func (b *Browser) Show(path string) {
	b.T.Helper()
	b.events = nil
	b.Call("Page.navigate", map[string]any{"url": addressOf(path)}, nil)
	for {
		for _, m := range b.events {
			if m.Method == "Page.loadEventFired" {
				return
			}
		}
		b.events = append(b.events, b.read())
	}
}

func addressOf(path string) string {
	if strings.HasPrefix(path, "http://") {
		return path
	}
	return "file://" + path
}

// Complaints are what the browser had to say of the page, and what it fetched besides it: of an http address besides
// what is below it.
func (b *Browser) Complaints(path string) (said []string) {
	for _, m := range b.events {
		switch m.Method {
		case "Runtime.exceptionThrown", "Runtime.consoleAPICalled", "Log.entryAdded":
			said = append(said, string(m.Params))
		case "Network.requestWillBeSent":
			var p struct{ Request struct{ URL string } }
			json.Unmarshal(m.Params, &p)
			below := strings.HasPrefix(path, "http://") && strings.HasPrefix(p.Request.URL, path)
			if p.Request.URL != addressOf(path) && !below && !strings.HasPrefix(p.Request.URL, "data:") {
				said = append(said, "fetches "+p.Request.URL)
			}
		}
	}
	return said
}

// Ask evaluates an expression on the page.
func (b *Browser) Ask(expression string, value any) {
	b.T.Helper()
	var r struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails json.RawMessage
	}
	b.Call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true}, &r)
	if r.ExceptionDetails != nil {
		b.T.Fatalf("%s: %s", expression, r.ExceptionDetails)
	}
	if err := json.Unmarshal(r.Result.Value, value); err != nil {
		b.T.Fatalf("%s: %v", expression, err)
	}
}

// Size makes the window as wide and high as that, CSS pixels, on a screen or in print.
func (b *Browser) Size(width, height int, media string) {
	b.T.Helper()
	b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500}, nil)
	b.Call("Emulation.setEmulatedMedia", map[string]any{"media": media}, nil)
}

// Shot keeps a picture of the whole page.
func (b *Browser) Shot(path string) {
	b.T.Helper()
	var shot struct{ Data []byte }
	b.Call("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true}, &shot)
	if err := os.WriteFile(path, shot.Data, 0o644); err != nil {
		b.T.Fatal(err)
	}
}
