package cases

import "math"

// alongCases have a line on no map beside them from the first reading to the last: what
// it does to depth and signal begins and ends nowhere, and only the null stands aside.
func alongCases() []Case {
	return cook([]recipe{
		{"along/null-aside", "a neighbour all along, the null half a metre aside, depths read too deep by changing parts", func(b *bench) {
			b.gear.null = true
			l := b.bury("A", straightPath(60), flat(1.7))
			b.readDeep(l, -0.5)
		}},
		{"along/null-aside-signals", "the same with both antennas, on a swept line", func(b *bench) {
			b.gear.null, b.gear.antennas, b.gear.current = true, true, true
			path := arcPath(40, 90)
			l := b.bury("A", path, flat(1.7))
			b.readDeep(l, 0.6)
		}},
		{"along/null-steady", "a null that the receiver shows 3 cm aside all along, as receivers may", func(b *bench) {
			b.gear.null, b.gear.current = true, true
			l := b.bury("A", straightPath(60), flat(1.7))
			for _, r := range b.walk(l, 0, 60, 1.5) {
				r.nullM += 0.03
			}
		}},
	})
}

// readDeep walks a line whose depths are read too deep, by a third to two thirds, with
// nulls at a distance from the peak.
func (b *bench) readDeep(l buried, nullM float64) {
	for s := 0.0; s <= l.path.Length(); s += 1.2 {
		r := b.read(l, s, 0)
		b.signals(r, l.depth(s)*(1.5+0.17*math.Sin(s/7)), currentMA)
		r.nullM = nullM + b.norm(0.08)
	}
}
