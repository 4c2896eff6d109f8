package fit

import (
	"math"

	"loamline.example/geo"
)

// shape is the whole fitted line: the runs one after another, cut at the
// corners where they cross.
type shape struct {
	runs   []run
	line   geo.Polyline
	owner  []int32   // run of the leg that starts at each vertex
	corner []bool    // of each vertex
	doubtM []float64 // half-width beyond the band of the run, of each vertex
	freeM  []float64 // of each elbow: how far to both sides no reading shows its shape
	bends  []sample  // readings that only a bend between two runs holds
	unread int       // legs with a corner that only join two ends
}

// cornerRad is the least turn that is called a corner. Judgement.
const cornerRad = 8 * math.Pi / 180

// crossReach is how far beyond their ends two runs may cross, by the way between the
// ends. Judgement: an elbow halfway between them is found up to a turn of 141°, for its
// legs are 1/(2 sin(α/2)) of that way at an angle α inside it; a sharper one is joined by
// a leg, rather than that two lines nearly alike meet far off.
const crossReach = 1.5

// assemble joins the runs. Two neighbours are cut where they cross; that is the
// elbow, sharper than any reading. Loose readings, which lie between the last
// reading of a run and the first of the next, may ask for a bend instead.
func (b *builder) assemble(runs []run, loose [][]sample, reachM float64) *shape {
	sh := &shape{runs: runs}
	var pts []geo.XY
	head := lengthen(runs[0].nodes, true, reachM)
	for i := range runs[:len(runs)-1] {
		tail, j, next := b.meet(head, &runs[i], &runs[i+1], loose[i], reachM)
		pts = sh.take(pts, tail, int32(i), joint{})
		sh.unread += j.unread
		half := len(j.points) / 2
		pts = sh.take(pts, j.points[:half], int32(i), j)
		j.corner, j.doubtM = j.corner[half:], j.doubtM[half:]
		pts = sh.take(pts, j.points[half:], int32(i+1), j)
		sh.bends = append(sh.bends, j.used...)
		head = next
	}
	pts = sh.take(pts, lengthen(head, false, reachM), int32(len(runs)-1), joint{})
	sh.line = geo.NewPolyline(pts)
	return sh
}

// meet returns what is left of the first run's path, the joint, and what is
// left of the second's.
func (b *builder) meet(head []geo.XY, first, second *run, loose []sample, reachM float64) (tail []geo.XY, j joint, next []geo.XY) {
	lastA, firstB := first.part[len(first.part)-1].p, second.part[0].p
	bends, path := !first.straight || !second.straight, second.nodes
	if bends && len(loose) == 0 {
		if j, ok := tangent(head, path, nil); ok {
			return head, j, path
		}
	}
	reach := crossReach*lastA.Dist(firstB) + reachM
	tail, next = lengthen(head, false, reach), lengthen(path, true, reach)
	ka, kb, at, ok := crossing(tail, next, reach, func(at, in, out geo.XY) bool {
		return lastA.Sub(at).Dot(in) <= b.cutM+reachM && at.Sub(firstB).Dot(out) <= b.cutM+reachM
	})
	if !ok {
		end, start := head[len(head)-1], path[0]
		in, out := unit(end.Sub(head[len(head)-2])), unit(path[1].Sub(start))
		if j, ok := turnedBack(end, start, in, out, loose); ok {
			return head, j, path
		}
		return head, direct(end, start, in, out), path
	}
	in, out := unit(tail[ka+1].Sub(tail[ka])), unit(next[kb+1].Sub(next[kb]))
	tail, next = tail[:ka+1], next[kb+1:]
	if j, ok := b.bent(at, in, out, at.Sub(lastA).Dot(in), firstB.Sub(at).Dot(out), loose); ok {
		start, end := j.points[0], j.points[len(j.points)-1]
		for len(tail) > 1 && tail[len(tail)-1].Sub(start).Dot(in) > 0 {
			tail = tail[:len(tail)-1]
		}
		for len(next) > 1 && next[0].Sub(end).Dot(out) < 0 {
			next = next[1:]
		}
		return tail, j, append([]geo.XY{end}, next...)
	}
	if bends && len(loose) > 0 {
		if j, ok := tangent(head, path, loose); ok {
			return head, j, path
		}
	}
	j = joint{points: []geo.XY{at}, corner: []bool{turnBetween(in, out) > cornerRad}, doubtM: []float64{0}}
	j.freeM = math.Max(0, math.Min(at.Sub(lastA).Dot(in), firstB.Sub(at).Dot(out)))
	return tail, j, append([]geo.XY{at}, next...)
}

// take appends points of one run, with the flags of the joint that they belong
// to.
func (sh *shape) take(pts, add []geo.XY, owner int32, j joint) []geo.XY {
	for i, p := range add {
		corner, doubt := false, 0.0
		if i < len(j.corner) {
			corner, doubt = j.corner[i], j.doubtM[i]
		}
		if n := len(pts); n > 0 && pts[n-1].Dist(p) < 1e-6 {
			sh.corner[n-1] = sh.corner[n-1] || corner
			sh.doubtM[n-1] = math.Max(sh.doubtM[n-1], doubt)
			sh.freeM[n-1] = math.Max(sh.freeM[n-1], j.freeM)
			sh.owner[n-1] = owner
			continue
		}
		pts = append(pts, p)
		sh.owner = append(sh.owner, owner)
		sh.corner = append(sh.corner, corner)
		sh.doubtM = append(sh.doubtM, doubt)
		sh.freeM = append(sh.freeM, j.freeM)
	}
	return pts
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
// reach of both former ends and fit to cut both there: legs ka and kb, and the
// place.
func crossing(a, b []geo.XY, reach float64, fit func(at, in, out geo.XY) bool) (ka, kb int, at geo.XY, ok bool) {
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
			if !hit || !fit(p, unit(a[i+1].Sub(a[i])), unit(b[j+1].Sub(b[j]))) {
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
