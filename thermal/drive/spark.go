package drive

import "math"

// Sparks cross a gap only while the sine across it is above the onset voltage, and take
// that voltage with them: two diodes that break down at the onset, back to back, in
// series with the tissue. With x = onset / peak voltage and a = asin(x), the RMS current
// falls to the share
//
//	sqrt( (2/pi) ((pi-2a)(1/2+x^2) - 3x sqrt(1-x^2)) )
//
// of what a closed gap would pass: to the tissue the electrode has that share of its
// voltage.

// Passed returns the share of the voltage that reaches the tissue through sparks, from 1
// (no onset) to 0 (onset above the peak).
func Passed(onsetOverPeak float64) float64 {
	x := onsetOverPeak
	if x >= 1 {
		return 0
	}
	c := math.Sqrt(1 - x*x)
	f := (math.Pi-2*math.Asin(x))*(0.5+x*x) - 3*x*c
	return math.Sqrt(math.Max(0, 2*f/math.Pi))
}
