package cases

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"loamline.example/geo"
)

// accuracyCases are positions that are worse than their scatter, their columns
// or their digits say.
func accuracyCases() []Case {
	constant := func(b *bench, fix int, statedM float64, offset geo.XY) {
		b.gear.fix, b.gear.statedM, b.gear.offset, b.gear.noiseM = fix, statedM, offset, 0.02
		l := b.bury("A", straightPath(50), flat(1))
		b.walk(l, 0, 50, 2)
	}
	out := []recipe{
		{"no-accuracy/4.8m-off", "neither fix nor stated accuracy, 4.8 m off throughout", func(b *bench) {
			constant(b, 0, unknown, geo.XY{X: 1.9, Y: -4.4})
		}},
		{"no-accuracy/2m-off", "neither fix nor stated accuracy, 2 m off throughout", func(b *bench) {
			constant(b, 0, unknown, geo.XY{X: -0.6, Y: 1.9})
		}},
		{"no-accuracy/fix-1-4.8m-off", "autonomous, no accuracy stated, 4.8 m off", func(b *bench) {
			constant(b, 1, unknown, geo.XY{X: 1.9, Y: -4.4})
		}},
		{"no-accuracy/fix-1-1.8m-off", "autonomous, no accuracy stated, 1.8 m off", func(b *bench) {
			constant(b, 1, unknown, geo.XY{X: 0.3, Y: 1.8})
		}},
		{"no-accuracy/fix-2-1.2m-off", "differential, no accuracy stated, 1.2 m off", func(b *bench) {
			constant(b, 2, unknown, geo.XY{X: 0.3, Y: 1.2})
		}},
		{"stated-too-well/fix-1-2cm", "autonomous, 2 cm stated, 2.5 m off", func(b *bench) {
			constant(b, 1, 0.02, geo.XY{Y: 2.5})
		}},
		{"stated-too-well/fix-2-1cm", "differential, 1 cm stated, 1 m off", func(b *bench) {
			constant(b, 2, 0.01, geo.XY{Y: -1})
		}},
	}
	rounded := func(decimals int) func(b *bench) {
		return func(b *bench) {
			b.sheet.decimals = decimals
			// Along a parallel that lies between two of the rounded ones.
			off := 0.45 * 111111 * pow10(-decimals)
			l := b.bury("A", polyPath(0, off, 70, off), flat(1))
			b.walk(l, 0, 70, 2)
		}
	}
	for _, n := range []int{4, 5, 6} {
		out = append(out, recipe{fmt.Sprintf("rounded/%d-decimals", n), "degrees rounded, RTK stated", rounded(n)})
	}
	grid := func(gridM float64, feet bool, y float64) func(b *bench) {
		return func(b *bench) {
			b.sheet.crs, b.sheet.gridM, b.sheet.feet = "EPSG:32619", gridM, feet
			crs, err := geo.LookupCRS(b.sheet.crs)
			if err != nil {
				panic(err) // a case that cannot be written is a mistake in this package
			}
			// Along a line of the grid that lies between two of the rounded ones.
			var path []geo.XY
			e0, n0, err := crs.Project(origin)
			if err != nil {
				panic(err)
			}
			for _, e := range []float64{e0, e0 + 60} {
				p, err := crs.Unproject(e, float64(int(n0/gridM))*gridM+y)
				if err != nil {
					panic(err)
				}
				path = append(path, b.plane.XY(p))
			}
			l := b.bury("A", path, flat(1))
			b.walk(l, 0, 60, 2)
		}
	}
	// What became of a figure before it was written with nine decimals.
	was := func(from int, of func(deg float64) float64, columns ...string) func(b *bench) {
		if columns == nil {
			columns = []string{"lat", "lon"}
		}
		return func(b *bench) {
			b.sheet.cell = func(row int, column, text string) string {
				if deg, err := strconv.ParseFloat(text, 64); err == nil && row >= from && slices.Contains(columns, column) {
					return decimal(of(deg), b.sheet.decimals)
				}
				return text
			}
			l := b.bury("A", polyPath(0, 0.5, 60, 9), flat(1))
			b.walk(l, 0, l.path.Length(), 2)
		}
	}
	to := func(step float64) func(float64) float64 {
		return func(deg float64) float64 { return math.Round(deg/step) * step }
	}
	return cook(append(out, []recipe{
		{"rounded/minutes", "minutes with three decimals, turned into degrees with nine", was(0, to(1e-3/60))},
		{"rounded/single-precision", "degrees that went through single precision", was(0, func(deg float64) float64 { return float64(float32(deg)) })},
		{"rounded/latitude-alone", "latitudes rounded to four decimals, longitudes written in full", was(0, to(1e-4), "lat")},
		{"rounded/exponent", "northings written as 4.88602e+06, eastings in full", inExponents},
		{"rounded/second-half", "five decimals from the middle of the table on", was(15, to(1e-5))},
		{"rounded/0.1m-grid", "a grid rounded to 0.1 m, RTK stated", grid(0.1, false, 0.045)},
		{"rounded/1m-grid", "a grid rounded to a metre, RTK stated", grid(1, false, 0.45)},
		{"rounded/whole-feet", "a grid in whole feet, RTK stated", grid(geo.FootM, true, 0.45*geo.FootM)},
	}...))
}

func pow10(n int) float64 {
	v := 1.0
	for ; n < 0; n++ {
		v /= 10
	}
	return v
}

// inExponents writes northings with six figures, as a spreadsheet's narrow column does.
func inExponents(b *bench) {
	b.sheet.crs, b.sheet.gridM = "EPSG:32619", 0.001
	b.sheet.cell = func(_ int, column, text string) string {
		if v, err := strconv.ParseFloat(text, 64); err == nil && column == "north_m" {
			return strconv.FormatFloat(v, 'e', 5, 64)
		}
		return text
	}
	l := b.bury("A", polyPath(0, 0.5, 60, -2.5), flat(1))
	b.walk(l, 0, l.path.Length(), 2)
}
