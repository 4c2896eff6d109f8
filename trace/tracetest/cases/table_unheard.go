package cases

import "loamline.example/geo"

// unheardCases are walked straight on where the signal was lost, while the line leaves.
func unheardCases() []Case {
	// lost walks 30 m of a line that turns off after 18 m, straight on from there.
	lost := func(b *bench, show func(r, before *row)) {
		b.gear.antennas, b.gear.current, b.gear.null = true, true, true
		l := b.bury("A", []geo.XY{{}, {X: 18}, {X: 26, Y: 8}}, flat(1.1))
		for s := 0.0; s <= 30; s += 1.5 {
			if s <= 18 {
				b.signals(b.read(l, s, 0), 1.1, currentMA)
				continue
			}
			r := b.readAt("A", geo.XY{X: s}, 1.1)
			show(r, &b.rows[len(b.rows)-2])
		}
	}
	blank := func(r, _ *row) {
		r.depthM, r.currentMA, r.low, r.high, r.nullM = unknown, unknown, unknown, unknown, unknown
	}
	return cook([]recipe{
		{"unheard/blank", "no figure of the locator for the last readings", func(b *bench) { lost(b, blank) }},
		{"unheard/zeros", "zeros in every column for the last readings", func(b *bench) {
			lost(b, func(r, _ *row) { r.depthM, r.currentMA, r.low, r.high, r.nullM = 0, 0, 0, 0, 0 })
		}},
		{"unheard/held", "the receiver holds its figures for the last readings", func(b *bench) {
			lost(b, func(r, before *row) {
				r.depthM, r.currentMA, r.low, r.high, r.nullM = before.depthM, before.currentMA, before.low, before.high, before.nullM
			})
		}},
	})
}
