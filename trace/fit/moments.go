package fit

import (
	"math"

	"loamline.example/geo"
)

// moments are the weighted sums that a straight line or a circle needs; z is
// the squared distance from the origin that the caller keeps near the points.
type moments struct {
	w, x, y, xx, xy, yy, z, xz, yz, zz float64
	n                                  int
}

func (m *moments) add(p geo.XY, wt float64) {
	z := p.X*p.X + p.Y*p.Y
	m.n++
	m.w += wt
	m.x += wt * p.X
	m.y += wt * p.Y
	m.xx += wt * p.X * p.X
	m.xy += wt * p.X * p.Y
	m.yy += wt * p.Y * p.Y
	m.z += wt * z
	m.xz += wt * p.X * z
	m.yz += wt * p.Y * z
	m.zz += wt * z * z
}

// scatter is the weighted sums of squares and products about the mean.
func (m *moments) scatter() (xx, xy, yy float64) {
	mx, my := m.x/m.w, m.y/m.w
	return m.xx - m.x*mx, m.xy - m.x*my, m.yy - m.y*my
}

// straight is a line through At along the unit vector Dir.
type straight struct{ at, dir geo.XY }

// line fits by weighted total least squares: the smaller eigenvalue of the
// scatter matrix is the sum of weighted squares (Pearson 1901, Phil. Mag. 2:559).
func (m *moments) line() (straight, float64) {
	mx, my := m.x/m.w, m.y/m.w
	sxx, sxy, syy := m.scatter()
	half, diff := (sxx+syy)/2, (sxx-syy)/2
	root := math.Hypot(diff, sxy)
	angle := 0.5 * math.Atan2(sxy, diff)
	return straight{geo.XY{X: mx, Y: my}, geo.XY{X: math.Cos(angle), Y: math.Sin(angle)}}, math.Max(0, half-root)
}

// lineCost is the sum of weighted squares of line alone.
func (m *moments) lineCost() float64 {
	sxx, sxy, syy := m.scatter()
	return math.Max(0, (sxx+syy)/2-math.Sqrt((sxx-syy)*(sxx-syy)/4+sxy*sxy))
}

// circle has its centre and radius in metres.
type circle struct {
	center geo.XY
	radius float64
}

// arc fits a circle by Kåsa's algebraic least squares (1976, IEEE Trans.
// Instrum. Meas. 25:8) and returns the sum of weighted squares of the distances
// from it, to first order; ok is false where the points don't bend.
func (m *moments) arc() (c circle, cost float64, ok bool) {
	mx, my, mz := m.x/m.w, m.y/m.w, m.z/m.w
	sxx, sxy, syy := m.scatter()
	sxz, syz, szz := m.xz-m.x*mz, m.yz-m.y*mz, m.zz-m.z*mz
	det := sxx*syy - sxy*sxy
	if det <= 1e-12*sxx*syy || det <= 0 {
		return c, 0, false
	}
	a, b := (sxz*syy-syz*sxy)/det, (syz*sxx-sxz*sxy)/det
	c.center = geo.XY{X: a / 2, Y: b / 2}
	r2 := mz - a*mx - b*my + (a*a+b*b)/4
	if !(r2 > 0) {
		return c, 0, false
	}
	c.radius = math.Sqrt(r2)
	return c, max(0, szz-a*sxz-b*syz) / (4 * r2), true
}

// lineFit is the line through some points, for asking how far others are off.
type lineFit struct {
	mean         geo.XY
	ux, uy, u2   float64 // along the line, and the square of that
	along, share float64 // how far the points spread, and 1/their weight
	cost         float64 // sum of weighted squares
}

// fit works out what lineMisfit and lineCost need, once. It is filled in where it lies, for
// the search for pieces asks it of every sample, and copies of it wait for each other.
func (f *lineFit) fit(m *moments) {
	mx, my := m.x/m.w, m.y/m.w
	f.mean, f.share = geo.XY{X: mx, Y: my}, 1/m.w
	sxx, sxy, syy := m.xx-m.x*mx, m.xy-m.x*my, m.yy-m.y*my
	// The line's direction is the eigenvector of the larger eigenvalue.
	root := math.Sqrt((sxx-syy)*(sxx-syy)/4 + sxy*sxy)
	large := (sxx+syy)/2 + root
	ux, uy := large-syy, sxy
	if sxx < syy {
		ux, uy = sxy, large-sxx
	}
	f.ux, f.uy, f.u2, f.along = ux, uy, ux*ux+uy*uy, sxx+syy
	f.cost = max(0, (sxx+syy)/2-root)
}

// surely is the share of a limit below which a misfit surely is within it, however sums and
// roots round. A bound of the arithmetic.
const surely = 0.99

// surelyWithin reports whether the misfit of p is no more than a limit, without a division:
// the variance of its distance is at least its own.
func (f *lineFit) surelyWithin(p geo.XY, wt, limit float64) bool {
	off := (p.X-f.mean.X)*f.uy - (p.Y-f.mean.Y)*f.ux
	return off*off*wt < surely*limit*f.u2
}

// misfit is the squared distance of p from the line over its variance, the line's
// own included.
func (f *lineFit) misfit(p geo.XY, wt float64) float64 {
	dx, dy := p.X-f.mean.X, p.Y-f.mean.Y
	if f.u2 == 0 {
		return (dx*dx + dy*dy) * wt / 2
	}
	t, off := dx*f.ux+dy*f.uy, dx*f.uy-dy*f.ux
	v := 1/wt + f.share
	if f.along > 0 {
		v += t * t / f.u2 / f.along
	}
	return off * off / f.u2 / v
}

// lineMisfit is that of the line so far; 0 while there is no line.
func (m *moments) lineMisfit(p geo.XY, wt float64) float64 {
	if m.n < 3 {
		return 0
	}
	var f lineFit
	f.fit(m)
	return f.misfit(p, wt)
}

// arcMisfit is the same for a circle, and says nothing before there are enough
// points to tell one.
func (m *moments) arcMisfit(p geo.XY, wt float64) float64 {
	if m.n < leastBent {
		return 0
	}
	c, _, ok := m.arc()
	if !ok || c.radius > straightRadiusM {
		return m.lineMisfit(p, wt)
	}
	return c.misfit(p, wt)
}

// leastBent is the number of points that tell a circle, straightRadiusM the radius
// beyond which it is as good as a line. Judgement: over a hundred metres such an arc leaves
// its chord by less than 0.2 m.
const (
	leastBent       = 6
	straightRadiusM = 20 * maxRadiusM
)

func (c circle) misfit(p geo.XY, wt float64) float64 {
	d := p.Sub(c.center)
	off := math.Sqrt(d.Dot(d)) - c.radius
	return off * off * wt / 4
}

// surelyWithin reports whether the misfit of p is no more than a limit, without a root: for
// d²-r² is (d-r)(d+r), and d+r at least r.
func (c circle) surelyWithin(p geo.XY, wt, limit float64) bool {
	d := p.Sub(c.center)
	off := d.Dot(d) - c.radius*c.radius
	return off*off*wt < surely*limit*4*c.radius*c.radius
}
