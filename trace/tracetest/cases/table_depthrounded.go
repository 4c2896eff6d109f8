package cases

import (
	"math"
	"strconv"

	"loamline.example/geo"
)

// depthRoundedCases are depths written in coarse steps: however many readings show one
// figure, the line lies anywhere within its step.
func depthRoundedCases() []Case {
	to := func(stepM float64, digits int) func(b *bench) {
		return func(b *bench) {
			b.sheet.cell = func(_ int, column, text string) string {
				if v, err := strconv.ParseFloat(text, 64); err == nil && column == "depth_m" {
					return decimal(math.Round(v/stepM)*stepM, digits)
				}
				return text
			}
		}
	}
	level := func(depthM float64, write func(b *bench)) func(b *bench) {
		return func(b *bench) {
			write(b)
			l := b.bury("A", straightPath(50), flat(depthM))
			b.walk(l, 0, 50, 2)
		}
	}
	return cook([]recipe{
		{"depth-rounded/metres-shallow", "0.68 m, to whole metres: every reading shows 1", level(0.68, to(1, 0))},
		{"depth-rounded/metres-deep", "1.38 m, to whole metres: every reading shows 1", level(1.38, to(1, 0))},
		{"depth-rounded/half-metres", "0.79 m, to half metres: most show 1, a few 0.5", level(0.79, to(0.5, 1))},
		{"depth-rounded/quarter-metres", "0.65 m, to quarter metres: every reading shows 0.75", level(0.65, to(0.25, 2))},
		{"depth-rounded/whole-feet", "0.75 m, to whole feet: two or three", level(0.75, to(geo.FootM, 4))},
		{"depth-rounded/half-feet", "0.99 m, to half feet: three or three and a half", level(0.99, to(geo.FootM/2, 4))},
		{"depth-rounded/fifths-dive", "from 0.7 to 1.5 m, to 0.2 m", func(b *bench) {
			to(0.2, 1)(b)
			l := b.bury("A", straightPath(80), dive(0.7, 1.5, 25, 35, 50, 60))
			b.walk(l, 0, 80, 2)
		}},
	})
}
