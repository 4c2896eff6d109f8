package words

import (
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// positionReason says why a reading's position was not used.
func positionReason(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.Reason:
		return reasons[r], true
	case remark.NoFix:
		return noFix[r.Fix], true
	case remark.NotInLog:
		return "no position: " + r.Why, true
	case remark.Swapped:
		return fmt.Sprintf("latitude and longitude look swapped: it says %s; swap them in the file to use the row", written(r.At)), true
	case remark.LongitudeOver:
		return fmt.Sprintf("impossible position: longitudes run from -180 to 180, and %.7f should be %.7f", r.LonDeg, r.LonDeg-360), true
	case remark.Impossible:
		return "impossible position: " + written(r.At), true
	case remark.Slipped:
		return fmt.Sprintf("%s in this row: it says %s; correct the file to use it", slips[r.Slip], written(r.At)), true
	case remark.FarOff:
		return fmt.Sprintf("impossible position: %s, %.0f km from the rest of the line", written(r.At), r.FarKm), true
	case remark.NoGrid:
		return fmt.Sprintf("east and north without a grid to read them in, set crs to its EPSG code: %s has none", r.CRS), true
	case remark.NotProjected:
		return "impossible position: " + r.Why, true
	case remark.OutsideCRS:
		return fmt.Sprintf("far outside the area of %s, check crs and whether the columns are metres, feet or US survey feet: easting %.2f m, northing %.2f m in %s", r.Name, r.EastM, r.NorthM, r.CRS), true
	case remark.TwoPositions:
		return "two positions: its degrees and its eastings and northings lie " + shown(u, "%.2f", r.ApartM) + " apart", true
	case remark.Repeated:
		where := ""
		if r.OtherFile {
			where = " of another file"
		}
		return fmt.Sprintf("repeated row: the same reading as line %d%s", r.Row, where), true
	case remark.Outlier:
		return "position outlier: " + standsOff(u, r.From, r.OffM, r.N), true
	case remark.Unplaced:
		if r.From == remark.FromLine {
			return "stray: " + about(u, r.OffM) + " from the line that the others make", true
		}
		return "stray: " + standsOff(u, r.From, r.OffM, 1), true
	}
	return "", false
}

var reasons = map[remark.Reason]string{
	remark.NoPosition:        "no position",
	remark.NoPositionNorTime: "no position, and no time by which the GNSS log could give one",
	remark.ZeroPosition:      "impossible position: 0, 0 is what receivers write where they have none",
	remark.NoCourse:          "no course: the readings of this line are scattered over an area in no order",
	remark.NoZone:            "no zone: none could be drawn around the course that the readings make",
	remark.ZeroDepth:         "depth 0 is not a depth",
	remark.DepthFromAntennas: "depth computed from the two antennas",
}

var noFix = map[trace.Fix]string{
	trace.FixNone:          "fix 0: the positioning receiver had no fix",
	trace.FixDeadReckoning: "fix 6: dead reckoning is not a measurement",
	trace.FixManual:        "fix 7: the position was typed in, not measured",
	trace.FixSimulator:     "fix 8: simulator data, not a measurement",
}

var slips = map[remark.Slip]string{
	remark.AxesSwapped:       "latitude and longitude are swapped",
	remark.LongitudeSignLost: "the sign of the longitude is lost",
	remark.LatitudeSignLost:  "the sign of the latitude is lost",
}

// written words a position that is not drawn anywhere, as its row has it.
func written(g geo.LonLat) string {
	return fmt.Sprintf("latitude %.7f, longitude %.7f", g.LatDeg, g.LonDeg)
}

// standsOff says what a position stands off from, and how far.
func standsOff(u geo.Units, from remark.From, offM float64, n int) string {
	switch from {
	case remark.FromLine:
		return about(u, offM) + " off the line that the other readings make"
	case remark.FromOrder:
		return "out of order along the walk"
	case remark.FromNeighbours:
		return about(u, offM) + " away from the readings before and after"
	case remark.FromWalk:
		return "off the walk and back"
	case remark.FromStraightOn:
		return fmt.Sprintf("%d neighbouring readings lie about %s to one side together, and the walk took no more strides than straight on", n, u.Short(offM))
	case remark.FromAll:
		return "alone: the readings before and after it are too far away to draw a line to it"
	}
	return "no usable position"
}

// about is how far a reading stands off, as people say it: centimetres below a metre.
func about(u geo.Units, m float64) string {
	switch m = math.Abs(m); {
	case u != geo.Metric:
		return u.Short(m)
	case m < 0.995:
		return fmt.Sprintf("%.0f cm", 100*m)
	}
	return fmt.Sprintf("%.1f m", m)
}

// shown is a depth as the table has it: in metres with so many digits, or as a tape
// shows it.
func shown(u geo.Units, format string, m float64) string {
	switch {
	case u == geo.Metric:
		return fmt.Sprintf(format, m) + " m"
	case math.Abs(m) < geo.FootM:
		return u.Fine(m)
	}
	return u.Short(m)
}

// depthReason says why a reading's depth was not used.
func depthReason(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.AirCoupled:
		return fmt.Sprintf("air-coupled: the bottom antenna hears only %.3f times the top one, and more current than nearby, as a transmitter's own field would read and a line below would not", r.Ratio), true
	case remark.NegativeDepth:
		return "depth is negative (" + shown(u, "%.2f", r.DepthM) + ")", true
	case remark.FillerDepth:
		return "depth is a receiver's filler for 'none' (" + shown(u, "%.4g", r.DepthM) + ")", true
	case remark.DepthInstead:
		return "depth computed from the two antennas; the display showed " + shown(u, "%.4g", r.ShownM), true
	case remark.TooDeep:
		return "depth is deeper than a receiver can read (" + shown(u, "%.1f", r.DepthM) + ")", true
	case remark.TooShallow:
		return "depth is less than any line lies deep (" + shown(u, "%.3f", r.DepthM) + ")", true
	case remark.TenfoldDepth:
		return "depth is ten times that of the neighbours (" + shown(u, "%.2f", r.DepthM) + "), as if a decimal point were lost", true
	case remark.DepthSpike:
		if !trace.Known(r.AroundM) {
			return "depth spike: " + "depth stands out from the readings around it", true
		}
		return "depth spike: " + fmt.Sprintf("depth %s where the readings around it say %s", shown(u, "%.2f", r.DepthM), shown(u, "%.2f", r.AroundM)), true
	}
	return "", false
}
