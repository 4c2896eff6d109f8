package cases

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"loamline.example/geo"
)

// sheet is how a table is written.
type sheet struct {
	decimals int     // of degrees
	crs      string  // of a grid; "" writes degrees
	gridM    float64 // grid coordinates are rounded to this
	feet     bool    // grid coordinates are written in feet
	both     bool    // degrees and grid
	gridOff  geo.XY  // a mistake in the grid coordinates, metres
	noGap    bool    // the antennas' gap is not stated
	mainM    float64 // outer diameter that is stated of the line A, 0 for none
	cell     func(row int, column, text string) string
}

var morning = time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC)

// table writes the readings in the order in which they were taken. A column
// that no reading has is left out.
func (b *bench) table() []byte {
	columns := b.columns()
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	var head []string
	for _, c := range columns {
		head = append(head, c.name)
	}
	w.Write(head)
	for i := range b.rows {
		var cells []string
		for _, c := range columns {
			text := c.text(i, &b.rows[i])
			if b.sheet.cell != nil {
				text = b.sheet.cell(i, c.name, text)
			}
			cells = append(cells, text)
		}
		w.Write(cells)
	}
	w.Flush() // a bytes.Buffer takes everything
	return out.Bytes()
}

type columnOf struct {
	name string
	text func(i int, r *row) string
}

func (b *bench) columns() []columnOf {
	out := []columnOf{
		{"line", func(_ int, r *row) string { return r.line }},
		{"point", func(i int, _ *row) string { return strconv.Itoa(i + 1) }},
		{"time", func(_ int, r *row) string {
			return morning.Add(time.Duration(math.Round(r.timeS*10)) * 100 * time.Millisecond).Format("2006-01-02T15:04:05.0Z")
		}},
	}
	out = append(out, b.positions()...)
	number := func(name string, digits int, of func(*row) float64) {
		for i := range b.rows {
			if !math.IsNaN(of(&b.rows[i])) {
				out = append(out, columnOf{name, func(_ int, r *row) string { return decimal(of(r), digits) }})
				return
			}
		}
	}
	number("elev_m", 2, func(r *row) float64 { return r.elevM })
	number("fix", 0, func(r *row) float64 {
		if r.fix == 0 {
			return unknown
		}
		return float64(r.fix)
	})
	number("h_acc_m", 3, func(r *row) float64 { return r.statedM })
	number("depth_m", 2, func(r *row) float64 { return r.depthM })
	number("current_ma", 1, func(r *row) float64 { return r.currentMA })
	number("signal_low", 2, func(r *row) float64 { return r.low })
	number("signal_high", 2, func(r *row) float64 { return r.high })
	number("null_offset_m", 3, func(r *row) float64 { return r.nullM })
	number("freq_hz", 0, func(r *row) float64 {
		if r.freqHz == 0 {
			return unknown
		}
		return r.freqHz
	})
	if slices.ContainsFunc(b.rows, func(r row) bool { return r.hookup != "" }) {
		out = append(out, columnOf{"hookup", func(_ int, r *row) string { return r.hookup }})
	}
	for i := range b.rows {
		if b.rows[i].exposed {
			out = append(out, columnOf{"exposed", func(_ int, r *row) string {
				if r.exposed {
					return "yes"
				}
				return ""
			}})
			break
		}
	}
	return out
}

func (b *bench) positions() []columnOf {
	degrees := []columnOf{
		{"lat", func(_ int, r *row) string { return decimal(b.plane.LonLat(r.shown).LatDeg, b.sheet.decimals) }},
		{"lon", func(_ int, r *row) string { return decimal(b.plane.LonLat(r.shown).LonDeg, b.sheet.decimals) }},
	}
	if b.sheet.crs == "" {
		return degrees
	}
	unit, suffix, digits := 1.0, "_m", 3
	if b.sheet.feet {
		unit, suffix = geo.FootM, "_ft"
	}
	if b.sheet.gridM > 0 {
		digits = 1
	}
	crs, err := geo.LookupCRS(b.sheet.crs)
	if err != nil {
		panic(err) // a case that cannot be written is a mistake in this package
	}
	grid := func(r *row) (float64, float64) {
		e, n, err := crs.Project(b.plane.LonLat(r.shown.Add(b.sheet.gridOff)))
		if err != nil {
			panic(err)
		}
		if g := b.sheet.gridM; g > 0 {
			e, n = math.Round(e/g)*g, math.Round(n/g)*g
		}
		return e / unit, n / unit
	}
	cells := []columnOf{
		{"east" + suffix, func(_ int, r *row) string { e, _ := grid(r); return decimal(e, digits) }},
		{"north" + suffix, func(_ int, r *row) string { _, n := grid(r); return decimal(n, digits) }},
	}
	if b.sheet.both {
		return append(degrees, cells...)
	}
	return cells
}

func decimal(v float64, digits int) string {
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'f', digits, 64)
}

// jobFile states the frame, so that no item about it is due, and the gap.
func (b *bench) jobFile() []byte {
	var out bytes.Buffer
	out.WriteString("datum = \"WGS84\"\n")
	if b.sheet.crs != "" {
		fmt.Fprintf(&out, "crs = %q\n", b.sheet.crs)
	}
	if b.gear.elev {
		out.WriteString("vertical_datum = \"NAVD88\"\n") // without one no height is drawn
	}
	if b.gear.antennas && !b.sheet.noGap {
		fmt.Fprintf(&out, "antenna_gap_m = %.2f\n", b.gear.gapM)
	}
	if b.sheet.mainM > 0 { // the last: a table of its own
		fmt.Fprintf(&out, "\n[[line]]\nname = \"A\"\ndiameter = \"%.0f mm\"\n", 1000*b.sheet.mainM)
	}
	return out.Bytes()
}
