package intake

import (
	"slices"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A line that begins with # is a comment. Where the first column is the name of a line or
// the number of a point, "#2 feeder" and "#17" begin so too, and a whole line would vanish
// with its readings. What holds a place as a reading does is therefore never skipped in
// silence, even if somebody made a comment of a bad row.

const (
	hashedCause = "the line begins with # as a comment does, and holds a reading's place"
	hashedHint  = "if it is a reading, put the text that begins with # in quotes, or take the # away; if it is none, delete the line"
)

// placeColumns are the columns that say where a reading was taken, or when, where that
// gives its place.
func placeColumns(byField map[string]int) []int {
	for _, fields := range [][]string{{"lat", "lon"}, {"east", "north"}, {"time"}} {
		var at []int
		for _, f := range fields {
			if i, ok := byField[f]; ok {
				at = append(at, i)
			}
		}
		if len(at) == len(fields) {
			return at
		}
	}
	return nil
}

// hashedRow reports whether a line that begins with # has the header's fields, and figures
// where the header has places; the record has its fields then.
func (s *rowScanner) hashedRow(text string, want int) bool {
	if len(s.places) == 0 {
		return false
	}
	sp := splitter{comma: s.comma, fields: s.rec.fields[:0]}
	flaw, _ := sp.strict(text)
	s.rec.fields = sp.fields
	if flaw != faultNone || len(sp.fields) < want {
		return false
	}
	for _, f := range sp.fields[want:] {
		if strings.TrimSpace(text[f.from:f.to]) != "" {
			return false
		}
	}
	for _, i := range s.places {
		f := strings.Trim(text[sp.fields[i].from:sp.fields[i].to], "# \t")
		if len(s.places) == 1 { // a time: it begins with its year
			if len(f) < len("2026-05-12") || !isDigits(f[:4]) {
				return false
			}
		} else if _, err := parseNumber(strings.Replace(f, ",", ".", 1)); err != nil {
			return false
		}
	}
	return true
}

// quotedComment reports whether a line above the header is a comment that a spreadsheet
// put in quotes, with nothing beside it: a column may be called "#".
func quotedComment(text string) bool {
	if !strings.HasPrefix(text, `"#`) {
		return false
	}
	end := strings.LastIndexByte(text, '"')
	return end > 1 && !strings.Contains(strings.ReplaceAll(text[1:end], `""`, ""), `"`) && strings.Trim(text[end+1:], ",;\t ") == ""
}

// hashedRow reports a row that begins with # as unreadable.
func (t *tableReader) hashedRow() bool {
	if !t.rec.hashed {
		return false
	}
	t.hashed = append(t.hashed, t.rec.line)
	t.unreadable(&trace.Problem{File: t.name, Row: t.rec.line, Cause: hashedCause, Hint: hashedHint})
	return true
}

// tellHashed has the map say so at the first of them.
func (t *tableReader) tellHashed() {
	if len(t.hashed) == 0 {
		return
	}
	k := slices.IndexFunc(t.table.Problems, func(p trace.Problem) bool { return p.Cause == hashedCause })
	t.table.Problems[k].Check = remark.RowsHashed{Table: t.name, N: len(t.hashed), FirstLine: t.hashed[0]}
}
