package words

import (
	"fmt"
	"slices"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// guardRemark says what the readings hold against where the line lies.
func guardRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.BesideItself:
		return fmt.Sprintf("the line as drawn runs beside itself, up to %s away. A line that turns back does that, and so does a walk out and back over one line: there may be only one line here, not two.",
			u.Short(r.ApartM)), true
	case remark.Excursion:
		return fmt.Sprintf("The trace steps %s sideways within %s and goes on parallel, and steps back at %s.",
			u.Short(r.LateralM), u.Short(r.WithinM), u.Long(r.BackAtM)), true
	case remark.LateralStep:
		return lateralStep(u, r), true
	case remark.FittingsOrOtherLine:
		return "An offset made with fittings looks like this, and so does a receiver that has moved over to another line: the band covers both courses.", true
	case remark.StepOverGap:
		return fmt.Sprintf("Beyond the gap at %s the trace continues on a parallel course, %s to one side: it may have been picked up again on another line. Nothing shows which side of the gap was on the line itself.",
			u.Long(r.StationM), u.Short(r.LateralM)), true
	case remark.StrideOvershoots:
		return fmt.Sprintf("at %s one stride goes %s aside, past the course behind it, as no walk along a line does: the positions before or behind it may not be where the receiver was, or the trace went over to another line. Find the line on both sides of it before digging.",
			u.Long(r.StationM), u.Short(r.AsideM)), true
	case remark.ExposedOffLine:
		return fmt.Sprintf("the line was exposed at %s, %s to the %s of where it is drawn: outside the band of the trace. The band of the whole line is widened to that.",
			u.Long(r.StationM), u.Fine(r.OffM), r.Side), true
	case remark.ExposedAcross:
		return fmt.Sprintf("two places where the line was exposed, at %s, lie %s apart across it: they are not both on one course. The line may turn back here, or one of them is on another line. The band covers both.",
			u.Long(r.StationM), u.Fine(r.ApartM)), true
	case remark.PassesApart:
		if r.InPart {
			return fmt.Sprintf("part of this stretch was walked more than once, and the passes lie up to %s apart there, farther than their accuracy explains: one of them may be wrong, and then over its whole length. The band covers both.",
				u.Fine(r.ApartM)), true
		}
		return fmt.Sprintf("this stretch was walked more than once, and the passes lie up to %s apart, farther than their accuracy explains: one of them may be wrong, or there are two lines or two legs of one. The band covers both.",
			u.Fine(r.ApartM)), true
	case remark.SeamApart:
		if r.Resumed {
			return fmt.Sprintf("at %s the walk meets what it read before, from another place, and the two do not join there: one lies %s or more to one side of the other. One may have been read over another line, or both beside the line, and nothing shows which part is right. The band covers both.",
				u.Long(r.StationM), u.Fine(r.AsideM)), true
		}
		return fmt.Sprintf("at %s the walk goes on after a long pause, or in another table, and the line does not go on there as it came: it lies %s or more to one side. Another base or another reference system moves all positions of a walk like that, and nothing shows which part is right. The band covers both.",
			u.Long(r.StationM), u.Fine(r.AsideM)), true
	case remark.RingOpen:
		return fmt.Sprintf("the walk comes back to where it began and misses it by %s, farther than its accuracy explains: a closing error, which may have arisen anywhere on the way. The band covers it all along.",
			u.Fine(r.MissM)), true
	case remark.StrideUndrawn:
		return fmt.Sprintf("from one reading to the next the walk went %s, and no line is drawn there.", u.Long(r.StrideM)), true
	case remark.ReadingsOffLine:
		return readingsOffLine(u, r), true
	case remark.FewReadings:
		return fmt.Sprintf("only %d readings over %s: between them the line may run elsewhere.", r.N, u.Long(r.OverM)), true
	case remark.WideSpacing:
		return fmt.Sprintf("readings are up to %s apart here: a bend between them would not show.", u.Long(r.ApartM)), true
	case remark.BendBetween:
		return fmt.Sprintf("the line bends here between readings too far apart to tell where: it may lie %s or more off the line drawn.", u.Short(r.OffM)), true
	case remark.RunsAside:
		return fmt.Sprintf("the readings lie to one side of the line and then to the other, several in a row, by up to %s: %.1f times as far as their stated accuracy explains; the band is widened to hold that. The line may bend where it is drawn smooth.",
			u.Short(r.FarthestM), r.TimesStated), true
	case remark.AgainstAntennas:
		of := fmt.Sprintf("%d depths here are not what their antennas give", r.Readings)
		if r.Readings == 1 {
			of = "a depth here is not what its antennas give"
		}
		return fmt.Sprintf("%s: %s was written down where the two signals, as elsewhere on the line, make it about %s. The band covers both. Expose before digging.",
			of, u.Short(r.DepthM), u.Short(r.AntennasM)), true
	case remark.AsideOfTheWalk:
		lie := fmt.Sprintf("%d readings lie", r.Readings)
		if r.Readings == 1 {
			lie = "one reading lies"
		}
		return fmt.Sprintf("%s about %s to one side of the walk before and after, which goes on where it left off. Positions that jump do that, and a line hardly does: the true line may pass straight by. Find it there before digging.",
			lie, u.Short(r.AsideM)), true
	case remark.AsideWithTheFix:
		return fmt.Sprintf("At %s, where the fix becomes poorer, the line goes on %s beside its course. A line laid with an offset looks like that, and so do positions that are all wrong by as much: the band there holds both.",
			u.Long(r.StationM), u.Short(r.AsideM)), true
	case remark.Weaves:
		return fmt.Sprintf("The line as drawn bows gently to one side and the other, %d times, by up to %s. A cable laid by eye does that, and so does a receiver that is not held over the peak: the band holds a straighter course too.",
			r.Bows, u.Fine(r.OffM)), true
	case remark.Sweep:
		return fmt.Sprintf("the readings swing from side to side by up to %s. A receiver swept across a line does that; a line does not. The true line may lie anywhere between the two sides.",
			u.Short(r.SideToSideM)), true
	}
	return "", false
}

func lateralStep(u geo.Units, r remark.LateralStep) string {
	s := fmt.Sprintf("The trace steps %s sideways within %s and continues on a parallel course", u.Short(r.LateralM), u.Short(r.WithinM))
	switch {
	case trace.Known(r.BackAtM):
		return s + fmt.Sprintf(", and steps back at %s.", u.Long(r.BackAtM))
	case r.Suspected:
		return s + "."
	case r.SameLine:
		return s + ". Depth and signal go on as they were, as along one line: the zone covers both courses over the step alone."
	}
	return s + ". Nothing shows on which side of the step the receiver was on its own line: the zone covers both courses throughout."
}

func readingsOffLine(u geo.Units, r remark.ReadingsOffLine) string {
	what, whose := fmt.Sprintf("%d readings that were used lie up to", r.N), "their own accuracy explain"
	if r.N == 1 {
		what, whose = "a reading that was used lies", "its own accuracy explain"
	}
	return fmt.Sprintf("%s %s from the line drawn, more than the line's band and %s; the band is widened to hold that.", what, u.Fine(r.FarthestM), whose)
}

// greaterOrLess compares depths.
func greaterOrLess(deeper bool) string {
	if deeper {
		return "greater"
	}
	return "less"
}

// guardDepthRemark says what the depths hold against the profile.
func guardDepthRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.DepthsOffProfile:
		return oneOrMany(u, r.N, r.FarthestM, "a depth that was used differs by %s from the profile drawn, more than its band explains; the band is widened to hold it.",
			"%d depths that were used differ by up to %s from the profile drawn, more than its band explains; the band is widened to hold them."), true
	case remark.DepthsAgainstProfile:
		return oneOrMany(u, r.N, r.FarthestM, "a depth agrees with others nearby and not with the profile drawn, from which it differs by %s; the band is widened to hold it.",
			"%d depths in a row agree with each other and not with the profile drawn, from which they differ by up to %s; the band is widened to hold them."), true
	case remark.DepthsDroppedInARow:
		return fmt.Sprintf("%d depths in a row were left out: they agree neither with the profile drawn, from which they differ by up to %s, nor with each other. The receiver may not have been over the line here. The band is widened to hold them.", r.N, u.Fine(r.FarthestM)), true
	case remark.DepthBlock:
		return fmt.Sprintf("%d depths (lines %d to %d of the table) are %s %s than those before and after, from one reading to the next and back. A line laid under or over something looks like this; so does another line, or another unit. The band covers both depths.", r.N, r.FromRow, r.ToRow, u.Short(r.OffM), greaterOrLess(r.Deeper)), true
	case remark.CornerCut:
		read := "show no depth"
		if trace.Known(r.Times) {
			read = fmt.Sprintf("read %.1f times as deep as those beside it", r.Times)
		}
		return fmt.Sprintf("the walk seems to have cut a corner: readings inside it (%d) %s. The line may go on to where its straight legs meet, %s off the line drawn; the band covers that.", r.N, read, u.Short(r.OffM)), true
	case remark.DepthLevel:
		return fmt.Sprintf("from line %d of the table on, the depths are %s %s than before, within one step of %s. A line that goes under or over something looks like this; so does a trace that has moved onto another line, another unit, or another receiver. The band covers both depths.", r.Row, u.Short(r.OffM), greaterOrLess(r.Deeper), u.Short(r.WithinM)), true
	case remark.TwoDepths:
		return oneOrMany(u, r.N, r.FarthestM, "a depth differs by %s from the profile drawn, and so do others near it, more than its band explains: the line may lie at two depths here, or two lines under one name. The band is widened to hold it.",
			"%d depths near each other differ by up to %s from the profile drawn, more than its band explains: the line may lie at two depths here, or two lines under one name. The band is widened to hold them."), true
	case remark.DepthPassesApart:
		return fmt.Sprintf("where walks over this stretch meet, the depths of one are %.2f times those of the other: one of them reads wrong, and then over its whole length. The band covers both.", r.Times), true
	case remark.DepthsScattered:
		return fmt.Sprintf("%d of %d depths lie off the profile drawn by more than a receiver scatters, by up to %s: it may hear two lines at two depths. The band is widened to hold them.", r.N, r.Of, u.Short(r.OffM)), true
	case remark.ShallowAlone:
		return fmt.Sprintf("one depth of %s (line %d of the table) lies %s above the profile drawn. Nothing near it agrees, and it was left out; nothing speaks against it either: the line may rise there. The band is widened to hold it.",
			u.Short(r.DepthM), r.Row, u.Fine(r.OffM)), true
	case remark.ProfileOutOfRange:
		read := u.Short(r.LeastM)
		if most := u.Short(r.MostM); most != read {
			read += " to " + most
		}
		return fmt.Sprintf("At %s the profile is drawn at %s, where the depths read near it are %s: they were corrected for the field of the line's own bends or legs. The band reaches the nearest of them.",
			u.Long(r.StationM), u.Short(r.DrawnM), read), true
	case remark.ExposedOffProfile:
		return fmt.Sprintf("the line was exposed at %s and measured %s deep, where the profile has %s: outside its band. The band of the whole profile is widened to that.",
			u.Long(r.StationM), u.Short(r.MeasuredM), u.Short(r.DrawnM)), true
	}
	return "", false
}

func oneOrMany(u geo.Units, n int, farthestM float64, one, many string) string {
	if n > 1 {
		return fmt.Sprintf(many, n, u.Fine(farthestM))
	}
	return fmt.Sprintf(one, u.Fine(farthestM))
}

// unusedRemark says what became of readings that the line does not stand for.
func unusedRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.SingleReadings:
		off := u.Short(r.FarthestM) + " off the line"
		if r.Side != "" {
			off = fmt.Sprintf("%s to the %s of the line", u.Short(r.FarthestM), r.Side)
		}
		what := fmt.Sprintf("%d single readings lie up to %s and %s", r.N, off, fates(u, r.Fates))
		if r.N == 1 {
			what = fmt.Sprintf("a single reading (line %d of the table) lies %s and was set aside", r.Row, off)
		}
		return what + ". A jump in position looks like this, and so does a short branch.", true
	case remark.Block:
		return block(u, r), true
	case remark.Unsettled:
		return fmt.Sprintf("%d neighbouring readings (lines %d to %d of the table) do not fit the rest: the position of %d was set aside, and so was the depth of the others. The line may not be the same one before and after.",
			r.N, r.FromRow, r.ToRow, r.Aside), true
	case remark.ManyUnused:
		if r.Most {
			return fmt.Sprintf("%d of %d readings %s: so many that those used may be the wrong ones.", r.Unused, r.Readings, fates(u, r.Fates)), true
		}
		return fmt.Sprintf("%d of %d readings %s: more than a few of them were not used.", r.Unused, r.Readings, fates(u, r.Fates)), true
	}
	return "", false
}

func block(u geo.Units, r remark.Block) string {
	where := fmt.Sprintf("lines %d to %d of the table", r.FromRow, r.ToRow)
	what, why := fmt.Sprintf("%d neighbouring readings (%s)", r.N, where), fates(u, r.Fates)
	if r.N == 1 {
		where = fmt.Sprintf("line %d of the table", r.FromRow)
		what = fmt.Sprintf("a reading at the end of the walk (%s)", where)
		why = strings.Replace(strings.Replace(why, "were", "was", 1), "but lie", "but lies", 1)
	}
	if r.Undrawn && r.N == 1 {
		return fmt.Sprintf("%s %s, and no line is drawn through its place. From one reading, a jump in position and a bend before the end of the line look the same.", what, why)
	}
	if r.Undrawn {
		return fmt.Sprintf("%s %s, and no line is drawn through their places.", what, why)
	}
	return fmt.Sprintf("%s %s.", what, why)
}

// fates says what became of a run of readings.
func fates(u geo.Units, reasons remark.Fates) string {
	var said []string
	used := 0
	for _, why := range reasons {
		head := "counted as used"
		if why == nil {
			used++
		} else {
			head = reasonHead(Remark(u, why))
		}
		if !slices.Contains(said, head) {
			said = append(said, head)
		}
	}
	if used == len(reasons) {
		return "were used, but lie off the line"
	}
	return "were set aside (" + strings.Join(said, ", ") + ")"
}
