package cases

import "loamline.example/geo"

// computedCases are positions that were not measured: they lie between fixes, or beyond
// one, where the walk did not go.
func computedCases() []Case {
	corner := polyPath(0, 0, 40, 0, 40, 30)
	return cook([]recipe{
		{"computed/between-fixes-at-a-corner", "six places between two fixes, across a corner", func(b *bench) {
			l := b.bury("A", corner, flat(1))
			between(b.walk(l, 0, l.path.Length(), 2), 17, 24)
		}},
		{"computed/between-fixes-at-a-detour", "places between two fixes, past a detour of 4 m", func(b *bench) {
			b.gear.antennas, b.gear.current = true, true
			l := b.bury("A", polyPath(0, 0, 30, 0, 30, 4, 42, 4, 42, 0, 75, 0), flat(1))
			between(b.walk(l, 0, l.path.Length(), 1.5), 19, 34)
		}},
		{"computed/carried-on", "five places carried on past the last fix, where the line bends", func(b *bench) {
			l := b.bury("A", corner, flat(1))
			rows := b.walk(l, 0, l.path.Length(), 2)
			for i := 20; i < 25; i++ {
				rows[i].shown = rows[i-1].shown.Add(rows[19].shown.Sub(rows[18].shown))
			}
		}},
		{"computed/carried-on-past-a-bend", "eight places carried on past the last fix with a scatter of their own, and back in one stride", func(b *bench) {
			l := b.bury("A", append(polyPath(0, 0, 40, 0), polyPath(44, 1.1, 47.4, 3.6, 50, 7, 66, 30)...), flat(1))
			rows := b.walk(l, 0, l.path.Length(), 1.5)
			for i := 27; i < 35; i++ {
				on := rows[26].stood.Sub(rows[25].stood).Scale(float64(i - 26))
				rows[i].shown = rows[26].stood.Add(on).Add(geo.XY{X: b.norm(0.01), Y: b.norm(0.01)})
			}
		}},
	})
}

// between lays the places between two rows evenly on the straight line from one to the
// other.
func between(rows []*row, from, to int) {
	a, b := rows[from].shown, rows[to].shown
	for i := from + 1; i < to; i++ {
		rows[i].shown = a.Add(b.Sub(a).Scale(float64(i-from) / float64(to-from)))
	}
}
