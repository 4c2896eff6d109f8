package clean

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// Trace judges each reading of a placed trace by itself and against the one
// before it. What needs the whole line (blunders, spikes) is the fit's work.
func Trace(t trace.Trace, gapM float64) {
	gapM = AntennaGapM(t, gapM)
	air, display := throughAir(t, gapM), displayOf(t)
	depthless := withoutDepths(t)
	// Where some readings came without a depth, the antennas have the distance that those
	// with one suppose.
	blankGapM := gapM
	if !depthless {
		blankGapM = impliedGapM(t, leastGaps)
	}
	seen := map[repeatKey]*trace.Reading{}
	for i := range t.Readings {
		r := &t.Readings[i]
		if r.Status != "" {
			continue // set aside while placing
		}
		r.Status = trace.StatusUsed
		if r.Exposed {
			r.Status = trace.StatusExposed
		}
		if !r.Fix.Measured() {
			r.SetAside(remark.NoFix{Fix: r.Fix})
			continue
		}
		if k, ok := repeatKeyOf(r); ok {
			if first, again := seen[k]; again {
				r.SetAside(remark.Repeated{Row: first.Row, OtherFile: first.File != r.File})
				continue
			}
			seen[k] = r
		}
		if trace.Known(r.RaiseM) && r.RaiseM > 0 {
			r.Status = trace.StatusCheck
			if depthless {
				antennaDepth(r, gapM, display)
			}
			cleanDepth(r)
			continue
		}
		if air[i] {
			r.SetAside(remark.AirCoupled{Ratio: r.SignalLow / r.SignalHigh})
			continue
		}
		// A depth that was left out before stays so, as is told of it: a figure in its place
		// would be neither the one that was read nor unused.
		if (depthless || IsBlank(r)) && !r.Exposed && !r.DepthDropped {
			antennaDepth(r, blankGapM, display)
		}
		cleanDepth(r)
	}
}

// cleanDepth drops a depth that cannot be one.
func cleanDepth(r *trace.Reading) {
	if !trace.Known(r.DepthM) {
		return
	}
	switch {
	case r.DepthM < 0:
		r.DropDepth(remark.NegativeDepth{DepthM: r.DepthM})
	case r.DepthM < receiver.ShallowestM:
		r.DropDepth(remark.ZeroDepth)
	case isFiller(r.DepthM):
		r.DropDepth(remark.FillerDepth{DepthM: r.DepthM})
	case r.DepthM > receiver.DeepestM:
		r.DropDepth(remark.TooDeep{DepthM: r.DepthM})
	}
}

// DeeperThanRead reports whether a depth was left out for being too deep.
func DeeperThanRead(r *trace.Reading) bool {
	return r.DepthM > receiver.DeepestM && !isFiller(r.DepthM)
}

// repeatKey is what two rows must share to be the same reading written twice. What was
// measured in a hole is none of what was traced over it, whatever figures were copied.
type repeatKey struct {
	timeNs                            int64
	exposed                           bool
	lon, lat, depth, current, low, mm float64 // -Inf where not known
}

// repeatKeyOf returns the key of a reading. Without a time two rows are the
// same only if they also carry some measured number; a bare position without
// time may honestly be taken twice.
func repeatKeyOf(r *trace.Reading) (repeatKey, bool) {
	k := repeatKey{exposed: r.Exposed, lon: r.Geographic.LonDeg, lat: r.Geographic.LatDeg}
	number := false
	for _, f := range []struct {
		to *float64
		v  float64
	}{{&k.depth, r.DepthM}, {&k.current, r.CurrentMA}, {&k.low, firstKnown(r.SignalLow, r.Signal)}, {&k.mm, r.RaiseM}} {
		*f.to = math.Inf(-1)
		if trace.Known(f.v) {
			*f.to, number = f.v, true
		}
	}
	if !r.Time.IsZero() {
		k.timeNs, number = r.Time.UnixNano(), true
	}
	return k, number
}

func firstKnown(vs ...float64) float64 {
	for _, v := range vs {
		if trace.Known(v) {
			return v
		}
	}
	return trace.Unknown
}

// IsBlank reports whether a reading came without a depth that could be one.
func IsBlank(r *trace.Reading) bool {
	return !trace.Known(r.DepthM) || r.DepthM < receiver.ShallowestM || isFiller(r.DepthM)
}
