package plan

import (
	"strconv"

	"loamline.example/geo"
)

// Scale is the denominator of a drawing scale: 200 means 1:200.
type Scale float64

// MMPerM returns how many millimetres of paper a metre of ground takes.
func (s Scale) MMPerM() float64 { return 1000 / float64(s) }

// Words names the scale as drawings do: "1:200", or "1 in = 20 ft" for US units.
func (s Scale) Words(u geo.Units) string {
	if u == geo.US {
		return "1 in = " + trim(float64(s)/12) + " ft"
	}
	return "1:" + trim(float64(s))
}

func trim(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Scales lists the round scales of a unit system, the most detailed first: the
// engineer's scales of 10 to 60 ft to the inch and their tens in the US, the
// 1, 2 and 2.5, 5 series of ISO 5455 elsewhere (1:250 is common practice for
// site plans; ISO 5455 has it not).
func Scales(u geo.Units) []Scale {
	if u == geo.US {
		return usScales
	}
	return metricScales
}

var (
	metricScales = []Scale{20, 50, 100, 200, 250, 500, 1000, 2000, 2500, 5000, 10000, 20000, 25000, 50000, 100000, 200000, 500000, 1000000}
	usScales     = []Scale{24, 60, 120, 240, 360, 480, 600, 1200, 2400, 3600, 6000, 12000, 24000, 60000, 120000, 240000, 600000, 1200000}
)

// working returns the scales for digging by, the coarsest last, and the coarser
// ones for lines that would take too many sheets.
func working(u geo.Units) (dig, long []Scale) {
	if u == geo.US {
		return usScales[1:4], usScales[4:8]
	}
	return metricScales[1:5], metricScales[5:7]
}

// Heights lists the scales of a profile's heights: the round scales and more between
// them, since heights have little room.
func Heights(u geo.Units) []Scale {
	if u == geo.US {
		return append([]Scale{24, 48, 60, 120, 180}, usScales[3:]...)
	}
	return append([]Scale{20, 25, 50, 100, 125, 150}, metricScales[3:]...)
}

// Overviews returns the scales of a plan that must fill one page: every figure of
// one digit at its power of ten, and the halves and quarters between. It has a
// bar to measure by.
func Overviews(u geo.Units) []Scale {
	unit, steps := 1.0, []float64{100, 125, 150, 200, 250, 300, 400, 500, 600, 700, 800, 900}
	if u == geo.US {
		unit = 12 // feet to the inch
	}
	var out []Scale
	for _, s := range append([]float64{20, 25, 30, 40, 50, 60, 80}, steps...) {
		out = append(out, Scale(s*unit))
	}
	for _, ten := range []float64{10, 100, 1000} {
		for _, s := range steps {
			out = append(out, Scale(s*ten*unit))
		}
	}
	return out
}

// Finest returns the most detailed round scale at which wM by hM metres fit on
// the paper of the given millimetres.
func Finest(u geo.Units, wM, hM, wMM, hMM float64) Scale {
	all := Scales(u)
	for _, s := range all {
		if wM*s.MMPerM() <= wMM && hM*s.MMPerM() <= hMM {
			return s
		}
	}
	return all[len(all)-1]
}
