package fit

import (
	"math"

	"loamline/geo"
)

// shape is the whole fitted line: the runs one after another, cut at the
// corners where they cross.
type shape struct {
	runs   []run
	line   geo.Polyline
	owner  []int32 // run of the leg that starts at each vertex
	corner []bool  // of each vertex
}

// assemble joins the runs. Two neighbours are cut where they cross; that is the
// elbow, sharper than any reading. Where they don't cross near their ends, they
// are joined end to end.
func assemble(runs []run, reachM float64) *shape {
	sh := &shape{runs: runs}
	var pts []geo.XY
	head := lengthen(runs[0].nodes, true, reachM)
	for i := range runs {
		last := i+1 == len(runs)
		if last {
			head = lengthen(head, false, reachM)
			pts = sh.take(pts, head, int32(i), false)
			break
		}
		gap := runs[i].part[len(runs[i].part)-1].p.Dist(runs[i+1].part[0].p)
		reach := 1.5*gap + reachM
		tail := lengthen(head, false, reach)
		next := lengthen(runs[i+1].nodes, true, reach)
		if ka, kb, at, ok := crossing(tail, next, reach); ok {
			a := append(append([]geo.XY{}, tail[:ka+1]...), at)
			pts = sh.take(pts, a[:len(a)-1], int32(i), false)
			head = append([]geo.XY{at}, next[kb+1:]...)
		} else {
			pts = sh.take(pts, head, int32(i), false)
			head = runs[i+1].nodes
		}
		pts = sh.take(pts, head[:1], int32(i+1), sharp(pts, head))
	}
	sh.line = geo.NewPolyline(pts)
	return sh
}

// take appends points of one run.
func (sh *shape) take(pts, add []geo.XY, owner int32, corner bool) []geo.XY {
	for _, p := range add {
		if n := len(pts); n > 0 && pts[n-1].Dist(p) < 1e-6 {
			sh.corner[n-1] = sh.corner[n-1] || corner
			sh.owner[n-1] = owner
			continue
		}
		pts = append(pts, p)
		sh.owner = append(sh.owner, owner)
		sh.corner = append(sh.corner, corner)
	}
	return pts
}

// cornerRad is the least turn that is called a corner.
const cornerRad = 8 * math.Pi / 180

// sharp reports whether the path turns by more than cornerRad where head joins.
func sharp(pts, head []geo.XY) bool {
	if len(pts) == 0 || len(head) < 2 {
		return false
	}
	a, b := head[0].Sub(pts[len(pts)-1]), head[1].Sub(head[0])
	return math.Abs(math.Atan2(a.Cross(b), a.Dot(b))) > cornerRad
}

// lengthen adds a straight leg of the given length at one end.
func lengthen(path []geo.XY, atStart bool, byM float64) []geo.XY {
	n := len(path)
	if n < 2 {
		return path
	}
	if atStart {
		d := path[0].Sub(path[1])
		return append([]geo.XY{path[0].Add(d.Scale(byM / math.Max(d.Norm(), 1e-9)))}, path...)
	}
	d := path[n-1].Sub(path[n-2])
	return append(append([]geo.XY{}, path...), path[n-1].Add(d.Scale(byM/math.Max(d.Norm(), 1e-9))))
}

// crossing finds where the last part of a crosses the first part of b, within
// reach of both former ends: legs ka and kb, and the place.
func crossing(a, b []geo.XY, reach float64) (ka, kb int, at geo.XY, ok bool) {
	end, start := a[len(a)-2], b[1]
	best := math.Inf(1)
	for i := len(a) - 2; i >= 0; i-- {
		if i < len(a)-3 && a[i+1].Dist(end) > reach {
			break
		}
		for j := 0; j+1 < len(b); j++ {
			if j > 1 && b[j].Dist(start) > reach {
				break
			}
			p, hit := legCrossing(a[i], a[i+1], b[j], b[j+1])
			if !hit {
				continue
			}
			if d := p.Dist(end) + p.Dist(start); d < best {
				best, ka, kb, at, ok = d, i, j, p, true
			}
		}
	}
	return ka, kb, at, ok
}

// legCrossing returns where two legs cross.
func legCrossing(a, b, c, d geo.XY) (geo.XY, bool) {
	r, s := b.Sub(a), d.Sub(c)
	den := r.Cross(s)
	if math.Abs(den) < 1e-12*(r.Norm()*s.Norm()+1e-30) {
		return geo.XY{}, false
	}
	t, u := c.Sub(a).Cross(s)/den, c.Sub(a).Cross(r)/den
	if t < 0 || t > 1 || u < 0 || u > 1 {
		return geo.XY{}, false
	}
	return a.Add(r.Scale(t)), true
}
