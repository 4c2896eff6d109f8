package intake

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"loamline.example/trace"
)

// saveAsUTF8 is what to do with a job file that is no plain text.
const saveAsUTF8 = "save the job file as plain text in UTF-8, in a text editor"

// jobTextProblem says why a job file is no text that can be TOML, nil where it may be.
func jobTextProblem(name string, text []byte) *trace.Problem {
	for _, n := range notText {
		if bytes.HasPrefix(text, []byte(n.begins)) {
			return &trace.Problem{File: name, Row: 1, Column: 1, Cause: "the file is " + n.what + ", not a job file", Hint: saveAsUTF8}
		}
	}
	if bytes.HasPrefix(text, []byte("PK\x03\x04")) {
		return &trace.Problem{File: name, Row: 1, Column: 1, Cause: "the file is a document or a zip archive, not a job file", Hint: saveAsUTF8}
	}
	at := bytes.IndexByte(text, 0)
	if at < 0 {
		return nil
	}
	row, column := placeIn(text, at)
	return &trace.Problem{File: name, Row: row, Column: column, Cause: "the file holds zero bytes, as UTF-16 text without a mark does", Hint: saveAsUTF8}
}

// placeIn is the line and character, from 1, of a byte.
func placeIn(text []byte, at int) (row, column int) {
	from := bytes.LastIndexByte(text[:at], '\n') + 1
	return 1 + bytes.Count(text[:from], []byte{'\n'}), 1 + utf8.RuneCount(text[from:at])
}

// typed says what a person or a word processor wrote at a place of a job file that cannot
// be read as TOML, and what to do; empty where it is nothing of the usual.
func typed(text []byte, row, column int) (cause, hint string) {
	lines := bytes.SplitN(text, []byte{'\n'}, row+1)
	if row < 1 || len(lines) < row || column < 1 || column > len(lines[row-1]) {
		return "", ""
	}
	line := lines[row-1]
	rest := line[column-1:]
	for len(rest) > 1 && rest[0] == ' ' {
		rest = rest[1:]
	}
	c, size := utf8.DecodeRune(rest)
	before, after := line[:len(line)-len(rest)], rest[size:]
	switch {
	case c == utf8.RuneError && size == 1:
		return "this is not UTF-8 text", saveAsUTF8
	case strings.ContainsRune("\u201c\u201d\u201e\u201f\u2018\u2019\u201a\u201b\u00ab\u00bb\u2039\u203a\u2033\u2032\uff02\u00b4", c):
		return fmt.Sprintf("a curly quote (%c, U+%04X) stands where a straight one belongs", c, c), "write texts in straight quotes, as in \"W-1\"; a word processor turns them, a text editor does not"
	case c > unicode.MaxASCII && unicode.IsSpace(c) || unicode.Is(unicode.Cf, c):
		return fmt.Sprintf("an invisible character (U+%04X) stands here", c), "remove it; a text editor writes plain spaces"
	case c == ',' && len(before) > 0 && onlyDigits(string(before[len(before)-1:])) && len(after) > 0 && onlyDigits(string(after[:1])):
		return "a decimal comma stands in this number", "write numbers with a decimal point, such as 0.4"
	}
	return "", ""
}

// writeDay is what to do about a day that is none.
const writeDay = "write an existing day as YYYY-MM-DD, such as 2026-05-12"

// dayLine is a key with a day that is written without quotes, in whatever order.
var dayLine = regexp.MustCompile(`^\s*([A-Za-z0-9_.-]+)\s*=\s*(\d{1,4}([-/.])\d{1,2}[-/.]\d{1,4})(?:[T\s#]|$)`)

// dayAt is the key of a line of a job file, its value and the column where that begins,
// where it is written as a day and is none: the 31st of a month of thirty days, or one in
// another order than TOML's. With points between it may be anything, and is a day only
// under the keys that have one.
func dayAt(text []byte, row int) (key, value string, column int) {
	lines := bytes.SplitN(text, []byte{'\n'}, row+1)
	if row < 1 || len(lines) < row {
		return "", "", 0
	}
	line := string(lines[row-1])
	m := dayLine.FindStringSubmatchIndex(line)
	if m == nil {
		return "", "", 0
	}
	key, value = line[m[2]:m[3]], line[m[4]:m[5]]
	if _, err := time.Parse(time.DateOnly, value); err == nil || line[m[6]] == '.' && key != "date" && key != "valid_until" {
		return "", "", 0
	}
	return key, value, m[4] + 1
}
