package fit

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/walkorder"
)

// reading is what the fit needs of one trace.Reading, in the order of the file.
// A walk of a million readings is a million of these: each is a third of what it
// was made of.
type reading struct {
	Pos       geo.XY
	TimeS     float64 // seconds on any clock; NaN without a time
	SigmaM    float64 // stated horizontal accuracy, one sigma per axis
	Cell      geo.XY  // what the digits of the position stand for, metres to the east and to the north; 0 where no more than a point
	HDOP      float64
	DepthM    float64 // ground to centre; NaN where the reading's depth is not to be used
	CurrentMA float64 // 0 or NaN without
	Signal    float64 // of the bottom antenna where it is told apart; 0 or NaN without
	index     int32   // into the caller's readings
	Fix       int8
	Exposed   bool
}

// fineRoundingM is below what rounding is lost in any fix's own error. Judgement.
const fineRoundingM = 0.005

// roundM is what the digits of the position hide, one sigma per axis: of a place anywhere
// in a cell, its side over the square root of twelve (derived).
func (r *reading) roundM() float64 { return math.Max(r.Cell.X, r.Cell.Y) / math.Sqrt(12) }

// offered are the readings that a fit may see: neither set aside nor raised, and
// exposed ones unless the options leave them out.
func offered(rs []trace.Reading, opt Options) []reading {
	in := make([]reading, 0, len(rs))
	apart := walkorder.Apart(rs)
	for i := range rs {
		r := &rs[i]
		if r.Status == trace.StatusSetAside || r.Status == trace.StatusCheck || r.Exposed && opt.LeaveExposed {
			continue
		}
		q := reading{Pos: r.Pos, TimeS: math.NaN(), SigmaM: r.HAccM, HDOP: r.HDOP, DepthM: r.DepthM,
			CurrentMA: r.CurrentMA, Signal: r.Signal, index: int32(i), Fix: int8(r.Fix), Exposed: r.Exposed}
		if r.SignalLow > 0 {
			q.Signal = r.SignalLow
		}
		if opt.Cell != nil {
			if q.Cell = opt.Cell(r); q.roundM() < fineRoundingM {
				q.Cell = geo.XY{}
			}
		}
		if r.DepthDropped {
			q.DepthM = math.NaN()
		}
		if !r.Time.IsZero() {
			q.TimeS = float64(r.Time.UnixMilli())/1000 + apart[r.File]
		}
		in = append(in, q)
	}
	return in
}

// tracedDepths is how many depths a trace needs for exposed ones to be kept to
// measure it by. Judgement.
const tracedDepths = 3

// hideExposedDepths keeps exposed depths out of a fit that has depths of its
// own: they are what those are measured by.
func hideExposedDepths(in []reading) {
	n := 0
	for i := range in {
		if !in[i].Exposed && in[i].DepthM > 0 {
			n++
		}
	}
	for i := range in {
		if in[i].Exposed && n >= tracedDepths {
			in[i].DepthM = math.NaN()
		}
	}
}

// over gives a result of the readings that were offered the caller's numbering.
func (res *Result) over(in []reading, readings int) {
	for e := range res.Exposures {
		res.Exposures[e].Index = int(in[res.Exposures[e].Index].index)
	}
	if len(res.Verdicts) == readings {
		return // all were offered, in this order
	}
	all := make([]Verdict, readings)
	for i := range all {
		all[i] = Verdict{Fate: Unseen, StationM: math.NaN(), OffsetM: math.NaN()}
	}
	for k, v := range res.Verdicts {
		all[in[k].index] = v
	}
	res.Verdicts = all
}
