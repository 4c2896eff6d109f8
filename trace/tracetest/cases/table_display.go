package cases

// displayCases are receivers whose depth is not shown, or not anew, where it matters.
func displayCases() []Case {
	// humped walks a line that rises from 1.3 to 0.4 m between 26 and 34 m.
	humped := func(b *bench, fault func(r *row)) {
		l := b.bury("A", straightPath(60), dive(1.3, 0.4, 24, 26, 34, 36))
		for i, r := range b.walk(l, 0, 60, 2) {
			if s := 2 * i; s > 24 && s < 36 {
				fault(r)
			}
		}
	}
	return cook([]recipe{
		{"display/one-reading-on-a-hump", "a hump of less than two strides, touched by one reading, depth alone", func(b *bench) {
			l := b.bury("A", straightPath(60), dive(1.2, 0.4, 28.9, 29.3, 30.7, 31.1))
			b.walk(l, 0, 60, 2)
		}},
		{"display/blank-on-a-hump", "no depth where the line rises, the antennas show it", func(b *bench) {
			b.gear.antennas = true
			humped(b, func(r *row) { r.depthM = unknown })
		}},
		{"display/zero-on-a-hump", "a depth of zero where the line rises", func(b *bench) {
			humped(b, func(r *row) { r.depthM = 0 })
		}},
		{"display/blank-at-the-end", "no depth on the last fifteen metres, where the line rises", func(b *bench) {
			l := b.bury("A", straightPath(60), dive(1.3, 0.5, 45, 50, 200, 201))
			for i, r := range b.walk(l, 0, 60, 2) {
				if 2*i > 45 {
					r.depthM = unknown
				}
			}
		}},
		{"display/held-on-a-hump", "the display stands at one figure where the line rises", func(b *bench) {
			humped(b, func(r *row) { r.depthM = 1.31 })
		}},
		{"display/all-held-on-a-hump", "four readings show what the one before the hump showed, depth and current", func(b *bench) {
			b.gear.current = true
			l := b.bury("A", straightPath(60), dive(1.3, 0.4, 27, 28.5, 32.5, 34))
			rows := b.walk(l, 0, 60, 2)
			for _, r := range rows[14:18] {
				r.depthM, r.currentMA = rows[13].depthM, rows[13].currentMA
			}
		}},
		{"display/three-rows-late", "depths three rows below their own signals, over a dive", func(b *bench) {
			b.gear.antennas = true
			l := b.bury("A", straightPath(60), dive(0.9, 2.0, 24, 28, 34, 38))
			rows := b.walk(l, 0, 60, 2)
			for i := len(rows) - 1; i >= 3; i-- {
				rows[i].depthM = rows[i-3].depthM
			}
		}},
		{"display/second-receiver", "a second receiver from the middle on, that shows four fifths", func(b *bench) {
			b.gear.antennas = true
			l := b.bury("A", straightPath(80), flat(1.2))
			for _, r := range b.walk(l, 0, 80, 2)[20:] {
				r.depthM *= 0.8
			}
		}},
	})
}
