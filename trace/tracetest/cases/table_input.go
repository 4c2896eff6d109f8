package cases

import (
	"strings"

	"loamline.example/geo"
)

// inputCases are tables whose columns contradict each other or themselves.
func inputCases() []Case {
	out := cook([]recipe{
		{"frames/degrees-against-grid", "degrees and grid 5 m apart in every row; either may be right", func(b *bench) {
			b.sheet.crs, b.sheet.both = "EPSG:32619", true
			b.sheet.gridOff = geo.XY{Y: 5}
			l := b.bury("A", straightPath(50), flat(1))
			b.walk(l, 0, 50, 2)
			b.orAside(5)
		}},
		{"elevation/one-of-200", "one elev_m 113 m below its neighbours", func(b *bench) {
			b.gear.elev = true
			l := b.bury("A", straightPath(50), flat(1))
			b.walk(l, 0, 50, 2)
			b.rows[12].elevM = 127
		}},
		{"elevation/zero", "three elev_m of 0 where none was known", func(b *bench) {
			b.gear.elev = true
			l := b.bury("A", straightPath(50), flat(1))
			b.walk(l, 0, 50, 2)
			for i := 10; i < 13; i++ {
				b.rows[i].elevM = 0
			}
		}},
		{"elevation/antenna-height", "elevations 2 m too high from the middle on, where the antenna was set anew", func(b *bench) {
			b.gear.elev = true
			l := b.bury("A", straightPath(60), flat(1))
			for _, r := range b.walk(l, 0, 60, 2)[14:] {
				r.elevM += 2
			}
		}},
		{"separator/thousands-in-the-grid", "a thousands separator in every northing", func(b *bench) {
			b.sheet.crs = "EPSG:32619"
			b.sheet.cell = func(_ int, column, text string) string {
				if strings.HasPrefix(column, "north") {
					return text[:1] + "," + text[1:4] + "," + text[4:]
				}
				return text
			}
			l := b.bury("A", straightPath(50), flat(1))
			b.walk(l, 0, 50, 2)
		}},
		{"separator/thousands-in-elevation", "elevations with a separator beyond 999 m", func(b *bench) {
			b.gear.elev = true
			b.sheet.cell = func(_ int, column, text string) string {
				if column == "elev_m" && len(text) > 6 {
					return text[:1] + "," + text[1:]
				}
				return text
			}
			l := b.bury("A", straightPath(50), flat(1))
			b.walk(l, 0, 50, 2)
			for i := range b.rows {
				b.rows[i].elevM += 1000 - 240.5 + 0.02*float64(i)
			}
			// The ground slopes by half a metre about 1000 m.
			b.truth.Lines[0].GroundM = 1000
		}},
	})
	for i := range out {
		out[i].Input = true
	}
	return out
}
