package page

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"muralheat/output/internal/browser"
	"muralheat/scenarios"
	"muralheat/thermal"
)

// served starts the real command muralheat live and returns the address that it prints, and what stops it as Ctrl-C does.
func served(t *testing.T, program string, words ...string) (address string, stop func()) {
	t.Helper()
	cmd := exec.Command(program, append([]string{"live"}, words...)...)
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	ended := false
	stop = func() {
		if ended {
			return
		}
		ended = true
		kill := time.AfterFunc(20*time.Second, func() { cmd.Process.Kill() })
		defer kill.Stop()
		cmd.Process.Signal(os.Interrupt)
		if err := cmd.Wait(); err != nil {
			t.Errorf("stopped: %v: %s", err, &said)
		}
	}
	t.Cleanup(stop)
	if address, err = bufio.NewReader(out).ReadString('\n'); err != nil {
		t.Fatalf("no address: %v: %s", err, &said)
	}
	return strings.TrimSpace(address), stop
}

// release moves a slider and lets it go.
func release(b *browser.Browser, id string, to int) {
	b.T.Helper()
	slide(b, id, to)
	do(b, fmt.Sprintf(`document.getElementById(%q).dispatchEvent(new Event("change", {bubbles: true}))`, id))
}

// until waits for something on the page.
func until(b *browser.Browser, what string) {
	b.T.Helper()
	for range 600 {
		is := false
		if b.Ask(what, &is); is {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	var step string
	b.Ask(`document.getElementById("step").textContent`, &step)
	b.T.Fatalf("waited in vain for %s: %s", what, step)
}

const idle = `document.getElementById("computing").hidden`

// depthAt is the depth as the page writes it, computed here.
func depthAt(t *testing.T, sets ...scenarios.Set) string {
	t.Helper()
	s, err := scenarios.Parse("scenario.yaml", []byte(scenarioText))
	if err == nil {
		s, err = s.With(sets...)
	}
	if err != nil {
		t.Fatal(err)
	}
	c := s.Case()
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf("%.2f mm", inMM(r.Summary.InjuryDepthM))
}

// held counts the cases in a folder, and fails on anything else.
func held(t *testing.T, dir string) (n int) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		switch _, err := os.Stat(filepath.Join(dir, e.Name(), "result.npz")); {
		case err == nil && !strings.HasPrefix(e.Name(), "."):
			n++
		case e.Name() != "live.txt":
			t.Errorf("left behind: %s", e.Name())
		}
	}
	return n
}

// TestLivePage uses a live page as a class does: a real browser and the real command.
func TestLivePage(t *testing.T) {
	if testing.Short() || runtime.GOOS == "windows" {
		t.Skip("a browser takes its time; no Ctrl-C can be sent on Windows")
	}
	b := browser.Open(t)
	dir := t.TempDir()
	program := filepath.Join(dir, "muralheat")
	if out, err := exec.Command("go", "build", "-o", program, "muralheat/cmd/muralheat").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	scenario, kept, file := filepath.Join(dir, "scenario.yaml"), filepath.Join(dir, "kept"), filepath.Join(dir, "saved.html")
	if err := os.WriteFile(scenario, []byte(scenarioText), 0o644); err != nil {
		t.Fatal(err)
	}
	// Cells of 10 um take minutes: what is cancelled.
	words := []string{"-o", kept, "--page", file, "--vary", "current.power_W=1..5/3", "--vary", "wall.site=rectum,right-colon", "--vary", "numerics.finest_um=10,100", scenario}
	address, stop := served(t, program, words...)
	power := func(w float64) scenarios.Set {
		return scenarios.Set{Key: "current.power_W", Value: scenarios.Number(w)}
	}
	cells := scenarios.Set{Key: "numerics.finest_um", Value: scenarios.Number(100)}
	site := func(name string) scenarios.Set {
		return scenarios.Set{Key: "wall.site", Value: scenarios.Word(name)}
	}

	b.Size(1280, 800, "screen")
	opened(t, b, address)
	s := seenIn(b)
	if want := depthAt(t, power(3), cells); s.Big[0] != want || s.Levels[0] != "3 W" || !strings.Contains(s.Step, "1 computed so far") || !strings.Contains(s.Text, "Draft mesh.") || !strings.Contains(s.Text, "Invented data. For research") {
		t.Errorf("first: %q at %q, want %s; %q", s.Big, s.Levels, want, s.Step)
	}

	// While a slider moves nothing is computed; let go, it is.
	slide(b, "choice0", 2)
	if s = seenIn(b); s.Levels[0] != "5 W" || held(t, kept) != 1 {
		t.Errorf("moving: at %q, %d cases", s.Levels, held(t, kept))
	}
	release(b, "choice0", 2)
	until(b, idle)
	if s, want := seenIn(b), depthAt(t, power(5), cells); s.Big[0] != want || !strings.Contains(s.Step, "2 computed so far") || !strings.Contains(s.Verdicts[0], want) {
		t.Errorf("5 W: %q, want %s; %q", s.Big, want, s.Step)
	}
	look(b, "live", 1280)

	// Another wall, kept beside it; hidden until guessed.
	click(b, "#keep")
	click(b, "#ask")
	click(b, `input[name=choice1][value="1"]`)
	until(b, idle)
	thin := depthAt(t, power(5), cells, site("right-colon"))
	if s = seenIn(b); s.Panes != 2 || !s.Guessing || strings.Contains(s.Text, thin) || strings.Contains(s.Status, thin) {
		t.Errorf("hidden: %+v, but %s was computed", s, thin)
	}
	click(b, "#reveal")
	if s = seenIn(b); s.Overs != 1 || s.Big[1] != thin {
		t.Errorf("revealed: %q, want %s over %d", s.Big, thin, s.Overs)
	}
	click(b, "#ask")
	click(b, "#keep")

	// What was computed shows at once, and is computed once.
	slide(b, "choice0", 1)
	click(b, `input[name=choice1][value="0"]`)
	if s = seenIn(b); s.Big[0] != depthAt(t, power(3), cells) || held(t, kept) != 3 {
		t.Errorf("back: %q, %d cases", s.Big, held(t, kept))
	}

	// What takes long shows how far it is, and can be cancelled.
	release(b, "choice2", 0)
	until(b, `!`+idle+` && document.getElementById("share").value > 0`)
	look(b, "live-computing", 1280)
	click(b, "#cancel")
	if s = seenIn(b); !strings.Contains(s.Step, "Cancelled") || s.Levels[2] != "100 µm" {
		t.Errorf("cancelled: %q at %q", s.Step, s.Levels)
	}
	release(b, "choice0", 0) // which the one cancelled does not hold up
	until(b, idle)
	if s, want := seenIn(b), depthAt(t, power(1), cells); s.Levels[0] != "1 W" || len(s.Big) != 1 || s.Big[0] != want && s.Big[0] != "no injury" || held(t, kept) != 4 {
		t.Errorf("1 W: %q at %q, want %s; %d cases", s.Big, s.Levels, want, held(t, kept))
	}
	var rows int
	if b.Ask(`document.querySelectorAll("#all tbody tr").length`, &rows); rows != 4 {
		t.Errorf("%d rows in the table", rows)
	}

	// Saved: a page of those four that needs no server.
	click(b, "#save")
	until(b, `document.getElementById("step").textContent.includes("Saved as")`)
	for _, c := range b.Complaints(address) {
		t.Error(c)
	}
	release(b, "choice2", 0) // Ctrl-C stops what is being computed
	until(b, `!`+idle)
	stop()
	until(b, `document.getElementById("step").textContent.includes("does not answer")`)
	if n := held(t, kept); n != 4 {
		t.Errorf("%d cases are kept", n)
	}
	opened(t, b, file)
	if s = seenIn(b); !strings.Contains(s.Step, "one of 4 computed cases") || len(s.Levels) != 2 || strings.Contains(s.Text, "Save what") {
		t.Errorf("saved: %q at %q", s.Step, s.Levels)
	}
	slide(b, "choice0", 2)
	if s = seenIn(b); s.Big[0] != depthAt(t, power(5), cells) {
		t.Errorf("saved: %q", s.Big)
	}
	for _, c := range b.Complaints(file) {
		t.Error(c)
	}

	// Another day: the folder has them.
	address, stop = served(t, program, words...)
	opened(t, b, address)
	release(b, "choice0", 2)
	until(b, idle)
	if s = seenIn(b); s.Big[0] != depthAt(t, power(5), cells) || held(t, kept) != 4 {
		t.Errorf("again: %q, %d cases", s.Big, held(t, kept))
	}
	b.Size(360, 800, "screen")
	time.Sleep(300 * time.Millisecond)
	fits(t, b, 360)
	stop()
}
