package fit

import (
	"math"

	"loamline.example/trace/ranked"
)

// A depth that stands alone is heard where the signal changed as it does over a line at
// that depth: the field of a long current falls with the depth itself (Ampère's law), of a
// short dive or hump a little less. A figure that the receiver got wrong has no such
// signal, and another line's current falls in with it by chance alone. Judgement.
const (
	leastHeard, mostHeard = 0.6, 1.4 // of the change of depth, in logs
	heardSignals          = 4        // signals about it that tell what it changed from
)

// heard tells whether the signal changed with a depth that stands out.
func heard(s []sounding, res []float64, i int) bool {
	changed, ok := signalChange(s, i)
	if !ok {
		return false
	}
	var about []float64
	for k := max(0, i-spikeWindow); k < min(len(s), i+spikeWindow+1); k++ {
		if v, ok := signalChange(s, k); ok && k != i {
			about = append(about, math.Abs(v))
		}
	}
	part := -changed / res[i]
	return len(about) >= heardSignals && math.Abs(changed) > ranked.FarMADs*median(about) && part > leastHeard && part < mostHeard
}

// signalChange is by how much the ln of a signal differs from those about it.
func signalChange(s []sounding, i int) (float64, bool) {
	var v []float64
	for k := max(0, i-spikeWindow); k < min(len(s), i+spikeWindow+1); k++ {
		if s[k].signal > 0 {
			v = append(v, math.Log(s[k].signal))
		}
	}
	if !(s[i].signal > 0) || len(v) < heardSignals {
		return 0, false
	}
	return math.Log(s[i].signal) - median(v), true
}
