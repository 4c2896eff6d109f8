package tracetest

import (
	"math"
	"strconv"

	"loamline.example/geo"
)

// walk is a locator under way along one line.
type walk struct {
	*recipe
	job        *Job
	line       Line
	supply     supply
	all, alone scene
	pos        positioning
	gain       float64
	slope      geo.XY  // of the ground
	crossM     float64 // of the last mark, to the right of the path
	raiseAt    map[int]bool
	exposeAt   map[int]bool
}

// trace walks the line and returns its readings in the order walked.
func (w *walk) trace(stops []stop) []Reading {
	var out []Reading
	add := func(rd Reading, ok bool) {
		if ok {
			rd.Point = w.line.Name + strconv.Itoa(len(out)+1)
			out = append(out, rd)
		}
	}
	for i, s := range stops {
		add(w.read(s, math.NaN()))
		if w.raiseAt[i] {
			up := s
			up.timeS += 3
			add(w.read(up, oneOf(w.r, 0.3, 0.3, 0.5, 0.6)))
		}
		if w.exposeAt[i] {
			open := s
			open.timeS += 3.5
			add(w.open(open), true)
		}
	}
	return out
}

// guide returns the conductor that is followed at a station, and the place on
// it.
func (w *walk) guide(stationM float64) (at, dir geo.XY, c *activeCoupling) {
	l, st := w.line, stationM
	c = w.supply.strongest(stationM)
	if c != nil && c.jump && stationM > c.fromM && stationM < c.toM {
		l, st = c.line, c.line.Path.Nearest(w.line.Path.At(stationM)).StationM
	}
	a, b := l.Path.At(st-0.5), l.Path.At(st+0.5)
	return l.Path.At(st), b.Sub(a).Scale(1 / b.Dist(a)), c
}

// read takes one reading at a stop, on the ground or raised; false where the
// locator found no peak.
func (w *walk) read(s stop, raiseM float64) (Reading, bool) {
	r := w.r
	at, dir, c := w.guide(s.stationM)
	yaw := r.norm(3 * math.Pi / 180)
	face := geo.XY{X: dir.X*math.Cos(yaw) - dir.Y*math.Sin(yaw), Y: dir.X*math.Sin(yaw) + dir.Y*math.Cos(yaw)}
	st := stance{at, face}
	t := w.truth(s, c)
	height := 0.0
	if !math.IsNaN(raiseM) {
		height = raiseM
	}
	scale := math.Max(t.DepthM, 0.4)
	see := w.all.look(st, w.crossM+r.norm(0.05), r.norm(t.PinpointM), height, w.job.AntennaGapM, scale)
	if !see.found || math.Abs(see.peakM) > 3*scale+1 {
		w.crossM = 0
		return Reading{}, false
	}
	w.crossM = see.heldM
	w.compare(&t, st, see)
	mark := at.Add(right(face).Scale(see.heldM))
	rd := w.shown(s, see)
	rd.RaiseM = raiseM
	e, up := w.pos.errorAt(s.timeS, s.sigmaM)
	t.BesideM = w.besideM
	rd.Pos, rd.ElevM = mark.Add(e).Add(right(dir).Scale(w.besideM)), 20+w.slope.Dot(mark)+up
	t.MarkOffsetM = w.line.Path.NearestWithin(mark, s.stationM-10, s.stationM+10).OffsetM
	rd.Truth = t
	return rd, true
}

// truth begins the truth about a stop.
func (w *walk) truth(s stop, c *activeCoupling) ReadingTruth {
	d := w.line.DepthAt(s.stationM)
	t := ReadingTruth{
		StationM: s.stationM, DepthM: d, SigmaM: s.sigmaM, Reverse: s.reverse, Pass: s.pass,
		PinpointM: math.Max(w.noise.PinpointMin, w.noise.PinpointRel*d),
	}
	for _, k := range w.line.Corners {
		t.NearCorner = t.NearCorner || math.Abs(k.StationM-s.stationM) < 5*d
	}
	t.NearCorner = t.NearCorner || s.stationM < 5*d || w.line.Path.Length()-s.stationM < 5*d
	if c != nil {
		t.Neighbor, t.NeighborRatio = c.name, c.ratio*complex(c.window(s.stationM), 0)
		t.Jumped = c.jump && s.stationM > c.fromM && s.stationM < c.toM
	}
	return t
}
