package cases

import "loamline.example/geo"

// nameCases change the name of the line late or early on the walk from one to the next.
func nameCases() []Case {
	late := func(b *bench) {
		a := b.bury("A", polyPath(0, 0, 30, 0), flat(1))
		next := b.bury("B", []geo.XY{{X: 33, Y: 6}, {X: 35, Y: 36}}, flat(1.3))
		b.walk(a, 0, 30, 1.8)
		for _, r := range b.walk(next, 0, next.path.Length(), 1.8)[:5] {
			r.line = "A"
		}
	}
	early := func(b *bench) {
		a := b.bury("A", polyPath(0, 0, 36, 0), flat(1))
		next := b.bury("B", []geo.XY{{X: 36, Y: 4}, {X: 0, Y: 4}}, flat(1))
		rows := b.walk(a, 0, 36, 1.8)
		for _, r := range rows[len(rows)-4:] {
			r.line = "B"
		}
		b.walk(next, 0, 36, 1.8)
	}
	return cook([]recipe{
		{"name-changed/late", "the first five readings of the next line have the name of the one before", late},
		{"name-changed/early", "the last four readings of a line have the name of the next one, beside it", early},
	})
}
