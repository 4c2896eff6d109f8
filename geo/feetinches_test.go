package geo

import (
	"math"
	"testing"
)

// Inches by hand: a foot is 0.3048 m and an inch 0.0254 m exactly (24 FR 5348).
func TestFeetInches(t *testing.T) {
	tests := []struct{ got, want string }{
		{FeetInches.Short(41 * InchM), "3 ft 5 in"},
		{FeetInches.Short(4 * FootM), "4 ft"},
		{FeetInches.Short(7.4 * InchM), "7 in"},
		{FeetInches.Short(11.6 * InchM), "1 ft"},
		{FeetInches.Short(-5 * InchM), "-5 in"},
		{FeetInches.Short(-0.004), "0 in"},
		{FeetInches.Long(10.1), "33 ft"},
		{FeetInches.Fine(0.03), "1.2 in"},
		{FeetInches.Fine(0.5), "1 ft 8 in"},
		{FeetInches.WithBand(41*InchM, 4.1*InchM), "3 ft 5 in ± 5 in"},
		{FeetInches.WithBand(41*InchM, 14*InchM), "3 ft 5 in ± 1 ft 2 in"},
		{FeetInches.WithBand(8.4*FootM, 3.2*FootM), "8 ft ± 4 ft"},
		{FeetInches.WithBand(1, math.NaN()), "3 ft 3 in"},
		{FeetInches.WithBand(1, 0), "3 ft 3 in ± 0 in"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}
