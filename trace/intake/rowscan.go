package intake

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"strings"
	"unicode/utf8"
)

const (
	// maxLineBytes bounds what one line of a table may hold in memory; a
	// reading takes some hundred bytes.
	maxLineBytes = 1 << 20
	// maxQuotedBytes bounds a record whose quoted text runs over several lines.
	// Past it the quote is taken as never closed.
	maxQuotedBytes = 1 << 16
)

// fault is why a record cannot be split into fields. The zero value is none.
type fault int

const (
	faultNone   fault = iota
	faultLong         // longer than maxLineBytes
	faultBinary       // holds control characters
	faultOpen         // a quoted text is not closed
	faultQuote        // there is text after a closing quote
)

// record is one row of a table, split. It holds until the next one is read.
type record struct {
	line   int // of the file, on which it starts; the first is 1
	text   string
	fields []span
	fault  fault
	at     int  // byte of text where the fault is
	mended bool // the fault is in the quotes, and the fields fit all the same
	cut    bool // the file ends in this record without an end of line
	hashed bool // it begins with #, and holds a reading
}

// span is a field's place in a record's text.
type span struct {
	from, to int
	doubled  bool // holds doubled quotes
}

// field returns the text of a field without its quotes.
func (r *record) field(i int) string {
	f := r.fields[i]
	if f.doubled {
		return strings.ReplaceAll(r.text[f.from:f.to], `""`, `"`)
	}
	return r.text[f.from:f.to]
}

// position returns the line of the file and the character in it, both from 1,
// of a byte of the record.
func (r *record) position(at int) (line, column int) {
	before := r.text[:at]
	return r.line + strings.Count(before, "\n"), utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:]) + 1
}

// rowScanner splits a table into records by RFC 4180. Where the quotes of a
// record are broken it falls back on the lines as they stand, so that a quote
// that is never closed costs its own row and not the rest of the file.
type rowScanner struct {
	r       *bufio.Reader
	comma   byte
	lineEnd byte
	line    int        // lines taken so far
	taken   int64      // bytes read so far
	pushed  []textLine // lines to be taken again
	comment string     // the last comment line that was skipped
	places  []int      // columns that say where a reading was taken: a comment has no figures there
	rec     record
	long    []byte
	err     error // of the reader
}

// textLine is a line of the file without its end.
type textLine struct {
	text string
	flaw fault
	cut  bool // the file ends without an end of line
}

// next reads the next record: comment lines and empty lines are none. want is
// the number of fields that a record should have, 0 above and in the header, where any
// number will do.
// It ends with io.EOF; other errors are the reader's own.
func (s *rowScanner) next(want int) (*record, error) {
	for {
		l, err := s.takeLine()
		if err != nil {
			return nil, err
		}
		if l.flaw == faultNone && strings.Trim(l.text, " ") == "" {
			continue
		}
		if strings.HasPrefix(l.text, "#") || want == 0 && quotedComment(l.text) {
			s.comment = l.text
			if want > 0 && l.flaw == faultNone && s.hashedRow(l.text, want) {
				s.rec.line, s.rec.text, s.rec.fault, s.rec.mended, s.rec.cut, s.rec.hashed = s.line, l.text, faultNone, false, l.cut, true
				return &s.rec, nil
			}
			continue
		}
		s.rec = record{line: s.line, text: l.text, fields: s.rec.fields[:0], fault: l.flaw, cut: l.cut}
		if l.flaw == faultNone {
			s.split(want)
		}
		return &s.rec, nil
	}
}

// split finds the fields of the record, taking further lines while a quoted
// text runs on.
func (s *rowScanner) split(want int) {
	rec := &s.rec
	sp := splitter{comma: s.comma, fields: rec.fields}
	rec.fault, rec.at = sp.strict(rec.text)
	if rec.fault == faultOpen && s.gather(&sp, want) {
		rec.fault, rec.at = faultNone, 0
	}
	rec.fields = sp.fields
	if rec.fault == faultNone {
		return
	}
	sp.fields = sp.fields[:0]
	sp.lenient(rec.text)
	rec.fields = sp.fields
	// Where a quote is never closed, a separator behind it may be text.
	sure := rec.fault == faultQuote || strings.IndexByte(rec.text[rec.at:], s.comma) < 0
	rec.mended = sure && len(sp.fields) == want
}

// gather adds lines to the record until its quoted text closes. If it never
// does, or if the fields do not fit then, the lines go back.
func (s *rowScanner) gather(sp *splitter, want int) bool {
	text, flaw := []byte(s.rec.text), faultOpen
	var taken []textLine
	for flaw == faultOpen && len(text) < maxQuotedBytes {
		more, err := s.takeLine()
		if err != nil {
			break
		}
		taken = append(taken, more)
		if more.flaw != faultNone {
			break
		}
		text = append(append(text, '\n'), more.text...)
		if strings.IndexByte(more.text, '"') >= 0 {
			flaw, _ = sp.resume(string(text))
		}
	}
	if flaw == faultNone && (want == 0 || len(sp.fields) == want) {
		s.rec.text, s.rec.cut = string(text), taken[len(taken)-1].cut
		return true
	}
	s.pushed = append(taken, s.pushed...)
	s.line -= len(taken)
	return false
}

// takeLine returns the next line.
func (s *rowScanner) takeLine() (textLine, error) {
	if len(s.pushed) > 0 {
		l := s.pushed[0]
		s.pushed = s.pushed[1:]
		s.line++
		return l, nil
	}
	if s.err != nil {
		return textLine{}, s.err
	}
	raw, err := s.r.ReadSlice(s.lineEnd)
	if errors.Is(err, bufio.ErrBufferFull) {
		raw, err = s.longLine(raw)
	}
	s.err = err
	if len(raw) == 0 || err != nil && !errors.Is(err, io.EOF) {
		return textLine{}, err
	}
	s.line++
	s.taken += int64(len(raw))
	l := textLine{cut: err != nil}
	if len(raw) > maxLineBytes {
		l.flaw = faultLong
		return l, nil
	}
	l.text = string(bytes.TrimRight(bytes.TrimSuffix(raw, []byte{s.lineEnd}), "\r"))
	l.flaw = flawOf(l.text)
	return l, nil
}

// longLine reads a line that is longer than the reader's buffer, and keeps no
// more of it than a line may have.
func (s *rowScanner) longLine(raw []byte) ([]byte, error) {
	err := bufio.ErrBufferFull
	s.long = append(s.long[:0], raw...)
	for errors.Is(err, bufio.ErrBufferFull) {
		raw, err = s.r.ReadSlice(s.lineEnd)
		if room := maxLineBytes + 1 - len(s.long); room > 0 {
			s.long = append(s.long, raw[:min(room, len(raw))]...)
		}
	}
	return s.long, err
}

// flawOf finds characters that no text has.
func flawOf(text string) fault {
	for i := 0; i < len(text); i++ {
		if c := text[i]; c < ' ' && c != '\t' && c != '\r' {
			return faultBinary
		}
	}
	return faultNone
}
