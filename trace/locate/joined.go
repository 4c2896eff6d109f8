package locate

import (
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/guard"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
	"loamline.example/trace/traverse"
	"loamline.example/trace/zones"
)

// fate is what a reading was judged to be before the fit.
type fate struct {
	status  trace.Status
	reason  trace.Remark
	dropped bool
}

func fatesOf(rs []trace.Reading) []fate {
	out := make([]fate, len(rs))
	for i := range rs {
		out[i] = fate{rs[i].Status, rs[i].Reason, rs[i].DepthDropped}
	}
	return out
}

// lostEnough readings that a line does not hold, or that share of them, are
// reason to try another. Judgement.
const (
	lostEnough      = 3
	lostEnoughShare = 0.05
)

// orJoined returns the fitted line, or, where too many of its own readings
// contradict it and far fewer contradict that, one that joins them from place to
// place. The fates are those before the fit.
func orJoined(fitted trace.Line, before []fate, s *trace.Sheet) trace.Line {
	rule := guardRule(&fitted, s)
	was := lost(&fitted, rule)
	if !good(fitted.Readings, rule) || was < lostEnough || float64(was) < lostEnoughShare*float64(len(fitted.Readings)) {
		return fitted
	}
	after := fatesOf(fitted.Readings)
	joined := joinLine(fitted, before, s)
	if joined.Centerline != nil && 2*lost(&joined, rule) < was {
		return joined
	}
	for i := range after {
		restore(&fitted.Readings[i], after[i])
	}
	refoot(&fitted)
	return fitted
}

// good reports whether the places read are mostly good to the zone's half-width:
// joining worse ones would draw their errors.
func good(rs []trace.Reading, rule guard.Rule) bool {
	loose := 0
	for i := range rs {
		if ownM(&rs[i]) > rule.HalfWidthM {
			loose++
		}
	}
	return 2*loose < len(rs)
}

// lost counts the readings that a line does not stand for.
func lost(l *trace.Line, rule guard.Rule) int {
	if l.Centerline == nil {
		n := 0
		for i := range l.Readings {
			if r := &l.Readings[i]; r.Placed() && r.Status != trace.StatusCheck && !r.Repeated() {
				n++
			}
		}
		return n
	}
	n := 0
	for _, b := range guard.Check(l, rule, guard.Off, guard.Zigzag, guard.Uncovered) {
		// Readings that leap are no reason to draw the line through them.
		if b.Kind == guard.Off || b.Kind == guard.Zigzag || b.Kind == guard.Uncovered && !b.Covered && b.Walked && !leaptTogether(b) {
			n += b.Readings
		}
	}
	return n
}

// leaptTogether reports whether most readings of a block that was set aside leapt
// together, by the strides of the walk.
func leaptTogether(b guard.Breach) bool {
	block, is := b.Remark.(remark.Block)
	n := 0
	for _, why := range block.Fates {
		if o, leapt := why.(remark.Outlier); leapt && o.From == remark.FromStraightOn {
			n++
		}
	}
	return is && 2*n > block.N
}

func restore(r *trace.Reading, f fate) {
	r.Status, r.Reason, r.DepthDropped = f.status, f.reason, f.dropped
}

// joinLine draws the line from place to place, on the readings as they were before
// the fit.
func joinLine(fitted trace.Line, before []fate, s *trace.Sheet) trace.Line {
	line := trace.Line{Setup: fitted.Setup, Readings: fitted.Readings, DepthRel: fitted.DepthRel}
	rs := line.Readings
	for i := range rs {
		restore(&rs[i], before[i])
	}
	res := traverse.Join(rs, func(r *trace.Reading) bool {
		return r.Status == trace.StatusUsed || r.Status == trace.StatusExposed
	}, traverse.Errors{OwnM: ownM, PinpointM: pinpointM, DepthRel: receiver.DepthNoiseRel, DepthScaleRel: receiver.DepthScaleRel})
	if res.Line == nil {
		return line
	}
	for _, i := range res.Leaps {
		if rs[i].Status == trace.StatusUsed {
			rs[i].SetAside(remark.Outlier{From: remark.FromWalk})
		}
	}
	c := res.Line
	line.Centerline = c
	refoot(&line)
	c.Notes = append(c.Notes, remark.JoinedNote{})
	for k := 1; k < len(c.Parts); k++ {
		from, to := c.Parts[k-1].ToM(), c.Parts[k].FromM()
		if c.Parts[k].Joins {
			continue
		}
		line.Findings = append(line.Findings, finding.Gap{Line: line.Setup.Name, FromM: from, ToM: to, Path: c.Polyline().Slice(from, to),
			Why: remark.WalkWentOn{AwayM: to - from}})
	}
	end := c.Parts[len(c.Parts)-1].ToM()
	line.Findings = append(line.Findings, finding.Doubt{Line: line.Setup.Name, FromM: 0, ToM: end, Path: c.Polyline().Slice(0, end),
		Why: remark.Joined{}})
	t := trace.Trace{Name: line.Setup.Name, Readings: rs}
	if s.Job.VerticalDatum != "" {
		addElevations(t, c)
	}
	return line
}

// pinpointM is the error with which a peak is found, one sigma, at a depth that may be
// unknown.
func pinpointM(depthM float64) float64 {
	if !trace.Known(depthM) {
		depthM = receiver.UsualDepthM
	}
	return receiver.PinpointM(depthM)
}

// refoot gives every reading with a place its place along a line.
func refoot(l *trace.Line) {
	for i := range l.Readings {
		l.Readings[i].StationM, l.Readings[i].OffsetM = trace.Unknown, trace.Unknown
	}
	if l.Centerline != nil {
		stationLeftovers(trace.Trace{Name: l.Setup.Name, Readings: l.Readings}, l.Centerline)
	}
}

// guardRule is what the guard holds a line to.
func guardRule(l *trace.Line, s *trace.Sheet) guard.Rule {
	half, _ := zones.HalfWidth(s.Job.Tolerance, l.Setup)
	return guard.Rule{HalfWidthM: half, OwnM: ownM}
}

// ownM is a reading's own position error, one sigma per axis: as stated, where
// its fix can do that; else what its fix usually does; NaN where nothing tells.
func ownM(r *trace.Reading) float64 {
	e, known := receiver.Errors(int(r.Fix), r.HDOP)
	switch {
	case receiver.Believed(r.HAccM, int(r.Fix), r.HDOP):
		return r.HAccM
	case known && !e.Bounded:
		return receiver.UnboundedM()
	case known:
		return e.UsualM
	}
	return trace.Unknown
}
