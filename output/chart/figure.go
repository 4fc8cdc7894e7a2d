package chart

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Figure is a drawing of known size.
type Figure struct {
	Name  string // of the file, without extension
	W, H  vg.Length
	Shown float64 // how many times larger it is shown, 0: as large as it is
	Draw  func(draw.Canvas)
}

// Formats are the file formats each figure is written in.
var Formats = []struct {
	Ext    string
	Render func(Figure) ([]byte, error)
}{{"svg", Svg}, {"png", Png}, {"pdf", pdf}}

// Head is the title of a figure and the lines below it.
type Head struct {
	page  Page
	title []string // broken to the page
	lines []string
}

// Raised writes the square centimetres of texts as figures do, which a terminal need not have.
func Raised(s string) string { return strings.ReplaceAll(s, "cm2", "cm²") }

// Head breaks a title and lines, given in clauses, that are too long for the page.
func (p Page) Head(title string, lines ...[]string) Head {
	width := p.W - 8*MM
	h := Head{page: p, title: Wrapped(TextStyle(p.Title, Ink, text.XLeft, text.YTop), width, Raised(title))}
	s := TextStyle(p.Word, Ink, text.XLeft, text.YTop)
	for _, l := range lines {
		l = slices.Clone(l)
		for n := range l {
			l[n] = Raised(l[n])
		}
		h.lines = append(h.lines, Broken(s, width, l...)...)
	}
	return h
}

// Height is what it takes of the page.
func (h Head) Height() vg.Length {
	return 5.7*MM + h.titleLine()*vg.Length(len(h.title)) + vg.Length(len(h.lines))*h.page.WordLine()
}

func (h Head) titleLine() vg.Length { return 1.32 * h.page.Title }

// Draw writes the head at the top of the page.
func (h Head) Draw(c draw.Canvas) {
	x, y := c.Min.X+4*MM, c.Max.Y-4*MM
	t := TextStyle(h.page.Title, Ink, text.XLeft, text.YTop)
	for _, l := range h.title {
		c.FillText(t, vg.Point{X: x, Y: y}, l)
		y -= h.titleLine()
	}
	s := TextStyle(h.page.Word, Ink, text.XLeft, text.YTop)
	for i, l := range h.lines {
		c.FillText(s, vg.Point{X: x, Y: y - 0.4*MM - vg.Length(i)*h.page.WordLine()}, l)
	}
}

// Picture is a rendered figure: the name of its file and what is in it.
type Picture struct {
	Name string
	Data []byte
}

// Rendered renders figures in every format, side by side. What cannot be drawn is left out of the pictures and
// named in the error.
func Rendered(figs []Figure) (pictures []Picture, err error) {
	type drawing struct {
		Picture
		err error
	}
	drawings := make([]drawing, len(figs)*len(Formats))
	var all sync.WaitGroup
	for n := range drawings {
		fig, format := figs[n/len(Formats)], Formats[n%len(Formats)]
		all.Go(func() {
			b, err := rendered(fig, format.Render)
			drawings[n] = drawing{Picture{fig.Name + "." + format.Ext, b}, err}
		})
	}
	all.Wait()
	var lost []string
	var first error
	for _, d := range drawings {
		if d.err != nil {
			lost, first = append(lost, d.Name), cmp.Or(first, d.err)
			continue
		}
		pictures = append(pictures, d.Picture)
	}
	if first != nil {
		return pictures, fmt.Errorf("output: %s: %w", strings.Join(lost, ", "), first)
	}
	return pictures, nil
}

// unfit is a figure of which a format makes no picture.
type unfit struct{ cause any }

func (e unfit) Error() string { return fmt.Sprintf("it cannot be drawn, this is a bug (%v)", e.cause) }

func rendered(f Figure, render func(Figure) ([]byte, error)) (b []byte, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = unfit{p}
		}
	}()
	return render(f)
}

// LargestSheet is more than any figure needs, and drawn in memory at hand.
const LargestSheet = 2000 * MM

// Stored renders figures of what was read from a file.
func Stored(name string, list func() []Figure) ([]Picture, error) {
	return Guarded(name, func() ([]Picture, error) {
		figs := list()
		for _, f := range figs {
			if !(f.W <= LargestSheet && f.H <= LargestSheet) {
				return nil, fmt.Errorf("output: %s: it makes a figure of %.3g mm by %.3g mm and has been changed", name, f.W/MM, f.H/MM)
			}
		}
		pictures, err := Rendered(figs)
		if bad := (unfit{}); errors.As(err, &bad) {
			panic(bad.cause)
		}
		return pictures, err
	})
}

// Guarded draws what was read from a file. What somebody has changed in it may make no sense at all, in more ways than
// can be asked for one by one.
func Guarded(name string, draw func() ([]Picture, error)) (pictures []Picture, err error) {
	defer func() {
		if p := recover(); p != nil {
			pictures, err = nil, fmt.Errorf("output: %s: it makes no figure and has been changed, or this is a bug (%v)", name, p)
		}
	}()
	return draw()
}
