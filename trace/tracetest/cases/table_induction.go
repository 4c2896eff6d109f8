package cases

import "loamline.example/geo"

// inductionCases start or end beside an induction transmitter, whose own field
// reaches the receiver on the first metres.
func inductionCases() []Case {
	near := func(b *bench, at geo.XY) {
		b.gear.coil, b.gear.coilAt = 1500, at
	}
	return cook([]recipe{
		{"induction/start-every-column", "the transmitter stands over the start", func(b *bench) {
			b.gear.antennas, b.gear.current, b.gear.null = true, true, true
			near(b, geo.XY{X: -0.5})
			l := b.bury("A", straightPath(70), flat(1))
			b.walk(l, 0, 70, 2)
		}},
		{"induction/end-every-column", "the transmitter stands over the end", func(b *bench) {
			b.gear.antennas, b.gear.current = true, true
			near(b, geo.XY{X: 70.3})
			l := b.bury("A", straightPath(70), flat(1.4))
			b.walk(l, 0, 70, 2)
		}},
		{"induction/start-depth-only", "the transmitter stands over the start, depth alone", func(b *bench) {
			near(b, geo.XY{X: -0.5})
			l := b.bury("A", straightPath(70), flat(1))
			b.walk(l, 0, 70, 2)
		}},
		{"induction/middle", "the transmitter stands over the middle", func(b *bench) {
			b.gear.antennas, b.gear.current = true, true
			near(b, geo.XY{X: 35})
			l := b.bury("A", straightPath(70), flat(0.8))
			b.walk(l, 0, 70, 2)
		}},
	})
}
