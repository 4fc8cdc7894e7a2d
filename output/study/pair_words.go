package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"muralheat/output/phrase"
)

// alpha is the p from which on a difference is told as one: common practice, no source.
const alpha = 0.05

// sides returns how many pairs reach the muscle with both, with A only, with B only, with neither.
func (p Pair) sides() [4]int {
	return [4]int{p.Counts.Both, p.Counts.OnlyA, p.Counts.OnlyB, p.Counts.Neither}
}

// Words says in sentences what the pairs show, the answer first.
func (p Pair) Words() []string {
	var says []string
	if p.Muscle {
		says = append(says, p.verdict(), p.chances(), p.changed())
	}
	says = append(says, p.deeper())
	if p.Muscle {
		says = append(says, p.numerical())
	}
	if missing := p.Of - len(p.Draws); missing > 0 {
		says = append(says, fmt.Sprintf("%d of %d draws have no result under one or both and make no pair; probabilities, and p at its most, take them as they would be worst.", missing, p.Of))
	}
	return says
}

// verdict says which of the two carries more risk, or that nothing shows it.
func (p Pair) verdict() string {
	more, less := p.B+" (B)", p.A+" (A)"
	if p.Counts.OnlyA > p.Counts.OnlyB {
		more, less = less, more
	}
	switch own := p.Counts.P(); {
	case own <= alpha && p.MostP <= alpha:
		return fmt.Sprintf("%s reaches the muscle more often than %s, whatever the numerical error.", more, less)
	case own <= alpha && p.MostAlikeP <= alpha:
		return fmt.Sprintf("%s reaches the muscle more often than %s, provided that the numerical errors of both are alike.", more, less)
	case own <= alpha:
		return fmt.Sprintf("%s reaches the muscle more often than %s in these draws, but the numerical error leaves it open: compute both on a finer mesh.", more, less)
	case p.Counts.OnlyA+p.Counts.OnlyB == 0:
		return fmt.Sprintf("No difference in risk between %s and %s is seen: no draw changes sides. That is no proof that there is none.", p.A+" (A)", p.B+" (B)")
	}
	return fmt.Sprintf("No difference in risk between %s and %s is shown: chance alone may well make as many draws change sides. That is no proof that there is none; more draws tell more.", p.A+" (A)", p.B+" (B)")
}

// chances gives both probabilities.
func (p Pair) chances() string {
	a, b := p.Chances[0], p.Chances[1]
	return fmt.Sprintf("The muscle is reached with A, %s, in %s, %s; with B, %s, in %s, %s.", p.A, ofDraws(a.K, a.N), within(a.Share(), a.Interval), p.B, ofDraws(b.K, b.N), within(b.Share(), b.Interval))
}

// changed says how many draws change sides, and what that shows.
func (p Pair) changed() string {
	c := p.Counts
	mid, i := c.Difference()
	return fmt.Sprintf("The same draws under both: %d reach it with A only, %d with B only, %d with both, %d with neither. Were A and B alike, a change as one-sided would come with p %s (exact test of McNemar). The probability with B less that with A is %s percentage points (95 %% interval %s).",
		c.OnlyA, c.OnlyB, c.Both, c.Neither, pText(c.P()), signed(100*mid, 1), signedFromTo(100*i.Low, 100*i.High, 1))
}

// pText writes the p of a test.
func pText(p float64) string {
	if p < 1e-4 {
		return "< 0.0001"
	}
	return fmt.Sprintf("= %.2g", p)
}

// tested gives the p of the test, and what numerical error and missing draws may make of it.
func (p Pair) tested() string {
	return fmt.Sprintf("%s; at most %.2g if margins are off by their numerical error alike with A and B, %.2g if not alike", strings.TrimPrefix(pText(p.Counts.P()), "= "), p.MostAlikeP, p.MostP)
}

// errorMM is the most that a margin may be off numerically; NaN: unknown.
func (p Pair) errorMM() float64 { return math.Max(p.Chances[0].ErrorMM, p.Chances[1].ErrorMM) }

// deeper says by how much depth and margin differ in the pairs.
func (p Pair) deeper() string {
	how, s := turned(p.Depth, "deeper", "shallower")
	text := fmt.Sprintf("Pair by pair, the injury is %s with B than with A by %s", how, s.words())
	if p.Muscle {
		how, s := turned(p.Margin, "more", "less")
		text += fmt.Sprintf("; the margin is %s by %s", how, s.words())
		if p.sameWall() {
			text = strings.TrimSuffix(text, s.words()) + "as much"
		}
	}
	return text + "."
}

// turned returns a difference with its sign taken off its median, and what that sign means.
func turned(d Difference, more, less string) (string, Difference) {
	if d.Median >= 0 {
		return more, d
	}
	d.Median, d.Low, d.High, d.From, d.To = -d.Median, -d.High, -d.Low, -d.To, -d.From
	return less, d
}

// words gives a difference with its intervals.
func (d Difference) words() string {
	s := fmt.Sprintf("%.3f mm in the median", d.Median)
	if !math.IsNaN(d.Low) {
		s += fmt.Sprintf(" (95 %% interval of it %s mm)", fromToMM(d.Low, d.High))
	}
	s += fmt.Sprintf(", %s mm in nine of ten pairs", fromToMM(d.From, d.To))
	if !math.IsNaN(d.ErrorMM) && d.ErrorMM > 0 {
		s += fmt.Sprintf(", numerical error up to %s mm", phrase.Short(d.ErrorMM))
	}
	return s
}

// fromToMM writes two lengths; a sign is that of figures.
func fromToMM(low, high float64) string {
	return strings.ReplaceAll(fmt.Sprintf("%.3f to %.3f", low, high), "-", "–")
}

// signedFromTo writes two numbers with their signs.
func signedFromTo(low, high float64, decimals int) string {
	return signed(low, decimals) + " to " + signed(high, decimals)
}

// numerical says what the meshes leave open of the answer.
func (p Pair) numerical() string {
	a, b := p.Chances[0], p.Chances[1]
	if e := p.errorMM(); !math.IsNaN(e) {
		return fmt.Sprintf("Numerical error: margins may be off by up to %s mm either way. With that the muscle is reached with A in %d to %d draws (95 %% interval %s), with B in %d to %d (%s); p is at most %.2g if the errors of A and B are alike, as of settings that dry and spark alike, %.2g if they are not.",
			phrase.Short(e), a.Least, a.Most, between95(a.Wide), b.Least, b.Most, between95(b.Wide), p.MostAlikeP, p.MostP)
	}
	return "The numerical error of these margins is not known."
}

// sameWall reports whether the muscle begins at the same depth with A and with B in each draw.
func (p Pair) sameWall() bool {
	return !slices.ContainsFunc(p.Draws, func(d drawnPair) bool {
		return math.Abs(d.margin[0]+d.depth[0]-d.margin[1]-d.depth[1]) > 1e-3 // mm, as they are written
	})
}
