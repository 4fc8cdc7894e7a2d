package keys

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// Parse returns the root of the only document in the text.
func Parse(r *Report, data []byte) *yaml.Node {
	if m, ok := notText(data); ok {
		r.Add("", m, "not UTF-8 text, or a control character", "save the file as plain UTF-8")
		return nil
	}
	loader, err := yaml.NewLoader(bytes.NewReader(data))
	if err != nil {
		r.Add("", at(1, 1), err.Error(), "")
		return nil
	}
	var doc, second yaml.Node
	if err := loader.Load(&doc); err != nil {
		r.syntax(err, data)
		return nil
	}
	if len(doc.Content) == 0 || doc.Content[0].Tag == "!!null" {
		r.Add("", at(1, 1), "empty", "write a "+r.kind+"; `muralheat examples` has starter files")
		return nil
	}
	switch err := loader.Load(&second); {
	case err == nil:
		r.Add("", r.Place(&second), "a second document after ---", "one "+r.kind+" per file")
	case !errors.Is(err, io.EOF):
		r.syntax(err, data)
	}
	return doc.Content[0]
}

// notText finds the first byte that cannot stand in a text file.
func notText(data []byte) (mark, bool) {
	m := at(1, 1)
	for i := 0; i < len(data); {
		c, size := utf8.DecodeRune(data[i:])
		if c == utf8.RuneError && size == 1 || unicode.IsControl(c) && !strings.ContainsRune("\n\r\t\u0085", c) {
			return m, true
		}
		m.Column++
		if c == '\n' {
			m = at(m.Line+1, 1)
		}
		i += size
	}
	return m, false
}

// syntax notes what the YAML parser stumbled over.
func (r *Report) syntax(err error, data []byte) {
	if errors.Is(err, io.EOF) {
		r.Add("", at(1, 1), "empty", "write a "+r.kind+"; `muralheat examples` has starter files")
		return
	}
	m, message := at(1, 1), err.Error()
	var one *yaml.LoadError
	if errors.As(err, &one) {
		message = one.Message
		if one.Mark.Line > 0 {
			m = at(one.Mark.Line, one.Mark.Column)
		}
	}
	right := "check brackets, quotes and the colons of this line and the one before"
	if lines := bytes.Split(data, []byte("\n")); m.Line <= len(lines) && leadingTab(lines[m.Line-1]) {
		message, right = "a tab indents this line", "indent with spaces"
	}
	message, _, _ = strings.Cut(message, "\n")
	r.Add("", m, "not valid YAML: "+message, right)
}

func leadingTab(line []byte) bool {
	rest := bytes.TrimLeft(line, " \t")
	return bytes.IndexByte(line[:len(line)-len(rest)], '\t') >= 0
}
