package plan

import "math"

// Thin leaves out points that lie closer than d to the one before; the ends
// stay.
func Thin(path []Pt, d float64) []Pt {
	if len(path) < 3 {
		return path
	}
	out := []Pt{path[0]}
	for _, q := range path[1 : len(path)-1] {
		if !(q.Sub(out[len(out)-1]).Norm() < d) {
			out = append(out, q)
		}
	}
	return append(out, path[len(path)-1])
}

// ClipPath returns the pieces of a path that lie in r (segment clipping after
// Liang and Barsky, ACM Transactions on Graphics 3(1), 1984).
func ClipPath(path []Pt, r Rect) [][]Pt {
	var out [][]Pt
	var run []Pt
	flush := func() {
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	for i := 0; i+1 < len(path); i++ {
		a, b, ok := clipSegment(path[i], path[i+1], r)
		if !ok {
			flush()
			continue
		}
		if len(run) == 0 || run[len(run)-1] != a {
			flush()
			run = []Pt{a}
		}
		run = append(run, b)
		if b != path[i+1] {
			flush()
		}
	}
	flush()
	return out
}

func clipSegment(a, b Pt, r Rect) (Pt, Pt, bool) {
	if !a.Finite() || !b.Finite() {
		return a, b, false
	}
	t0, t1 := 0.0, 1.0
	d := b.Sub(a)
	for _, e := range [4][2]float64{{-d.X, a.X - r.X}, {d.X, r.Right() - a.X}, {-d.Y, a.Y - r.Y}, {d.Y, r.Bottom() - a.Y}} {
		p, q := e[0], e[1]
		switch {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = math.Max(t0, q/p)
		case p > 0:
			t1 = math.Min(t1, q/p)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	from, to := a, b
	if t0 > 0 {
		from = a.Add(d.Scale(t0))
	}
	if t1 < 1 {
		to = a.Add(d.Scale(t1))
	}
	return from, to, true
}

// ClipRing returns a closed ring cut to r (Sutherland and Hodgman, Communications
// of the ACM 17(1), 1974). The result may run along the sides of r: fill it, but
// draw outlines with ClipPath.
func ClipRing(ring []Pt, r Rect) []Pt {
	type side struct {
		inside func(Pt) bool
		cut    func(a, b Pt) Pt
	}
	atX := func(x float64) func(a, b Pt) Pt {
		return func(a, b Pt) Pt { return Pt{x, a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)} }
	}
	atY := func(y float64) func(a, b Pt) Pt {
		return func(a, b Pt) Pt { return Pt{a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y), y} }
	}
	for _, s := range []side{
		{func(p Pt) bool { return p.X >= r.X }, atX(r.X)},
		{func(p Pt) bool { return p.X <= r.Right() }, atX(r.Right())},
		{func(p Pt) bool { return p.Y >= r.Y }, atY(r.Y)},
		{func(p Pt) bool { return p.Y <= r.Bottom() }, atY(r.Bottom())},
	} {
		var out []Pt
		for i, b := range ring {
			a := ring[(i+len(ring)-1)%len(ring)]
			if s.inside(a) != s.inside(b) {
				out = append(out, s.cut(a, b))
			}
			if s.inside(b) {
				out = append(out, b)
			}
		}
		ring = out
	}
	return ring
}
