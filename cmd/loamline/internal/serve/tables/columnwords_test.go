package tables

import (
	"testing"

	"loamline.example/trace/intake"
)

// Every column that a table may have can be chosen, in words.
func TestEveryColumnHasWords(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range ColumnChoices() {
		if !IsColumnName(c.Name) || seen[c.Name] || c.Words == "" || c.Group == "" {
			t.Errorf("%+v is no choice", c)
		}
		seen[c.Name] = true
	}
	for _, n := range intake.ColumnNames() {
		if !seen[n] {
			t.Errorf("%s cannot be chosen", n)
		}
	}
}

// A header is guessed only where name and unit leave no doubt; a depth without
// a unit, and a cover, which is no depth to the centre, never are.
func TestGuess(t *testing.T) {
	for _, c := range []struct {
		header, name string
		ask          bool
	}{
		{"Latitude", "lat", true}, {"LONG", "lon", true}, {"Depth (ft)", "depth_ft", true}, {"depth [cm]", "depth_cm", true},
		{"Depth in inches", "depth_in", true}, {"Depth", "", true}, {"Cover (m)", "", true},
		{"Current mA", "current_ma", true}, {"Current", "", true}, {"Freq kHz", "freq_khz", true}, {"Frequency (Hz)", "freq_hz", true},
		{"Easting (US ft)", "east_usft", true}, {"Northing", "", true}, {"Signal dB", "signal_db", true}, {"Signal", "", true},
		{"Horizontal accuracy (m)", "h_acc_m", true}, {"Null offset in", "null_offset_in", true}, {"Remarks", "note", true},
		{"Battery", "", false}, {"Plateau", "", false}, {"Operator", "", false}, {"", "", false},
	} {
		if name, ask := guess(c.header); name != c.name || ask != c.ask {
			t.Errorf("%q: %q, %v; not %q, %v", c.header, name, ask, c.name, c.ask)
		}
	}
}
