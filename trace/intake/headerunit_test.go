package intake

import "testing"

func TestOtherUnit(t *testing.T) {
	for _, c := range []struct{ header, ours, want string }{
		{"Depth (m)", "depth_ft", "m"}, {"Depth (ft)", "depth_m", "ft"}, {"Depth [ft]", "depth_m", "ft"}, {"depth, feet", "depth_m", "ft"},
		{"DEPTH_CM", "depth_m", "cm"}, {"Depth in inches", "depth_ft", "in"}, {"Easting (usft)", "east_m", "usft"}, {"depth mm", "depth_cm", "mm"},
		{"Depth (ft.)", "depth_m", "ft"}, {"DepthFt", "depth_m", "ft"}, {"DEPTHFT", "depth_m", "ft"}, {"Depth2ft", "depth_m", "ft"}, {"ft deep", "depth_m", "ft"},
		{"Depth '", "depth_m", "ft"}, {`Depth"`, "depth_cm", "in"}, {"Depth ('')", "depth_cm", "in"}, {"depthMeters", "depth_ft", "m"}, {"depthInches", "depth_cm", "in"},
		{"depthcm", "depth_in", "cm"}, {"Depth (cms)", "depth_in", "cm"}, {"depth_dm", "depth_ft", "dm"}, {"Depth mtr", "depth_ft", "m"}, {"Meter Tiefe", "depth_ft", "m"},
		{"Profundidad en pies", "depth_m", "ft"}, {"Prof (pulg)", "depth_cm", "in"}, {"Profondeur (pi)", "depth_m", "ft"}, {"Profondeur [pouces]", "depth_cm", "in"},
		{"Tiefe (Zoll)", "depth_cm", "in"}, {"Tiefe in Fuß", "depth_m", "ft"}, {"Profondeur (mètres)", "depth_ft", "m"}, {"Depth (m) corrected", "depth_ft", "m"}, {"Depth (yd)", "depth_m", "yd"},
		// Which foot, where it is told.
		{"Easting (US survey ft)", "east_ft", "usft"}, {"E (sft)", "east_ft", "usft"}, {"N_ftUS", "north_ft", "usft"}, {"Northing U.S. ft", "north_ft", "usft"}, {"Easting (international ft)", "east_usft", "ift"},
		{"Easting (US survey ft)", "east_usft", ""}, {"Easting (intl ft)", "east_ft", ""}, {"Easting (ft)", "east_ft", ""}, {"Depth (US survey ft)", "depth_ft", ""},
		// They agree.
		{"Depth (m)", "depth_m", ""}, {"Tiefe [cm]", "depth_cm", ""}, {"Northing (ft)", "north_usft", ""}, {"Depth in", "depth_in", ""},
		// No unit is named.
		{"Depth", "depth_ft", ""}, {"Tiefe", "depth_m", ""}, {"Datum", "depth_m", ""}, {"Column (mean)", "depth_ft", ""}, {"Dip_M1", "depth_ft", ""}, {"Freq (kHz)", "freq_hz", ""}, {"m", "line", ""}, {"Depth in ground", "depth_ft", ""}, {"M 12 depth", "depth_ft", ""}, {"Locator's depth", "depth_m", ""}, {"Elev. point", "elev_m", ""},
	} {
		if got := otherUnit(c.header, c.ours); got != c.want {
			t.Errorf("%q read as %s: %q, want %q", c.header, c.ours, got, c.want)
		}
	}
}
