package cases

import "fmt"

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
