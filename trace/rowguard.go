package trace

import (
	"bufio"
	"errors"
	"io"
	"unicode/utf8"
)

// maxRowBytes bounds what one row of a table may hold in memory.
const maxRowBytes = 1 << 20

var (
	errLongRow = errors.New("row too long")
	errBinary  = errors.New("binary data")
)

// rowGuard passes a table through and ends it with an error at a row without
// end or at a zero byte, before a parser has gathered it all.
type rowGuard struct {
	r          io.Reader
	comma      byte
	inQuotes   bool
	fieldStart bool
	rowBytes   int
}

func newRowGuard(r io.Reader, comma rune) *rowGuard {
	return &rowGuard{r: r, comma: byte(comma), fieldStart: true}
}

// Read implements io.Reader.
func (g *rowGuard) Read(p []byte) (int, error) {
	n, err := g.r.Read(p)
	for _, c := range p[:n] {
		switch {
		case c == 0:
			return 0, errBinary
		case c == '"' && (g.inQuotes || g.fieldStart):
			g.inQuotes = !g.inQuotes
			g.fieldStart = false
		case c == '\n' && !g.inQuotes:
			g.rowBytes, g.fieldStart = 0, true
			continue
		case c == g.comma:
			g.fieldStart = true
		case c != ' ':
			g.fieldStart = false
		}
		if g.rowBytes++; g.rowBytes > maxRowBytes {
			return 0, errLongRow
		}
	}
	return n, err
}

// sniff takes off a byte-order mark and finds the separator: whichever of
// comma, semicolon and tab stands most often in the header row outside quotes.
func sniff(r *bufio.Reader, name string) (rune, error) {
	if bom, _ := r.Peek(3); string(bom) == "\xef\xbb\xbf" {
		_, _ = r.Discard(3)
	}
	head, err := r.Peek(r.Size())
	if err != nil && err != io.EOF && err != bufio.ErrBufferFull {
		return 0, &Problem{File: name, Cause: err.Error(), Err: err, Hint: "check that the file can be read"}
	}
	if len(head) >= 2 && (head[0] == 0xff && head[1] == 0xfe || head[0] == 0xfe && head[1] == 0xff) {
		return 0, &Problem{File: name, Row: 1, Cause: "the file is UTF-16 text", Hint: "save the table as CSV in UTF-8"}
	}
	counts := map[byte]int{}
	inQuotes, comment, atStart, seen := false, false, true, false
	for i, c := range head {
		switch {
		case c == '\n' && !inQuotes:
			if seen {
				return mostOften(counts), nil
			}
			comment, atStart = false, true
			continue
		case comment:
			continue
		case atStart && c == '#':
			comment = true
		case c == '"':
			inQuotes = !inQuotes
			seen = true
		case c == ',' || c == ';' || c == '\t':
			if !inQuotes {
				counts[c]++
			}
			seen = true
		case c != '\r':
			seen = true
		}
		atStart = false
		if i > 0 && c == 0 {
			return 0, &Problem{File: name, Row: 1, Cause: "the file holds binary data, not text", Hint: "export the readings as CSV in UTF-8"}
		}
	}
	if len(head) > 0 && !utf8.Valid(head[:min(len(head), 512)]) && len(counts) == 0 {
		return 0, &Problem{File: name, Row: 1, Cause: "the file holds binary data, not text", Hint: "export the readings as CSV in UTF-8"}
	}
	return mostOften(counts), nil
}

func mostOften(counts map[byte]int) rune {
	best := byte(',')
	for _, c := range []byte{';', '\t'} {
		if counts[c] > counts[best] {
			best = c
		}
	}
	return rune(best)
}
