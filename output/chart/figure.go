package chart

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

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

// head is the title of a figure and the lines below it.
type head struct {
	page  Page
	title []string // broken to the page
	lines []string
}

// HeadWidth is how wide the lines of a head may be.
const HeadWidth = WallWidth - 8*MM

// Raised writes the square centimetres of texts as figures do, which a terminal need not have.
func Raised(s string) string { return strings.ReplaceAll(s, "cm2", "cm²") }

// NewHead breaks lines, given in clauses, that are too long for the page.
func NewHead(title string, lines ...[]string) head { return ForDocument.Head(title, lines...) }

// Head does the same for a page.
func (p Page) Head(title string, lines ...[]string) head {
	width := p.W - 8*MM
	h := head{page: p, title: Wrapped(TextStyle(p.Title, Ink, text.XLeft, text.YTop), width, Raised(title))}
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
func (h head) Height() vg.Length {
	return 11.9*MM + titleLine*vg.Length(len(h.title)-1) + vg.Length(len(h.lines))*4.3*MM
}

const titleLine = 5.8 * MM

// Draw writes the head at the top of the page.
func (h head) Draw(c draw.Canvas) {
	x, y := c.Min.X+4*MM, c.Max.Y-4*MM
	t := TextStyle(h.page.Title, Ink, text.XLeft, text.YTop)
	for i, l := range h.title {
		c.FillText(t, vg.Point{X: x, Y: y - titleLine*vg.Length(i)}, Fit(t, h.page.W-8*MM, l)) // one word may be too long
	}
	y -= titleLine * vg.Length(len(h.title)-1)
	s := TextStyle(h.page.Word, Ink, text.XLeft, text.YTop)
	for i, l := range h.lines {
		c.FillText(s, vg.Point{X: x, Y: y - 6.2*MM - vg.Length(i)*4.3*MM}, l)
	}
}

// Caption writes the caution at the bottom of the page.
func Caption(c draw.Canvas) { ForDocument.Caption(c) }

// Picture is a rendered figure: the name of its file and what is in it.
type Picture struct {
	Name string
	Data []byte
}

// Rendered renders figures in every format. What cannot be drawn is left out of the pictures and
// named in the error.
func Rendered(figs []Figure) (pictures []Picture, err error) {
	var lost []string
	var first error
	for _, fig := range figs {
		for _, k := range Formats {
			name := fig.Name + "." + k.Ext
			b, err := rendered(fig, k.Render)
			if err != nil {
				lost, first = append(lost, name), cmp.Or(first, err)
				continue
			}
			pictures = append(pictures, Picture{name, b})
		}
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
