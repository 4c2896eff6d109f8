package locate

import (
	"context"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/clean"
	"loamline.example/trace/finding"
	"loamline.example/trace/fit"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
	"loamline.example/trace/rounding"
	"loamline.example/trace/transmitter"
)

// drawn is a line as it came out of the readings, before what is known beside it is
// added.
type drawn struct {
	line          trace.Line
	places        []exposedPlace // where it was exposed
	moves         bool           // drawn without these, so that it must be moved through them
	joined        bool           // from reading to reading
	notes         []trace.Remark // on how it was drawn
	depthOutsideM float64        // by how much its depths lie outside those read
	otherFixM     float64        // what its positions may be off, one sigma, that are not of the fix shown; 0 otherwise
}

// fitLine fits the centerline of a cleaned trace, or joins it where no smooth one holds
// it, writes each reading's fate back, and returns the line with the findings that come
// straight from that. Its centerline is nil where nothing could be drawn.
func fitLine(ctx context.Context, t trace.Trace, setup trace.LineSetup, s *trace.Sheet, rounds rounding.Files) (trace.Line, lineErrors, error) {
	errs := lineErrors{depthScaleRel: receiver.DepthScaleRel, depthStepM: rounds.DepthStepM(t.Readings)}
	opt := fit.Options{Cell: func(r *trace.Reading) geo.XY { return rounds.Of(r).Cell() }}
	if errs.depthStepM >= receiver.CoarseDepthM {
		opt.DepthStepM = errs.depthStepM
	}
	opt.Hookup, _ = transmitter.At(t.Readings, setup, s.Plane)
	errs.advice = append(errs.advice, leftOut(t, s.Inputs)...)
	before := fatesOf(t.Readings)
	d, err := smoothLine(ctx, t, setup, opt)
	if err != nil {
		return d.line, errs, err
	}
	d = orJoined(d, before, s, rounds)
	if d.line.Centerline != nil {
		assemble(&d, &errs, s)
	}
	return d.line, errs, nil
}

// smoothLine draws the smooth line that the readings' scatter leaves.
func smoothLine(ctx context.Context, t trace.Trace, setup trace.LineSetup, opt fit.Options) (drawn, error) {
	d := drawn{line: trace.Line{Setup: setup, Readings: t.Readings, DepthRel: trace.Unknown}}
	res, places, contradicted, err := fitPinned(ctx, t, opt)
	if err != nil {
		return d, err
	}
	for i, v := range res.Verdicts {
		applyVerdict(&t.Readings[i], v)
	}
	if len(res.Parts) == 0 {
		return d, nil
	}
	d.line.Centerline = &trace.Centerline{Parts: res.Parts}
	d.line.DepthRel = res.Noise.DepthRel
	d.places, d.moves = places, contradicted
	d.notes, d.depthOutsideM, d.otherFixM = noiseNotes(res.Noise), res.Noise.DepthOutsideM, res.Noise.OtherFixM
	return d, nil
}

// judged is the line with what says where it is not drawn, to be held against its
// readings.
func (d drawn) judged() trace.Line {
	l := d.line
	if l.Centerline != nil {
		l.Findings = undrawn(&l)
	}
	return l
}

// undrawn are the stretches along a line, and past its ends, that were walked and are
// not drawn.
func undrawn(l *trace.Line) []trace.Finding {
	var out []trace.Finding
	c := l.Centerline
	for i := 1; i < len(c.Parts); i++ {
		if !c.Parts[i].Joins {
			out = append(out, gapFinding(l.Setup.Name, c, c.Parts[i-1].ToM(), c.Parts[i].FromM()))
		}
	}
	return append(out, airGaps(l.Setup.Name, c, l.Readings)...)
}

// assemble adds to the line that was kept, whichever kind it is, what is known beside it:
// notes, exposures, gaps, elevations; and to its errors what it asks to be checked.
func assemble(d *drawn, errs *lineErrors, s *trace.Sheet) {
	l := &d.line
	c, t := l.Centerline, trace.Trace{Name: l.Setup.Name, Readings: l.Readings}
	c.Notes = slices.Concat(d.notes, clean.AntennaNotes(t, s.Job.AntennaGap))
	if d.depthOutsideM > reportedOutsideM {
		errs.tell(l, trace.Unknown, trace.AdviseDoubt, remark.DepthsOutside{OffM: d.depthOutsideM})
	}
	if d.otherFixM > 0 {
		errs.tell(l, trace.Unknown, trace.AdviseAccuracy, remark.PositionsOfOtherFix{OffM: 1.96 * d.otherFixM})
	}
	blankDepths(t, c)
	errs.pinDown(d)
	l.Findings = undrawn(l)
	if d.joined {
		end := endM(c)
		l.Findings = append(l.Findings, finding.Doubt{Line: t.Name, FromM: 0, ToM: end, Path: c.Polyline().Slice(0, end), Why: remark.Joined{}})
	}
	for _, p := range d.places {
		l.Findings = append(l.Findings, exposedFinding(t.Name, p))
	}
	stationLeftovers(t, c)
	if s.Job.VerticalDatum != "" {
		addElevations(t, c)
	}
}

// reportedOutsideM is from where a depth drawn outside those read near it is worth a
// word before digging. Judgement.
const reportedOutsideM = 0.25

func applyVerdict(r *trace.Reading, v fit.Verdict) {
	if v.Fate == fit.Unseen {
		return
	}
	r.StationM, r.OffsetM = v.StationM, v.OffsetM
	if r.Exposed {
		return // what was seen is no blunder
	}
	switch v.Fate {
	case fit.Blunder, fit.OffLine:
		r.SetAside(v.Why)
	case fit.DepthSpike:
		r.DropDepth(v.Why)
	}
}

// noiseNotes says what the fit found out about the positions' accuracy.
func noiseNotes(n fit.Noise) []trace.Remark {
	var notes []trace.Remark
	if n.Widened && !(n.OtherFixM > 0) { // which the bands are widened to then, and is told
		notes = append(notes, remark.AccuracyOptimistic{StatedM: n.StatedM, FoundM: n.FoundM})
	}
	if trace.Known(n.CommonM) && 1.96*n.CommonM > reportedHiddenM { // what a fixed receiver shares is not worth a word
		notes = append(notes, remark.SharedError{Shared95M: 1.96 * n.CommonM})
	}
	if n.DepthOutsideM > 0 {
		notes = append(notes, remark.DrawnOutside{OffM: n.DepthOutsideM})
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

func gapFinding(line string, c *trace.Centerline, fromM, toM float64) finding.Gap {
	return finding.Gap{Line: line, FromM: fromM, ToM: toM, Path: c.Polyline().Slice(fromM, toM),
		Why: remark.NotTraced{OverM: toM - fromM}}
}

func exposedFinding(line string, p exposedPlace) finding.ExposedCheck {
	r, e := p.r, p.e
	return finding.ExposedCheck{Line: line, Point: r.Point, At: r.Pos, StationM: e.StationM,
		OffsetM: e.OffsetM, DepthDifferenceM: e.DepthDifferenceM,
		Remark: remark.ExposedFound{StationM: e.StationM, OffsetM: e.OffsetM, DepthDifferenceM: e.DepthDifferenceM}}
}
