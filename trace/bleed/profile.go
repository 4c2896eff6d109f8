package bleed

import (
	"math"
	"slices"

	"loamline.example/trace/receiver"
)

// profile is how deep a line lies along its stations and what current it carries
// there, as its readings show: running medians, straight between. Depth stays what
// it is beyond both ends.
type profile struct {
	stationM, depthM []float64
	lnCurrent        []float64 // nil where not known
	lnMost           float64   // of it
	lossPerM         float64   // of current, in logs: beyond the readings, and where it is not known
}

// levelEnough is the change of depth, a metre of line, below which the field is
// that of a level line. Judgement: at 10 % the two differ by less than one in a hundred.
const levelEnough = 0.1

func newProfile(c *columns) profile {
	p := profile{lossPerM: c.lossPerM()}
	local, left := c.localDepth(0, len(c.rd), 1), c.currentLeft()
	known := slices.ContainsFunc(left, func(v float64) bool { return v != 0 })
	for k := 0; k < len(c.rd); {
		from := k
		for k < len(c.rd) && c.rd[k].StationM < c.rd[from].StationM+profileStepM {
			k++
		}
		mid := (from + k - 1) / 2
		p.stationM = append(p.stationM, c.rd[mid].StationM)
		p.depthM = append(p.depthM, math.Max(math.Exp(median(slices.Clone(local[from:k]))), receiver.ShallowestM))
		if known {
			p.lnCurrent = append(p.lnCurrent, left[mid])
		}
	}
	if known {
		p.lnMost = slices.Max(p.lnCurrent)
	}
	return p
}

// profileStepM is the shortest piece of a profile: readings closer than that are
// taken together, so that their errors make no slopes. Judgement.
const profileStepM = 1.5

func (p profile) at(stationM float64) float64 {
	i, t := p.place(stationM)
	return p.depthM[i] + t*(p.depthM[min(i+1, len(p.depthM)-1)]-p.depthM[i])
}

// place is the last entry before a station and how far on to the next one it is.
func (p profile) place(stationM float64) (i int, t float64) {
	n := len(p.stationM)
	i, _ = slices.BinarySearch(p.stationM, stationM)
	switch i {
	case 0:
		return 0, 0
	case n:
		return n - 1, 0
	}
	return i - 1, (stationM - p.stationM[i-1]) / (p.stationM[i] - p.stationM[i-1])
}

func (p profile) logCurrent(stationM float64) float64 {
	if p.lnCurrent == nil {
		return -p.lossPerM * stationM
	}
	n := len(p.stationM)
	if first, last := p.stationM[0], p.stationM[n-1]; stationM < first {
		return p.lnCurrent[0] - p.lossPerM*(stationM-first)
	} else if stationM > last {
		return p.lnCurrent[n-1] - p.lossPerM*(stationM-last)
	}
	i, t := p.place(stationM)
	return p.lnCurrent[i] + t*(p.lnCurrent[min(i+1, n-1)]-p.lnCurrent[i])
}

// faint reports whether so little of the current is left at a station that bends
// far away, where there is more, are felt.
func (p profile) faint(stationM float64) bool {
	return p.lnCurrent != nil && p.logCurrent(stationM) < p.lnMost-1
}

// slopes reports whether the line goes deeper or shallower within reach of a
// station.
func (p profile) slopes(stationM, reachM float64) bool {
	i, _ := slices.BinarySearch(p.stationM, stationM-reachM)
	for i = max(1, i); i < len(p.stationM) && p.stationM[i-1] < stationM+reachM; i++ {
		if math.Abs(p.depthM[i]-p.depthM[i-1]) > levelEnough*(p.stationM[i]-p.stationM[i-1]) {
			return true
		}
	}
	return false
}
