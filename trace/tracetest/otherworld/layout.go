package otherworld

import (
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// layout draws how the tables look: any optional column may be missing, one by
// one, whatever the others do.
func (w *world) layout(r rng, traces int, at geo.LonLat) tracetest.Layout {
	l := tracetest.Plain()
	chance := map[tracetest.Column]float64{
		tracetest.ColLine: 0.6, tracetest.ColPoint: 0.6, tracetest.ColTime: 0.7, tracetest.ColElev: 0.6, tracetest.ColFix: 0.75,
		tracetest.ColHDOP: 0.5, tracetest.ColHAcc: 0.8, tracetest.ColDepth: 0.97, tracetest.ColCurrent: 0.7, tracetest.ColSignal: 0.4,
		tracetest.ColLow: 0.5, tracetest.ColNull: 0.6, tracetest.ColPhase: 0.35, tracetest.ColFreq: 0.7, tracetest.ColHookup: 0.75,
		tracetest.ColExposed: 1, tracetest.ColNote: 0.3, tracetest.ColRaise: 1,
	}
	for _, c := range tracetest.Columns() {
		if p, drawn := chance[c]; drawn {
			l.Has[c] = r.yes(p)
		}
	}
	l.Has[tracetest.ColHigh] = l.Has[tracetest.ColLow]
	if l.Has[tracetest.ColLow] {
		l.Has[tracetest.ColSignal] = false
	}
	if w.pos.noise.Stated == tracetest.StatedAbsent {
		l.Has[tracetest.ColHAcc] = false
	}
	for c := range w.lacks {
		l.Has[c] = false
	}
	for c := range w.needs {
		l.Has[c] = true
	}
	l.Has[tracetest.ColRaise] = w.lifts > 0
	l.Has[tracetest.ColExposed] = w.exposed > 0
	if traces > 1 {
		l.Has[tracetest.ColLine], l.OneFile = true, r.yes(0.5)
	}
	switch r.IntN(4) {
	case 0:
		l.Depth, l.Null, l.HAcc, l.Elev = pick(r, "ft", "in"), pick(r, "ft", "in"), "ft", "ft"
	case 1:
		l.Depth, l.HAcc = pick(r, "cm", "m"), "cm"
	}
	l.Freq, l.SignalDB = pick(r, "hz", "khz"), r.yes(0.4)
	l.Comma = pick(r, ',', ',', ';', '\t')
	l.DecimalComma = l.Comma != ',' && r.yes(0.4)
	l.UpperCase, l.ByteOrder, l.Comments, l.Foreign = r.yes(0.1), r.yes(0.1), r.yes(0.1), r.yes(0.1)
	l.Digits = w.digits
	if w.feet || (w.digits >= 8 && r.yes(0.12)) {
		l.CRS = utmZone(at)
	}
	if w.feet {
		l.Elev = "ft"
	}
	return l
}

// utmZone is the zone of the UTM grid on WGS 84 that holds a place: EPSG codes
// 32601 to 32660 north, 32701 to 32760 south.
func utmZone(at geo.LonLat) string {
	code := 32600
	if at.LatDeg < 0 {
		code = 32700
	}
	return fmt.Sprintf("EPSG:%d", code+1+int(math.Floor((at.LonDeg+180)/6)))
}
