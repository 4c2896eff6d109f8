package cases

import "loamline.example/geo"

// lostCases are positions and depths that are lost for a while, several together, and
// come again as if nothing had been.
func lostCases() []Case {
	return cook([]recipe{
		{"lost-fix/standing", "the fix is lost for ten seconds where the walk stands, and found again there", func(b *bench) {
			l := b.bury("A", straightPath(60), flat(0.6))
			b.gear.stepS = 1
			b.walk(l, 0, 30, 1)
			first := len(b.rows)
			b.stand(l, 30, 10)
			for _, r := range b.since(first) {
				r.shown = r.shown.Add(geo.XY{X: 0.8, Y: -2.6})
			}
			b.stand(l, 30, 4)
			b.walk(l, 31, 60, 1)
		}},
		{"lost-fix/far-off", "nine positions of a loose walk lie 18 m aside", func(b *bench) {
			b.gear.fix, b.gear.noiseM, b.gear.statedM, b.gear.stepS = 2, 0.5, 0.9, 2
			l := b.bury("A", straightPath(34), flat(0.6))
			b.walk(l, 0, 20, 0.9)
			first := len(b.rows)
			b.walk(l, 20.9, 28.1, 0.9)
			for _, r := range b.since(first) {
				r.shown = r.shown.Add(geo.XY{X: -4, Y: 18})
			}
			b.walk(l, 29, 34, 0.9)
		}},
		{"lost-fix/poorer-and-aside", "tight over 40 m, and then loose by a fix that is all the while 1 m aside", func(b *bench) {
			l := b.bury("A", straightPath(80), flat(1))
			b.walk(l, 0, 40, 1.4)
			b.gear.fix, b.gear.noiseM, b.gear.statedM, b.gear.offset = 5, 0.2, 0.65, geo.XY{Y: 1}
			b.walk(l, 41.4, 80, 1.4)
		}},
		{"depth-slip/against-its-antennas", "two depths in a row are written down at a quarter of what the antennas hear", func(b *bench) {
			b.gear.antennas, b.gear.current = true, true
			l := b.bury("A", straightPath(80), flat(1.15))
			b.walk(l, 0, 80, 5)
			for _, k := range []int{8, 9} {
				b.rows[k].depthM = 0.26
			}
		}},
		{"exposed-depth/one-of-three-slips", "the depth of one of three exposures is noted down a sixth too large", func(b *bench) {
			l := b.bury("A", straightPath(120), flat(1.5))
			b.walk(l, 0, 120, 4)
			for _, s := range []float64{22, 61, 98} {
				b.expose(l, s)
			}
			b.rows[len(b.rows)-2].depthM = 1.5 * 1.16
		}},
	})
}
