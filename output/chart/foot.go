package chart

import (
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/phrase"
)

// Foot is what stands at the bottom of a figure: notes, and last what must not be missed of its numbers, with the caution.
type Foot struct {
	page  Page
	notes []string
	last  []string
}

// Foot breaks notes, and the marks of the numbers with the caution, to the page.
func (p Page) Foot(marks string, notes ...string) Foot {
	f := Foot{page: p}
	s := f.style(text.YTop)
	for _, n := range notes {
		f.notes = append(f.notes, Broken(s, p.W-8*MM, Raised(n))...)
	}
	switch room := p.W - 8*MM; {
	case marks == "":
		f.last = Wrapped(s, room, phrase.Caution)
	case s.Width(marks+" "+phrase.Caution) <= room:
		f.last = []string{marks + " " + phrase.Caution}
	default:
		f.last = append(Wrapped(s, room, marks), Wrapped(s, room, phrase.Caution)...)
	}
	return f
}

func (f Foot) style(y text.YAlignment) text.Style { return TextStyle(f.page.Note, Soft, text.XLeft, y) }

// Height is what it takes of the page.
func (f Foot) Height() vg.Length {
	return 3.4*MM + f.page.NoteLine()*vg.Length(len(f.notes)+len(f.last))
}

// Draw writes the foot at the bottom of the page.
func (f Foot) Draw(c draw.Canvas) {
	lines := append(f.notes[:len(f.notes):len(f.notes)], f.last...)
	for n, l := range lines {
		c.FillText(f.style(text.YBottom), vg.Point{X: c.Min.X + 4*MM, Y: c.Min.Y + 2*MM + f.page.NoteLine()*vg.Length(len(lines)-1-n)}, l)
	}
}
