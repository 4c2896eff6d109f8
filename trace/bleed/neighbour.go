package bleed

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/receiver"
)

// neighbour is how one neighbour lies along the line's readings.
type neighbour struct {
	name      string
	path      int
	reference bool
	doubtM    float64 // of a record's place, for its frame alone
	doubtWhy  string
	at        []neighbourAt // one a reading
	mayBeOwn  bool          // a record of the line's own kind of utility: an old drawing of the line, perhaps
}

// neighbourAt is a neighbour as seen from the mark at one reading.
type neighbourAt struct {
	asideM   float64 // signed distance, positive to the right of travel; NaN where out of reach
	depthM   float64 // NaN where unknown
	sigmaM   float64 // of the distance
	crossing bool    // too near a crossing for the parallel model
	angle    float64 // between the two directions, 0 to π/2
}

// reachDepths is how far, in depths, a neighbour's current matters here: there one of
// the same depth and half the current moves the mark by 0.015 depths, and the null by 0.15
// (by superposition). Judgement.
const reachDepths = 3

// crossingAngle is the angle beyond which two lines cross rather than run
// together; a line that crosses squarely adds no field along the other's peak.
// Judgement.
const crossingAngle = 25 * math.Pi / 180

// neighbours lists the neighbours within reach of any reading.
func (ix *Index) neighbours(line Line, col *columns) []neighbour {
	path := geo.NewPolyline(line.Points)
	if len(line.Points) < 2 {
		return nil
	}
	var out []neighbour
	var feet []nearPath
	for k, r := range col.rd {
		q, dir := path.At(r.StationM), direction(path, r.StationM, col.depth[k])
		feet = ix.feet(q, reachDepths*col.depth[k]+1, line.Exclude, feet)
		for _, f := range feet {
			i := slices.IndexFunc(out, func(e neighbour) bool { return e.path == f.path })
			if i < 0 {
				i = len(out)
				p := ix.paths[f.path]
				own := p.Reference && p.Utility.Known() && p.Utility == line.Utility
				out = append(out, neighbour{name: p.Name, path: f.path, reference: p.Reference, doubtM: p.DoubtM, doubtWhy: p.DoubtWhy, at: outOfReach(len(col.rd)), mayBeOwn: own})
			}
			out[i].at[k] = seen(q, dir, f, line, k, path)
		}
	}
	for i := range out {
		markCrossings(out[i].at, col)
	}
	return out
}

func outOfReach(n int) []neighbourAt {
	at := make([]neighbourAt, n)
	for k := range at {
		at[k] = neighbourAt{asideM: math.NaN(), depthM: math.NaN()}
	}
	return at
}

// direction is taken over two depths, as the field sees the line.
func direction(path geo.Polyline, stationM, depthM float64) geo.XY {
	d := path.At(stationM + depthM).Sub(path.At(stationM - depthM))
	if n := d.Norm(); n > 0 {
		return d.Scale(1 / n)
	}
	return path.Direction(stationM)
}

// footM is how far ahead or behind a foot may lie, beside half its distance aside, as
// marks and drawn lines have errors. Judgement.
const footM = 0.3

func seen(q, dir geo.XY, f nearPath, line Line, k int, path geo.Polyline) neighbourAt {
	aside := f.distM
	if dir.Cross(f.at.Sub(q)) > 0 {
		aside = -aside
	}
	// A foot well ahead or behind belongs to a line that has ended or turned.
	along := math.Abs(dir.Dot(f.at.Sub(q)))
	if along > 0.5*f.distM+footM {
		return neighbourAt{asideM: math.NaN(), depthM: math.NaN()}
	}
	c := math.Min(1, math.Abs(dir.Dot(f.direction)))
	return neighbourAt{
		asideM: aside, depthM: f.depthM,
		sigmaM: math.Hypot(f.sigmaM, ownSigma(line, line.rd[k].StationM, path)),
		angle:  math.Acos(c),
	}
}

func ownSigma(line Line, stationM float64, path geo.Polyline) float64 {
	if len(line.SigmaM) != len(line.Points) {
		return receiver.PlainLineM
	}
	i := 0
	for i+1 < len(line.Points) && path.Station(i+1) < stationM {
		i++
	}
	if s := line.SigmaM[i]; !math.IsNaN(s) {
		return s
	}
	return receiver.PlainLineM
}

// A line that turns across within meetsDepths of the mark is taken to cross it, and within
// crossingDepths of a crossing no reading is told by the field of a line that runs along.
// Judgement.
const (
	meetsDepths    = 1.5
	crossingDepths = 2.5
)

// markCrossings sets aside the readings within crossingDepths of a crossing.
func markCrossings(at []neighbourAt, col *columns) {
	var places []float64
	for k, a := range at {
		if a.angle > crossingAngle && math.Abs(a.asideM) < meetsDepths*col.depth[k] {
			places = append(places, col.rd[k].StationM)
		}
		if k > 0 && at[k-1].asideM*a.asideM < 0 && max(a.angle, at[k-1].angle) > crossingAngle {
			t := at[k-1].asideM / (at[k-1].asideM - a.asideM)
			places = append(places, col.rd[k-1].StationM+t*(col.rd[k].StationM-col.rd[k-1].StationM))
		}
	}
	for k := range at {
		for _, s := range places {
			if math.Abs(col.rd[k].StationM-s) < crossingDepths*col.depth[k] {
				at[k].crossing = true
			}
		}
		if at[k].angle > crossingAngle {
			at[k].crossing = true
		}
	}
}

// parallelAt reports whether the parallel model holds at reading k.
func (e neighbour) parallelAt(k int, col *columns) bool {
	a := e.at[k]
	return !math.IsNaN(a.asideM) && !a.crossing && math.Abs(a.asideM) < reachDepths*col.depth[k]
}
