package cases

import "loamline.example/geo"

// fixCases are walks on which the fix is another one on the way.
func fixCases() []Case {
	again := func(backM float64) func(b *bench) {
		return func(b *bench) {
			l := b.bury("A", straightPath(60), flat(1))
			b.walk(l, 0, 30, 2)
			b.clock += 3600
			first := len(b.rows)
			b.walk(l, 32-backM, 60, 2)
			for _, r := range b.since(first) {
				r.shown = r.shown.Add(geo.XY{Y: 0.4})
			}
			b.orAside(0.4)
		}
	}
	return cook([]recipe{
		{"new-fix/after-an-hour", "an hour's pause, and all that follows lies 0.4 m aside", again(0)},
		{"new-fix/after-an-hour-overlapping", "the same, begun again 10 m back", again(10)},
		{"new-fix/loose-in-a-bend", "tight on both legs of a swept bend and loose in it, under trees", func(b *bench) {
			path := append(append(polyPath(8, -20), arcPath(8, 90)...), polyPath(-20, 8)...)
			l := b.bury("A", path, flat(1))
			b.walk(l, 0, 18, 1.5)
			b.gear.fix, b.gear.noiseM, b.gear.statedM = 5, 0.4, 0.4
			b.walk(l, 19.5, 33, 1.5)
			b.gear.fix, b.gear.noiseM, b.gear.statedM = 4, 0.012, 0.015
			b.walk(l, 34.5, l.path.Length(), 1.5)
		}},
	})
}
