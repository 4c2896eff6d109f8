package tracetest

import (
	"bufio"
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"loamline/geo"
)

// begun is the moment at which every job starts.
var begun = time.Date(2026, 5, 12, 7, 30, 0, 0, time.UTC)

// WriteCSV writes traces of the job as one readings table.
func (j Job) WriteCSV(w io.Writer, l Layout, traces ...Trace) error {
	b := bufio.NewWriter(w)
	if l.ByteOrder {
		b.WriteString("\ufeff")
	}
	if l.Comments {
		b.WriteString("# practice readings, simulated\n# datum WGS84\n")
	}
	c := csv.NewWriter(b)
	c.Comma = l.Comma
	var cols []Column
	var head []string
	for _, col := range Columns() {
		if l.Has[col] {
			cols = append(cols, col)
			head = append(head, l.shownHeader(col))
		}
	}
	c.Write(head)
	pos, err := l.positions(j.Plane)
	if err != nil {
		return err
	}
	for _, t := range traces {
		for _, rd := range t.Readings {
			row := make([]string, len(cols))
			for i, col := range cols {
				row[i] = l.cell(pos, col, rd)
			}
			c.Write(row)
		}
	}
	c.Flush()
	if err := c.Error(); err != nil {
		return err
	}
	return b.Flush()
}

// header names a column with its unit.
func (l Layout) header(c Column) string {
	s := string(c)
	switch c {
	case ColLat:
		if l.CRS != "" {
			s = "north_" + l.Elev
		}
	case ColLon:
		if l.CRS != "" {
			s = "east_" + l.Elev
		}
	case ColElev:
		s += "_" + l.Elev
	case ColHAcc:
		s += "_" + l.HAcc
	case ColDepth:
		s += "_" + l.Depth
	case ColCurrent:
		s += "_ma"
	case ColRaise:
		s += "_" + l.Null
	case ColNull:
		s += "_offset_" + l.Null
	case ColFreq:
		s += "_" + l.Freq
	case ColSignal:
		if l.SignalDB {
			s += "_db"
		}
	}
	return s
}

// shownHeader is the header as the table has it.
func (l Layout) shownHeader(c Column) string {
	s := l.header(c)
	if l.Foreign {
		s = foreign(s)
	}
	if l.UpperCase {
		s = strings.ToUpper(s)
	}
	return s
}

// foreign puts a column's name into another instrument's words: "depth_in"
// becomes "Depth (in)".
func foreign(name string) string {
	words := strings.Split(name, "_")
	last := len(words) - 1
	if _, unit := perM[words[last]]; unit || words[last] == "ma" || words[last] == "hz" || words[last] == "khz" {
		words[last] = "(" + words[last] + ")"
	}
	return strings.ToUpper(words[0][:1]) + strings.Join(words, " ")[1:]
}

// positions words a place as latitude and longitude, or as northing and
// easting.
func (l Layout) positions(plane geo.Plane) (func(geo.XY) (first, second string), error) {
	if l.CRS == "" {
		return func(p geo.XY) (string, string) {
			ll := plane.LonLat(p)
			return l.number(ll.LatDeg, l.Digits), l.number(ll.LonDeg, l.Digits)
		}, nil
	}
	crs, err := geo.LookupCRS(l.CRS)
	if err != nil {
		return nil, err
	}
	return func(p geo.XY) (string, string) {
		e, n, err := crs.Project(plane.LonLat(p))
		if err != nil {
			e, n = math.NaN(), math.NaN()
		}
		f := perM[l.Elev].factor
		return l.number(n*f, 3), l.number(e*f, 3)
	}, nil
}

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
