package intake

import "strings"

// maxFields bounds the fields of a record that are kept; a table with more
// columns is none of readings.
const maxFields = 1 << 10

// splitter finds the fields in a record's text.
type splitter struct {
	comma  byte
	fields []span
	open   int  // where the quoted text begins that is not closed yet
	pos    int  // how far it was searched
	double bool // it holds doubled quotes
}

// strict splits by RFC 4180; blanks around a quoted field are allowed, and a
// quote within an unquoted field is a character like any other.
func (s *splitter) strict(text string) (fault, int) { return s.fieldsFrom(text, 0) }

// resume goes on with a longer text where a quoted field was open.
func (s *splitter) resume(text string) (fault, int) {
	next, flaw, at := s.quoted(text)
	if flaw != faultNone || next < 0 {
		return flaw, at
	}
	return s.fieldsFrom(text, next)
}

func (s *splitter) fieldsFrom(text string, from int) (fault, int) {
	for from >= 0 {
		i := from
		for i < len(text) && (text[i] == ' ' || text[i] == '\t') && text[i] != s.comma {
			i++
		}
		if i == len(text) || text[i] != '"' {
			end := strings.IndexByte(text[from:], s.comma)
			if end < 0 {
				s.add(span{from: from, to: len(text)})
				return faultNone, 0
			}
			s.add(span{from: from, to: from + end})
			from += end + 1
			continue
		}
		s.open, s.pos, s.double = i+1, i+1, false
		next, flaw, at := s.quoted(text)
		if flaw != faultNone {
			return flaw, at
		}
		from = next
	}
	return faultNone, 0
}

// quoted finds the end of the quoted field that begins at open, and returns
// where the next field begins, -1 behind the last one.
func (s *splitter) quoted(text string) (next int, flaw fault, at int) {
	for {
		q := strings.IndexByte(text[s.pos:], '"')
		if q < 0 {
			s.pos = len(text)
			return 0, faultOpen, s.open - 1
		}
		q += s.pos
		if q+1 < len(text) && text[q+1] == '"' {
			s.double, s.pos = true, q+2
			continue
		}
		s.add(span{from: s.open, to: q, doubled: s.double})
		i := q + 1
		for i < len(text) && (text[i] == ' ' || text[i] == '\t') && text[i] != s.comma {
			i++
		}
		switch {
		case i == len(text):
			return -1, faultNone, 0
		case text[i] == s.comma:
			return i + 1, faultNone, 0
		}
		return 0, faultQuote, q
	}
}

// lenient splits a line whose quotes are broken: a quoted text ends only where
// a separator or the line's end follows its quote.
func (s *splitter) lenient(text string) {
	for from := 0; ; {
		rest := text[from:]
		end := strings.IndexByte(rest, s.comma)
		if strings.HasPrefix(rest, `"`) {
			if quote := strings.Index(rest[1:], `"`+string(s.comma)); quote >= 0 {
				end = quote + 2
			} else if strings.HasSuffix(rest, `"`) && len(rest) > 1 {
				end = -1
			}
		}
		to := len(text)
		if end >= 0 {
			to = from + end
		}
		s.add(unquoted(text, from, to))
		if end < 0 {
			return
		}
		from = to + 1
	}
}

// unquoted takes the quotes off a field's ends.
func unquoted(text string, from, to int) span {
	if from < to && text[from] == '"' {
		from++
		if from < to && text[to-1] == '"' {
			to--
		}
	}
	return span{from: from, to: to}
}

// add keeps a field. Those past the bound are dropped: one too many is enough
// to tell.
func (s *splitter) add(f span) {
	if len(s.fields) <= maxFields {
		s.fields = append(s.fields, f)
	}
}
