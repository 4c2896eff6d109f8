package cases

import "loamline.example/geo"

// heardCases go over to a neighbour that is heard before and after as well.
func heardCases() []Case {
	return cook([]recipe{
		{"jump/2m-heard-beside", "onto a neighbour with as much current, which makes every depth read half as deep again", func(b *bench) {
			l := b.bury("A", straightPath(60), flat(1))
			for s := 0.0; s <= 60; s += 2 {
				// By superposition of two lines 1 m deep and 2 m apart, 0.9 times the current in the
				// other: depths by antennas 0.4 m apart and marks over either.
				off, depthM := 0.08, 1.49
				if s >= 22 && s <= 38 {
					off, depthM = 1.90, 1.64
				}
				b.readAt("A", l.path.At(s).Add(geo.XY{Y: -off}), depthM)
			}
		}},
	})
}
