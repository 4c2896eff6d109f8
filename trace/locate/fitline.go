package locate

import (
	"context"
	"fmt"

	"loamline/geo"
	"loamline/trace"
	"loamline/trace/fit"
	"loamline/trace/receiver"
)

// fitLine fits the centerline of a cleaned trace, writes each reading's fate
// back, and returns the line with the findings that come straight from the fit.
// Its centerline is nil where nothing could be fitted.
func fitLine(ctx context.Context, t trace.Trace, setup trace.LineSetup, s *trace.Sheet, rounds roundingOf) (trace.Line, lineErrors, error) {
	errs := lineErrors{depthScaleRel: receiver.DepthScaleRel}
	line := trace.Line{Setup: setup, Readings: t.Readings, DepthRel: trace.Unknown}
	units := s.Job.Units
	opt := fit.Options{RoundM: func(r *trace.Reading) float64 { return rounds.of(r).sigmaM() }}
	opt.Hookup, _ = transmitterAt(t.Readings, setup, s.Plane)
	errs.told = append(errs.told, leftOut(t, units)...)
	res, places, contradicted, err := fitPinned(ctx, t, opt)
	if err != nil {
		return line, errs, err
	}
	for i, v := range res.Verdicts {
		applyVerdict(&t.Readings[i], v)
	}
	if len(res.Parts) == 0 {
		return line, errs, nil
	}
	line.DepthRel = res.Noise.DepthRel
	c := &trace.Centerline{Parts: res.Parts, Notes: append(noiseNotes(res.Noise, units), antennaNotes(t, s.Job.AntennaGap, units)...)}
	line.Centerline = c
	if m := res.Noise.DepthOutsideM; m > toldOutsideM {
		errs.tell(&line, trace.Unknown, trace.AdviseDoubt, units, fmt.Sprintf(
			"depths are drawn up to %s outside what was read nearby, because the line seems to run beside itself. If it does not, the depths read are right: find out before digging.", units.Short(m)))
	}
	errs.pinDown(&line, places, contradicted, units)
	for i := 1; i < len(c.Parts); i++ {
		line.Findings = append(line.Findings, gapFinding(t.Name, c, c.Parts[i-1].ToM(), c.Parts[i].FromM(), units))
	}
	line.Findings = append(line.Findings, airGaps(t.Name, c, t.Readings, units)...)
	for _, p := range places {
		line.Findings = append(line.Findings, exposedFinding(t.Name, p, units))
	}
	stationLeftovers(t, c)
	if s.Job.VerticalDatum != "" {
		addElevations(t, c)
	}
	return line, errs, nil
}

// toldOutsideM is from where a depth drawn outside those read near it is worth a
// word before digging.
const toldOutsideM = 0.25

func applyVerdict(r *trace.Reading, v fit.Verdict) {
	if v.Fate == fit.Unseen {
		return
	}
	r.StationM, r.OffsetM = v.StationM, v.OffsetM
	if r.Exposed {
		return // what was seen is no blunder
	}
	switch v.Fate {
	case fit.Blunder:
		r.SetAside("%s %s", trace.ReasonOutlier, v.Why)
	case fit.Stray:
		r.SetAside("stray: %s", v.Why)
	case fit.DepthSpike:
		r.DropDepth("depth spike: %s", v.Why)
	}
}

// noiseNotes says what the fit found out about the positions' accuracy.
func noiseNotes(n fit.Noise, u geo.Units) []string {
	var notes []string
	if n.Widened {
		notes = append(notes, fmt.Sprintf(
			"The stated position accuracy (%s, one sigma) is optimistic: the readings scatter as at %s, and the bands are widened to that.",
			u.Fine(n.StatedM), u.Fine(n.FoundM)))
	}
	if trace.Known(n.CommonM) && 1.96*n.CommonM > toldHiddenM { // what a fixed receiver shares is not worth a word
		notes = append(notes, fmt.Sprintf(
			"About %s (95 %%) of what the line may be off to the side is the same along the whole walk: more readings that day would not show it.",
			u.Fine(1.96*n.CommonM)))
	}
	if n.DepthOutsideM > 0 {
		notes = append(notes, fmt.Sprintf(
			"Depths are drawn up to %s outside those that were read nearby, for what the line's own course beside itself does to a reading; the band there holds what was read.",
			u.Fine(n.DepthOutsideM)))
	}
	return notes
}

// stationLeftovers gives raised readings, and readings set aside with a
// possible position, their place along the line.
func stationLeftovers(t trace.Trace, c *trace.Centerline) {
	pl := c.Polyline().Index()
	for i := range t.Readings {
		r := &t.Readings[i]
		if trace.Known(r.StationM) || !r.Placed() {
			continue
		}
		f := pl.Nearest(r.Pos)
		r.StationM, r.OffsetM = f.StationM, f.OffsetM
	}
}

func gapFinding(line string, c *trace.Centerline, fromM, toM float64, u geo.Units) trace.Gap {
	return trace.Gap{Line: line, FromM: fromM, ToM: toM, Path: c.Polyline().Slice(fromM, toM),
		Why: fmt.Sprintf("no usable reading over %s: the line was not traced here", u.Long(toM-fromM))}
}

func exposedFinding(line string, p exposedPlace, u geo.Units) trace.ExposedCheck {
	r, e := p.r, p.e
	side := "right"
	off := e.OffsetM
	if off < 0 {
		side, off = "left", -off
	}
	words := fmt.Sprintf("Exposed at %s: the line lies %s to the %s of where it was traced without this point", u.Long(e.StationM), u.Fine(off), side)
	if trace.Known(e.DepthDifferenceM) {
		deeper := "deeper"
		d := e.DepthDifferenceM
		if d < 0 {
			deeper, d = "shallower", -d
		}
		words += fmt.Sprintf(", and the depth read was %s %s than measured", u.Fine(d), deeper)
	}
	return trace.ExposedCheck{Line: line, Point: r.Point, At: r.Pos, StationM: e.StationM,
		OffsetM: e.OffsetM, DepthDifferenceM: e.DepthDifferenceM, Words: words + "."}
}
