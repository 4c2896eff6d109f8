package clean

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// fillers are the numbers that receivers write where they have nothing to show (common
// practice, no source), in the units of files.
var fillers = []struct {
	value float64
	units []float64
}{
	{9.99, []float64{1, geo.FootM}},
	{99, []float64{1, geo.FootM}}, {99.9, []float64{1, geo.FootM}}, {99.99, []float64{1, geo.FootM}},
	{999, []float64{1, geo.FootM, geo.InchM, 0.01}}, {999.9, []float64{1, geo.FootM, geo.InchM, 0.01}}, {9999, []float64{1, geo.FootM, geo.InchM, 0.01}},
}

// From which of them on a depth and a null offset stand for none: a line may lie 9.99 ft
// deep, and no null lies as far from its peak. Judgement.
const leastNoDepth, leastNoNull = 99, 9.99

// isNone reports whether a length stands for none, by one of the fillers from one on.
func isNone(m, least float64) bool {
	for _, f := range fillers {
		if f.value < least {
			continue
		}
		for _, u := range f.units {
			if math.Abs(m-f.value*u) < 1e-6*m {
				return true
			}
		}
	}
	return false
}

func isFiller(depthM float64) bool { return isNone(depthM, leastNoDepth) }

// shown reports whether a reading shows a depth, over a line in the ground and in whatever
// unit.
func shown(r *trace.Reading) bool { return r.DepthM > 0 && !r.Exposed && !isFiller(r.DepthM) }

// onGround reports whether it was shown to a receiver that stood on the ground.
func onGround(r *trace.Reading) bool { return shown(r) && !(r.RaiseM > 0) }

// believable reports whether it is one that a receiver shows, on the ground or raised.
func believable(r *trace.Reading) bool { return shown(r) && r.DepthM <= receiver.DeepestM }

// counted reports whether a reading's depth counts with those of its neighbours.
func counted(r *trace.Reading) bool { return onGround(r) && believable(r) }
