package words

import (
	"fmt"
	"math"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// adviceRemark says what to check before digging.
func adviceRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.NoLine:
		return fmt.Sprintf("%s: no line could be drawn (%s). Locate it again before digging.", r.Line, whyNoLine(u, r.Readings)), true
	case remark.LookAt:
		return lookAt(u, r), true
	case remark.WatchedCrossing:
		within := reach(u, r.Reach)
		if within != "" {
			within = " " + within
		}
		return fmt.Sprintf("%s; %s from it, %s to %s: locate it, and expose both by hand before digging%s.",
			knownCrossing(u, r.Line, r.Crossing), Grade(r.Watched.Grade), u.Long(r.Watched.FromM), u.Long(r.Watched.ToM), within), true
	case remark.OnLine:
		where := r.Line
		if trace.Known(r.StationM) {
			where += ", " + u.Long(r.StationM)
		}
		return where + ": " + Remark(u, r.What), true
	case remark.FarTransmitter:
		return fmt.Sprintf("the transmitter is stated to be %.0f km from the readings, so that one of the two is misplaced: check its position, and crs and the order and signs of the readings' coordinates, and make the map again. Its own field near the line was not looked for.", r.Km), true
	case remark.LayerUncertain:
		off := u.Short(r.Doubt.OffM)
		return fmt.Sprintf("The known lines of %s may lie %s from where they are drawn, because %s. Ask whoever keeps the layer and state it in the job file (datum of the [[reference]]); until then a distance of up to %s from them tells nothing, and one of them may lie under the paint marks.",
			r.Source, off, r.Doubt.Why, off), true
	case remark.FrameDoubt:
		return frameDoubt(u, r), true
	}
	return "", false
}

// whyNoLine is why nothing could be drawn from a line's readings: what they
// were set aside for, or that too few are left.
func whyNoLine(u geo.Units, rs []trace.Reading) string {
	usable := 0
	reasons := map[string]int{}
	var order []string
	for i := range rs {
		r := &rs[i]
		_, why := Reason(u, r)
		switch r.Status {
		case trace.StatusSetAside:
		case trace.StatusCheck:
			why = "a lifted reading, which is a check and not a point of the line"
		default:
			usable++
			continue
		}
		if reasons[why] == 0 {
			order = append(order, why)
		}
		reasons[why]++
	}
	if usable > 0 {
		return fmt.Sprintf("%d usable of %d readings; two places are needed", usable, len(rs))
	}
	for i, why := range order {
		order[i] = fmt.Sprintf("%d × %s", reasons[why], why)
	}
	return strings.Join(order, ", ")
}

// LookAt says what a finding asks to be checked on its line. Of a check in the field that
// is to be made again it says how: what that showed is told where the check is.
func LookAt(u geo.Units, f trace.Finding) string {
	c, ok := f.(finding.FieldCheck)
	if !ok {
		return Remark(u, remark.LookAt{Line: f.OnLine(), Finding: f})
	}
	do := Remark(u, c.Remark)
	if i := strings.LastIndex(do, ". "); i >= 0 {
		do = do[i+len(". "):]
	}
	return c.Line + ": " + FindingTitle(u, c) + ". " + do
}

// lookAt says what a finding asks to be checked.
func lookAt(u geo.Units, r remark.LookAt) string {
	where := func(fromM, toM float64) string {
		if u.Long(fromM) == u.Long(toM) { // no stretch, but a place
			return fmt.Sprintf("%s, %s: ", r.Line, u.Long(fromM))
		}
		return fmt.Sprintf("%s, %s to %s: ", r.Line, u.Long(fromM), u.Long(toM))
	}
	return finding.PerKind[string]{
		Gap: func(f finding.Gap) string {
			_, air := f.Why.(remark.AirBeyond) // which says so itself
			if f.PastM != 0 && !air {
				return fmt.Sprintf("%s, %s: ", r.Line, pastEnd(u, f)) + Remark(u, f.Why) + " Find the line there before digging."
			}
			if f.Along != nil && !air {
				return where(f.Along[0], f.Along[1]) + Remark(u, f.Why) + " Find the line there before digging."
			}
			if !trace.Known(f.FromM) {
				return fmt.Sprintf("%s: %s Find the line there before digging.", r.Line, Remark(u, f.Why))
			}
			return where(f.FromM, f.ToM) + "not traced." + readingsWithin(u, f, r.Within) + " Find the line there before digging."
		},
		Doubt: func(f finding.Doubt) string {
			at := r.Line + ": "
			if trace.Known(f.FromM) {
				at = where(f.FromM, f.ToM)
			}
			why := Remark(u, f.Why)
			if BandHolds(f) {
				return at + why + " " + trustTheBand
			}
			if strings.HasSuffix(why, "before digging.") { // it says itself what to do
				return at + why
			}
			return at + why + " Find the line there before digging."
		},
		Crossing: func(f finding.Crossing) string { return lookAtCrossing(u, r.Line, f) },
		FieldCheck: func(f finding.FieldCheck) string {
			return fmt.Sprintf("%s, %s: %s", r.Line, u.Long(f.StationM), Remark(u, f.Remark))
		},
		RecordDifference: func(f finding.RecordDifference) string {
			return where(f.FromM, f.ToM) + fmt.Sprintf("the record '%s' lies up to %s to the %s of the trace. Find out which is right.", f.Record, u.Short(math.Abs(f.LargestOffsetM)), sideOf(f.LargestOffsetM))
		},
		Else: func(f trace.Finding) string { return r.Line + ": " + FindingTitle(u, f) },
	}.Of(r.Finding)
}

// readingsWithin says what became of the places in a gap where readings were taken, and
// that there is nothing else in it.
func readingsWithin(u geo.Units, f finding.Gap, within []trace.Finding) (out string) {
	restM := f.ToM - f.FromM
	for _, in := range within {
		g := in.(finding.Gap)
		restM -= g.Along[1] - g.Along[0]
		why := g.Why
		if b, ok := why.(remark.Block); ok && b.N > 1 {
			b.Undrawn = false // all of the gap is
			why = b
		}
		out += fmt.Sprintf(" From %s to %s: ", u.Long(g.Along[0]), u.Long(g.Along[1])) + Remark(u, why)
	}
	if out != "" && restM > trace.GapEdgeM {
		out += " The rest has no usable reading."
	}
	return out
}

func lookAtCrossing(u geo.Units, line string, f finding.Crossing) string {
	switch {
	case f.OnRecord():
		return knownCrossing(u, line, f) + ": locate it, and expose both by hand."
	case f.SeparationM == 0:
		return fmt.Sprintf("%s crosses %s at %s: expose both by hand.", line, f.Other, u.Long(f.StationM))
	}
	return fmt.Sprintf("%s comes within %s of %s at %s: two lines in one zone, expose both.", line, u.Short(f.SeparationM), f.Other, u.Long(f.StationM))
}

// knownCrossing says where a line on record meets the trace, and how far the
// record can be believed.
func knownCrossing(u geo.Units, line string, f finding.Crossing) string {
	s := fmt.Sprintf("%s comes within %s of '%s' at %s, a known line (%s) that was not located here", line, u.Short(f.SeparationM), f.Other, u.Long(f.StationM), f.Source)
	if f.SeparationM == 0 {
		s = fmt.Sprintf("%s crosses '%s' at %s, a known line (%s) that was not located here", line, f.Other, u.Long(f.StationM), f.Source)
	}
	if f.DoubtM > 0 {
		s += fmt.Sprintf("; the record may lie %s off, because %s", u.Short(f.DoubtM), f.DoubtWhy)
	}
	return s
}

// askDatum says whom to ask, and where the answer goes; paintGone what to do where there
// is nothing to measure from.
const (
	askDatum  = "Ask whoever runs the base station or correction network which datum its positions are in, and state it (datum in the job file)."
	paintGone = " Where the paint is gone, have the line located again before digging."
)

func frameDoubt(u geo.Units, r remark.FrameDoubt) string {
	off := u.ShortUp(r.OffM)
	onTop := "from this map every distance to keep off is " + off + " more." + paintGone
	switch {
	case r.Stated:
		return fmt.Sprintf("The frame of the positions, %s, converts to WGS 84 only to within about %s: the whole map may lie that far off wherever it is used in another frame. Measure from the paint on the ground, or survey in a satellite frame: %s", r.Datum, off, onTop)
	case r.Datum == "":
		return "The datum of the positions is not stated: the whole map may lie " + off + " off or more. " +
			"Measure from the paint on the ground, never from this map." + paintGone + " " + askDatum
	}
	return fmt.Sprintf("The datum of the positions is not stated: if the corrections came in %s, the whole map lies about %s off. ", r.Datum, off) +
		fmt.Sprintf("Measure from the paint on the ground; add %s to every distance to keep off that is taken from this map.", off) + paintGone + " " + askDatum
}

// inputAdvice says what to find out of rows that contradict each other, themselves or
// what was measured in the open.
func inputAdvice(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.DepthsTenfold:
		return fmt.Sprintf("%s ten times as deep as their neighbours, as if a decimal point were lost, and left out. Where the line dives there, its depth is not drawn: find out before digging.",
			depthsAre(r.N)), true
	case remark.ElevationsLeap:
		return fmt.Sprintf("%s by more than ground that can be walked explains, and what is wrong was left out. Measure depths from the ground as it is, not from elevations on the map.",
			elevationsStandOut(r.N)), true
	case remark.UnitChanged, remark.AntennasImplied, remark.DepthsAgainstAntennas, remark.DepthsAgainstAntennasInPart, remark.DepthsFrozen, remark.DepthsSeries, remark.DepthsPasted, remark.DepthsAllAlike, remark.DisplayAtEnd, remark.ElevationsStep,
		remark.CurrentsOdd, remark.AccuraciesTooFine, remark.AccuraciesOfBetterFix, remark.AccuraciesOfNoFix, remark.NullsRestless, remark.AntennasReversed, remark.AntennasWithoutGap,
		remark.CurrentsNone, remark.NullFillers, remark.DepthsTooShallow:
		what, ask := contradicted(u, r)
		return what + ask, true
	case remark.RowsUnplaced:
		return fmt.Sprintf("%d of %d readings have no usable position (line %d of the table: %s). The line is drawn without them: correct the table and make the map again, or find the line there before digging.",
			r.N, r.Of, r.Row, Remark(u, r.Why)), true
	case remark.DepthsTooDeep:
		where := "they"
		if r.Header != "" {
			where = fmt.Sprintf("those of the column %q of %s", r.Header, r.Table)
		}
		return fmt.Sprintf("%d of %d depths are more than a receiver can read (up to %s) and were left out, as if %s were in another unit. %s", r.N, r.Of, u.Short(r.DeepestM), where, rightUnit), true
	case remark.RowsWithTwoPositions:
		return fmt.Sprintf("%s had two positions that lie apart, and were set aside; the others may have the same fault too small to see. Ask which columns are right, and measure from the paint.",
			several(r.N, "row", "rows")), true
	case remark.DepthsOutside:
		return fmt.Sprintf("depths are drawn up to %s outside what was read nearby, because the line seems to bend or run beside itself there. If it does not, the depths read are right: find out before digging.", u.Short(r.OffM)), true
	case remark.ExposedBeside:
		return fmt.Sprintf("exposed %s beside the trace, which its accuracy does not explain (%s). The line is drawn through the exposed place; the trace may be as wrong elsewhere: expose again before digging.", u.Fine(r.OffM), u.Fine(r.AllowedM)), true
	case remark.ExposedOneWay:
		return fmt.Sprintf("where it was exposed shows only how far off the trace is across the line there. If all positions are off alike, it may be off by up to %s where the line heads another way: expose it there too before digging.", u.Short(r.UnseenM)), true
	case remark.ExposedBeyond:
		return fmt.Sprintf("an exposed place lies %s past the end of what was traced. Find the line between them before digging.", u.Long(r.BeyondM)), true
	case remark.ExposedDeeper:
		if r.OthersAgree {
			return fmt.Sprintf("exposed at a depth of %s where %s was read, and the other exposures show no such error. Find out which is right. The profile goes through the measured depth.", u.Short(r.MeasuredM), u.Short(r.ReadM)), true
		}
		return fmt.Sprintf("exposed at a depth of %s where %s was read, which no receiver's error explains. The profile goes through the measured depth; do not trust the depths elsewhere.", u.Short(r.MeasuredM), u.Short(r.ReadM)), true
	case remark.ExposedToTop:
		return fmt.Sprintf("exposed at a depth of %s where %s was read, as if it was measured to the top of the line and not to its centre: half the diameter is %s. Ask what was measured. The profile takes it as to the centre, and its band holds both.", u.Short(r.MeasuredM), u.Short(r.ReadM), u.Short(r.HalfM)), true
	case remark.ExposedOtherGround:
		return fmt.Sprintf("exposed at a depth of %s where %s was read: receivers are seldom so far off. Ask whether the ground was cut or filled there and whether it is this line, and expose a second place. The profile goes through the measured depth, and its band holds what was read.", u.Short(r.MeasuredM), u.Short(r.ReadM)), true
	case remark.DepthsWrongOn:
		return fmt.Sprintf("the depths may be as wrong as on %s, read on the same day, which was exposed at a depth of %s where %s was read: no receiver's error explains that. Do not trust them before this line is exposed too.", r.Other, u.Short(r.MeasuredM), u.Short(r.ReadM)), true
	case remark.PositionsUnbounded:
		return fmt.Sprintf("Nothing bounds the error of the positions: the whole line may lie %s off. Measure from the paint, not from the map.", u.Short(r.OffM)), true
	case remark.PositionsOfOtherFix:
		return fmt.Sprintf("The readings scatter as RTK fixed positions do not: the fix was of another kind, or the paint marks were made beside the peak. The whole line may lie %s off. Measure from the paint, not from the map.", u.Short(r.OffM)), true
	case remark.PositionsRounded:
		return fmt.Sprintf("The positions in the table are rounded, and the line may lie %s off by that alone. Get them with more digits, or measure from the paint.", u.Short(r.OffM)), true
	}
	return "", false
}

// several counts something: one of a kind, or so and so many.
func several(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
