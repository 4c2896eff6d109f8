package tracetest

import (
	"bufio"
	"encoding/csv"
	"io"
	"math"
	"strings"
	"time"

	"loamline.example/geo"
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
