package cases

import "math"

// factorCases are depths that are wrong by a factor in a part of the walk.
func factorCases() []Case {
	return cook([]recipe{
		{"depth-factor/second-day", "a second day reads a third deeper, and overlaps the first by 8 m", func(b *bench) {
			l := b.bury("A", straightPath(70), flat(1))
			b.walk(l, 0, 40, 2)
			b.nextDay()
			b.gear.depthScale = 1.33
			b.walk(l, 32, 70, 2)
		}},
		{"depth-factor/against-antennas", "one and a half times too deep from the middle on, the antennas show it", func(b *bench) {
			b.gear.antennas = true
			l := b.bury("A", straightPath(70), flat(1))
			for i, r := range b.walk(l, 0, 70, 2) {
				if i > 18 {
					r.depthM *= 1.5
				}
			}
		}},
		{"depth-factor/feet-on-a-ramp", "feet for metres from a place on where the line falls", func(b *bench) {
			l := b.bury("A", straightPath(70), dive(0.7, 1.3, 20, 44, 200, 201))
			for i, r := range b.walk(l, 0, 70, 2) {
				if i > 15 {
					r.depthM *= 3.28
				}
			}
		}},
		{"depth-factor/now-and-then", "another line 0.7 m deeper is heard every third time or so", func(b *bench) {
			l := b.bury("A", straightPath(70), flat(0.9))
			for i, r := range b.walk(l, 0, 70, 2) {
				if math.Mod(float64(i)*0.618, 1) < 0.55 {
					b.signals(r, 1.6, currentMA)
				}
			}
		}},
	})
}
