package serve

import (
	"fmt"
	"math"
	"strings"

	"loamline.example/cmd/loamline/internal/overlay"
	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/geo"
)

// overlayLine is one line of two maps with its drawings.
type overlayLine struct {
	report.Overlay
	Offset *chart
	Depth  *chart
}

// chart is a drawing of a difference along the way, in a box of chartW by
// chartH: the band that both maps explain, and the difference itself.
type chart struct {
	Band, Line, Zero   string // SVG paths
	Top, Bottom        string // the scale's ends
	From, To           string // stations
	AboveWord, LowWord string
	Words              string // the whole in one sentence
}

const chartW, chartH = 1000.0, 200.0

func overlayLines(in []report.Overlay, u geo.Units) []overlayLine {
	var out []overlayLine
	for _, o := range in {
		l := overlayLine{Overlay: o}
		l.Offset = newChart(o.Places, u, "right of the first", "left of the first", func(p report.OverlayPlace) (float64, float64, bool) {
			return p.OffsetM, p.OffsetAllowedM, true
		})
		l.Depth = newChart(o.Places, u, "read deeper", "read shallower", func(p report.OverlayPlace) (float64, float64, bool) {
			if p.DepthDifferenceM == nil || p.DepthAllowedM == nil {
				return 0, 0, false
			}
			return *p.DepthDifferenceM, *p.DepthAllowedM, true
		})
		out = append(out, l)
	}
	return out
}

// newChart draws a difference, nil where there are fewer than two places.
func newChart(places []report.OverlayPlace, u geo.Units, above, below string, at func(report.OverlayPlace) (v, allowed float64, ok bool)) *chart {
	var station, value, allowed []float64
	most := 0.01
	for _, p := range places {
		if v, a, ok := at(p); ok {
			station, value, allowed = append(station, p.StationM), append(value, v), append(allowed, a)
			most = max(most, math.Abs(v), a)
		}
	}
	n := len(station)
	if n < 2 || station[n-1] <= station[0] {
		return nil
	}
	most *= 1.1
	x := func(i int) float64 { return (station[i] - station[0]) / (station[n-1] - station[0]) * chartW }
	y := func(m float64) float64 { return chartH/2 - m/most*chartH/2 }
	var line, band strings.Builder
	for i := range n {
		fmt.Fprintf(&line, "%s%.1f %.1f", overlay.Pen(i), x(i), y(value[i]))
		fmt.Fprintf(&band, "%s%.1f %.1f", overlay.Pen(i), x(i), y(allowed[i]))
	}
	for i := n - 1; i >= 0; i-- {
		fmt.Fprintf(&band, "L%.1f %.1f", x(i), y(-allowed[i]))
	}
	return &chart{Band: band.String() + "Z", Line: line.String(), Zero: fmt.Sprintf("M0 %.0fL%.0f %.0f", chartH/2, chartW, chartH/2),
		Top: u.Fine(most), Bottom: u.Fine(most), From: u.Long(station[0]), To: u.Long(station[n-1]), AboveWord: above, LowWord: below,
		Words: fmt.Sprintf("From %s to %s along the first map; the scale ends at %s to each side, and the shaded band is what both maps' 95 %% bands explain together.", u.Long(station[0]), u.Long(station[n-1]), u.Fine(most))}
}
