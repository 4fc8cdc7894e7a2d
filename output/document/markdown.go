package document

import (
	"fmt"
	"strings"
	"unicode"
)

// Markdown renders the document as CommonMark with the tables of GitHub's dialect. What
// HTML folds is all there.
func (d *Document) Markdown() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n%s\n\n**%s**\n\n", line(d.Title), line(d.Lead), line(d.Caution))
	for n, s := range d.Sections {
		fmt.Fprintf(&b, "%d. [%s](#%s)\n", n+1, line(s.Title), s.ID)
	}
	for n, s := range d.Sections {
		fmt.Fprintf(&b, "\n<a id=\"%s\"></a>\n\n## %d %s\n", s.ID, n+1, line(s.Title))
		for _, block := range s.Blocks {
			b.WriteString("\n")
			block.markdown(&b)
		}
	}
	fmt.Fprintf(&b, "\n---\n\n%s\n", line(d.Caution))
	return []byte(b.String())
}

func (t Text) markdown(b *strings.Builder) { b.WriteString(line(string(t)) + "\n") }

func (l Lead) markdown(b *strings.Builder) { b.WriteString("**" + line(string(l)) + "**\n") }

func (n Note) markdown(b *strings.Builder) {
	fmt.Fprintf(b, "> **%s:** %s\n", line(n.Label), line(n.Text))
}

func (l List) markdown(b *strings.Builder) {
	for _, s := range l {
		fmt.Fprintf(b, "- %s\n", line(s))
	}
}

func (t Table) markdown(b *strings.Builder) {
	fmt.Fprintf(b, "%s\n\n", line(t.Caption))
	row := func(cells []string) {
		for _, c := range cells {
			b.WriteString("| " + inert(c, false) + " ")
		}
		b.WriteString("|\n")
	}
	row(t.Head)
	b.WriteString(strings.Repeat("| --- ", len(t.Head)) + "|\n")
	for _, r := range t.Rows {
		row(r)
	}
}

func (f Figure) markdown(b *strings.Builder) {
	fmt.Fprintf(b, "![%s](<%s>)\n\n%s\n", line(f.Alt), target(f.Link), line(f.Caption))
}

func (c Code) markdown(b *strings.Builder) {
	text := Clean(c.Text)
	fence := "```"
	for strings.Contains(text, fence) {
		fence += "`"
	}
	fmt.Fprintf(b, "%s\n\n%s\n%s\n%s\n", line(c.Label), fence, strings.TrimRight(text, "\n"), fence)
}

// line makes plain text of one line that no dialect takes for markup: not for emphasis,
// code, links, images, HTML or the end of a cell, and no address becomes a link by itself.
func line(s string) string { return inert(s, true) }

// inert is that, at the start of a line or within one.
func inert(s string, first bool) string {
	s = strings.Join(strings.Fields(Clean(s)), " ")
	r := []rune(s)
	var b strings.Builder
	for i, c := range r {
		word := func(j int) bool { return j >= 0 && j < len(r) && (unicode.IsLetter(r[j]) || unicode.IsDigit(r[j])) }
		switch {
		case c == '<':
			b.WriteString("&lt;")
		case c == '>':
			b.WriteString("&gt;")
		case c == '&':
			b.WriteString("&amp;")
		case c == '@':
			b.WriteString("&#64;") // mail addresses, and names of people on some sites
		case c == '_' && word(i-1) && word(i+1): // within a word it is a letter
			b.WriteRune(c)
		case strings.ContainsRune("\\`*_[]|~$", c),
			c == ':' && i+1 < len(r) && r[i+1] == '/', // http://
			c == '.' && i >= 3 && strings.EqualFold(string(r[i-3:i]), "www"),
			first && i == 0 && strings.ContainsRune("#+-=", c), // headings, lists, rules
			c == '!' && i+1 < len(r) && r[i+1] == '[':
			b.WriteString("\\" + string(c))
		case first && (c == '.' || c == ')') && i > 0 && strings.Trim(string(r[:i]), "0123456789") == "": // "1. " is a list
			b.WriteString("\\" + string(c))
		default:
			b.WriteRune(c)
		}
	}
	return b.String()
}

// target makes a path fit to stand between < and >.
func target(path string) string {
	return strings.NewReplacer("\\", "/", "<", "%3C", ">", "%3E", "\n", "", "%", "%25").Replace(Clean(path))
}
