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

// A job in US units has the notation of the page that shows both: nobody who holds two
// outputs of a job side by side has to find out whether 4.6 ft is 4 ft 8 in.
func TestOneNotationOfFeet(t *testing.T) {
	for _, m := range []float64{0, 0.004, 0.0254, 0.25, 0.3048, 0.36, 1.2, 3.7, 12.5, -0.4} {
		for _, word := range []func(Units, float64) string{Units.Short, Units.ShortUp, Units.Fine, Units.Long,
			func(u Units, m float64) string { return u.WithBand(m, 0.21) }, func(u Units, m float64) string { return u.WithBand(m, 3) }} {
			if us, page := word(US, m), word(FeetInches, m); us != page {
				t.Errorf("%g m: %q and %q", m, us, page)
			}
		}
	}
	if got := US.ShortUp(1.4); got != "4 ft 8 in" {
		t.Errorf("%q", got)
	}
}
