package page

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"html/template"
	"image/color"
	"strings"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

//go:embed page.html
var layout string

//go:embed page.css
var style string

// The script: drawing, then the page.
//
//go:embed draw.js
var drawing string

//go:embed page.js
var script string

// What asks for more, of a page that is shown live.
//
//go:embed live.js
var asking string

var layouts = template.Must(template.New("page").Parse(layout))

// HTML returns the page as one file. Its policy allows the style and the script that are in it, and nothing else; a live
// one may also ask where it came from.
func (p *Page) HTML() ([]byte, error) {
	data, err := p.packed()
	if err != nil {
		return nil, err
	}
	code := "\"use strict\";\n" + drawing + script
	policy := "default-src 'none'; base-uri 'none'; form-action 'none'"
	if p.Live {
		code += asking
		policy += "; connect-src 'self'"
	}
	policy += fmt.Sprintf("; script-src '%s'; style-src '%s'", digest(code), digest(style))
	var out bytes.Buffer
	err = layouts.Execute(&out, map[string]any{
		"Page": p, "Caution": phrase.Caution, "Data": template.HTML(base64.StdEncoding.EncodeToString(data)),
		"Policy": policy,
		"Script": template.JS(code), "Style": template.CSS(style),
		"Kept": p.kept(),
	})
	return out.Bytes(), err
}

// digest is the source expression of a policy for an element with that text (Content Security Policy Level 3, 2.3.1).
func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// kept counts the cases with a section.
func (p *Page) kept() (n int) {
	for _, c := range p.Cases {
		if c.Section != nil {
			n++
		}
	}
	return n
}

// Row is a case in the table of a page.
type Row struct {
	Levels  []string `json:"levels"`
	Numbers []string `json:"numbers"`
}

// Rows are all cases in a table: what was chosen, and what came out.
func (p *Page) Rows() (rows []Row) {
	for _, c := range p.Cases {
		var r Row
		for n, l := range c.At {
			level := ""
			if l >= 0 {
				level = p.Choices[n].Levels[l]
			}
			r.Levels = append(r.Levels, level)
		}
		margin := ""
		if c.Margin != nil {
			margin = strings.Replace(fmt.Sprintf("%.2f", *c.Margin), "-", "–", 1)
		}
		r.Numbers = []string{fmt.Sprintf("%.*f", p.Quantity.Digits, c.Value), margin, c.Delivered, strings.TrimSpace(c.Why + " " + c.Marks)}
		rows = append(rows, r)
	}
	return rows
}

// packed returns the data of the page; see the comment on the package.
func (p *Page) packed() ([]byte, error) {
	text, err := json.Marshal(p.File)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	w.Write(binary.LittleEndian.AppendUint32(nil, uint32(len(text))))
	w.Write(text)
	for n := range 256 {
		c := chart.Warmth(float64(n) / 255)
		w.Write([]byte{c.R, c.G, c.B})
	}
	for _, c := range p.Cases {
		if s := c.Section; s != nil {
			w.Write(differences(s.heat, len(s.X)))
			if c.Film != nil {
				for _, m := range c.Film.Moments {
					w.Write(differences(m.heat, len(s.X)))
				}
			}
		}
	}
	err = w.Close()
	return b.Bytes(), err
}

// differences are bytes in rows of a width, each less the one above it: a smooth field packs well so.
func differences(b []byte, width int) []byte {
	out := make([]byte, len(b))
	for n := range b {
		out[n] = b[n]
		if n >= width {
			out[n] -= b[n-width]
		}
	}
	return out
}

// hex is a colour as CSS writes it.
func hex(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Name is the file of a page in the folder that it is made of.
const Name = "page.html"

// Write makes the page of some folders and puts it in place.
func Write(path string, dirs []string) error {
	p, err := Of(dirs)
	if err != nil {
		return err
	}
	text, err := p.HTML()
	if err != nil {
		return fmt.Errorf("output: %w", err)
	}
	if err := record.Replace(path, text); err != nil {
		return fmt.Errorf("output: %w", err)
	}
	return nil
}
