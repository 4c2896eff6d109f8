package fit

import (
	"math"
	"sort"

	"loamline/geo"
)

// The two-antenna depth supposes a long straight line. Where the line bends away
// or comes back beside itself, the receiver shows less (or more) than the depth;
// bender says by how much, from the fitted line alone.
type bender struct {
	path []geo.XY
	at   []float64 // stations
	dir  []geo.XY  // of each leg
}

func newBender(vs []Vertex) *bender {
	b := &bender{}
	for i, v := range vs {
		b.path, b.at = append(b.path, v.Pos), append(b.at, v.StationM)
		if i > 0 {
			d := v.Pos.Sub(vs[i-1].Pos)
			b.dir = append(b.dir, d.Scale(1/math.Max(d.Norm(), 1e-9)))
		}
	}
	return b
}

// cutOff is the relative depth that is lost where the current goes no further
// than x depths beyond the reading, for two antennas 0.4 m apart over a line at
// 1 m: finite straight current by the Biot-Savart law, to three figures; beyond
// five depths it falls with the square.
func cutOff(x float64) float64 {
	at := [...]float64{0, 0.5, 1, 2, 3, 5}
	lost := [...]float64{0.15, 0.225, 0.218, 0.126, 0.072, 0.030}
	for i := 1; i < len(at); i++ {
		if x < at[i] {
			u := (x - at[i-1]) / (at[i] - at[i-1])
			return lost[i-1] + u*(lost[i]-lost[i-1])
		}
	}
	return 0.75 / (x * x)
}

// How far the bends matter, and how much of the whole can be lost.
const (
	bendReach   = 12.0 // depths
	mostLost    = 0.35
	besideReach = 8.0     // depths
	besideWork  = 4000000 // readings times legs that are searched for a leg beside
)

// lost returns the relative depth that the receiver shows too little at a
// station (too much where negative), for a depth that it shows.
func (b *bender) lost(stationM, shownM float64) float64 {
	l := b.lostAt(stationM, shownM)
	return b.lostAt(stationM, shownM/(1-l))
}

// lostAt is the same for a true depth.
func (b *bender) lostAt(stationM, depthM float64) float64 {
	leg := b.leg(stationM)
	sum := b.ahead(leg, stationM, depthM, 1) + b.ahead(leg, stationM, depthM, -1)
	if len(b.path)*len(b.path) < besideWork {
		sum += b.beside(leg, stationM, depthM)
	}
	return clamp(sum, -mostLost, mostLost)
}

func (b *bender) leg(stationM float64) int {
	i := sort.SearchFloat64s(b.at, stationM) - 1
	return max(0, min(i, len(b.dir)-1))
}

// ahead adds up the bends one way along the line: current that has turned away
// by an angle does as much as its cosine.
func (b *bender) ahead(leg int, stationM, depthM float64, way int) float64 {
	sum, turned := 0.0, 0.0
	for i := leg + way; i >= 0 && i < len(b.dir); i += way {
		corner := i
		if way < 0 {
			corner = i + 1
		}
		x := math.Abs(b.at[corner]-stationM) / depthM
		if x > bendReach {
			break
		}
		gone := 1 - b.dir[leg].Dot(b.dir[i])
		sum += (gone - turned) * cutOff(x)
		turned = gone
	}
	return sum
}

// beside adds up legs of the same line that pass at the reading's side: the
// field of a second long line at the distance D with the share q of the current
// is added at both antennas (superposition of line currents, Ampère's law).
func (b *bender) beside(leg int, stationM, depthM float64) float64 {
	p := b.path[leg].Lerp(b.path[leg+1], clamp((stationM-b.at[leg])/math.Max(b.at[leg+1]-b.at[leg], 1e-9), 0, 1))
	t := b.dir[leg]
	low, high := 1/depthM, 1/(depthM+antennaGapM)
	for i := range b.dir {
		a, c := b.path[i].Sub(p), b.path[i+1].Sub(p)
		if u, v := a.Dot(t), c.Dot(t); u*v > 0 || u == v {
			continue
		}
		d := math.Abs(t.Cross(a.Lerp(c, a.Dot(t)/(a.Dot(t)-c.Dot(t)))))
		if d < 0.5*depthM || d > besideReach*depthM || math.Abs(b.at[i]-stationM) < 2*d {
			continue
		}
		q := t.Dot(b.dir[i])
		low += q * depthM / (d*d + depthM*depthM)
		high += q * (depthM + antennaGapM) / (d*d + sq(depthM+antennaGapM))
	}
	if low <= high {
		return 0
	}
	return 1 - antennaGapM*high/(low-high)/depthM
}
