package intake

import "testing"

func TestOtherUnit(t *testing.T) {
	for _, c := range []struct{ header, ours, want string }{
		{"Depth (m)", "depth_ft", "m"}, {"Depth (ft)", "depth_m", "ft"}, {"Depth [ft]", "depth_m", "ft"}, {"depth, feet", "depth_m", "ft"},
		{"DEPTH_CM", "depth_m", "cm"}, {"Depth in inches", "depth_ft", "in"}, {"Easting (usft)", "east_m", "ft"}, {"depth mm", "depth_cm", "mm"},
		// They agree.
		{"Depth (m)", "depth_m", ""}, {"Tiefe [cm]", "depth_cm", ""}, {"Northing (ft)", "north_usft", ""}, {"Depth in", "depth_in", ""},
		// No unit is named.
		{"Depth", "depth_ft", ""}, {"Tiefe", "depth_m", ""}, {"Datum", "depth_m", ""}, {"Column (mean)", "depth_ft", ""}, {"Dip_M1", "depth_ft", ""}, {"Freq (kHz)", "freq_hz", ""}, {"m", "line", ""},
	} {
		if got := otherUnit(c.header, c.ours); got != c.want {
			t.Errorf("%q read as %s: %q, want %q", c.header, c.ours, got, c.want)
		}
	}
}
