package locate

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/guard"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
	"loamline.example/trace/rounding"
	"loamline.example/trace/traverse"
	"loamline.example/trace/zones"
)

// fate is what a reading was judged to be, and where on the line.
type fate struct {
	status            trace.Status
	reason            trace.Remark
	dropped           bool
	stationM, offsetM float64
}

func fatesOf(rs []trace.Reading) []fate {
	out := make([]fate, len(rs))
	for i := range rs {
		r := &rs[i]
		out[i] = fate{r.Status, r.Reason, r.DepthDropped, r.StationM, r.OffsetM}
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
// place. The fates are those before the fit. Where the line was exposed has no part in
// this: that is one place, and which kind of line holds the walk is a matter of all.
func orJoined(fitted drawn, before []fate, s *trace.Sheet, rounds rounding.Files) drawn {
	l := fitted.judged()
	rule := guardRule(&l, s)
	// The bands do not hold yet what the digits hide.
	rule.OwnM = func(r *trace.Reading) float64 { return math.Hypot(ownM(r), rounds.Of(r).SigmaM()) }
	was := lost(&l, rule)
	if !good(l.Readings, rule) || was < lostEnough || float64(was) < lostEnoughShare*float64(len(l.Readings)) {
		return fitted
	}
	after := fatesOf(l.Readings)
	joined := joinLine(fitted.line, before)
	if l = joined.judged(); l.Centerline != nil && 2*lost(&l, rule) < was {
		joined.places = placesBeside(joined.line)
		return joined
	}
	for i := range after {
		restore(&l.Readings[i], after[i])
	}
	return fitted
}

// good reports whether the places read are mostly good to the zone's half-width:
// joining worse ones would draw their errors.
func good(rs []trace.Reading, rule guard.Rule) bool {
	loose := 0
	for i := range rs {
		if rule.OwnM(&rs[i]) > rule.HalfWidthM {
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
	for _, b := range guard.Unheld(l, rule) {
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
	r.Status, r.Reason, r.DepthDropped, r.StationM, r.OffsetM = f.status, f.reason, f.dropped, f.stationM, f.offsetM
}

// joinLine draws the line from place to place, on the readings as they were before
// the fit. Exposed places are no part of the walk: they are seen on other ways.
func joinLine(fitted trace.Line, before []fate) drawn {
	d := drawn{line: trace.Line{Setup: fitted.Setup, Readings: fitted.Readings, DepthRel: fitted.DepthRel}, joined: true, moves: true}
	rs := d.line.Readings
	for i := range rs {
		restore(&rs[i], before[i])
	}
	res := traverse.Join(rs, func(r *trace.Reading) bool { return r.Status == trace.StatusUsed },
		traverse.Errors{OwnM: ownM, PinpointM: pinpointM, DepthRel: receiver.DepthNoiseRel, DepthScaleRel: receiver.DepthScaleRel})
	if res.Line == nil {
		return d
	}
	for _, i := range res.Leaps {
		if rs[i].Status == trace.StatusUsed {
			rs[i].SetAside(remark.Outlier{From: remark.FromWalk})
		}
	}
	d.line.Centerline = res.Line
	refoot(&d.line)
	d.notes = []trace.Remark{remark.JoinedNote{}}
	return d
}

// pinpointM is the error with which a peak is found, one sigma, at a depth that may be
// unknown: for a band.
func pinpointM(depthM float64) float64 {
	return receiver.PinpointReadM(depthM, receiver.PinpointM(receiver.UsualDepthM))
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

// ownM is a reading's own position error, one sigma per axis; NaN where nothing tells it.
func ownM(r *trace.Reading) float64 { return receiver.OwnM(r.HAccM, int(r.Fix), r.HDOP) }
