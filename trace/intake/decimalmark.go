package intake

import "strings"

// decimalMarks is what the numbers of one row tell of their decimal marks, in a
// table whose columns are parted by something else than a comma. "33,000" is
// thirty-three there, or thirty-three thousand: the row's other numbers tell.
type decimalMarks struct{ doubtful, comma, point bool }

// decimalMarks looks at the row's numbers.
func (t *tableReader) decimalMarks() decimalMarks {
	if !t.decimalComma {
		return decimalMarks{}
	}
	m := decimalMarks{doubtful: true}
	for i, c := range t.use {
		if !c.number {
			continue
		}
		text := strings.TrimSpace(t.rec.field(i))
		if thousands(text) != 0 {
			continue
		}
		m.comma = m.comma || strings.IndexByte(text, ',') >= 0
		m.point = m.point || strings.IndexByte(text, '.') >= 0
	}
	return m
}

// parts reports whether the mark in a number may separate thousands: unless another
// number of the row shows that it is the decimal mark, or, of a point, that no
// comma is.
func (m decimalMarks) parts(text string) bool {
	if !m.doubtful {
		return false
	}
	switch thousands(text) {
	case ',':
		return !m.comma || m.point
	case '.':
		return m.comma && !m.point
	}
	return false
}

// thousands returns the mark of a number that has one group of three digits
// behind one to three others, such as 33,000 and 1.045, else 0.
func thousands(text string) byte {
	text = strings.TrimLeft(text, "+-")
	i := strings.IndexAny(text, ",.")
	if i < 1 || i > 3 || len(text) != i+4 || text[0] == '0' {
		return 0
	}
	for k := range len(text) {
		if k != i && (text[k] < '0' || text[k] > '9') {
			return 0
		}
	}
	return text[i]
}
