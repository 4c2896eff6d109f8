package tracetest

import (
	"math"
	"strconv"
	"strings"
	"time"

	"loamline.example/geo"
)

// perM is how many of a unit make a metre, and the digits that instruments
// show of it.
var perM = map[string]struct {
	factor float64
	digits int
}{"m": {1, 2}, "ft": {1 / geo.FootM, 2}, "in": {1 / geo.InchM, 1}, "cm": {100, 0}}

func (l Layout) length(m float64, unit string, moreDigits int) string {
	u := perM[unit]
	return l.number(m*u.factor, u.digits+moreDigits)
}

func (l Layout) number(v float64, digits int) string {
	if math.IsNaN(v) {
		return ""
	}
	s := strconv.FormatFloat(v, 'f', max(digits, 0), 64)
	if l.DecimalComma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// cell words one value.
func (l Layout) cell(pos func(geo.XY) (first, second string), c Column, rd Reading) string {
	switch c {
	case ColLine:
		return rd.Line
	case ColPoint:
		return rd.Point
	case ColTime:
		at := begun.Add(time.Duration(math.Round(rd.TimeS*10)) * 100 * time.Millisecond)
		return at.Format("2006-01-02T15:04:05.0Z07:00")
	case ColLat:
		lat, _ := pos(rd.Pos)
		return lat
	case ColLon:
		_, lon := pos(rd.Pos)
		return lon
	case ColFix:
		return strconv.Itoa(rd.Fix)
	case ColPhase:
		if rd.Exposed {
			return ""
		}
		return map[int8]string{1: "with", -1: "against"}[rd.Phase]
	case ColHookup:
		return rd.Hookup
	case ColExposed:
		if rd.Exposed {
			return "yes"
		}
		return ""
	case ColNote:
		return rd.Note
	}
	return l.measure(c, rd)
}

// measure words one measured value.
func (l Layout) measure(c Column, rd Reading) string {
	switch c {
	case ColElev:
		return l.length(rd.ElevM, l.Elev, 0)
	case ColHDOP:
		return l.number(rd.HDOP, 1)
	case ColHAcc:
		return l.length(rd.HAccM, l.HAcc, 1)
	case ColDepth:
		return l.length(rd.DepthM, l.Depth, 0)
	case ColCurrent:
		return l.number(rd.CurrentMA, 1)
	case ColSignal:
		if l.SignalDB {
			return l.number(20*math.Log10(rd.SignalLow), 1)
		}
		return l.number(rd.SignalLow, 1)
	case ColLow:
		return l.number(rd.SignalLow, 2)
	case ColHigh:
		return l.number(rd.SignalHigh, 2)
	case ColRaise:
		return l.length(rd.RaiseM, l.Null, 0)
	case ColNull:
		return l.length(rd.NullOffsetM, l.Null, 1)
	case ColFreq:
		if l.Freq == "khz" {
			return l.number(rd.FreqHz/1000, 3)
		}
		return l.number(rd.FreqHz, 0)
	}
	panic("no such column: " + string(c))
}
