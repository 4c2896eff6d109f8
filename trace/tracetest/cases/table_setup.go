package cases

import "loamline.example/geo"

// setupCases change the hookup or the locating frequency on the walk, and go on along a
// line that leaves the traced one there.
func setupCases() []Case {
	leaves := func(set func(rows []*row)) func(b *bench) {
		return func(b *bench) {
			a := b.bury("A", polyPath(0, 0, 50, 0), flat(1))
			other := buried{"A", geo.NewPolyline(polyPath(20, 0, 50, 6)), flat(1)}
			for _, r := range b.walk(a, 0, 20, 2) {
				r.freqHz, r.hookup = 8192, "direct"
			}
			rows := b.walk(other, 2, 28, 2)
			for _, r := range rows {
				r.freqHz, r.hookup = 8192, "direct"
			}
			set(rows)
		}
	}
	return cook([]recipe{
		{"setup/induction", "from there on by induction", leaves(func(rows []*row) {
			for _, r := range rows {
				r.hookup = "induction"
			}
		})},
		{"setup/mains", "from there on at the frequency of the mains", leaves(func(rows []*row) {
			for _, r := range rows {
				r.freqHz = 50
			}
		})},
	})
}
