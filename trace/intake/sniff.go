package intake

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"loamline.example/trace"
)

// saveAsCSV is what to do with a file that is no text table.
const saveAsCSV = "save the table as CSV in UTF-8"

// byteOrderMark is that of UTF-8.
const byteOrderMark = "\xef\xbb\xbf"

// notText lists how files begin that people take for a table.
var notText = []struct{ begins, what string }{
	{"\xd0\xcf\x11\xe0", "an old spreadsheet"},
	{"\x1f\x8b", "a compressed file"},
	{"%PDF", "a PDF document"},
	{"SQLite format 3", "a database"},
	{"\xff\xfe", "UTF-16 text"},
	{"\xfe\xff", "UTF-16 text"},
}

// sniff takes off a byte-order mark, and finds out how the table's lines end
// and which separator its header has. isColumn reports whether a header is one
// that a readings table may have.
func sniff(r io.Reader, name string, isColumn func(string) bool) (*rowScanner, error) {
	buf := bufio.NewReaderSize(r, 1<<16)
	head, err := buf.Peek(buf.Size())
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, readProblem(name, 0, err)
	}
	for _, n := range notText {
		if bytes.HasPrefix(head, []byte(n.begins)) {
			return nil, &trace.Problem{File: name, Row: 1, Cause: "the file is " + n.what + ", not a text table", Hint: saveAsCSV}
		}
	}
	if bytes.HasPrefix(head, []byte(byteOrderMark)) {
		_, _ = buf.Discard(len(byteOrderMark))
		head = head[len(byteOrderMark):]
	}
	if p := tableProblem(name, head); p != nil {
		return nil, p
	}
	s := &rowScanner{r: buf, lineEnd: '\n', comma: ','}
	if bytes.IndexByte(head, '\n') < 0 && bytes.IndexByte(head, '\r') >= 0 {
		s.lineEnd = '\r'
	}
	s.comma = separator(headerLine(head, s.lineEnd), isColumn)
	return s, nil
}

// headerLine is the first line that is neither empty nor a comment.
func headerLine(head []byte, lineEnd byte) string {
	for line := range bytes.SplitSeq(head, []byte{lineEnd}) {
		if t := bytes.TrimSpace(line); len(t) > 0 && t[0] != '#' && !quotedComment(string(t)) {
			return string(bytes.TrimRight(line, "\r"))
		}
	}
	return ""
}

// separator is whichever of comma, semicolon and tab splits the header into
// the most columns that are known; where that does not tell, into the most.
func separator(header string, isColumn func(string) bool) byte {
	best, bestKnown, bestFields := byte(','), -1, -1
	for _, c := range []byte{',', ';', '\t'} {
		sp := splitter{comma: c}
		if flaw, _ := sp.strict(header); flaw != faultNone && flaw != faultOpen {
			sp.fields = sp.fields[:0]
			sp.lenient(header)
		}
		known := 0
		for _, f := range sp.fields {
			if isColumn(strings.TrimSpace(header[f.from:f.to])) {
				known++
			}
		}
		if known > bestKnown || known == bestKnown && len(sp.fields) > bestFields {
			best, bestKnown, bestFields = c, known, len(sp.fields)
		}
	}
	return best
}

// readProblem words an error of the reader itself.
func readProblem(name string, line int, err error) *trace.Problem {
	return &trace.Problem{File: name, Row: line, Cause: err.Error(), Err: err, Hint: "check that the file can be read to its end"}
}

// headerProblem says why a header row cannot be read, nil if it can.
func headerProblem(name string, rec *record) *trace.Problem {
	p := &trace.Problem{File: name, Row: rec.line, Hint: saveAsCSV}
	switch {
	case rec.fault == faultLong:
		p.Cause = fmt.Sprintf("the header row does not end within %d MB: this is not a readings table", maxLineBytes>>20)
	case rec.fault == faultBinary || !utf8.ValidString(rec.text) && brokenShare(rec.text) > 0.1:
		p.Cause = "the file holds binary data, not text"
	case rec.fault == faultOpen:
		p.Row, p.Column = rec.position(rec.at)
		p.Cause, p.Hint = "a quote in the header row is never closed", "close it, or write the header without quotes"
	case rec.fault == faultQuote:
		p.Row, p.Column = rec.position(rec.at)
		p.Cause, p.Hint = "there is text after a closing quote in the header row", "double a quote inside a quoted text"
	case len(rec.fields) > maxFields:
		p.Cause, p.Hint = fmt.Sprintf("the header row has more than %d columns", maxFields), "a readings table has some dozen columns; check the separators"
	default:
		return nil
	}
	return p
}

// brokenShare is the share of bytes that are no part of UTF-8 text.
func brokenShare(text string) float64 {
	bad := 0
	for i, c := range text {
		if c == utf8.RuneError && text[i] != 0xef {
			bad++
		}
	}
	return float64(bad) / float64(max(1, len(text)))
}
