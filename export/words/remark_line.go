package words

import (
	"fmt"
	"math"
	"strings"

	"loamline.example/export/words/limit"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// lineRemark says how a line was drawn and where it was not.
func lineRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.NotTraced:
		return fmt.Sprintf("no usable reading over %s: the line was not traced here", u.Long(r.OverM)), true
	case remark.AirBeyond:
		if r.StationM <= 0 {
			return fmt.Sprintf("The line was not traced over %s before its start: the readings there are as a transmitter's own field would be read.", u.Long(r.OverM)), true
		}
		return fmt.Sprintf("The line was not traced over %s past its end at %s: the readings there are as a transmitter's own field would be read.", u.Long(r.OverM), u.Long(r.StationM)), true
	case remark.AgainstSignal:
		return fmt.Sprintf("%d readings in a row show the current flowing against the applied signal, as on a line that carries it back: the trace may follow another line here.", r.N), true
	case remark.PositionsComputed:
		return fmt.Sprintf("%d readings in a row (lines %d to %d of the table) lie evenly on a straight line to the last figure, where others scatter: their positions were computed from others and not measured, and the line may bend or step aside there unseen. Find it there before digging.",
			r.N, r.FromRow, r.ToRow), true
	case remark.PlacesFilled:
		if r.Series {
			return fmt.Sprintf("%d readings in a row (lines %d to %d of the table) have a %s that is counted up by exactly the same amount from row to row, while the other figure goes on as measured: it was filled in and not measured, and the line may lie elsewhere there. Find it there before digging.",
				r.N, r.FromRow, r.ToRow, figuresOfPlaces[r.Figure]), true
		}
		return fmt.Sprintf("%d readings in a row (lines %d to %d of the table) have the same %s as the one before them to the last figure, while the other figure goes on: it was filled in and not measured, and the line may lie elsewhere there. Find it there before digging.",
			r.N, r.FromRow, r.ToRow, figuresOfPlaces[r.Figure]), true
	case remark.Unheard:
		return unheard(u, r), true
	case remark.NameChanged:
		return nameChanged(r), true
	case remark.OnLead:
		if r.AtEnd {
			return fmt.Sprintf("the last %d readings show depths of %s at the most, and the one before them %s: the trace may follow the transmitter's lead there, or that of its ground stake, and not the line. Find where the line ends before digging.",
				r.N, u.Short(r.MostM), u.Short(r.ThenM)), true
		}
		return fmt.Sprintf("the first %d readings show depths of %s at the most, and the next one %s: the trace may follow the transmitter's lead there, or that of its ground stake, and not the line. Find where the line begins before digging.",
			r.N, u.Short(r.MostM), u.Short(r.ThenM)), true
	case remark.SetupChanged:
		return setupChanged(r), true
	case remark.DepthsOfATenth:
		return "the depths are deeper than the method reads well, as if the unit were wrong or a decimal point were lost: the line may lie at a tenth of the depths drawn.", true
	case remark.Joined:
		return "no smooth line holds these readings, so the line is drawn from reading to reading: its bends and branches are those of the walk.", true
	case remark.JoinedNote:
		return "No smooth line holds these readings: the line is drawn from reading to reading, and between two of them it may run elsewhere.", true
	case remark.NotDrawn:
		return fmt.Sprintf("No line is drawn: %v.", r.Why), true
	case remark.ExposedFound:
		return exposedFound(u, r), true
	case remark.ComparedWith:
		s := fmt.Sprintf("Compared with the record '%s' (%s): on average it lies %s %s of the trace, at most %s.",
			r.Record, r.Source, u.Fine(math.Abs(r.MeanM)), sideOf(r.MeanM), u.Fine(math.Abs(r.LargestM)))
		if nothing(u.Fine, r.MeanM) {
			s = fmt.Sprintf("Compared with the record '%s' (%s): on average it lies on the trace, at most %s from it.", r.Record, r.Source, u.Fine(math.Abs(r.LargestM)))
		}
		if r.Doubt.OffM > 0 {
			s += fmt.Sprintf(" Up to %s of that tells nothing, because %s.", u.Short(r.Doubt.OffM), r.Doubt.Why)
		}
		return s, true
	}
	return "", false
}

// figuresOfPlaces names the figures of a place.
var figuresOfPlaces = map[remark.Figure]string{
	remark.Latitude: "latitude", remark.Longitude: "longitude", remark.Easting: "easting", remark.Northing: "northing",
}

func exposedFound(u geo.Units, r remark.ExposedFound) string {
	s := fmt.Sprintf("Exposed at %s: the line lies where it was traced without this point", u.Long(r.StationM))
	if !nothing(u.Fine, r.OffsetM) {
		s = fmt.Sprintf("Exposed at %s: the line lies %s to the %s of where it was traced without this point", u.Long(r.StationM), u.Fine(math.Abs(r.OffsetM)), sideOf(r.OffsetM))
	}
	if nothing(u.Fine, r.DepthDifferenceM) {
		s += ", and the depth read was the depth measured"
	} else if trace.Known(r.DepthDifferenceM) {
		deeper := "deeper"
		if r.DepthDifferenceM < 0 {
			deeper = "shallower"
		}
		s += fmt.Sprintf(", and the depth read was %s %s than measured", u.Fine(math.Abs(r.DepthDifferenceM)), deeper)
	}
	return s + "."
}

// accuracyRemark says what is known of a line's errors.
func accuracyRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.AccuracyOptimistic:
		return fmt.Sprintf("The stated position accuracy (%s, one sigma) is optimistic: the readings scatter as at %s, and the bands are widened to that.", u.Fine(r.StatedM), u.Fine(r.FoundM)), true
	case remark.SharedError:
		return fmt.Sprintf("About %s (95 %%) of what the line may be off to the side is the same along the whole walk: more readings that day would not show it.", u.Fine(r.Shared95M)), true
	case remark.DrawnOutside:
		return fmt.Sprintf("Depths are drawn up to %s outside those that were read nearby, because the line's own course beside itself affects the readings; the band there holds what was read.", u.Fine(r.OffM)), true
	case remark.FullScale:
		if r.N == 1 {
			return fmt.Sprintf("The signal display was at full scale (%g) at 1 reading: its antennas were not compared, and its signal tells nothing about air coupling or bleed-over.", r.Shown), true
		}
		return fmt.Sprintf("The signal display was at full scale (%g) at %d readings: their antennas were not compared, and their signals tell nothing about air coupling or bleed-over.", r.Shown, r.N), true
	case remark.DepthsBlank:
		return fmt.Sprintf("No depth is drawn from %s to %s: %d readings in a row came without one there, and most others have one.", u.Long(r.FromM), u.Long(r.ToM), r.N), true
	case remark.DepthsComputed:
		if r.Among {
			return fmt.Sprintf("Where the table gives no depth, it was computed from the two antennas (%s), at the distance that the other depths suppose.", readings(r.N)), true
		}
		return fmt.Sprintf("The table gives no depth: it was computed at %s from the two antennas, taken as %s apart with the bottom one at the ground.", readings(r.N), u.Short(r.GapM)), true
	case remark.OtherThanAntennas:
		return fmt.Sprintf("The depths shown are %.2f times those that the two antennas give, %s apart, and nothing tells which are right: the band of the depths holds both.", r.Times, u.Short(r.GapM)), true
	case remark.DepthsSet:
		s := "s"
		if r.N == 1 {
			s = ""
		}
		return fmt.Sprintf("Depths are set by %d exposed depth%s: the receiver's reading was off by %+.0f %% (± %s, 95 %%).", r.N, s, limit.WholePercent(r.LnScale), limit.Percent(1.96*r.Sigma)), true
	case remark.DepthsToTop:
		return fmt.Sprintf("The exposed depths may have been measured to the top of the line: the band of the depths also holds what they are then, %s deeper where they were measured.", u.Short(r.HalfM)), true
	case remark.HeardBesideJump:
		return fmt.Sprintf("The line that the trace seems to have gone over to from %s to %s may be heard beside that stretch as well, from %s to %s: depths there may be shown up to %s, and their band holds that.",
			u.Long(r.JumpFromM), u.Long(r.JumpToM), u.Long(r.FromM), u.Long(r.ToM), limit.TooDeepOrShallow(r.LnMost, r.LnLeast)), true
	case remark.DepthsAsRead:
		return fmt.Sprintf("One exposed depth, %s from what was read there, moves the depths of the whole line: their band also holds what was read.", u.Short(math.Abs(r.DifferM))), true
	case remark.DepthsAsOn:
		return fmt.Sprintf("Exposed depths of %s showed that the receiver's reading was off by %+.0f %% (± %s, 95 %%) there: the depths of this line, read on the same day, may be off alike, and their band holds that.", r.Other, limit.WholePercent(r.LnScale), limit.Percent(1.96*r.Sigma)), true
	case remark.ErrorUnbounded:
		return fmt.Sprintf("Nothing in the table bounds the error that all positions have in common: no accuracy that its fix can reach is stated, and no fix is better than an autonomous one. The band includes that of an autonomous receiver, %s (95 %% of its positions lie within 8 m by the published standard of the open service).", u.Short(r.Hidden95M)), true
	case remark.ErrorOfFix:
		return fmt.Sprintf("No accuracy that the fix can reach is stated: what all positions of such a fix may be off together, %s, is in the band (common practice, no published figure).", u.Short(r.Hidden95M)), true
	case remark.ErrorOfDigits:
		return fmt.Sprintf("The positions are rounded: their digits alone hide up to %s across the line, which is in the band.", u.Fine(r.Rounded95M)), true
	case remark.DepthsRounded:
		return fmt.Sprintf("The depths are rounded to steps of %s: that alone hides up to %s of a depth, however many readings show the same, and is in their band.", u.Fine(r.StepM), u.Fine(r.StepM/2)), true
	case remark.Bands:
		return bands(u, r), true
	case remark.BandsOnly:
		return "PAS 128 also asks for several techniques that agree at its level B1, which readings of one technique cannot show. NF S70-003 goes by the greatest error, in position and in depth; these figures are 95 % ones. ASCE 38: a quality level is a professional's judgement, and this map states none.", true
	}
	return "", false
}

// bands says how good a part of a line is, and which published bands such figures
// would meet: never that a level is reached.
func bands(u geo.Units, r remark.Bands) string {
	var over []string
	for _, p := range r.Over {
		over = append(over, fmt.Sprintf("%s to %s", u.Long(p.FromM), u.Long(p.ToM)))
	}
	s := fmt.Sprintf("%s: position within %s (95 %%, at the worst place)", strings.Join(over, ", "), u.Fine(r.Horizontal95M))
	if trace.Known(r.Depth95M) {
		s += fmt.Sprintf(", depth within %s", u.Fine(r.Depth95M))
	}
	if r.DoubtfulLeftOut {
		s += ", doubtful stretches left out"
	}
	if r.DepthsContradicted {
		s += "; of the depths, which are contradicted, no accuracy is stated"
	}
	switch {
	case r.Frame.OffM > 0:
		why, off := "which is not stated", "about "+u.ShortUp(r.Frame.OffM)+" off"
		if !r.Frame.Stated && r.Frame.Datum == "" {
			off = u.ShortUp(r.Frame.OffM) + " off or more"
		}
		if r.Frame.Stated {
			why = "which converts to WGS 84 no better than that"
		}
		return s + fmt.Sprintf(". This is from the readings alone. The datum of the positions, %s, adds to it: the whole map may lie %s, and no class of a standard is claimed.", why, off)
	case r.OnTrust:
		return s + ". This is from the readings alone, and depends on what is asked under Check before digging: no class of a standard is claimed."
	case r.Unbounded:
		return s + ". Nothing in the table bounds the positions' error, and the figure is that of an autonomous receiver: it meets no rule's band."
	}
	return s + ". Such figures " + pasBands[r.PAS] + " and " + frenchClasses[r.French] + "."
}

var pasBands = map[remark.PAS128]string{
	remark.PASB1:        "would lie within the band of PAS 128 QL-B1 (150 mm or 15 % of depth)",
	remark.PASB2:        "would lie within the band of PAS 128 QL-B2 (250 mm or 40 % of depth)",
	remark.PASB3NoDepth: "would lie within the horizontal band of PAS 128 QL-B3 (500 mm, no depth; QL-B1 and QL-B2 need a depth, which is not known all along)",
	remark.PASB3:        "would lie within the horizontal band of PAS 128 QL-B3 (500 mm, no depth)",
	remark.PASNone:      "meet no band of PAS 128 QL-B1 to B3",
}

var frenchClasses = map[remark.NFS70003]string{
	remark.FrenchA:         "would lie within class A of NF S70-003 in position (0.40 m for rigid lines)",
	remark.FrenchAFlexible: "would lie within class A of NF S70-003 in position for flexible lines (0.50 m), else class B",
	remark.FrenchB:         "would lie within class B of NF S70-003 in position (1.50 m)",
	remark.FrenchBMain:     "would lie within class B of NF S70-003 in position (1.50 m), or class C for a service connection (over 1.00 m)",
	remark.FrenchC:         "would fall into class C of NF S70-003",
}

func nameChanged(r remark.NameChanged) string {
	const findOut = "Find out where either line ends before digging."
	switch {
	case r.Late && r.Beyond:
		return fmt.Sprintf("%s turns onto the course of this line before its start, as if the name had been changed %d readings late: this line may begin there. %s", r.Other, r.N, findOut)
	case r.Beyond:
		return fmt.Sprintf("%s begins on the course of this line past its end, as if the name had been changed %d readings early: this line may go on there. %s", r.Other, r.N, findOut)
	case r.Late:
		return fmt.Sprintf("the line turns here onto the course on which %s goes on from its end, as if the name had been changed %d readings late: this stretch may be %s. %s", r.Other, r.N, r.Other, findOut)
	}
	return fmt.Sprintf("the line begins at the end of %s and on its course, and leaves it, as if the name had been changed %d readings early: this stretch may be %s. %s", r.Other, r.N, r.Other, findOut)
}

func unheard(u geo.Units, r remark.Unheard) string {
	what, rest := fmt.Sprintf("%d readings in a row (lines %d to %d of the table) have none of the values that the others have", r.N, r.FromRow, r.ToRow),
		"nothing shows that the line was heard there, and it may lie elsewhere. Find it there before digging."
	switch {
	case r.Beside:
		what, rest = fmt.Sprintf("the note of %s (lines %d to %d of the table) is '%s'", several(r.N, "reading", "readings"), r.FromRow, r.ToRow, r.Note),
			"according to it the place is one beside the line, and nothing moves the map to where the line lies. Find it there before digging."
	case r.Noted:
		what, rest = fmt.Sprintf("the note of %s (lines %d to %d of the table) is '%s'", several(r.N, "reading", "readings"), r.FromRow, r.ToRow, r.Note),
			"according to it the line was not heard there, and it may lie elsewhere. Find it there before digging."
	case r.Held:
		what = fmt.Sprintf("%d readings in a row (lines %d to %d of the table) show the figures of the one before to the last digit at other places, as if the receiver held them", r.N, r.FromRow, r.ToRow)
	}
	if r.AsideM != 0 {
		rest = fmt.Sprintf("nothing shows that the line was heard there, and from then on the course runs %s farther to the %s at another depth, perhaps along another line. Find the line there before digging.", u.Short(math.Abs(r.AsideM)), sideOf(r.AsideM))
	}
	return what + ": " + rest
}

func setupChanged(r remark.SetupChanged) string {
	was, now := setupWords(r.Was, r.WasHz), setupWords(r.Now, r.NowHz)
	const compare = "and the line bends there: nothing shows that it is the same line that is heard. Compare both over a stretch, or find the line there before digging."
	if r.Before {
		return fmt.Sprintf("up to here the line was read with another signal (%s) than beyond (%s), %s", was, now, compare)
	}
	return fmt.Sprintf("from here on the line was read with another signal (%s) than before (%s), %s", now, was, compare)
}

// setupWords tells how the signal got onto the line, at which frequency, or both.
func setupWords(h trace.Hookup, freqHz float64) string {
	switch known := trace.Known(freqHz) && freqHz > 0; {
	case known && h != "":
		return hookupWords(h) + ", " + freqWords(freqHz)
	case known:
		return freqWords(freqHz)
	}
	return hookupWords(h)
}
