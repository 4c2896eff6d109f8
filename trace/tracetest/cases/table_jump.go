package cases

import (
	"fmt"
	"math"

	"loamline.example/geo"
)

// neighbor is a line on no map beside the traced one.
type neighbor struct {
	asideM, depthM, currentMA, nullM float64
}

// walkJumping walks a straight line of 70 m and steps onto a neighbour between
// two stations.
func (b *bench) walkJumping(n neighbor, fromM, toM, stepM float64) {
	l := b.bury("A", straightPath(70), flat(1))
	for s := 0.0; s <= 70; s += stepM {
		if s < fromM || s > toM {
			b.read(l, s, 0)
			continue
		}
		r := b.readAt("A", geo.XY{X: s, Y: -n.asideM}, n.depthM)
		b.signals(r, n.depthM, n.currentMA)
		if b.gear.null {
			r.nullM = n.nullM + b.norm(0.02)
		}
	}
}

// walkHopping walks a straight line of 70 m and goes over to a neighbour between two
// stations, to stay there.
func (b *bench) walkHopping(n neighbor, fromM, toM float64) {
	l := b.bury("A", straightPath(70), flat(1))
	for s := 0.0; s <= 70; s += 2 {
		over := min(max(0, (s-fromM)/(toM-fromM)), 1)
		r := b.read(l, s, over*n.asideM)
		b.signals(r, 1+over*(n.depthM-1), (currentMA+over*(n.currentMA-currentMA))*fallen(s))
	}
}

// fallen is what part of the current is left at a station.
func fallen(stationM float64) float64 { return math.Exp(-0.006 * stationM) }

// jumpCases step sideways onto a line on no map, and back, with RTK.
func jumpCases() []Case {
	var out []recipe
	for _, asideM := range []float64{1, 2, 3} {
		out = append(out, recipe{fmt.Sprintf("jump/%.0fm-position-only", asideM), "onto a neighbour and back, no column but the position", func(b *bench) {
			b.gear.depth = false
			b.walkJumping(neighbor{asideM: asideM, depthM: 1, currentMA: currentMA}, 30, 42, 2)
		}})
	}
	return cook(append(out, []recipe{
		{"jump/1m-depth", "onto a neighbour at another depth", func(b *bench) {
			b.walkJumping(neighbor{asideM: 1, depthM: 1.5, currentMA: currentMA}, 30, 44, 2)
		}},
		{"jump/2m-depth-alike", "onto a neighbour at the same depth", func(b *bench) {
			b.walkJumping(neighbor{asideM: 2, depthM: 1, currentMA: currentMA}, 30, 44, 2)
		}},
		{"jump/2m-current", "onto a neighbour with a third of the current", func(b *bench) {
			b.gear.current = true
			b.walkJumping(neighbor{asideM: 2, depthM: 1.2, currentMA: currentMA / 3}, 28, 40, 2)
		}},
		{"jump/2m-null", "onto a neighbour where null and peak part", func(b *bench) {
			b.gear.null = true
			b.walkJumping(neighbor{asideM: 2, depthM: 1.1, currentMA: currentMA, nullM: 0.3}, 28, 40, 2)
		}},
		{"jump/2m-every-column", "onto a neighbour, every column shows it", func(b *bench) {
			b.gear.antennas, b.gear.current, b.gear.null = true, true, true
			b.walkJumping(neighbor{asideM: 2, depthM: 1.5, currentMA: currentMA / 3, nullM: 0.3}, 30, 46, 2)
		}},
		{"jump/1.5m-to-the-end", "onto a neighbour and never back", func(b *bench) {
			b.gear.current = true
			b.walkJumping(neighbor{asideM: 1.5, depthM: 1.2, currentMA: currentMA / 2}, 50, 70, 2)
		}},
		{"jump/1m-over-10m-to-the-end", "over ten metres onto a neighbour with three times the current, as deep, and never back", func(b *bench) {
			b.gear.current = true
			b.walkHopping(neighbor{asideM: 1, depthM: 1, currentMA: 3 * currentMA}, 30, 40)
		}},
		{"jump/1m-over-10m-in-a-wave", "over ten metres onto a neighbour with twice the current on a winding line, and never back", func(b *bench) {
			b.gear.current = true
			l := b.bury("A", wavePath(96, 2, 60), flat(1))
			for s := 0.0; s <= l.path.Length(); s += 2 {
				over := min(max(0, (s-44)/10), 1)
				r := b.read(l, s, over)
				b.signals(r, 1, currentMA*(1+over)*fallen(s))
			}
		}},
		{"jump/2.5m-beyond-28m-unread", "28 m are not read, and beyond them a neighbour is, to the end", func(b *bench) {
			l := b.bury("A", straightPath(84), flat(1))
			b.walk(l, 0, 28, 2)
			b.walkAside(l, 56, 84, 2, 2.5)
		}},
		{"jump/1.2m-beyond-45m-unread", "45 m are not read, and beyond them a neighbour is, no column but the position", func(b *bench) {
			b.gear.depth = false
			l := b.bury("A", straightPath(120), flat(1))
			b.walk(l, 0, 30, 1.5)
			b.walkAside(l, 75, 120, 2.5, -1.2)
		}},
		{"jump/1.5m-in-a-wave", "onto a neighbour and back on a winding line", func(b *bench) {
			b.gear.depth = false
			b.jumpInWave(2.4, 1.5, 54, 64)
		}},
		{"jump/2.5m-in-a-wave", "onto a neighbour and back on a winding line, read every 3.5 m", func(b *bench) {
			b.jumpInWave(3.5, 2.5, 45, 66)
		}},
		{"jump/2m-current-loose", "onto a neighbour with half the current and back, positions good to half a metre", func(b *bench) {
			b.gear.current, b.gear.fix, b.gear.noiseM, b.gear.statedM = true, 2, 0.5, 0.55
			b.walkJumping(neighbor{asideM: 2, depthM: 1.2, currentMA: currentMA / 2}, 26, 46, 2)
		}},
		{"jump/3m-signals-loose", "onto a neighbour with two thirds of the current and back, two antennas, positions good to half a metre", func(b *bench) {
			b.gear.antennas, b.gear.fix, b.gear.noiseM, b.gear.statedM = true, 2, 0.5, 0.55
			b.walkJumping(neighbor{asideM: 3, depthM: 1.2, currentMA: currentMA * 2 / 3}, 26, 46, 2)
		}},
		{"jump/2.5m-current-in-a-wave", "onto a neighbour with two fifths of the current and back on a winding line, positions good to half a metre", func(b *bench) {
			b.gear.current, b.gear.fix, b.gear.noiseM, b.gear.statedM = true, 2, 0.5, 0.55
			b.jumpInWave(2.4, 2.5, 40, 64)
			for i := range b.rows {
				if s := 2.4 * float64(i); s >= 40 && s <= 64 {
					b.rows[i].currentMA *= 0.4
				}
			}
		}},
		{"jump/3m-null-on-an-arc", "onto a neighbour over which the null stands aside, and back, positions good to half a metre", func(b *bench) {
			b.gear.null, b.gear.current, b.gear.fix, b.gear.noiseM, b.gear.statedM = true, true, 2, 0.5, 0.55
			l := b.bury("A", arcPath(30, 200), flat(1.3))
			for s := 0.0; s <= l.path.Length(); s += 2 {
				if s < 40 || s > 58 {
					b.read(l, s, 0)
					continue
				}
				r := b.read(l, s, 3)
				b.signals(r, 1.3*1.2, currentMA)
				r.nullM = 0.18 + b.norm(0.02)
			}
		}},
		{"jump/1m-every-metre", "onto a neighbour for 10 m, read every metre", func(b *bench) {
			b.walkJumping(neighbor{asideM: 1, depthM: 1.1, currentMA: currentMA}, 30, 40, 1)
		}},
	}...))
}

// jumpInWave walks a winding line and is beside it between two stations.
func (b *bench) jumpInWave(stepM, asideM, fromM, toM float64) {
	l := b.bury("A", wavePath(96, 3, 32), flat(1))
	for s := 0.0; s <= l.path.Length(); s += stepM {
		aside := 0.0
		if s >= fromM && s <= toM {
			aside = asideM
		}
		b.read(l, s, aside)
	}
}
