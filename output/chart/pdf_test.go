package chart

import "testing"

func TestWindows1252(t *testing.T) {
	if got, ok := windows1252("a é ‘’“”–—…€™ž"); !ok || got != "a \xe9 \x91\x92\x93\x94\x96\x97\x85\x80\x99\x9e" {
		t.Errorf("%q, %v", got, ok)
	}
	for _, s := range []string{"Ω", "漢", "\uFFFD"} {
		if got, ok := windows1252(s); ok {
			t.Errorf("%q became %q", s, got)
		}
	}
}
