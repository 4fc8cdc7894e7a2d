package report

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// browser is a headless Chromium that is spoken to over two pipes: one JSON message after
// the other, each ended by a zero byte (Chrome DevTools Protocol).
type browser struct {
	t       *testing.T
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

// openBrowser starts one, or skips the test where there is none.
func openBrowser(t *testing.T) *browser {
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
	b := &browser{t: t, in: write, out: bufio.NewReaderSize(read, 1<<20)}
	t.Cleanup(func() {
		write.Close() // ends it
		kill := time.AfterFunc(20*time.Second, func() { cmd.Process.Kill() })
		cmd.Wait()
		kill.Stop()
		read.Close()
	})
	var target struct{ TargetID, SessionID string }
	b.call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	b.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &target)
	b.session = target.SessionID
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		b.call(domain+".enable", nil, nil)
	}
	return b
}

func (b *browser) read() message {
	text, err := b.out.ReadBytes(0)
	if err != nil {
		b.t.Fatalf("browser: %v", err)
	}
	var m message
	if err := json.Unmarshal(bytes.TrimRight(text, "\x00"), &m); err != nil {
		b.t.Fatal(err)
	}
	return m
}

// call sends a command and reads its answer.
func (b *browser) call(method string, params map[string]any, result any) {
	b.t.Helper()
	b.n++
	text, err := json.Marshal(map[string]any{"id": b.n, "method": method, "params": params, "sessionId": b.session})
	if b.session == "" {
		text, err = json.Marshal(map[string]any{"id": b.n, "method": method, "params": params})
	}
	if err == nil {
		_, err = b.in.Write(append(text, 0))
	}
	if err != nil {
		b.t.Fatal(err)
	}
	for {
		m := b.read()
		if m.ID != b.n {
			b.events = append(b.events, m)
			continue
		}
		if m.Error != nil {
			b.t.Fatalf("browser: %s: %s", method, m.Error.Message)
		}
		if result != nil {
			if err := json.Unmarshal(m.Result, result); err != nil {
				b.t.Fatal(err)
			}
		}
		return
	}
}

// show loads a page and waits until all of it is there.
func (b *browser) show(path string) {
	b.t.Helper()
	b.events = nil
	b.call("Page.navigate", map[string]any{"url": "file://" + path}, nil)
	for {
		for _, m := range b.events {
			if m.Method == "Page.loadEventFired" {
				return
			}
		}
		b.events = append(b.events, b.read())
	}
}

// complaints are what the browser had to say of the page, and what it fetched besides it.
func (b *browser) complaints(path string) (said []string) {
	for _, m := range b.events {
		switch m.Method {
		case "Runtime.exceptionThrown", "Runtime.consoleAPICalled", "Log.entryAdded":
			said = append(said, string(m.Params))
		case "Network.requestWillBeSent":
			var p struct{ Request struct{ URL string } }
			json.Unmarshal(m.Params, &p)
			if p.Request.URL != "file://"+path && !strings.HasPrefix(p.Request.URL, "data:") {
				said = append(said, "fetches "+p.Request.URL)
			}
		}
	}
	return said
}

// ask evaluates an expression on the page.
func (b *browser) ask(expression string, value any) {
	b.t.Helper()
	var r struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails json.RawMessage
	}
	b.call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true}, &r)
	if r.ExceptionDetails != nil {
		b.t.Fatalf("%s: %s", expression, r.ExceptionDetails)
	}
	if err := json.Unmarshal(r.Result.Value, value); err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
}

// look says how the page lies: how much wider than the window it is, what stands out of its
// place, and how small its smallest words are.
const look = `({
	over: document.documentElement.scrollWidth - document.documentElement.clientWidth,
	out: [...document.querySelectorAll("p, li, pre, h1, h2, figure, .stack td")].filter(e => e.checkVisibility() && e.getBoundingClientRect().right > innerWidth + 1 && !e.closest(".scroll:not(:has(.stack))")).map(e => e.textContent.slice(0, 60)),
	small: Math.min(...[...document.querySelectorAll("p, li, td, th, pre, caption, figcaption")].map(e => parseFloat(getComputedStyle(e).fontSize))),
	narrow: [...document.querySelectorAll("td, tbody th")].filter(e => e.checkVisibility() && e.textContent.trim().length > 5 && e.clientWidth < 20).map(e => e.textContent.slice(0, 60)),
	elements: document.querySelectorAll("script, img, iframe, link, object, form, [onerror], [onclick]").length,
	title: document.title,
	text: document.body.innerText,
	unnamed: [...document.querySelectorAll("svg")].filter(e => e.getAttribute("role") != "img" || !e.getAttribute("aria-label")).length,
	drawings: document.querySelectorAll("figure svg").length,
	dangling: [...document.querySelectorAll("nav a")].filter(a => !document.getElementById(a.hash.slice(1))).length,
})`

type looked struct {
	Over                                  int
	Out, Narrow                           []string
	Small                                 float64
	Elements, Unnamed, Drawings, Dangling int
	Title, Text                           string
}

// TestReportInABrowser shows reports with hostile words in a real browser, from a phone to
// a slide, and prints them. MURALHEAT_LOOK=DIR keeps what was seen.
func TestReportInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	b := openBrowser(t)
	keep := os.Getenv("MURALHEAT_LOOK")
	for name, dir := range map[string]string{"run": hostileRun(t), "sweep": hostileSweep(t)} {
		t.Run(name, func(t *testing.T) {
			b.t = t
			path := filepath.Join(dir, "report.html")
			for width, scheme := range map[int]string{360: "light", 1024: "dark", 1600: "light"} {
				b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 500}, nil)
				b.call("Emulation.setEmulatedMedia", map[string]any{"media": "screen", "features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}}}, nil)
				b.show(path)
				var l looked
				b.ask(look, &l)
				where := fmt.Sprintf("%d px, %s", width, scheme)
				for _, c := range b.complaints(path) {
					t.Errorf("%s: %s", where, c)
				}
				if l.Over != 0 || len(l.Out) > 0 || len(l.Narrow) > 0 {
					t.Errorf("%s: %d px wider than the window; outside: %q; too narrow: %q", where, l.Over, l.Out, l.Narrow)
				}
				if l.Small < 11 {
					t.Errorf("%s: words of %g px", where, l.Small)
				}
				if l.Elements != 0 || l.Unnamed != 0 || l.Dangling != 0 || l.Drawings == 0 {
					t.Errorf("%s: %d elements that do not belong there, %d of %d drawings without a name, %d links to nowhere", where, l.Elements, l.Unnamed, l.Drawings, l.Dangling)
				}
				for _, words := range []string{hostileWords, "For research and teaching only"} {
					if !strings.Contains(l.Text, words) {
						t.Errorf("%s: %q is not shown", where, words)
					}
				}
				if keep != "" {
					var shot struct{ Data []byte }
					b.call("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true}, &shot)
					if err := os.WriteFile(filepath.Join(keep, fmt.Sprintf("report-%s-%d-%s.png", name, width, scheme)), shot.Data, 0o644); err != nil {
						t.Fatal(err)
					}
				}
			}
			printed(t, b, path, filepath.Join(keep, "report-"+name+".pdf"), keep != "")
		})
	}
}

// printed prints the page that is shown: on sheets of A4 nothing is cut off, and what is
// folded on the screen is there.
func printed(t *testing.T, b *browser, path, to string, keep bool) {
	t.Helper()
	const a4 = 688 // CSS pixels between the margins: 210 mm less twice 14 mm
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": a4, "height": 1000, "deviceScaleFactor": 1, "mobile": false}, nil)
	b.call("Emulation.setEmulatedMedia", map[string]any{"media": "print"}, nil)
	b.show(path)
	var cut []string
	b.ask(`[...document.querySelectorAll("table, pre, svg")].filter(e => e.getBoundingClientRect().right > innerWidth + 1 || e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0).map(e => e.textContent.slice(0, 60))`, &cut)
	if len(cut) > 0 {
		t.Errorf("cut off in print: %q", cut)
	}
	var folded, hidden int
	b.ask(`document.querySelectorAll("details").length`, &folded)
	b.ask(`[...document.querySelectorAll("details > :not(summary)")].filter(e => !e.checkVisibility({contentVisibilityAuto: true}) || e.getBoundingClientRect().height == 0).length`, &hidden)
	if folded == 0 || hidden > 0 {
		t.Errorf("of %d folded parts %d are not printed", folded, hidden)
	}
	var pdf struct{ Data string }
	b.call("Page.printToPDF", map[string]any{"preferCSSPageSize": true, "printBackground": true}, &pdf)
	data, err := base64.StdEncoding.DecodeString(pdf.Data)
	if err != nil {
		t.Fatal(err)
	}
	if pages := len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(data, -1)); pages < 2 {
		t.Errorf("%d pages printed", pages)
	}
	if keep {
		if err := os.WriteFile(to, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
