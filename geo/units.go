package geo

import (
	"math"
	"strconv"
)

// Units chooses what people are shown. Files stay in metres.
type Units string

// Metric and US are what a job can ask for. In US units a small length is in feet and
// inches, as a tape in the hand shows it, and a station in feet: one notation for each, so
// that the same distance never reads as two.
const (
	Metric Units = "metric"
	US     Units = "us"
)

// Short words a small length (depth, band, offset): metres to the centimetre,
// or feet and whole inches.
func (u Units) Short(m float64) string {
	if u == US {
		return feetInches(math.Round(m / InchM))
	}
	return strconv.FormatFloat(m, 'f', 2, 64) + " m"
}

// ShortUp is Short rounded up: for promises, and for what must not be gone below.
func (u Units) ShortUp(m float64) string {
	if u != US {
		return u.Short(math.Ceil(m*100-1e-6)/100 + 0) // no minus zero
	}
	return u.Short(math.Ceil(m/InchM-1e-6) * InchM)
}

// Long words a distance along a line: metres to the decimetre or whole feet.
func (u Units) Long(m float64) string {
	if u == US {
		return strconv.FormatFloat(math.Round(m/FootM)+0, 'f', 0, 64) + " ft"
	}
	return strconv.FormatFloat(m, 'f', 1, 64) + " m"
}

// WithBand words an estimate and its 95 % band, rounded to what the band
// supports: "1.04 m ± 0.12", "3 ft 5 in ± 6 in".
func (u Units) WithBand(m, b float64) string {
	if u == US {
		return feetInchesWithBand(m, b)
	}
	digits := 2
	if math.IsNaN(b) {
		return strconv.FormatFloat(m, 'f', digits, 64) + " m"
	}
	if b >= 1 {
		digits = 1
	}
	if b >= 10 {
		digits = 0
	}
	// The band is rounded up, never down: it is a promise.
	p := math.Pow(10, float64(digits))
	b = math.Ceil(b*p-1e-9)/p + 0 // no minus zero
	return strconv.FormatFloat(m, 'f', digits, 64) + " m ± " + strconv.FormatFloat(b, 'f', digits, 64)
}

// Fine words an accuracy or an offset: centimetres below a metre, or inches
// below a foot; otherwise like Short.
func (u Units) Fine(m float64) string {
	if u == US {
		if math.Abs(m) < FootM {
			return strconv.FormatFloat(m/InchM, 'f', 1, 64) + " in"
		}
		return u.Short(m)
	}
	if math.Abs(m) < 1 {
		return strconv.FormatFloat(m*100, 'f', 1, 64) + " cm"
	}
	return u.Short(m)
}
