package cases

import (
	"math"

	"loamline.example/geo"
)

// walkOn walks a line that turns off after 36 m and goes straight on there, along another
// line that carries part of the current and lies as deep. Of the own line only what lies
// next to the turn is asked about.
func (b *bench) walkOn(turn, part float64) {
	at := geo.XY{X: 36}
	l := b.bury("A", []geo.XY{{}, at, {X: at.X + 6*math.Cos(turn), Y: 6 * math.Sin(turn)}}, flat(1))
	for s := 0.0; s <= 70; s += 2 {
		mA := currentMA * fallen(s)
		if s <= at.X {
			b.signals(b.read(l, s, 0), 1, mA)
			continue
		}
		b.signals(b.readAt("A", geo.XY{X: s}, 1), 1, mA*part)
	}
}

// turnCases go on along another line to the end. Where the own one turns off nothing but
// the current shows it, and a branch that takes as much shows the same; where another lies
// beside it, the step alone shows neither side nor depth of the own one.
func turnCases() []Case {
	return cook([]recipe{
		{"turn/half-the-current", "the line turns off and the trace goes straight on, along a line with half the current", func(b *bench) {
			b.gear.current = true
			b.walkOn(math.Pi/4, 0.5)
		}},
		{"turn/every-column", "the same with two antennas and the null, all as over one line", func(b *bench) {
			b.gear.antennas, b.gear.current, b.gear.null = true, true, true
			b.walkOn(-math.Pi/3, 0.6)
		}},
		{"turn/positions-loose", "the same, positions good to half a metre", func(b *bench) {
			b.gear.current, b.gear.fix, b.gear.noiseM, b.gear.statedM = true, 2, 0.5, 0.55
			b.walkOn(math.Pi/2, 0.35)
		}},
		{"turn/2.5m-twice-as-deep-to-the-end", "early onto a neighbour twice as deep, and never back", func(b *bench) {
			b.walkJumping(neighbor{asideM: 2.5, depthM: 2, currentMA: currentMA}, 16, 70, 2)
		}},
		{"turn/2.5m-no-null-to-the-end", "early onto a neighbour that pulls the null before, where no null is found, and never back", func(b *bench) {
			b.gear.antennas, b.gear.current, b.gear.null = true, true, true
			b.walkJumping(neighbor{asideM: 2.5, depthM: 1.35, currentMA: 0.75 * currentMA, nullM: unknown}, 16, 70, 2)
			for i := range b.rows[:8] {
				b.rows[i].nullM += 0.11
			}
		}},
	})
}
