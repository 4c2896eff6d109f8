package fit

import (
	"math"
	"slices"
	"sort"

	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
)

// currentAt is a current that was read on the line.
type currentAt struct{ station, milliamps, depth float64 }

// currents are the readings of the current, by station.
func (t *traced) currents(readings []reading) []currentAt {
	var out []currentAt
	for i := range t.w.places {
		o := &t.w.places[i]
		r := &readings[o.index]
		if o.fate == Used && !o.exposed && r.CurrentMA > 0 && r.DepthM > receiver.ShallowestM && r.DepthM < receiver.DeepestM && !math.IsInf(r.CurrentMA, 1) {
			out = append(out, currentAt{o.stationM, r.CurrentMA, r.DepthM})
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].station < out[b].station })
	return out
}

// How currents are smoothed. Judgement: what is narrower follows the readings' noise, what
// is wider a fall of the current too late.
const (
	fewestFed     = 5
	currentWindow = 10 // currents to each side that are smoothed over
	currentRounds = 3  // of correcting what is shown by what flows
	// The line's own legs are believed to make that much of the current that flows into
	// the one that is shown; where they make less or more, the line is not drawn well
	// enough to tell.
	leastShown, mostShown = 0.3, 2.0
)

// setCurrents gives each leg the current that flows in it, as read: running medians
// and their means (Tukey 1977, Exploratory Data Analysis), corrected for what
// the line's own legs nearby do to the reading.
func (b *ownField) setCurrents(s []currentAt) {
	if len(s) < fewestFed {
		return
	}
	ln, lost := make([]float64, len(s)), make([]float64, len(s))
	for round := range currentRounds {
		for i, f := range s {
			var shown float64
			lost[i], shown = b.lost(f.station, f.depth, lost[i]) // from what it was in the round before
			next := math.Log(f.milliamps) - math.Log(clamp(shown, leastShown, mostShown))
			if round > 0 {
				next = 0.5 * (ln[i] + next)
			}
			ln[i] = next
		}
		smooth := runningMeans(settleEnds(runningMedians(ln), ln))
		k := 0
		amps := make([]float64, b.legs())
		for i := range amps {
			mid := (b.vertex(i).StationM + b.vertex(i+1).StationM) / 2
			for k+2 < len(s) && s[k+1].station <= mid {
				k++
			}
			u := clamp((mid-s[k].station)/math.Max(s[k+1].station-s[k].station, 1e-9), 0, 1)
			amps[i] = math.Exp(smooth[k] + u*(smooth[k+1]-smooth[k]))
		}
		b.amps = amps
	}
}

// runningMedians are those of a window about each value, narrower near the ends.
func runningMedians(v []float64) []float64 {
	out := make([]float64, len(v))
	for i, sorted := range ranked.About(v, currentWindow) {
		if len(sorted) == 2*currentWindow+1 {
			out[i] = sorted[currentWindow]
			continue
		}
		reach := reachAbout(v, i)
		out[i] = median(slices.Clone(v[i-reach : i+reach+1]))
	}
	return out
}

// runningMeans are the same of means.
func runningMeans(v []float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		reach := reachAbout(v, i)
		out[i] = meanValue(v[i-reach : i+reach+1])
	}
	return out
}

// reachAbout is how many values to either side of one are in its window.
func reachAbout(v []float64, i int) int { return min(currentWindow, i, len(v)-1-i) }

// settleEnds sets both ends of running medians, over which nothing runs, by Tukey's rule (1977,
// chapter 7): the median of what was read there, of the value next to it, and of where the two
// values next to it lead. One wrong current at an end would feed the whole leg there.
func settleEnds(smooth, read []float64) []float64 {
	n := len(smooth)
	if n < 3 {
		return smooth
	}
	for _, at := range [...][3]int{{0, 1, 2}, {n - 1, n - 2, n - 3}} {
		smooth[at[0]] = median([]float64{read[at[0]], smooth[at[1]], 3*smooth[at[1]] - 2*smooth[at[2]]})
	}
	return smooth
}

func meanValue(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}

// doubt is by how much a loss may be off, one sigma: by a share of itself.
func doubt(lost float64) float64 { return fieldDoubt * math.Abs(lost) }

// amp is the current of a leg.
func (b *ownField) amp(leg int) float64 {
	if b.amps == nil {
		return 1
	}
	return b.amps[leg]
}
