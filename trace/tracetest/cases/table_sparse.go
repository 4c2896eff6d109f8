package cases

// sparseCases have too few readings to decide what the line does between them.
func sparseCases() []Case {
	return cook([]recipe{
		{"sparse-corner/six-readings", "two corners between six readings 30 m apart", func(b *bench) {
			l := b.bury("A", polyPath(0, 0, 45, 0, 45, 60, 90, 60), flat(1))
			b.walk(l, 0, 150, 30)
		}},
		{"sparse-corner/on-readings", "two corners on readings 28 m apart", func(b *bench) {
			l := b.bury("A", polyPath(0, 0, 56, 0, 56, 56, 112, 56), flat(1))
			b.walk(l, 0, 168, 28)
		}},
		{"sparse-corner/three-of-an-L", "three readings of an L, none at its corner", func(b *bench) {
			l := b.bury("A", polyPath(0, 0, 20, 0, 20, 20), flat(1))
			b.walk(l, 0, 40, 20)
			b.rows[1].shown = b.rows[1].shown.Add(l.path.At(13).Sub(l.path.At(20)))
			b.truth.Read[1].At = b.plane.LonLat(l.path.At(13))
		}},
		{"sparse-corner/L-at-its-corner", "three readings of an L, one at its corner", func(b *bench) {
			l := b.bury("A", polyPath(0, 0, 20, 0, 20, 20), flat(1))
			b.walk(l, 0, 40, 20)
		}},
		{"sparse-corner/four-of-an-L", "four readings of an L, none at its corner", func(b *bench) {
			l := b.bury("A", polyPath(0, 0, 9, 0, 9, 9), flat(1))
			b.walk(l, 0, 18, 6)
		}},
		{"sparse-corner/end-of-a-hairpin", "two legs 3 m apart read every 1.5 m, and not where they turn", func(b *bench) {
			l := b.bury("A", uTurnPath(30, 3), flat(1))
			b.walk(l, 0, 27, 1.5)
			b.walk(l, 36, 63, 1.5)
		}},
		{"sparse-corner/two-readings", "the two ends of an L alone", func(b *bench) {
			l := b.bury("A", polyPath(0, 0, 20, 0, 20, 20), flat(1))
			b.walk(l, 0, 40, 40)
		}},
		{"sparse-wave/5m-in-60m", "winds by 5 m in 60 m, read every 30 m", func(b *bench) {
			l := b.bury("A", wavePath(240, 5, 60), flat(1))
			b.walk(l, 0, l.path.Length(), l.path.Length()/8)
		}},
		{"sparse-wave/8m-in-80m", "winds by 8 m in 80 m, read every 25 m", func(b *bench) {
			l := b.bury("A", wavePath(240, 8, 80), flat(1))
			b.walk(l, 0, l.path.Length(), l.path.Length()/10)
		}},
		{"sparse-wave/aliased", "winds by 4 m in 30 m, read once a winding", func(b *bench) {
			l := b.bury("A", wavePath(180, 4, 30), flat(1))
			b.walk(l, 0, l.path.Length(), l.path.Length()/6)
		}},
	})
}
