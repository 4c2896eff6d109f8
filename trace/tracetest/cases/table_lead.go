package cases

import (
	"loamline.example/geo"
)

// leadCases begin or end the walk along the transmitter's lead, which lies on the ground.
func leadCases() []Case {
	along := func(n int, atEnd bool) func(b *bench) {
		return func(b *bench) {
			l := b.bury("A", polyPath(0, 0, 14, 0, 24, 4), flat(1.1))
			lead := func() {
				for i := range n {
					k := n - i // the ground stake first, or last
					if atEnd {
						k = i + 1
					}
					b.readAt("A", geo.XY{X: 0.4 * float64(k), Y: 1.4 * float64(k)}, 0.08+0.02*float64(i%3))
				}
			}
			if atEnd {
				b.walk(l, l.path.Length(), 0, 1.5)
				lead()
			} else {
				lead()
				b.walk(l, 0, l.path.Length(), 1.5)
			}
		}
	}
	return cook([]recipe{
		{"lead/start", "the first three readings on the lead", along(3, false)},
		{"lead/end", "the last three readings on the lead", along(3, true)},
	})
}
