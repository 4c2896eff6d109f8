package cases

import (
	"math"

	"loamline.example/geo"
)

// depthStepCases read another depth than the line's from one reading to the next: over a
// deeper or a shallower line, to an invert, or beside a corner that was cut. Positions and
// depths are all that is recorded.
func depthStepCases() []Case {
	steps := func(fromM, toM, times, moreM float64) func(b *bench) {
		return func(b *bench) {
			l := b.bury("A", straightPath(60), flat(1))
			for s := 0.0; s <= 60; s += 2 {
				if r := b.read(l, s, 0); s >= fromM && s < toM {
					r.depthM = r.depthM*times + moreM
				}
			}
		}
	}
	return cook([]recipe{
		{"depth-step/deeper-line", "for 12 m the depth is that of a line half as deep again", steps(24, 36, 1.5, 0)},
		{"depth-step/shallower-line", "for 10 m the depth is that of a line much less deep", steps(20, 30, 0.5, 0)},
		{"depth-step/to-the-end", "from half way on the depths are 1.6 times too large", steps(30, 61, 1.6, 0)},
		{"depth-step/invert", "for 14 m the depth is to the invert of a sewer, 0.7 m more", steps(16, 30, 1, 0.7)},
		{"depth-step/onto-another-line", "from half way on another line is read that crosses at 12° and lies three quarters as deep, with the same current", func(b *bench) {
			b.gear.antennas, b.gear.current = true, true
			l := b.bury("A", straightPath(60), flat(1))
			for s := 0.0; s <= 60; s += 2 {
				past := max(0, s-30)
				at, depthM := l.path.At(min(s, 30)).Add(geo.XY{X: past * math.Cos(0.21), Y: past * math.Sin(0.21)}), 1.0
				if past > 0 {
					depthM = 0.75
				}
				b.readAt("A", at, depthM)
			}
		}},
		{"depth-step/corner-cut", "the walk cuts a corner by two metres, where the depths are two and three times as large", func(b *bench) {
			corner := geo.XY{X: 24}
			l := b.bury("A", []geo.XY{{}, corner, {X: 24, Y: 24}}, flat(1))
			for s := 0.0; s <= 22; s++ {
				b.read(l, s, 0)
			}
			for _, part := range []float64{0.3, 0.7} {
				b.readAt("A", geo.XY{X: 22}.Lerp(geo.XY{X: 24, Y: 2}, part), 2+2*math.Abs(part-0.3))
			}
			for s := 26.0; s <= 48; s++ {
				b.read(l, s, 0)
			}
		}},
	})
}
