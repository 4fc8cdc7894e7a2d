package study

import "testing"

// The band of a figure is from the 5 to the 95 % quantile: of 0, 1, ..., 100 these are 5 and 95.
func TestBandsAreFrom5To95Percent(t *testing.T) {
	var v []float64
	for i := range 101 {
		v = append(v, float64(100-i))
	}
	if s := median(v); s.mid != 50 || s.low != 5 || s.high != 95 || s.n != 101 {
		t.Errorf("%+v", s)
	}
}
