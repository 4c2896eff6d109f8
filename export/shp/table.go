package shp

import (
	"encoding/binary"
	"strconv"
	"strings"
	"unicode/utf8"

	"loamline.example/export/layer"
	"loamline.example/export/literal"
)

// maxText is how many bytes a field of a dBASE table holds.
const maxText = 254

// table is the .dbf of a Shapefile.
type table struct {
	columns []layer.Column
	names   []string
	rows    [][]string
}

func newTable(columns []layer.Column) *table {
	t := &table{columns: columns}
	taken := map[string]bool{}
	for _, c := range columns {
		n := shortName(c.Name)
		for i := 2; taken[n]; i++ {
			suffix := strconv.Itoa(i)
			n = n[:min(len(n), 10-len(suffix))] + suffix
		}
		taken[n] = true
		t.names = append(t.names, n)
	}
	return t
}

// shortNames cut what is in many names, in this order, until ten characters do.
var shortNames = strings.NewReplacer("horizontal", "hor", "difference", "diff", "separation", "sep", "measured", "meas", "confidence", "conf",
	"station", "sta", "largest", "max", "common", "com", "likely", "lik", "offset", "off", "current", "cur", "signal", "sig")

func shortName(name string) string {
	if len(name) > 10 {
		name = shortNames.Replace(name)
	}
	for len(name) > 10 && strings.Contains(name, "_") && len(strings.ReplaceAll(name, "_", "")) >= 8 {
		i := strings.LastIndex(name, "_")
		name = name[:i] + name[i+1:]
	}
	return name[:min(len(name), 10)]
}

// isDate reports whether a column is a day: it is one in the table too.
func isDate(c layer.Column) bool { return c.Day }

func (t *table) add(values []layer.Value) {
	row := make([]string, len(values))
	for i, v := range values {
		if v.Known {
			row[i] = cell(t.columns[i], v)
		}
	}
	t.rows = append(t.rows, row)
}

func cell(c layer.Column, v layer.Value) string {
	switch c.Type {
	case layer.TypeReal:
		return literal.Trim(v.Num, c.Decimals)
	case layer.TypeInteger:
		return strconv.Itoa(int(v.Num))
	case layer.TypeBoolean:
		if v.Num != 0 {
			return "T"
		}
		return "F"
	case layer.TypeTexts:
		return cut(strings.Join(v.Texts, " "))
	}
	if isDate(c) {
		return strings.ReplaceAll(v.Text, "-", "")
	}
	return cut(v.Text)
}

// cut shortens a text to what a field holds, and shows that it did: the GeoPackage
// and the GeoJSON of the job have it whole.
func cut(s string) string {
	if len(s) <= maxText {
		return s
	}
	const more = "…"
	s = s[:maxText-len(more)]
	for !utf8.ValidString(s) {
		s = s[:len(s)-1]
	}
	return s + more
}

// field is a column's type, width and decimals in dBASE.
func (t *table) field(i int) (kind byte, width, decimals int) {
	for _, r := range t.rows {
		width = max(width, len(r[i]))
	}
	switch c := t.columns[i]; {
	case c.Type == layer.TypeReal:
		return 'N', max(width, 1+c.Decimals+2), c.Decimals
	case c.Type == layer.TypeInteger:
		return 'N', max(width, 4), 0
	case c.Type == layer.TypeBoolean:
		return 'L', 1, 0
	case isDate(c):
		return 'D', 8, 0
	}
	return 'C', max(width, 1), 0
}

// file is the table: dBASE level 3, marked as UTF-8 by the .cpg beside it.
func (t *table) file() []byte {
	var fields []byte
	row := 1
	widths, kinds := make([]int, len(t.columns)), make([]byte, len(t.columns))
	for i := range t.columns {
		kind, width, decimals := t.field(i)
		widths[i], kinds[i] = width, kind
		var d [32]byte
		copy(d[:11], t.names[i])
		d[11], d[16], d[17] = kind, byte(width), byte(decimals)
		fields = append(fields, d[:]...)
		row += width
	}
	header := make([]byte, 32)
	header[0] = 3
	header[1], header[2], header[3] = 70, 1, 1 // no clock: the same job gives the same bytes
	binary.LittleEndian.PutUint32(header[4:], uint32(len(t.rows)))
	binary.LittleEndian.PutUint16(header[8:], uint16(32+len(fields)+1))
	binary.LittleEndian.PutUint16(header[10:], uint16(row))
	out := append(append(header, fields...), 0x0d)
	for _, r := range t.rows {
		out = append(out, ' ')
		for i, s := range r {
			pad := strings.Repeat(" ", widths[i]-len(s))
			switch {
			case s == "" && kinds[i] == 'L':
				s = "?"
				pad = ""
			case kinds[i] == 'N':
				s, pad = pad+s, ""
			}
			out = append(append(out, s...), pad...)
		}
	}
	return append(out, 0x1a)
}
