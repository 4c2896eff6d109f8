package intake

import (
	"fmt"

	"loamline.example/trace"
)

// hemispheres are the words by which a header says that its figures run west or south; a
// header that also says the other way, "Lon (E/W)", says nothing. English, Spanish, German
// and French.
var hemispheres = []struct {
	field, says   string
	words, others []string
	degrees       func(r *trace.Reading) float64
}{
	{"lon", "west", []string{"w", "west", "oeste", "ouest", "westlich", "westliche"}, []string{"e", "east", "este", "est", "ost"}, func(r *trace.Reading) float64 { return r.Geographic.LonDeg }},
	{"lat", "south", []string{"s", "south", "sur", "sud", "sued", "sudlich", "sudliche"}, []string{"n", "north", "norte", "nord"}, func(r *trace.Reading) float64 { return r.Geographic.LatDeg }},
}

// sexagesimal are words of headers in which an s is seconds: "Lat d m s".
var sexagesimal = []string{"d", "m", "min", "dms", "sec"}

// checkHemispheres refuses figures without a sign under a header that says west or south:
// read as they stand they lie east or north, on another continent, and nothing else in a
// file need show it. One figure below zero shows that signs are written.
func (t *tableReader) checkHemispheres() *trace.Problem {
	for i, c := range t.use {
		for _, h := range hemispheres {
			column := t.table.Columns[i]
			words := headerWords(column.Header)
			if c.field != h.field || !anyWord(words, h.words) || anyWord(words, h.others) || anyWord(words, sexagesimal) {
				continue
			}
			above := 0
			for k := range t.table.Readings {
				switch v := h.degrees(&t.table.Readings[k]); {
				case v > 0:
					above++
				case v < 0:
					above = -len(t.table.Readings)
				}
			}
			if above > 0 {
				return &trace.Problem{File: t.name, Row: column.Row, Column: column.Column, Field: column.Header,
					Cause: fmt.Sprintf("the header says %s, and all its figures are positive: so they would lie on the other side", h.says),
					Hint:  fmt.Sprintf("write degrees %s with a minus sign; where the header is wrong, correct it there", h.says)}
			}
		}
	}
	return nil
}
