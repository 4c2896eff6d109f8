package words

import (
	"fmt"
	"strconv"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// inputRemark says what to check where a problem of the input costs the map more than
// the row that it stands in.
func inputRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.ColumnUnknown:
		return fmt.Sprintf("%s: the column %q is not known (did you mean %s?), so %s. Rename it, or name it in the job file under [columns], and make the map again.",
			r.Table, trace.Shorten(r.Header), r.Means, costs[r.Cost]), true
	case remark.ColumnUnit:
		return fmt.Sprintf("%s: the column %q is in a unit that is not read, so %s. Convert its figures, name it %s, and make the map again.",
			r.Table, trace.Shorten(r.Header), costs[r.Cost], r.Name), true
	case remark.ColumnLost:
		if r.N == r.Of {
			return fmt.Sprintf("%s: not one value of the column %q could be read, so %s. Correct the table and make the map again.", r.Table, trace.Shorten(r.Header), costs[r.Cost]), true
		}
		return fmt.Sprintf("%s: %d of %d values of the column %q could not be read and were left out. Correct the table and make the map again.", r.Table, r.N, r.Of, trace.Shorten(r.Header)), true
	case remark.ColumnUnmet:
		return fmt.Sprintf("%s: the column map names %q for %s, which no table has, and the table's own column %s was read; the column %q was not. Find out which is right and make the map again.",
			r.Job, trace.Shorten(r.Header), r.Column, r.Column, trace.Shorten(r.Near)), true
	case remark.OutsideArea:
		return fmt.Sprintf("The positions lie outside the area that their system, %s, is made for (%s). If that is not the system that they are in, the whole map lies elsewhere: ask, and measure from the paint, not from the map.", r.CRS, r.Area), true
	case remark.DatumUnbelieved:
		s := r.Why + " "
		if r.MayBe != "" {
			s += "Or the positions are wrong: " + slipsMayBe[r.MayBe] + ", and the map would lie on another continent. "
		}
		return s + "Ask which frame the corrections were in, and measure from the paint, not from the map.", true
	case remark.DateDiffers:
		return fmt.Sprintf("The date stated is %s, and the readings say that they were taken on %s. Find out which is right: the map's date and, by a few centimetres a year, its place depend on it.", r.Stated, r.Read), true
	case remark.EpochFar, remark.EpochUnheld, remark.ClockFar, remark.ZoneFar, remark.WebMercator, remark.FootUnsaid, remark.HookupDiffers, remark.FreqDiffers, remark.FreqOdd,
		remark.ExposedAndHeard, remark.RuleWider:
		return crossChecked(u, r), true
	case remark.LineUnread, remark.NamesAlike, remark.TablesAsOne, remark.NumbersSplit, remark.RowsUnread, remark.RowsHashed, remark.SimulatorData, remark.SignTurned, remark.LayerFar,
		remark.LayerIncomplete, remark.PlacedByClock, remark.OtherFoot:
		return inputAtLarge(u, r), true
	case remark.DepthElsewhere:
		if r.Invert {
			return fmt.Sprintf("%s: the column %q was read as depths to the centre of the line, and its header says that they are to the invert: the line lies shallower than drawn, by half its diameter or more. Ask what was measured, and write depths to the centre.", r.Table, trace.Shorten(r.Header)), true
		}
		return fmt.Sprintf("%s: the column %q was read as depths to the centre of the line, and its header says that they are to the top: the centre lies deeper than drawn, by half the line's diameter. Ask what was measured, and write depths to the centre.", r.Table, trace.Shorten(r.Header)), true
	case remark.DepthsNegative:
		return fmt.Sprintf("%d of %d depths are negative and were left out, as if they were heights. Find out before digging.", r.N, r.Of), true
	}
	return "", false
}

// costs says what a map does without a column.
var costs = map[remark.Cost]string{
	remark.CostDepth:     "no depths were read",
	remark.CostLine:      "all its readings were taken as one line",
	remark.CostLift:      "readings of a lifted receiver were taken as points of the line",
	remark.CostExposed:   "places where the line was exposed were taken as traced ones",
	remark.CostCurrent:   "the current could not be checked",
	remark.CostSignal:    "the signal could not be checked",
	remark.CostAntennas:  "the two antennas could not be compared",
	remark.CostNull:      "peak and null could not be compared",
	remark.CostDirection: "the direction of the current could not be checked",
	remark.CostHookup:    "the hookup was not known",
	remark.CostAccuracy:  "how good the positions are was not read",
	remark.CostTime:      "the times were not read",
}

// slipsMayBe says which slip may have put a place on another continent.
var slipsMayBe = map[remark.Slip]string{
	remark.LongitudeSignLost: "the sign of the longitude may be lost",
	remark.LatitudeSignLost:  "the sign of the latitude may be lost",
	remark.AxesSwapped:       "latitude and longitude may be swapped",
}

// implausible says what a column says that no instrument gives, and what to find out
// before digging where that is for whoever digs.
func implausible(u geo.Units, r trace.Remark) (what, ask string) {
	switch r := r.(type) {
	case remark.CurrentsOdd:
		return fmt.Sprintf("the currents are mostly about %s mA, which no traced line carries", figure(r.AboutMA)), ""
	case remark.AccuraciesTooFine:
		return "the accuracies of the positions are mostly less than 1 mm, which no receiver states", ""
	case remark.AccuraciesOfBetterFix:
		return fmt.Sprintf("the positions are said to be good to about %s (one sigma), and those with a fix of %d are seldom better than %s", u.Short(r.AboutM), r.Fix, u.Short(r.SeldomM)),
			fmt.Sprintf(": unless they come from better corrections, the whole line may lie %s off. Ask which service gave the corrections, or measure from the paint.", u.Short(r.Shared95M))
	case remark.AccuraciesOfNoFix:
		return fmt.Sprintf("the accuracies of RTK fixed positions are mostly about %s, which no such fix has", u.Short(r.AboutM)), ""
	case remark.NullsRestless:
		return fmt.Sprintf("the null offsets change mostly by %s from one reading to the next, more than they do over a line", u.Short(r.ByM)), ""
	case remark.AntennasReversed:
		return fmt.Sprintf("the top antenna hears mostly %.2f times what the bottom one does, which no line in the ground causes", r.Times),
			": the two columns may be swapped, or what was heard is above the ground. Find out before digging."
	case remark.AntennasWithoutGap:
		return "both antennas were read, and no depth: only the distance between them is missing to compute depths", ". State antenna_gap_m in the job file and make the map again."
	case remark.CurrentsNone:
		if r.Negative {
			return "the currents are mostly less than zero, and were not used: a direction that a sign stands for was not read", ". Write the direction as phase (with or against) and the currents without a sign, and make the map again."
		}
		return "the currents are mostly zero, which no traced line shows, and were not used", ""
	case remark.NullFillers:
		return fmt.Sprintf("%d of %d null offsets are %s, which a receiver writes for none, and were left out", r.N, r.Of, u.Short(r.ShownM)), ""
	case remark.DepthsTooShallow:
		return fmt.Sprintf("the depths are mostly about %s, less than any line lies deep", u.Fine(r.AboutM)),
			", as if they were in another unit, and were left out. " + rightUnit
	}
	return "", ""
}

// figure words a current with as many digits as say something.
func figure(mA float64) string {
	if mA < 10 {
		return strconv.FormatFloat(mA, 'f', 2, 64)
	}
	return strconv.FormatFloat(mA, 'f', 0, 64)
}
