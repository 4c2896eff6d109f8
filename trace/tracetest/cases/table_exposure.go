package cases

import (
	"fmt"

	"loamline.example/geo"
)

// exposureCases have places where the line was seen, and a trace that
// contradicts them.
func exposureCases() []Case {
	var out []recipe
	for _, offM := range []float64{0.1, 0.3, 1, 3} {
		out = append(out, recipe{fmt.Sprintf("exposed-beside/%.1fm", offM), "the whole trace lies aside of what was exposed", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			b.walkAside(l, 0, 50, 2, offM)
			b.expose(l, 25)
		}})
	}
	return cook(append(out, []recipe{
		{"exposed-beside/twice-0.4m", "two exposures show the same 0.4 m", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1))
			b.walkAside(l, 0, 50, 2, -0.4)
			b.expose(l, 12)
			b.expose(l, 38)
		}},
		{"exposed-beside/along-the-leg", "the whole trace lies 0.6 m off along the first of two legs and 0.15 m across it, where it is exposed", func(b *bench) {
			b.gear.offset = geo.XY{X: 0.6, Y: 0.15}
			l := b.bury("A", polyPath(0, 0, 30, 0, 30, 35), flat(1))
			b.walk(l, 0, 65, 2)
			b.expose(l, 12)
		}},
		{"exposed-beside/on-two-legs", "out and back 1.3 m beside itself, loosely and 2.5 m aside, exposed on either leg", func(b *bench) {
			b.gear.fix, b.gear.noiseM, b.gear.statedM = 2, 0.5, 0.55
			l := b.bury("A", uTurnPath(20, 1.3), flat(1))
			b.walkAside(l, 0, l.path.Length(), 1.4, 2.5)
			b.expose(l, 12)
			b.expose(l, l.path.Length()-11.7)
		}},
		{"exposed-afterwards/behind-a-bend", "the line bends before its last two readings; a hole back along it is measured after the walk", func(b *bench) {
			l := b.bury("A", polyPath(0, 0, 12, -4, 14.3, -3.7, 20.1, -5.9, 25.5, -9.7, 30.2, -11.3, 32, -11.7, 33.2, -11.3, 35.7, -9.7, 38.2, -6.3, 42, -0.5), flat(1))
			b.walk(l, 0, 47, 4.2)
			b.expose(l, 34)
		}},
		{"exposed-depth/shallow-everywhere", "exposed at 0.4 m where 1.0 m is read, and so throughout", func(b *bench) {
			b.gear.depthScale = 2.5
			l := b.bury("A", straightPath(50), flat(0.4))
			b.walk(l, 0, 50, 2)
			b.expose(l, 25)
		}},
		{"exposed-depth/to-the-top", "a main of 40 cm, 1.4 m deep, and measured to its top where it was exposed", func(b *bench) {
			b.sheet.mainM = 0.4
			l := b.bury("A", straightPath(50), flat(1.4))
			b.walk(l, 0, 50, 2)
			b.exposeShallow(l, 25, 0.2)
		}},
		{"exposed-depth/cut-ground", "1.4 m deep, and exposed where 0.2 m of the ground was scraped off first", func(b *bench) {
			l := b.bury("A", straightPath(50), flat(1.4))
			b.walk(l, 0, 50, 2)
			b.exposeShallow(l, 25, 0.2)
		}},
		{"exposed-depth/shallow-there", "rises to 0.4 m at the exposure, between two readings", func(b *bench) {
			l := b.bury("A", straightPath(50), dive(1, 0.4, 24.2, 24.9, 25.1, 25.8))
			b.walk(l, 0, 50, 2)
			b.expose(l, 25)
		}},
		{"exposed-depth/deep-everywhere", "exposed at 1.8 m where 1.0 m is read, and so throughout", func(b *bench) {
			b.gear.depthScale = 1 / 1.8
			l := b.bury("A", straightPath(50), flat(1.8))
			b.walk(l, 0, 50, 2)
			b.expose(l, 25)
		}},
	}...))
}
