package geo

import (
	"math"
	"testing"
)

// Inches by hand: a foot is 0.3048 m and an inch 0.0254 m exactly (24 FR 5348).
func TestFeetInches(t *testing.T) {
	tests := []struct{ got, want string }{
		{US.Short(41 * InchM), "3 ft 5 in"},
		{US.Short(4 * FootM), "4 ft"},
		{US.Short(7.4 * InchM), "7 in"},
		{US.Short(11.6 * InchM), "1 ft"},
		{US.Short(-5 * InchM), "-5 in"},
		{US.Short(-0.004), "0 in"},
		{US.Long(10.1), "33 ft"},
		{US.Fine(0.03), "1.2 in"},
		{US.Fine(0.5), "1 ft 8 in"},
		{US.WithBand(41*InchM, 4.1*InchM), "3 ft 5 in ± 5 in"},
		{US.WithBand(41*InchM, 14*InchM), "3 ft 5 in ± 1 ft 2 in"},
		{US.WithBand(8.4*FootM, 3.2*FootM), "8 ft ± 4 ft"},
		{US.WithBand(1, math.NaN()), "3 ft 3 in"},
		{US.WithBand(1, 0), "3 ft 3 in ± 0 in"},
		{US.Short(30.48), "100 ft"},
		{US.Long(304.8), "1000 ft"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

// What must not be gone below is rounded up, in feet as well.
func TestFeetInchesRoundedUp(t *testing.T) {
	if got := US.ShortUp(1.4); got != "4 ft 8 in" {
		t.Errorf("%q", got)
	}
}
