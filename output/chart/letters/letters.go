// Package letters knows what letters look like: how wide a text is, the outlines of its letters, and which letters no
// face here has, or not as they are written.
package letters

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"io"
	"strings"
	"sync"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/vg"
)

//go:embed faces/east-asian.ttf.gz
var eastAsian []byte

// face is a typeface; what was asked of it is kept, for figures ask for the same few letters again and again.
type face struct {
	read func() *sfnt.Font

	mu      sync.Mutex
	buffer  sfnt.Buffer
	glyphs  map[rune]glyph
	kerning map[[2]sfnt.GlyphIndex]float64
}

// glyph is a letter of a face, in units of its size.
type glyph struct {
	index   sfnt.GlyphIndex // 0: the face lacks it
	advance float64
	outline []segment
}

type segment struct {
	op sfnt.SegmentOp
	at [3]vg.Point
}

// Plain is the face of figures, of which PDF embeds what the code page has.
var Plain = sync.OnceValue(func() *sfnt.Font { return parsed(liberationsansregular.TTF) })

// faces are tried in turn for each letter.
var faces = []*face{
	{read: Plain},
	{read: sync.OnceValue(func() *sfnt.Font { return parsed(dejavusans.TTF) })},
	{read: sync.OnceValue(func() *sfnt.Font {
		z, err := gzip.NewReader(bytes.NewReader(eastAsian))
		if err != nil {
			panic(err) // it is part of the program
		}
		ttf, err := io.ReadAll(z)
		if err != nil {
			panic(err)
		}
		return parsed(ttf)
	})},
}

func parsed(ttf []byte) *sfnt.Font {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic(err) // it is part of the program
	}
	return f
}

// glyph returns a letter of the face.
func (f *face) glyph(r rune) glyph {
	f.mu.Lock()
	defer f.mu.Unlock()
	if g, ok := f.glyphs[r]; ok {
		return g
	}
	ttf := f.read()
	perEm := fixed.I(int(ttf.UnitsPerEm()))
	unit := 1 / float64(perEm)
	var g glyph
	var err error
	if g.index, err = ttf.GlyphIndex(&f.buffer, r); err != nil {
		panic(err)
	}
	advance, err := ttf.GlyphAdvance(&f.buffer, g.index, perEm, font.HintingNone)
	if err != nil {
		panic(err)
	}
	g.advance = float64(advance) * unit
	segments, err := ttf.LoadGlyph(&f.buffer, g.index, perEm, nil)
	if err != nil {
		panic(err)
	}
	for _, s := range segments {
		at := [3]vg.Point{}
		for n, p := range s.Args {
			at[n] = vg.Point{X: vg.Length(float64(p.X) * unit), Y: vg.Length(-float64(p.Y) * unit)}
		}
		g.outline = append(g.outline, segment{s.Op, at})
	}
	if f.glyphs == nil {
		f.glyphs = map[rune]glyph{}
	}
	f.glyphs[r] = g
	return g
}

// kern returns how much nearer b follows a than it would by the advance of a.
func (f *face) kern(a, b sfnt.GlyphIndex) float64 {
	f.mu.Lock()
	defer f.mu.Unlock()
	pair := [2]sfnt.GlyphIndex{a, b}
	if k, ok := f.kerning[pair]; ok {
		return k
	}
	ttf := f.read()
	perEm := fixed.I(int(ttf.UnitsPerEm()))
	k, err := ttf.Kern(&f.buffer, a, b, perEm, font.HintingNone)
	if err != nil {
		k = 0 // a face without kerning
	}
	if f.kerning == nil {
		f.kerning = map[[2]sfnt.GlyphIndex]float64{}
	}
	f.kerning[pair] = float64(k) / float64(perEm)
	return f.kerning[pair]
}

// each calls do for the letters of a text with their distance from its start, in units of the size, and returns its width.
func each(txt string, do func(g glyph, x float64)) (width float64) {
	var before *face
	var last sfnt.GlyphIndex
	for _, r := range txt {
		var f *face
		var g glyph
		for _, f = range faces {
			if g = f.glyph(r); g.index != 0 {
				break
			}
		}
		if f == before {
			width += f.kern(last, g.index)
		}
		before, last = f, g.index
		if do != nil {
			do(g, width)
		}
		width += g.advance
	}
	return width
}

// Width returns how wide a line of text is.
func Width(size vg.Length, txt string) vg.Length { return size * vg.Length(each(txt, nil)) }

// Outlines returns the outline of each letter of a line of text that begins at a point.
func Outlines(size vg.Length, at vg.Point, txt string) (paths []vg.Path) {
	each(txt, func(g glyph, x float64) {
		if len(g.outline) == 0 {
			return
		}
		place := func(p vg.Point) vg.Point {
			return vg.Point{X: at.X + size*(vg.Length(x)+p.X), Y: at.Y + size*p.Y}
		}
		var path vg.Path
		for n, s := range g.outline {
			switch s.op {
			case sfnt.SegmentOpMoveTo:
				if n > 0 {
					path.Close()
				}
				path.Move(place(s.at[0]))
			case sfnt.SegmentOpLineTo:
				path.Line(place(s.at[0]))
			case sfnt.SegmentOpQuadTo:
				path.QuadTo(place(s.at[0]), place(s.at[1]))
			case sfnt.SegmentOpCubeTo:
				path.CubeTo(place(s.at[0]), place(s.at[1]), place(s.at[2]))
			}
		}
		path.Close()
		paths = append(paths, path)
	})
	return paths
}

// alone are scripts whose letters stand one after another from left to right, each in one form.
var alone = []*unicode.RangeTable{unicode.Common, unicode.Inherited, unicode.Latin, unicode.Greek, unicode.Cyrillic, unicode.Armenian, unicode.Georgian,
	unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Bopomofo, unicode.Hangul}

// Missing returns the letters of texts that cannot be drawn: no face has them, or they are joined, change their form or
// run from right to left.
func Missing(texts ...string) string {
	var out strings.Builder
	for _, r := range strings.Join(texts, "") {
		if !writable(r) && !strings.ContainsRune(out.String(), r) {
			out.WriteRune(r)
		}
	}
	return out.String()
}

func writable(r rune) bool {
	if r == '\n' {
		return true
	}
	if !unicode.In(r, alone...) {
		return false
	}
	for _, f := range faces {
		if f.glyph(r).index != 0 {
			return true
		}
	}
	return false
}
