package cases

import (
	"fmt"
	"math"
)

// sweep walks from side to side across a line. The signal falls off beside it,
// as that of a long current does, and the depth shown rises.
func (b *bench) sweep(l buried, toM, forwardM, asideM float64, perSide int) {
	n := int(toM / forwardM)
	for i := 0; i <= n; i++ {
		phase := 2 * math.Pi * float64(i) / float64(2*perSide)
		// A triangle from side to side.
		side := asideM * 2 / math.Pi * math.Asin(math.Sin(phase))
		s := float64(i) * forwardM
		r := b.read(l, s, side)
		b.signals(r, math.Hypot(l.depth(s), side), currentMA)
	}
}

// sweepCases are walked from side to side.
func sweepCases() []Case {
	var out []recipe
	for _, asideM := range []float64{0.4, 1, 2.5} {
		out = append(out, recipe{fmt.Sprintf("sweep/%.1fm", asideM), "a sweep from side to side, depth alone", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			b.sweep(l, 50, 0.45, asideM, 3)
		}})
		out = append(out, recipe{fmt.Sprintf("sweep/%.1fm-signals", asideM), "a sweep from side to side, with signals", func(b *bench) {
			b.gear.antennas, b.gear.stepS = true, 1
			l := b.bury("A", straightPath(50), flat(1))
			b.sweep(l, 50, 0.45, asideM, 3)
		}})
	}
	out = append(out, recipe{"sweep/two-a-side", "two readings to the left, two to the right, 1.5 m each", func(b *bench) {
		l := b.bury("A", straightPath(50), flat(1))
		for i := range 50 {
			side := 1.5
			if i/2%2 == 1 {
				side = -1.5
			}
			b.read(l, float64(i), side)
		}
	}})
	return cook(out)
}

// stopCases stand still with one reading a second.
func stopCases() []Case {
	return cook([]recipe{
		{"stops/at-the-start", "120 s standing at the start, then 50 m", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			b.stand(l, 0, 120)
			b.walk(l, 2, 50, 2)
		}},
		{"stops/at-the-end", "120 s standing at the end", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			b.walk(l, 0, 48, 2)
			b.stand(l, 50, 120)
		}},
		{"stops/in-the-middle", "300 s standing in the middle", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			b.walk(l, 0, 24, 2)
			b.stand(l, 25, 300)
			b.walk(l, 26, 50, 2)
		}},
		{"stops/at-corners", "a minute at each of two corners, one reading a second throughout", func(b *bench) {
			b.gear.stepS = 1
			l := b.bury("A", polyPath(0, 0, 25, 0, 25, 25, 50, 25), flat(1))
			b.walk(l, 0, 25, 1)
			b.stand(l, 25, 60)
			b.walk(l, 26, 50, 1)
			b.stand(l, 50, 60)
			b.walk(l, 51, 75, 1)
		}},
		{"stops/at-the-truck", "40 readings at a truck 12 m beside the line, then the walk", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			read := len(b.truth.Read)
			b.stand(l, 0, 40)
			for i := range b.rows {
				b.rows[i].shown.Y += 12
			}
			b.truth.Read = b.truth.Read[:read]
			b.clock += 60
			b.walk(l, 0, 50, 2)
		}},
		{"stops/float", "200 s standing at the start with 0.1 m of noise", func(b *bench) {
			b.gear.fix, b.gear.statedM, b.gear.noiseM = 5, 0.12, 0.1
			l := b.bury("A", straightPath(60), flat(1))
			b.stand(l, 0, 200)
			b.walk(l, 2, 60, 2)
		}},
	})
}
