package pdfobject

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
)

// The kinds of values: nil, bool, float64, Text, Name, Ref, []any and Dict.
type (
	// Name is written /Name.
	Name string
	// Text is a string's bytes.
	Text string
	// Dict is a dictionary.
	Dict map[Name]any
	// Ref is the number of an object that stands elsewhere.
	Ref int
	// keyword is any other word, such as obj or endstream.
	keyword string
)

// deepest is how far arrays and dictionaries may stand in one another.
const deepest = 40

var errCut = errors.New("it ends in the middle of an object")

// lexer reads values one after the other (clause 7.2 and 7.3).
type lexer struct {
	b  []byte
	at int
}

func space(c byte) bool {
	return c == ' ' || c == '\n' || c == '\r' || c == '\t' || c == '\f' || c == 0
}

func delimiter(c byte) bool { return bytes.IndexByte([]byte("()<>[]{}/%"), c) >= 0 }

// skip passes over white space and comments.
func (l *lexer) skip() {
	for l.at < len(l.b) {
		switch c := l.b[l.at]; {
		case space(c):
			l.at++
		case c == '%':
			for l.at < len(l.b) && l.b[l.at] != '\n' && l.b[l.at] != '\r' {
				l.at++
			}
		default:
			return
		}
	}
}

// starts passes over a text if it comes next.
func (l *lexer) starts(text string) bool {
	if !bytes.HasPrefix(l.b[l.at:], []byte(text)) {
		return false
	}
	l.at += len(text)
	return true
}

// value reads a value, or a keyword.
func (l *lexer) value(depth int) (any, error) {
	if depth > deepest {
		return nil, errors.New("its objects are nested too deeply")
	}
	l.skip()
	switch {
	case l.at >= len(l.b):
		return nil, errCut
	case l.starts("<<"):
		return l.dict(depth)
	case l.starts("<"):
		return l.hex()
	case l.starts("("):
		return l.text()
	case l.starts("["):
		return l.array(depth)
	case l.starts("/"):
		return l.name(), nil
	}
	return l.word()
}

// plain reads up to white space or a delimiter.
func (l *lexer) plain() string {
	from := l.at
	for l.at < len(l.b) && !space(l.b[l.at]) && !delimiter(l.b[l.at]) {
		l.at++
	}
	return string(l.b[from:l.at])
}

func (l *lexer) name() Name {
	raw := l.plain()
	var out []byte
	for i := 0; i < len(raw); i++ {
		if raw[i] == '#' && i+2 < len(raw) {
			if c, err := strconv.ParseUint(raw[i+1:i+3], 16, 8); err == nil {
				out, i = append(out, byte(c)), i+2
				continue
			}
		}
		out = append(out, raw[i])
	}
	return Name(out)
}

// word reads a number, a reference or a keyword.
func (l *lexer) word() (any, error) {
	w := l.plain()
	switch w {
	case "":
		return nil, fmt.Errorf("there is a stray %q at byte %d", l.b[l.at], l.at)
	case "true", "false":
		return w == "true", nil
	case "null":
		return nil, nil
	}
	v, err := strconv.ParseFloat(w, 64)
	if err != nil || !numeral(w) {
		return keyword(w), nil
	}
	if n, err := strconv.Atoi(w); err == nil && n >= 0 {
		if l.reference() {
			return Ref(n), nil
		}
	}
	return v, nil
}

// numeral tells a number of PDF from the others that Go reads, such as Inf and 1e5.
func numeral(w string) bool {
	for i := range len(w) {
		if c := w[i]; (c < '0' || c > '9') && c != '.' && c != '+' && c != '-' {
			return false
		}
	}
	return true
}

// reference passes over the "0 R" behind a number, if it is there.
func (l *lexer) reference() bool {
	back := l.at
	l.skip()
	if _, err := strconv.ParseUint(l.plain(), 10, 16); err == nil {
		l.skip()
		if l.plain() == "R" {
			return true
		}
	}
	l.at = back
	return false
}

func (l *lexer) array(depth int) (any, error) {
	out := []any{}
	for {
		l.skip()
		if l.starts("]") {
			return out, nil
		}
		v, err := l.value(depth + 1)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
}

func (l *lexer) dict(depth int) (any, error) {
	out := Dict{}
	for {
		l.skip()
		if l.starts(">>") {
			return out, nil
		}
		if !l.starts("/") {
			return nil, fmt.Errorf("a dictionary has no name at byte %d", l.at)
		}
		key := l.name()
		v, err := l.value(depth + 1)
		if err != nil {
			return nil, err
		}
		out[key] = v
	}
}

func (l *lexer) hex() (any, error) {
	end := bytes.IndexByte(l.b[l.at:], '>')
	if end < 0 {
		return nil, errCut
	}
	var digits []byte
	for _, c := range l.b[l.at : l.at+end] {
		if !space(c) {
			digits = append(digits, c)
		}
	}
	l.at += end + 1
	if len(digits)%2 == 1 {
		digits = append(digits, '0')
	}
	out := make([]byte, 0, len(digits)/2)
	for i := 0; i < len(digits); i += 2 {
		c, err := strconv.ParseUint(string(digits[i:i+2]), 16, 8)
		if err != nil {
			return nil, fmt.Errorf("a string of hexadecimal digits has others before byte %d", l.at)
		}
		out = append(out, byte(c))
	}
	return Text(out), nil
}

// text reads a literal string; octal codes and broken lines, which no text that is
// asked for needs, are kept as they stand.
func (l *lexer) text() (any, error) {
	var out []byte
	for open := 1; l.at < len(l.b); l.at++ {
		c := l.b[l.at]
		switch {
		case c == '\\' && l.at+1 < len(l.b):
			l.at++
			c = l.b[l.at]
		case c == '(':
			open++
		case c == ')':
			if open--; open == 0 {
				l.at++
				return Text(out), nil
			}
		}
		out = append(out, c)
	}
	return nil, errCut
}
