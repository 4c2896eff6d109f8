package locate

import (
	"context"

	"loamline.example/trace"
	"loamline.example/trace/clean"
	"loamline.example/trace/finding"
	"loamline.example/trace/fit"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
	"loamline.example/trace/rounding"
)

// fitLine fits the centerline of a cleaned trace, writes each reading's fate
// back, and returns the line with the findings that come straight from the fit.
// Its centerline is nil where nothing could be fitted.
func fitLine(ctx context.Context, t trace.Trace, setup trace.LineSetup, s *trace.Sheet, rounds rounding.Files) (trace.Line, lineErrors, error) {
	errs := lineErrors{depthScaleRel: receiver.DepthScaleRel, depthStepM: rounds.DepthStepM(t.Readings)}
	line := trace.Line{Setup: setup, Readings: t.Readings, DepthRel: trace.Unknown}
	opt := fit.Options{RoundM: func(r *trace.Reading) float64 { return rounds.Of(r).SigmaM() }}
	if errs.depthStepM >= receiver.CoarseDepthM {
		opt.DepthStepM = errs.depthStepM
	}
	opt.Hookup, _ = transmitterAt(t.Readings, setup, s.Plane)
	errs.advice = append(errs.advice, leftOut(t)...)
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
	c := &trace.Centerline{Parts: res.Parts, Notes: append(noiseNotes(res.Noise), clean.AntennaNotes(t, s.Job.AntennaGap)...)}
	line.Centerline = c
	if m := res.Noise.DepthOutsideM; m > reportedOutsideM {
		errs.tell(&line, trace.Unknown, trace.AdviseDoubt, remark.DepthsOutside{OffM: m})
	}
	blankDepths(t, c)
	errs.pinDown(&line, places, contradicted)
	for i := 1; i < len(c.Parts); i++ {
		if c.Parts[i].Joins {
			continue
		}
		line.Findings = append(line.Findings, gapFinding(t.Name, c, c.Parts[i-1].ToM(), c.Parts[i].FromM()))
	}
	line.Findings = append(line.Findings, airGaps(t.Name, c, t.Readings)...)
	for _, p := range places {
		line.Findings = append(line.Findings, exposedFinding(t.Name, p))
	}
	stationLeftovers(t, c)
	if s.Job.VerticalDatum != "" {
		addElevations(t, c)
	}
	return line, errs, nil
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
	if n.Widened {
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
