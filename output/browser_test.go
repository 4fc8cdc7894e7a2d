package output

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// hostilePage is a page whose every text wants out of its place.
func hostilePage(t *testing.T) page {
	t.Helper()
	const bad = `"><script>document.title='broken'</script><img src=x onerror="document.title='broken'"> | [a](javascript:alert(1)) ` + "`code` **b** =1+1 {{.}} ${x} <!-- -->"
	r := synthetics["hot"].result()
	r.Case.Title = bad
	var figs []block
	for _, f := range figures(r) {
		b, err := svg(f)
		if err != nil {
			t.Fatal(err)
		}
		figs = append(figs, block{Text: bad, SVG: b, File: f.name + ".svg"})
	}
	rows := [][]string{{bad, "1", strings.Repeat("averylongword", 12)}}
	for range 60 {
		rows = append(rows, []string{"a.key.of.some.length_mm", "0.123456", "assumption: where this number comes from, in a sentence or two, so that the cell breaks"})
	}
	return page{Title: bad, Lead: bad, Sections: []chapter{{Title: bad, Blocks: append(figs,
		block{Text: bad}, block{List: []string{bad}}, block{Command: bad},
		block{Table: &sheet{Caption: bad, Head: []string{bad, "value", "source"}, Rows: rows}},
		block{Table: &sheet{Caption: bad, Head: []string{bad, "value", "source"}, Rows: rows[:1], Folded: true}})}}}
}

// Text of a user stays text.
func TestPageIsInert(t *testing.T) {
	p := hostilePage(t)
	html, err := p.html()
	if err != nil {
		t.Fatal(err)
	}
	for _, tag := range []string{"<script", "<img", "onerror=\"", "<!-- -->"} {
		if strings.Contains(string(html), tag) {
			t.Errorf("%s came through", tag)
		}
	}
	md := string(p.markdown())
	for _, raw := range []string{"<script", "[a](", "<img", "**b**"} {
		if strings.Contains(strings.ReplaceAll(md, "    "+p.Sections[0].Blocks[4].Command, ""), raw) {
			t.Errorf("Markdown: %s came through", raw)
		}
	}
	for _, l := range strings.Split(md, "\n") {
		if strings.HasPrefix(l, "| ") && strings.Count(strings.ReplaceAll(l, `\|`, ""), "|") != 4 {
			t.Errorf("a row of other than three cells: %.80s", l)
		}
	}
}

// A real browser shows the page without an error, no wider than the window from a phone to
// a slide, and prints it.
func TestPageInABrowser(t *testing.T) {
	browser := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			browser = path
			break
		}
	}
	if browser == "" {
		t.Skip("no Chromium here")
	}
	p := hostilePage(t)
	html, err := p.html()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	write := func(name string, b []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, b, 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	write("report.html", html)
	run := func(args ...string) string {
		t.Helper()
		ctx, stop := context.WithTimeout(context.Background(), 2*time.Minute)
		defer stop()
		args = append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--allow-file-access-from-files", "--user-data-dir=" + filepath.Join(dir, "profile"), "--enable-logging=stderr", "--v=0"}, args...)
		cmd := exec.CommandContext(ctx, browser, args...)
		var out, errs strings.Builder
		cmd.Stdout, cmd.Stderr = &out, &errs
		if err := cmd.Run(); err != nil {
			t.Fatalf("%v\n%s", err, errs.String())
		}
		if m := regexp.MustCompile(`CONSOLE[^\n]*`).FindString(errs.String()); m != "" {
			t.Errorf("the browser says: %s", m)
		}
		return out.String()
	}
	for _, width := range []int{360, 1024, 1920} {
		frame := write(fmt.Sprintf("frame-%d.html", width), fmt.Appendf(nil, `<iframe id="f" src="report.html" width="%d" height="900" style="border:0"></iframe>
<script>f.onload = function () { var d = f.contentDocument; document.body.innerHTML = "<p>over=" + (d.documentElement.scrollWidth - d.documentElement.clientWidth) + " title=" + (d.title.length > 20) + " sections=" + d.querySelectorAll("section h2").length + " drawings=" + d.querySelectorAll("figure svg").length + "</p>" }</script>`, width))
		dom := run("--dump-dom", "--virtual-time-budget=10000", "file://"+frame)
		m := regexp.MustCompile(`over=(-?\d+) title=(\w+) sections=(\d+) drawings=(\d+)`).FindStringSubmatch(dom)
		if m == nil {
			t.Fatalf("%d px: no answer: %.300s", width, dom)
		}
		if m[1] != "0" {
			t.Errorf("%d px: the page is %s px wider", width, m[1])
		}
		if m[2] != "true" || m[3] != "1" || m[4] != "2" {
			t.Errorf("%d px: %v", width, m)
		}
	}
	pdf := filepath.Join(dir, "report.pdf")
	run("--print-to-pdf="+pdf, "file://"+filepath.Join(dir, "report.html"))
	b, err := os.ReadFile(pdf)
	if err != nil {
		t.Fatal(err)
	}
	if pages := len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(b, -1)); pages < 2 {
		t.Errorf("%d pages printed", pages)
	}
}
