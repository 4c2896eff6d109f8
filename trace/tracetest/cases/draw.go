package cases

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loamline.example/geo"
)

// Draw makes a case from a seed: a shape, a spacing, columns, an accuracy, a
// course of depth and at most one fault, each drawn at random. What the shape
// does is read at least twice, so that a map can know of it.
func Draw(seed uint64) Case {
	b := newBench("draw", seed)
	shape := shapesDrawn[b.rng.IntN(len(shapesDrawn))]
	spacingM := b.between(0.7, 4)
	path := shape.path(b, spacingM)
	classes := b.drawClass()
	b.drawColumns()
	courseName, depth := b.drawDepth(geo.NewPolyline(path).Length())
	fault := faultsDrawn[b.rng.IntN(len(faultsDrawn))]
	fault.walk(b, path, depth, spacingM)
	name := fmt.Sprintf("%s/%s", fault.name, shape.name)
	return b.caseOf(name, fmt.Sprintf("seed %d: %s, every %.1f m, %s, depth %s", seed, strings.ReplaceAll(name, "/", ", "), spacingM, classes, courseName))
}

// DrawPlain makes a plain locate from a seed: straight, elbowed or swept, with
// noise from RTK to SBAS that is stated as it is.
func DrawPlain(seed uint64) Case {
	b := newBench("plain", seed)
	spacingM := b.between(1, 3)
	shape := shapesDrawn[b.rng.IntN(plainShapes)]
	path := shape.path(b, spacingM)
	class := b.drawClass()
	b.drawColumns()
	_, depth := b.plainDepth(geo.NewPolyline(path).Length())
	l := b.bury("A", path, depth)
	b.walk(l, 0, l.path.Length(), spacingM)
	c := b.caseOf("plain/"+shape.name, fmt.Sprintf("seed %d: %s, every %.1f m, %s", seed, shape.name, spacingM, class))
	c.Plain = true
	return c
}

func (b *bench) between(low, high float64) float64 { return low + (high-low)*b.rng.Float64() }

// drawClass chooses a receiver of positions, with an honest statement.
func (b *bench) drawClass() string {
	classes := []struct {
		name           string
		fix            int
		noiseM, stateM float64
	}{{"RTK", 4, 0.012, 0.015}, {"RTK float", 5, 0.15, 0.18}, {"SBAS", 2, 0.5, 0.55}}
	c := classes[[]int{0, 0, 0, 1, 2}[b.rng.IntN(5)]]
	b.gear.fix, b.gear.noiseM, b.gear.statedM = c.fix, c.noiseM, c.stateM
	return c.name
}

func (b *bench) drawColumns() {
	g := &b.gear
	g.antennas, g.current, g.null = b.rng.IntN(2) == 0, b.rng.IntN(2) == 0, b.rng.IntN(3) == 0
	g.depth = g.antennas || b.rng.IntN(6) > 0
	g.gapM = []float64{0.3, 0.4, 0.5, 0.7}[b.rng.IntN(4)]
}

func (b *bench) plainDepth(lengthM float64) (string, func(float64) float64) {
	d, fall := b.between(0.6, 1.6), b.between(-0.3, 0.3)
	return "even", func(s float64) float64 { return d + fall*s/lengthM }
}

// drawDepth chooses a course of depth: even, or with a dive or a hump.
func (b *bench) drawDepth(lengthM float64) (string, func(float64) float64) {
	if lengthM < 30 || b.rng.IntN(3) > 0 {
		return b.plainDepth(lengthM)
	}
	from, ramp, stay := b.between(0.3, 0.5)*lengthM, b.between(4, 10), b.between(4, 12)
	if b.rng.IntN(2) == 0 {
		return "a dive", dive(b.between(0.6, 0.9), b.between(1.8, 3), from, from+ramp, from+ramp+stay, from+2*ramp+stay)
	}
	return "a hump", dive(b.between(1, 1.5), b.between(0.35, 0.6), from, from+ramp/3, from+ramp/3+stay, from+ramp*2/3+stay)
}

// plainShapes is how many of shapesDrawn are plain.
const plainShapes = 3

var shapesDrawn = []struct {
	name string
	path func(b *bench, spacingM float64) []geo.XY
}{
	{"straight", func(b *bench, stepM float64) []geo.XY { return straightPath(stepM * b.between(18, 40)) }},
	{"elbow", func(b *bench, stepM float64) []geo.XY {
		turn := b.between(20, 100) * math.Pi / 180
		l := stepM * b.between(10, 20)
		return polyPath(0, 0, l, 0, l+l*math.Cos(turn), l*math.Sin(turn))
	}},
	{"swept", func(b *bench, stepM float64) []geo.XY {
		r := max(3*stepM, b.between(4, 15))
		arc := arcPath(r, b.between(30, 110))
		n := len(arc)
		out := arc[n-1].Sub(arc[n-2])
		end := arc[n-1].Add(out.Scale(8 * stepM / out.Norm()))
		return slices.Concat([]geo.XY{{X: r, Y: -8 * stepM}}, arc, []geo.XY{end})
	}},
	{"arc", func(b *bench, stepM float64) []geo.XY {
		return arcPath(max(4*stepM, b.between(5, 40)), b.between(180, 370))
	}},
	{"wave", func(b *bench, stepM float64) []geo.XY {
		wave := stepM * b.between(4, 20)
		return wavePath(3*wave, wave*b.between(0.05, 0.2), wave)
	}},
	{"detour", func(b *bench, stepM float64) []geo.XY {
		forM := stepM * b.between(2, 4)
		return detourPath(30*stepM, 12*stepM, 12*stepM+forM, b.between(1, 4))
	}},
	{"hairpin", func(b *bench, stepM float64) []geo.XY {
		return uTurnPath(15*stepM, max(b.between(0.6, 3), 2*b.gear.noiseM))
	}},
	{"zigzag", func(b *bench, stepM float64) []geo.XY {
		l := stepM * b.between(4, 8)
		return polyPath(0, 0, l, 0, l, l, 2*l, l, 2*l, 0, 3*l, 0)
	}},
}

// faultsDrawn walk a path, each with its own mistake.
var faultsDrawn = []struct {
	name string
	walk func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64)
}{
	{"no-fault", func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64) {
		l := b.bury("A", path, depth)
		b.walk(l, 0, l.path.Length(), stepM)
	}},
	{"no-fault-again", func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64) {
		l := b.bury("A", path, depth)
		b.walk(l, 0, l.path.Length(), stepM)
		b.nextDay()
		b.walk(l, l.path.Length(), 0, stepM)
	}},
	{"pass-aside", func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64) {
		l := b.bury("A", path, depth)
		aside := b.between(0.25, 1.2) + 2*b.gear.noiseM
		if b.rng.IntN(2) == 0 { // the wrong one first or last
			b.walkAside(l, 0, l.path.Length(), stepM, aside)
			b.nextDay()
			b.walk(l, 0, l.path.Length(), stepM)
			return
		}
		b.walk(l, 0, l.path.Length(), stepM)
		b.nextDay()
		b.walkAside(l, l.path.Length(), 0, stepM, aside)
	}},
	{"standing", func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64) {
		l := b.bury("A", path, depth)
		at := []float64{0, 0.5, 1}[b.rng.IntN(3)] * l.path.Length()
		if at > 0 {
			b.walk(l, 0, at, stepM)
		}
		b.stand(l, at, 40+b.rng.IntN(200))
		if at < l.path.Length() {
			b.walk(l, at, l.path.Length(), stepM)
		}
	}},
	{"swept-across", func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64) {
		l := b.bury("A", path, depth)
		b.sweep(l, l.path.Length(), min(stepM, 1)/2, b.between(0.3, 2.5), 2+b.rng.IntN(3))
	}},
	{"unmapped-jump", func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64) {
		l := b.bury("A", path, depth)
		from := b.between(0.25, 0.6) * l.path.Length()
		to := from + stepM*b.between(4, 10)
		n := neighbor{asideM: b.between(1, 3) + 2*b.gear.noiseM, currentMA: currentMA * b.between(0.2, 1), nullM: b.between(-0.3, 0.3)}
		for s := 0.0; s <= l.path.Length(); s += stepM {
			if s < from || s > to {
				b.read(l, s, 0)
				continue
			}
			r := b.read(l, s, n.asideM)
			b.signals(r, depth(s)*1.2, n.currentMA)
			if b.gear.null {
				r.nullM = n.nullM + b.norm(0.02)
			}
		}
	}},
	{"constant-error", func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64) {
		// Published figures for autonomous and differential receivers bound these.
		b.gear.fix = b.rng.IntN(3)
		size := []float64{4, 4, 1.5}[b.gear.fix]
		b.gear.statedM = unknown
		if b.rng.IntN(3) == 0 && b.gear.fix > 0 {
			b.gear.statedM = 0.02
		}
		angle := b.between(0, 2*math.Pi)
		b.gear.noiseM = 0.02
		b.gear.offset = geo.XY{X: math.Cos(angle), Y: math.Sin(angle)}.Scale(b.between(0.3, 1) * size)
		l := b.bury("A", path, depth)
		b.walk(l, 0, l.path.Length(), stepM)
	}},
	{"rounded", func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64) {
		b.sheet.decimals = 4 + b.rng.IntN(3)
		l := b.bury("A", path, depth)
		b.walk(l, 0, l.path.Length(), stepM)
	}},
	{"exposed-beside", func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64) {
		l := b.bury("A", path, depth)
		b.walkAside(l, 0, l.path.Length(), stepM, b.between(0.1, 2)+2*b.gear.noiseM)
		for range 1 + b.rng.IntN(2) {
			b.expose(l, b.between(0.1, 0.9)*l.path.Length())
		}
	}},
	{"depth-scale", func(b *bench, path []geo.XY, depth func(float64) float64, stepM float64) {
		b.gear.depth = true
		b.gear.depthScale = []float64{b.between(0.88, 0.95), b.between(1.05, 1.12), 10}[b.rng.IntN(3)]
		l := b.bury("A", path, depth)
		b.walk(l, 0, l.path.Length(), stepM)
		for range b.rng.IntN(3) {
			b.expose(l, b.between(0.1, 0.9)*l.path.Length())
		}
	}},
}
