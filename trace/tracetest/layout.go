package tracetest

import (
	"fmt"
	"math"

	"loamline.example/geo"
)

// Column is a column of the readings table without its unit.
type Column string

// The columns, in the order in which a table has them.
const (
	ColLine    Column = "line"
	ColPoint   Column = "point"
	ColTime    Column = "time"
	ColLat     Column = "lat"
	ColLon     Column = "lon"
	ColElev    Column = "elev"
	ColFix     Column = "fix"
	ColHDOP    Column = "hdop"
	ColHAcc    Column = "h_acc"
	ColDepth   Column = "depth"
	ColCurrent Column = "current"
	ColSignal  Column = "signal"
	ColLow     Column = "signal_low"
	ColHigh    Column = "signal_high"
	ColRaise   Column = "raise"
	ColNull    Column = "null"
	ColPhase   Column = "phase"
	ColFreq    Column = "freq"
	ColHookup  Column = "hookup"
	ColExposed Column = "exposed"
	ColNote    Column = "note"
)

// Columns lists every column in order.
func Columns() []Column {
	return []Column{
		ColLine, ColPoint, ColTime, ColLat, ColLon, ColElev, ColFix, ColHDOP, ColHAcc, ColDepth, ColCurrent,
		ColSignal, ColLow, ColHigh, ColRaise, ColNull, ColPhase, ColFreq, ColHookup, ColExposed, ColNote,
	}
}

// Layout says how a readings table is written: which columns, in which units,
// with which separator.
type Layout struct {
	Has          map[Column]bool
	Depth        string // m, ft, in or cm
	Elev         string // m or ft
	HAcc         string // m, ft or cm
	Null         string // m, ft or in; also of raise
	Freq         string // hz or khz
	SignalDB     bool   // signal in decibels
	Comma        rune
	DecimalComma bool
	UpperCase    bool
	ByteOrder    bool   // a byte-order mark
	Comments     bool   // lines that start with #
	Digits       int    // of degrees
	OneFile      bool   // all lines of the job in one table
	CRS          string // of projected positions, "EPSG:32631"; empty for degrees
	Foreign      bool   // headers in an instrument's own words, mapped in the job file
}

// Plain is the layout with every column in metres.
func Plain() Layout {
	l := Layout{Has: map[Column]bool{}, Depth: "m", Elev: "m", HAcc: "m", Null: "m", Freq: "hz", Comma: ',', Digits: 9}
	for _, c := range Columns() {
		l.Has[c] = true
	}
	return l
}

// Without returns the layout with columns left out.
func (l Layout) Without(cols ...Column) Layout {
	has := map[Column]bool{}
	for c, ok := range l.Has {
		has[c] = ok
	}
	for _, c := range cols {
		has[c] = false
	}
	l.Has = has
	return l
}

// layout draws how a job's tables look: any optional column may be missing.
func (rc *recipe) layout(r random, traces int, at geo.LonLat) Layout {
	l := Plain()
	l.Has[ColRaise] = rc.raised > 0
	l.Has[ColExposed], l.Has[ColNote] = rc.exposed > 0, rc.exposed > 0
	for _, c := range []struct {
		col Column
		p   float64
	}{
		{ColLine, 0.7}, {ColPoint, 0.7}, {ColTime, 0.75}, {ColElev, 0.8}, {ColFix, 0.85}, {ColHDOP, 0.7}, {ColHAcc, 0.85},
		{ColDepth, 0.98}, {ColCurrent, 0.85}, {ColNull, 0.85}, {ColPhase, 0.4}, {ColFreq, 0.8}, {ColHookup, 0.95},
	} {
		l.Has[c.col] = r.chance(c.p)
	}
	switch r.IntN(5) {
	case 0:
		l.Has[ColLow], l.Has[ColHigh] = false, false
		l.SignalDB = r.chance(0.5)
	case 1:
		l.Has[ColLow], l.Has[ColHigh], l.Has[ColSignal] = false, false, false
	default:
		l.Has[ColSignal] = false
	}
	for _, c := range Columns() {
		l.Has[c] = (l.Has[c] || rc.keep[string(c)]) && !rc.drop[string(c)]
	}
	l.Has[ColHAcc] = l.Has[ColHAcc] && rc.noise.Stated != StatedAbsent
	if traces > 1 {
		l.Has[ColLine] = true
		l.OneFile = r.chance(0.5)
	}
	l.looks(r)
	l.Foreign = r.chance(0.1)
	if rc.digits > 0 {
		l.Digits = rc.digits
	} else if rc.projected || r.chance(0.1) {
		l.CRS = utm(at)
	}
	return l
}

// looks draws units and the table's form.
func (l *Layout) looks(r random) {
	if r.chance(0.3) {
		l.Depth, l.Elev, l.HAcc, l.Null = oneOf(r, "ft", "in"), "ft", "ft", oneOf(r, "ft", "in")
	} else if r.chance(0.3) {
		l.Depth, l.HAcc = "cm", "cm"
	}
	l.Freq = oneOf(r, "hz", "hz", "khz")
	l.Comma = oneOf(r, ',', ',', ',', ';', '\t')
	l.DecimalComma = l.Comma != ',' && r.chance(0.5)
	l.UpperCase, l.ByteOrder, l.Comments = r.chance(0.1), r.chance(0.1), r.chance(0.15)
	l.Digits = 7 + r.IntN(3)
}

// utm is the zone of the Universal Transverse Mercator grid on WGS 84 that
// holds a place (EPSG codes 32601 to 32660 north, 32701 to 32760 south).
func utm(at geo.LonLat) string {
	zone := int(math.Floor((at.LonDeg+180)/6)) + 1
	if at.LatDeg < 0 {
		return fmt.Sprintf("EPSG:327%02d", zone)
	}
	return fmt.Sprintf("EPSG:326%02d", zone)
}
