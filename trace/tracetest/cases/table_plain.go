package cases

import (
	"math"

	"loamline.example/geo"
)

// plainCases are locates at which nothing is wrong: the line is drawn, and
// nothing is told.
func plainCases() []Case {
	out := cook([]recipe{
		{"plain/straight", "60 m, RTK, every 2 m", func(b *bench) {
			l := b.bury("A", straightPath(60), flat(1))
			b.walk(l, 0, 60, 2)
		}},
		{"plain/elbow", "a corner of 90° on a reading", func(b *bench) {
			l := b.bury("A", polyPath(0, 0, 30, 0, 30, 30), flat(1))
			b.walk(l, 0, 60, 2)
		}},
		{"plain/swept", "a bend of 90° with a radius of 10 m", func(b *bench) {
			path := arcPath(10, 90)
			l := b.bury("A", append(append(polyPath(10, -20), path...), polyPath(-20, 10)...), flat(1))
			b.walk(l, 0, l.path.Length(), 2)
		}},
		{"plain/every-column", "both antennas, current and null", func(b *bench) {
			b.gear.antennas, b.gear.current, b.gear.null = true, true, true
			l := b.bury("A", straightPath(60), flat(1.2))
			b.walk(l, 0, 60, 2)
		}},
		{"plain/last-digits", "hardly any signal is left at the end, of which the last digits are shown", func(b *bench) {
			b.gear.antennas, b.gear.current, b.gear.null = true, true, true
			l := b.bury("A", straightPath(120), flat(1.2))
			full := 0.0
			for i, r := range b.walk(l, 0, 120, 2) {
				if i == 0 {
					full = r.low
				}
				left := math.Exp(-0.03 * float64(2*i))
				r.low, r.high = math.Round(100*left*r.low/full)/100, math.Round(100*left*r.high/full)/100
				if r.currentMA = math.Round(40*left*r.currentMA/currentMA) / 10; r.low < 0.1 {
					r.depthM = unknown
				}
			}
		}},
		{"plain/whole-feet", "depths to whole feet that were written in centimetres, beside antennas", func(b *bench) {
			b.gear.antennas, b.gear.current = true, true
			l := b.bury("A", straightPath(100), func(s float64) float64 { return 1.2 + 0.15*math.Sin(s/9) })
			for _, r := range b.walk(l, 0, 100, 2) {
				r.depthM = math.Round(100*geo.FootM*math.Round(r.depthM/geo.FootM)) / 100
			}
		}},
		{"plain/round-figures", "currents to ten milliamperes and nulls to a tenth of a metre", func(b *bench) {
			b.gear.current, b.gear.null = true, true
			l := b.bury("A", straightPath(100), flat(1.2))
			for i, r := range b.walk(l, 0, 100, 2) {
				r.currentMA = 10 * math.Round(r.currentMA*math.Exp(-0.02*float64(i))/10)
				r.nullM = math.Round(10*(r.nullM+0.03*math.Sin(float64(i)/8))) / 10
			}
		}},
		{"plain/float", "RTK float, 0.25 m stated and true", func(b *bench) {
			b.gear.fix, b.gear.statedM, b.gear.noiseM = 5, 0.25, 0.2
			l := b.bury("A", straightPath(80), flat(1))
			b.walk(l, 0, 80, 2)
		}},
		{"plain/sbas", "SBAS, 0.6 m stated and true", func(b *bench) {
			b.gear.fix, b.gear.statedM, b.gear.noiseM = 2, 0.6, 0.5
			l := b.bury("A", straightPath(80), flat(1))
			b.walk(l, 0, 80, 2)
		}},
		{"plain/slow-fall", "falls from 0.8 to 1.6 m over 60 m", func(b *bench) {
			l := b.bury("A", straightPath(60), func(s float64) float64 { return 0.8 + 0.8*s/60 })
			b.walk(l, 0, 60, 2)
		}},
		{"plain/two-lines", "two lines 6 m apart, each under its own name", func(b *bench) {
			l := b.bury("A", straightPath(60), flat(1))
			m := b.bury("B", polyPath(0, 6, 60, 6), flat(0.8))
			b.walk(l, 0, 60, 2)
			b.walk(m, 0, 60, 2)
		}},
		{"plain/exposed", "exposed twice, where it was traced", func(b *bench) {
			l := b.bury("A", straightPath(60), flat(1))
			b.walk(l, 0, 60, 2)
			b.expose(l, 15)
			b.expose(l, 45)
		}},
		{"plain/two-days", "walked on two days with the same result", func(b *bench) {
			l := b.bury("A", straightPath(60), flat(1))
			b.walk(l, 0, 60, 2)
			b.nextDay()
			b.walk(l, 0.5, 60, 2.5)
		}},
		{"plain/every-half-metre", "read every half metre, each place pinpointed to 5 cm", func(b *bench) {
			l := b.bury("A", straightPath(60), flat(1))
			for s := 0.0; s <= 60; s += 0.5 {
				b.read(l, s, b.norm(0.05))
			}
		}},
	})
	for i := range out {
		out[i].Plain = true
	}
	return out
}

// fittingCases are offsets by fittings that are the line, and look like a step
// onto another: they stay lines, whether anything is told of them or not.
func fittingCases() []Case {
	return cook([]recipe{
		{"fittings/1m-every-column", "an offset of 1 m by two 45° fittings, every column steady", func(b *bench) {
			b.gear.antennas, b.gear.current, b.gear.null = true, true, true
			l := b.bury("A", polyPath(0, 0, 30, 0, 31, 1, 60, 1), flat(1))
			b.walk(l, 0, l.path.Length(), 1)
		}},
		{"fittings/2m-there-and-back", "an offset of 2 m for 12 m, by four 45° fittings", func(b *bench) {
			b.gear.current = true
			l := b.bury("A", polyPath(0, 0, 25, 0, 27, 2, 39, 2, 41, 0, 65, 0), flat(1))
			b.walk(l, 0, l.path.Length(), 1.5)
		}},
		{"fittings/0.6m-position-only", "an offset of 0.6 m, positions alone", func(b *bench) {
			b.gear.depth = false
			l := b.bury("A", polyPath(0, 0, 30, 0, 30.6, 0.6, 60, 0.6), flat(1))
			b.walk(l, 0, l.path.Length(), 2)
		}},
	})
}
