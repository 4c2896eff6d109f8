package cases

import "fmt"

// shapeCases are lines that turn further or more sharply than most.
func shapeCases() []Case {
	var out []recipe
	for _, v := range []struct{ radiusM, degrees, stepM float64 }{{5, 270, 1}, {8, 360, 1.5}, {15, 360, 2}, {15, 330, 2}, {20, 380, 3}, {40, 300, 4}} {
		out = append(out, recipe{fmt.Sprintf("ring/%.0f-radius-%.0f-degrees", v.radiusM, v.degrees), "a ring, walked round", func(b *bench) {
			l := b.bury("A", arcPath(v.radiusM, v.degrees), flat(1))
			b.walk(l, 0, l.path.Length(), v.stepM)
		}})
	}
	for _, v := range []struct{ radiusM, degrees, stepM float64 }{{10, 180, 2}, {30, 210, 2}, {30, 230, 4}} {
		out = append(out, recipe{fmt.Sprintf("long-arc/%.0f-radius-%.0f-degrees", v.radiusM, v.degrees), "a long arc", func(b *bench) {
			l := b.bury("A", arcPath(v.radiusM, v.degrees), flat(1))
			b.walk(l, 0, l.path.Length(), v.stepM)
		}})
	}
	for _, v := range []struct{ asideM, forM, stepM float64 }{{2, 4, 2}, {1, 2, 1}, {4, 3, 2}, {1.5, 3, 1.5}, {3, 2, 1}} {
		out = append(out, recipe{fmt.Sprintf("detour/%.1fm-for-%.0fm-every-%.1fm", v.asideM, v.forM, v.stepM), "a detour round something", func(b *bench) {
			l := b.bury("A", detourPath(50, 22, 22+v.forM, v.asideM), flat(1))
			b.walk(l, 0, l.path.Length(), v.stepM)
		}})
	}
	for _, apartM := range []float64{0.6, 1, 2} {
		out = append(out, recipe{fmt.Sprintf("hairpin/%.1fm", apartM), "out, round and back beside itself", func(b *bench) {
			l := b.bury("A", uTurnPath(30, apartM), flat(1))
			b.walk(l, 0, l.path.Length(), l.path.Length()/float64(int(l.path.Length()/1.5)))
		}})
	}
	return cook(append(out, []recipe{
		{"branch/four-of-6m", "a main with four branches of 6 m, walked out and back under one name", func(b *bench) {
			main := b.bury("A", straightPath(60), flat(1))
			done := 0.0
			for _, x := range []float64{10, 26, 40, 52} {
				b.walk(main, done, x, 2)
				branch := b.bury("A", polyPath(x, 0, x, 6), flat(1))
				b.walk(branch, 2, 6, 2)
				b.walk(branch, 4, 2, 2)
				done = x
			}
			b.walk(main, done, 60, 2)
		}},
		{"branch/one-of-10m", "one branch of 10 m, walked after the main under its name", func(b *bench) {
			main := b.bury("A", straightPath(60), flat(1))
			branch := b.bury("A", polyPath(32, 0, 32, 10), flat(1))
			b.walk(main, 0, 60, 2)
			b.walk(branch, 1, 10, 1.5)
		}},
		{"branch/slanted", "a branch of 8 m that leaves at 45°, walked out and back", func(b *bench) {
			main := b.bury("A", straightPath(50), flat(1))
			branch := b.bury("A", polyPath(24, 0, 29.7, 5.7), flat(1))
			b.walk(main, 0, 24, 2)
			b.walk(branch, 2, 8, 2)
			b.walk(branch, 7, 1, 2)
			b.walk(main, 24, 50, 2)
		}},
		{"branch/two-readings-loose", "a branch of 5 m, two readings of it after the main, positions good to half a metre and no accuracy written", func(b *bench) {
			b.gear.fix, b.gear.noiseM, b.gear.statedM = 2, 0.5, unknown
			main := b.bury("A", straightPath(50), flat(0.8))
			branch := b.bury("A", polyPath(20, 0, 20, 5), flat(0.8))
			b.walk(main, 0, 50, 2)
			b.walk(branch, 3, 5, 2)
			b.walk(main, 44, 50, 2)
		}},
	}...))
}
