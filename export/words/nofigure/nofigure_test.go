package nofigure

import (
	"math"
	"testing"
)

func TestSay(t *testing.T) {
	type told struct {
		Name string
		OffM float64
	}
	for _, tt := range []struct {
		s    string
		told any
		want string
	}{
		{"NaN m off", told{"A", math.NaN()}, "an unknown distance off"},
		{"+Inf ft off", told{"A", math.Inf(1)}, "an unknown distance off"},
		{"NaN times as far", []any{&told{"A", math.NaN()}}, "an unknown figure times as far"},
		{"0.50 m off", told{"A", 0.5}, "0.50 m off"},
		{"line NaN m, 0.50 m off", told{"NaN m", 0.5}, "line NaN m, 0.50 m off"},
		{"line NaN 7, NaN m off", told{"NaN 7", math.NaN()}, "line NaN 7, an unknown distance off"},
	} {
		if got := Say(tt.s, tt.told); got != tt.want {
			t.Errorf("%q of %v: %q, want %q", tt.s, tt.told, got, tt.want)
		}
	}
}
