package output

import (
	"bytes"
	"fmt"
	"html/template"
	"strings"
)

// page is a document for people: sections of blocks, written as HTML or as Markdown. Text in
// it is plain; each way of writing escapes it.
type page struct {
	Title, Lead string
	Sections    []chapter
}

type chapter struct {
	Title  string
	Blocks []block
}

// block is one of: a paragraph, a list, a table, a figure, a command.
type block struct {
	Text    string
	List    []string
	Table   *sheet
	SVG     []byte // drawn by this program
	File    string // of the figure, for Markdown
	Command string
}

// sheet is a table with a caption; a long one can be folded.
type sheet struct {
	Caption string
	Head    []string
	Rows    [][]string
	Folded  bool
}

func (s *chapter) say(format string, a ...any) {
	s.Blocks = append(s.Blocks, block{Text: fmt.Sprintf(format, a...)})
}
func (s *chapter) list(items ...string) { s.Blocks = append(s.Blocks, block{List: items}) }
func (s *chapter) table(t sheet)        { s.Blocks = append(s.Blocks, block{Table: &t}) }
func (s *chapter) command(text string)  { s.Blocks = append(s.Blocks, block{Command: text}) }
func (s *chapter) figure(name, alt string, svg []byte) {
	s.Blocks = append(s.Blocks, block{Text: alt, SVG: svg, File: name})
}

// anchor names a section in links.
func (s chapter) Anchor() string {
	return strings.Map(func(r rune) rune {
		switch {
		case 'a' <= r && r <= 'z', '0' <= r && r <= '9':
			return r
		case 'A' <= r && r <= 'Z':
			return r + 'a' - 'A'
		}
		return '-'
	}, s.Title)
}

// Drawing returns the figure without its XML prolog, for a page.
func (b block) Drawing() template.HTML {
	svg := b.SVG
	if i := bytes.Index(svg, []byte("<svg")); i >= 0 {
		svg = svg[i:]
	}
	return template.HTML(svg) // drawn by this program, which escapes the text in it
}

var pageHTML = template.Must(template.New("page").Parse(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="muralheat">
<title>{{.Title}}</title>
<style>
body { margin: 0 auto; max-width: 62rem; padding: 1rem; font: 1rem/1.5 "Liberation Sans", Arial, Helvetica, sans-serif; color: #1c1c1c; background: #fff; overflow-wrap: anywhere; }
h1 { font-size: 1.7rem; line-height: 1.2; } h2 { font-size: 1.25rem; margin-top: 2.2rem; border-bottom: 1px solid #9aa3ad; }
p.lead { border-left: 0.3rem solid #96284f; padding-left: 0.8rem; }
nav ol { columns: 18rem; padding-left: 0; list-style: none; } a { color: #1c4573; }
.wide { overflow-x: auto; margin: 1rem 0; } table { border-collapse: collapse; font-size: 0.875rem; min-width: 100%; }
caption { text-align: left; font-weight: bold; padding: 0.3rem 0; } th, td { text-align: left; vertical-align: top; padding: 0.25rem 0.6rem; border-bottom: 1px solid #d8d8d8; overflow-wrap: break-word; }
th { border-bottom: 2px solid #1c1c1c; } figure { margin: 1rem 0; max-width: 44rem; } figure svg { width: 100%; height: auto; }
figcaption { font-size: 0.875rem; } pre { overflow-x: auto; background: #f2f4f6; padding: 0.6rem; }
summary { cursor: pointer; } footer { margin-top: 2.5rem; border-top: 1px solid #9aa3ad; font-size: 0.875rem; }
@media (min-width: 100rem) { body { font-size: 1.15rem; max-width: 78rem; } figure { max-width: 60rem; } }
@media print { @page { size: A4; margin: 16mm; } body { max-width: none; padding: 0; font-size: 10pt; } .wide { overflow: visible; } table { font-size: 8pt; table-layout: auto; width: 100%; min-width: 0; } td, th { padding: 1mm; overflow-wrap: anywhere; } tr, figure { break-inside: avoid; } h2 { break-after: avoid; } nav { display: none; } }
</style>
</head>
<body>
<header>
<h1>{{.Title}}</h1>
<p class="lead">{{.Lead}}</p>
</header>
<nav aria-label="Contents"><ol>{{range .Sections}}
<li><a href="#{{.Anchor}}">{{.Title}}</a></li>{{end}}
</ol></nav>
<main>{{range .Sections}}
<section id="{{.Anchor}}">
<h2>{{.Title}}</h2>{{range .Blocks}}{{if .SVG}}
<figure role="img" aria-label="{{.Text}}">{{.Drawing}}<figcaption>{{.Text}}</figcaption></figure>{{else if .Table}}{{with .Table}}{{if .Folded}}
<details><summary>{{.Caption}}</summary>{{end}}
<div class="wide"><table>{{if not .Folded}}<caption>{{.Caption}}</caption>{{end}}
<thead><tr>{{range .Head}}<th scope="col">{{.}}</th>{{end}}</tr></thead>
<tbody>{{range .Rows}}
<tr>{{range .}}<td>{{.}}</td>{{end}}</tr>{{end}}
</tbody></table></div>{{if .Folded}}</details>{{end}}{{end}}{{else if .List}}
<ul>{{range .List}}
<li>{{.}}</li>{{end}}
</ul>{{else if .Command}}
<pre><code>{{.Command}}</code></pre>{{else}}
<p>{{.Text}}</p>{{end}}{{end}}
</section>{{end}}
</main>
<footer><p>{{.Caution}}</p></footer>
</body>
</html>
`))

// Caution stands under the page.
func (p page) Caution() string { return Caution }

func (p page) html() ([]byte, error) {
	var b bytes.Buffer
	err := pageHTML.Execute(&b, p)
	return b.Bytes(), err
}

// plainText makes every character that means something to Markdown or HTML mean itself.
var plainText = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", "&lt;", ">", "&gt;", "&", "&amp;", "#", `\#`, "|", `\|`, "~", `\~`, "!", `\!`, "\n", " ", "\r", " ")

func (p page) markdown() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n%s\n", plainText.Replace(p.Title), plainText.Replace(p.Lead))
	for _, s := range p.Sections {
		fmt.Fprintf(&b, "\n## %s\n", plainText.Replace(s.Title))
		for _, k := range s.Blocks {
			b.WriteString("\n")
			switch {
			case k.SVG != nil:
				fmt.Fprintf(&b, "![%s](%s)\n", plainText.Replace(k.Text), k.File)
			case k.Table != nil:
				fmt.Fprintf(&b, "%s:\n\n%s|%s\n", plainText.Replace(k.Table.Caption), markdownRow(k.Table.Head), strings.Repeat(" --- |", len(k.Table.Head)))
				for _, r := range k.Table.Rows {
					b.WriteString(markdownRow(r))
				}
			case k.List != nil:
				for _, i := range k.List {
					fmt.Fprintf(&b, "- %s\n", plainText.Replace(i))
				}
			case k.Command != "":
				fmt.Fprintf(&b, "    %s\n", strings.ReplaceAll(k.Command, "\n", "\n    "))
			default:
				fmt.Fprintf(&b, "%s\n", plainText.Replace(k.Text))
			}
		}
	}
	fmt.Fprintf(&b, "\n%s\n", plainText.Replace(Caution))
	return []byte(b.String())
}

func markdownRow(cells []string) string {
	var b strings.Builder
	b.WriteString("|")
	for _, c := range cells {
		b.WriteString(" " + plainText.Replace(c) + " |")
	}
	return b.String() + "\n"
}
