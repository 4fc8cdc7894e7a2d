package document

import (
	"bytes"
	_ "embed"
	"fmt"
	"html"
	"html/template"
	"regexp"
	"strings"
)

//go:embed page.html
var page string

var pages = template.Must(template.New("page").Funcs(template.FuncMap{
	"clean":  Clean,
	"breaks": breaks,
	"css":    func(selector string) template.CSS { return template.CSS(selector) },
	"number": isNumber,
	"svg":    inline,
	"render": func(Block) (template.HTML, error) { return "", nil }, // given its meaning in HTML
}).Parse(page))

// HTML renders the document as one file: no script, nothing from elsewhere.
func (d *Document) HTML() ([]byte, error) {
	t := template.Must(pages.Clone())
	t.Funcs(template.FuncMap{"render": func(b Block) (template.HTML, error) {
		var out strings.Builder
		err := t.ExecuteTemplate(&out, b.template(), b)
		return template.HTML(out.String()), err
	}})
	var out bytes.Buffer
	err := t.ExecuteTemplate(&out, "page", d)
	return out.Bytes(), err
}

// svgTag is the first tag of a drawing, with what may stand before it.
var svgTag = regexp.MustCompile(`(?s)^.*?<svg\b[^>]*?viewBox="([-0-9. ]+)"[^>]*>`)

// inline turns a drawing of this program into an element of the page that fits its width
// and has a name. The words in it are escaped already.
func inline(f Figure) (template.HTML, error) {
	head := svgTag.FindSubmatchIndex(f.SVG)
	if head == nil {
		return "", fmt.Errorf("report: a figure that is no SVG: %q", f.Caption)
	}
	box, name := f.SVG[head[2]:head[3]], html.EscapeString(Clean(f.Alt))
	return template.HTML(fmt.Sprintf(`<svg role="img" aria-label="%s" viewBox="%s" xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"><title>%s</title>%s`,
		name, box, name, f.SVG[head[1]:])), nil
}

// breaks lets the long words of a table, keys and checksums, be broken where they have parts.
func breaks(s string) template.HTML {
	words := strings.Split(Clean(s), " ")
	for n, w := range words {
		long := len(w) > longWord
		w = html.EscapeString(w)
		if long {
			w = parts.ReplaceAllString(w, "$0<wbr>")
		}
		words[n] = w
	}
	return template.HTML(strings.Join(words, " "))
}

// longWord is the length beyond which a word may be broken.
const longWord = 18

// parts are the ends of the parts of a long word.
var parts = regexp.MustCompile(`[a-zA-Z0-9][._/]|[0-9a-f]{16}`)
