package cases

import "fmt"

// depthCases are dives, humps, steps and ramps.
func depthCases() []Case {
	columns := func(b *bench, antennas, depth, rest bool, gapM float64) {
		b.gear.antennas, b.gear.depth, b.gear.current, b.gear.null, b.gear.gapM = antennas, depth, rest, rest, gapM
	}
	var out []recipe
	for _, gapM := range []float64{0.3, 0.4, 0.5, 0.7} {
		out = append(out, recipe{fmt.Sprintf("dive/2.5m-gap-%.1f", gapM), "from 0.7 to 2.5 m under a road, both antennas, depth and current", func(b *bench) {
			columns(b, true, true, true, gapM)
			l := b.bury("A", straightPath(90), dive(0.7, 2.5, 30, 40, 55, 65))
			b.walk(l, 0, 90, 2)
		}})
	}
	out = append(out, []recipe{
		{"dive/3m-antennas-only", "from 0.6 to 3 m, signals alone", func(b *bench) {
			columns(b, true, false, false, 0.4)
			l := b.bury("A", straightPath(90), dive(0.6, 3, 30, 42, 55, 67))
			b.walk(l, 0, 90, 2)
		}},
		{"dive/3m-depth-only", "from 0.6 to 3 m, depth alone", func(b *bench) {
			columns(b, false, true, false, 0.4)
			l := b.bury("A", straightPath(90), dive(0.6, 3, 30, 42, 55, 67))
			b.walk(l, 0, 90, 2)
		}},
		{"dive/3m-gap-unstated", "from 0.6 to 3 m, the antennas' gap not stated", func(b *bench) {
			columns(b, true, true, false, 0.4)
			b.sheet.noGap = true
			l := b.bury("A", straightPath(90), dive(0.6, 3, 30, 42, 55, 67))
			b.walk(l, 0, 90, 2)
		}},
		{"dive/stays-down", "goes from 0.6 to 2.4 m and ends there", func(b *bench) {
			columns(b, true, true, true, 0.4)
			l := b.bury("A", straightPath(80), dive(0.6, 2.4, 35, 45, 200, 201))
			b.walk(l, 0, 80, 2)
		}},
		{"dive/step", "steps from 0.7 to 2 m within a metre, both antennas", func(b *bench) {
			columns(b, true, true, true, 0.4)
			l := b.bury("A", straightPath(70), dive(0.7, 2, 35, 36, 200, 201))
			b.walk(l, 0, 70, 2)
		}},
		{"hump/antennas", "rises from 1.2 to 0.4 m between 28 and 34 m, both antennas", func(b *bench) {
			columns(b, true, true, true, 0.4)
			l := b.bury("A", straightPath(60), dive(1.2, 0.4, 27, 28.5, 33.5, 35))
			b.walk(l, 0, 60, 2)
		}},
		{"hump/two-readings", "two shallow readings of 0.4 m where the rest has 1.2, depth alone", func(b *bench) {
			l := b.bury("A", straightPath(60), dive(1.2, 0.4, 28.5, 29.5, 32.5, 33.5))
			b.walk(l, 0, 60, 2)
		}},
		{"hump/three-readings", "three shallow readings of 0.5 m where the rest has 1.3, depth alone", func(b *bench) {
			l := b.bury("A", straightPath(60), dive(1.3, 0.5, 26.5, 27.5, 32.5, 33.5))
			b.walk(l, 0, 60, 2)
		}},
		{"hump/one-reading-antennas", "one shallow reading of 0.45 m on a line read every 6 m, both antennas", func(b *bench) {
			columns(b, true, true, true, 0.4)
			l := b.bury("A", straightPath(120), dive(1.2, 0.45, 58, 59, 61, 62))
			b.walk(l, 0, 120, 6)
		}},
		{"dive/one-reading-signals", "one deep reading of 2.2 m on a line read every 6 m, two signals", func(b *bench) {
			columns(b, true, true, false, 0.5)
			l := b.bury("A", straightPath(120), dive(1, 2.2, 57, 59, 61, 63))
			b.walk(l, 0, 120, 6)
		}},
		{"hump/at-the-end", "the last three readings are shallow", func(b *bench) {
			l := b.bury("A", straightPath(60), dive(1.2, 0.4, 54.5, 55.5, 100, 101))
			b.walk(l, 0, 60, 2)
		}},
		{"parallel-passes/same-depth", "two lines 1.5 m apart, both at 1.00 m, each under its own name", func(b *bench) {
			columns(b, true, true, true, 0.4)
			l := b.bury("A", straightPath(60), flat(1))
			m := b.bury("B", polyPath(0, 1.5, 60, 1.5), flat(1))
			b.walk(l, 0, 60, 2)
			b.walk(m, 0, 60, 2)
		}},
	}...)
	return cook(out)
}
