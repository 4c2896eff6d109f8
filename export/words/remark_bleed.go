package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"loamline.example/export/words/limit"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// bleedRemark says what speaks for signal of another line.
func bleedRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.NullOffset:
		return nullOffset(u, r), true
	case remark.DepthAndCurrent:
		if trace.Known(r.LnCurrent) {
			return fmt.Sprintf("Depth reads %s than before and after, current %s.", moreOrLess(r.LnDepth), moreOrLess(r.LnCurrent)), true
		}
		return fmt.Sprintf("Depth reads %s than before and after.", moreOrLess(r.LnDepth)), true
	case remark.CurrentIn:
		if !trace.Known(r.AsideM) {
			return fmt.Sprintf("Fits a current of %s in %s; how far away it lies is not known.", share(r.Share), quoted(r.Neighbor)), true
		}
		return fmt.Sprintf("Fits a current of %s in %s, %s to the %s.", share(r.Share), quoted(r.Neighbor), u.Short(r.AsideM), r.Side), true
	case remark.CurrentWhere:
		return fmt.Sprintf("Fits a current of %s in a line %s, roughly %s away, where %s lies.",
			share(r.Share), onSide(r.Side), u.Short(r.AsideM), quoted(r.Neighbor)), true
	case remark.CurrentUnmapped:
		first := "No known line near; fits"
		switch {
		case r.Nearby != "" && !trace.Known(r.NearbyAsideM):
			first = quoted(r.Nearby) + " does not explain it; fits"
		case r.Nearby != "":
			first = fmt.Sprintf("%s, %s to the %s, does not explain it; fits", quoted(r.Nearby), u.Short(r.NearbyAsideM), r.NearbySide)
		}
		return fmt.Sprintf("%s a current of %s in a line %s, roughly %s away.", first, share(r.Share), onSide(r.Side), u.Short(r.AsideM)), true
	case remark.AgainstDirection:
		return fmt.Sprintf("Current reads against the expected direction at %d of %s.", r.Against, readings(r.Of)), true
	case remark.HookupFavours:
		return fmt.Sprintf("The hookup (%s) favours bleed-over.", r.Hookup), true
	case remark.FrequencyFavours:
		return fmt.Sprintf("The frequency (%.0f kHz) favours bleed-over.", r.FreqHz/1000), true
	case remark.ShiftUnknown:
		return fmt.Sprintf("Where the line lies from the paint cannot be told; the caution zone is wider by up to %s.", u.Short(r.WidenM)), true
	case remark.CurrentLevel:
		return fmt.Sprintf("Current reads %s than before and after, and changes at once at both ends.", moreOrLess(r.LnCurrent)), true
	case remark.CurrentRises:
		return fmt.Sprintf("Away from the transmitter the current in one line only falls: at %s it reads %s at once.", u.Long(r.StationM), moreOrLess(r.LnCurrent)), true
	case remark.TurnsAway:
		return fmt.Sprintf("The course turns by %.0f° up to %s, where the signal of another line was met, and goes on at another depth: the trace may have gone over to that line where the two cross, and follow it from there on.", r.TurnRad*180/math.Pi, u.Long(r.StationM)), true
	case remark.CurrentFalls:
		return fmt.Sprintf("The current falls by %.0f %% at %s and stays lower: a branch that is not on this map leads it away there, or the receiver has gone over to another line.", 100*(1-math.Exp(-r.LnCurrent)), u.Long(r.StationM)), true
	case remark.NullLevel:
		return fmt.Sprintf("The null lies %s to the %s of where it lies before and after, and changes at once at both ends.", u.Short(r.OffsetM), r.Side), true
	case remark.NullsApart:
		return fmt.Sprintf("At %d of %s the null lies up to %s from the peak, farther than one line alone gives.", r.N, readings(r.Of), u.Short(r.MostM)), true
	case remark.LevelsTogether:
		ends := "at both ends of the stretch"
		switch {
		case !r.SeenBegin:
			ends = "at its end"
		case !r.SeenEnd:
			ends = "where it begins"
		}
		return fmt.Sprintf("Depth, current, null and position across the line, as far as they were read, change level at the same places, %s: a single line seldom does that, another conductor's signal often does. No single neighbour that was tried explains it.", ends), true
	case remark.InsideOfBends:
		return fmt.Sprintf("At the line's own bends the nulls lie twice as far from the peak as a receiver that measures across the line shows them: one that measures the total field does that, and its paint marks lie inside the bends, here by up to %s.", u.Short(r.MostM)), true
	case remark.OwnLeg:
		return fmt.Sprintf("Another leg of the same line lies %s from these paint marks: its signal alone may cause this.", u.Short(r.ApartM)), true
	case remark.Argument:
		return arguments[r], true
	}
	return "", false
}

var arguments = map[remark.Argument]string{
	remark.TeeMovesNoNull:       "A tee or a change of depth would not move the null.",
	remark.DepthKeepsCurrent:    "A change of depth alone would leave the current as it was.",
	remark.CurrentStaysAway:     "Current that leaves a line does not come back.",
	remark.NullStaysAtPeak:      "Over a single line it stays at the peak.",
	remark.MarksMayBeAnothers:   "The paint marks may belong to another line, or carry its signal.",
	remark.AllAtBends:           "All of this was read where the line turns: its own bend alone may cause this.",
	remark.EitherSideMayBeOther: "Nothing in the readings shows on which side of the step the signal is the line's own: either side may be another line's.",
}

// nullOffset tells no side of what rounds to nothing.
func nullOffset(u geo.Units, r remark.NullOffset) string {
	if u.Short(r.OffsetM) == u.Short(0) {
		return fmt.Sprintf("Null lies at the peak over %s, as it does over one line alone (± %s).", readings(r.N), u.Short(r.BandM))
	}
	return fmt.Sprintf("Null lies %s %s of peak over %s; one line alone gives 0 ± %s.",
		u.Short(r.OffsetM), r.Side, readings(r.N), u.Short(r.BandM))
}

// jumpRemark says where the marks may have gone over to another line.
func jumpRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.MarksLeave:
		verb, back := "may leave the line at", " and do not come back"
		if r.Likely {
			verb = "leave the line at"
		}
		if trace.Known(r.BackAtM) {
			back = " and come back at " + u.Long(r.BackAtM)
		}
		return fmt.Sprintf("The paint marks %s %s, lie on %s for %s%s.", verb, u.Long(r.FromM), quoted(r.Neighbor), readings(r.N), back), true
	case remark.OwnCourse:
		if r.OneEnd {
			return fmt.Sprintf("The line's own course, extended from the paint before, soon lies about %s to the %s of these paint marks; farther on nothing shows where it runs.", u.Short(r.AsideM), r.Side), true
		}
		return fmt.Sprintf("The line's own course, extended from the paint around it, lies about %s to the %s of these paint marks.", u.Short(r.AsideM), r.Side), true
	case remark.OrNeighborHere:
		return fmt.Sprintf("Or the paint marks of %s lie on this line there: nothing in the readings shows which.", quoted(r.Neighbor)), true
	case remark.MixedUp:
		return fmt.Sprintf("These paint marks may lie on %s instead of this line, or those of %s on this one: nothing in the readings shows which.", quoted(r.Other), quoted(r.Other)), true
	case remark.TraceAgainFrom:
		return fmt.Sprintf("Trace the line again from %s, connected to it alone, and see which way it goes; until then treat both courses as live: the caution zone covers both.", u.Long(r.StationM)), true
	case remark.OrItLeaves:
		return fmt.Sprintf("Or the trace leaves its line at %s, where the paint marks leave %s, and follows another line, which is not on any map: the positions of the paint marks do not show on which of the two it began. The caution zone covers both courses.",
			u.Long(r.StationM), quoted(r.Neighbor)), true
	case remark.StepToUnmapped:
		return fmt.Sprintf("The paint marks step about %s to one side there and continue in the same way: they may belong to another line, which is not on any map. Trace the line again from %s, connected to it alone; until then treat both courses as live: the caution zone covers both.",
			u.Short(r.AsideM), u.Long(r.StationM)), true
	}
	return "", false
}

// closeRemark says what a neighbour may do that no check can show.
func closeRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.CloseRun:
		why := fmt.Sprintf("Runs %.1f depths (%s) from %s for %s", r.Depths, u.Short(r.AsideM), quoted(r.Neighbor), u.Long(r.LengthM))
		if r.Crosses {
			why = fmt.Sprintf("Crosses %s, and runs near it for %s, half of that within %.1f depths (%s)", quoted(r.Neighbor), u.Long(r.LengthM), r.Depths, u.Short(r.AsideM))
		}
		if r.Blind {
			why += "; these columns cannot show whether signal coupled."
		} else {
			why += ". No sign of bleed-over found, but lines this close can fool every check."
		}
		if r.Doubt.OffM > 0 {
			why = fmt.Sprintf("%s The record may lie %s off, because %s.", why, u.Short(r.Doubt.OffM), r.Doubt.Why)
		}
		return why, true
	case remark.RecordAnywhere:
		return fmt.Sprintf("The record %s may run anywhere within %s of where it is drawn, because %s: it may be this line's own record, or a line close by.",
			quoted(r.Record), u.Short(r.Doubt.OffM), r.Doubt.Why), true
	case remark.RecordUncertain:
		return fmt.Sprintf("The record '%s' may lie %s off, because %s: no distance from it is evidence by itself.", r.Record, u.Short(r.Doubt.OffM), r.Doubt.Why), true
	case remark.CoupledUnseen:
		if !(r.Share > 0) {
			return "How much signal could couple here unseen is not known, and nothing is added for it.", true
		}
		return fmt.Sprintf("Assumed, not measured: up to %s of the line's current could flow on the neighbour unseen. The true line would then lie up to %s from the paint, and a depth would be wrong by up to %s. With more, both could be off further.",
			limit.Percent(r.Share), limit.Short(u, r.ShiftM), limit.Percent(math.Expm1(r.LnDepth))), true
	}
	return "", false
}

func share(s remark.Share) string {
	return fmt.Sprintf("%+.1f (90 %%: %+.1f to %+.1f) times the line's own", s.Times, s.Least, s.Most)
}

func onSide(s trace.Side) string {
	if s == "" {
		return "on either side"
	}
	return "on the " + string(s)
}

func moreOrLess(change float64) string {
	p := 100 * math.Abs(math.Expm1(change))
	if change < 0 {
		return fmt.Sprintf("%.0f %% less", p)
	}
	return fmt.Sprintf("%.0f %% more", p)
}

func readings(n int) string {
	if n == 1 {
		return "1 reading"
	}
	return strconv.Itoa(n) + " readings"
}

func quoted(name string) string { return "'" + name + "'" }

// InText is a name in a sentence: in quotes where it is more than one word, so that it can
// be seen where it begins and ends.
func InText(name string) string {
	if strings.ContainsAny(name, " ,;:()") {
		return quoted(name)
	}
	return name
}
