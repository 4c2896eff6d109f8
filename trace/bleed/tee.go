package bleed

import (
	"math"

	"loamline.example/trace/receiver"
)

// tee is an accepted current step, at a station of the line.
type tee struct{ stationM float64 }

// teeShares are the shares tried; between them the amplitude is free: a grid,
// judgement.
var teeShares = []float64{0.15, 0.3, 0.5, 0.7, -0.3, -0.9}

// feltDepths is how far from a step, in depths, the field still sees it: there
// it is a thousandth of the step, and so is what the depth shown differs. Judgement.
const feltDepths = 16

// felt returns the first reading of a window that sees a step at a station.
func (c *columns) felt(lo, n int, stationM float64) int {
	for k := range n {
		if c.rd[lo+k].StationM > stationM-feltDepths*c.depth[lo+k] {
			return k
		}
	}
	return n
}

// teeShape is the column of a tee, scaled so that its amplitude is near the
// share.
func (c *columns) teeShape(lo, n int, stationM, share float64) shape {
	f := shape{sd: currentStepSD, tee: true, stationM: stationM, from: c.felt(lo, n, stationM)}
	f.s = make([]float64, 0, n-f.from)
	for k := f.from; k < n; k++ {
		along := c.rd[lo+k].StationM - stationM
		d, s := receiver.Tee(share, along, c.depth[lo+k], c.gapM)
		f.s = append(f.s, s/share)
		if len(f.d) == k-f.from && along < feltDepths*c.depth[lo+k] {
			f.d = append(f.d, d/share)
		}
	}
	return f
}

// stepSeen is over how much of its depth a step is smoothed as the field shows it, of a
// depth or of a level. Judgement: a step of current is smoothed over the whole depth (half).
const stepSeen = 0.7

// depthStepShape is the column of a step of depth: what the field sees of it
// is smoothed over the depth as a tee's is.
func (c *columns) depthStepShape(lo, n int, stationM float64) shape {
	f := shape{sd: depthStepSD, more: depthStepMore, opposed: true, from: c.felt(lo, n, stationM)}
	for k := f.from; k < n; k++ {
		f.d = append(f.d, receiver.HalfLine(c.rd[lo+k].StationM-stationM, stepSeen*c.depth[lo+k]))
	}
	return f
}

// humpShape is the column of a rise or dip of depth of the given width.
func (c *columns) humpShape(lo, n, j int, widthM float64) shape {
	f := shape{sd: depthStepSD, more: depthStepMore, opposed: true, from: -1}
	for k := range n {
		t := (c.rd[lo+k].StationM - c.rd[lo+j].StationM) / (widthM / 2)
		if math.Abs(t) > 3 {
			continue
		}
		if f.from < 0 {
			f.from = k
		}
		f.d = append(f.d, math.Exp(-0.5*t*t))
	}
	return f
}

// rampShape is the column of a steady rise or fall of depth about a station.
func (c *columns) rampShape(lo, n int, stationM, widthM float64) shape {
	f := shape{sd: depthStepSD, opposed: true, from: n}
	for k := range n {
		h := math.Min(1, (c.rd[lo+k].StationM-stationM)/widthM+0.5)
		if h <= 0 {
			continue
		}
		f.from = min(f.from, k)
		f.d = append(f.d, h)
	}
	return f
}
