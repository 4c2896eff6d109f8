package cases

import (
	"fmt"

	"loamline.example/geo"
)

// passCases are two passes that disagree, and two lines under one name.
func passCases() []Case {
	var out []recipe
	for _, offM := range []float64{0.25, 0.5, 0.8, 1} {
		out = append(out, recipe{fmt.Sprintf("two-days/%.2fm", offM), "walked on two days, the second lies aside", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			b.walk(l, 0, 50, 2)
			b.nextDay()
			b.walkAside(l, 0, 50, 2, offM)
			b.orAside(-offM)
		}})
	}
	for _, offM := range []float64{0.3, 0.6, 1.2} {
		out = append(out, recipe{fmt.Sprintf("there-and-back/%.1fm", offM), "walked there and back with a leaning antenna", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			b.walkAside(l, 0, 50, 2, offM/2)
			b.walkAside(l, 50, 0, 2, -offM/2)
			b.orAside(offM / 2)
			b.orAside(-offM / 2)
		}})
	}
	return cook(append(out, []recipe{
		{"two-days/first-is-wrong", "the first day lies 0.8 m aside, the second is right", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			b.walkAside(l, 0, 50, 2, 0.8)
			b.nextDay()
			b.walk(l, 0, 50, 2)
			b.orAside(-0.8)
		}},
		{"two-days/half-a-line", "the second day repeats the second half 0.6 m aside", func(b *bench) {
			l := b.bury("A", straightPath(60), flat(1))
			b.walk(l, 0, 60, 2)
			b.nextDay()
			b.walkAside(l, 30, 60, 2, 0.6)
			b.orPath(polyPath(0, 0, 30, 0, 30, -0.6, 60, -0.6))
		}},
		{"other-day/before-a-bend", "the next day's base lies 0.8 m off, and the line bends where it goes on", otherDay(polyPath(0, 0, 33, 0, 60, 18), 30, 32, 64, 0.8)},
		{"other-day/overlap", "the next day begins 8 m back, 1.2 m aside", otherDay(polyPath(0, 0, 50, 0, 75, 25), 36, 28, 84, 1.2)},
		{"base-moved/hole", "behind a hole of 9 m the base lies 0.4 m off", func(b *bench) {
			l := b.bury("A", straightPath(70), flat(1))
			b.walk(l, 0, 32, 2)
			b.walkAside(l, 41, 70, 2, 0.4)
			b.orAside(-0.4)
		}},
		{"ring/drift", "positions drift by 0.8 m round a ring, which does not close", func(b *bench) {
			l := b.bury("A", polyPath(0, 0, 18, 0, 18, 12, 0, 12, 0, 0), flat(1))
			for s := 0.0; s <= 60; s += 1.5 {
				b.readAt("A", l.path.At(s).Add(geo.XY{Y: -0.8 * s / 60}), 1)
			}
		}},
		{"same-name/1.5m", "two lines 1.5 m apart under one name", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			m := b.bury("A", polyPath(0, 1.5, 50, 1.5), flat(1))
			b.walk(l, 0, 50, 2)
			b.walk(m, 0, 50, 2)
		}},
		{"same-name/6m", "two lines 6 m apart under one name", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			m := b.bury("A", polyPath(0, 6, 50, 6), flat(0.8))
			b.walk(l, 0, 50, 2)
			b.walk(m, 0, 50, 2)
		}},
		{"same-name/0.7m-back", "two lines 0.7 m apart under one name, the second walked back", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			m := b.bury("A", polyPath(0, 0.7, 50, 0.7), flat(1.1))
			b.walk(l, 0, 50, 2)
			b.walk(m, 50, 0, 2)
		}},
		{"same-name/end-to-end", "two lines 25 m apart, one beyond the other, under one name", func(b *bench) {
			l := b.bury("A", straightPath(40), flat(1))
			m := b.bury("A", polyPath(60, 15, 100, 15), flat(1))
			b.walk(l, 0, 40, 2)
			b.walk(m, 0, 40, 2)
		}},
	}...))
}

// otherDay walks a line up to somewhere, and the next day on from elsewhere by a base that is
// off.
func otherDay(path []geo.XY, upToM, fromM, toM, aside float64) func(b *bench) {
	return func(b *bench) {
		l := b.bury("A", path, flat(1))
		b.walk(l, 0, upToM, 2)
		b.nextDay()
		b.walkAside(l, fromM, toM, 2, aside)
		b.orAside(-aside)
	}
}
