package linename

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// TellAlike tells of lines whose names are the same but for case, white space, dashes and
// letters that look like others: they may be one line, whose readings were then taken for
// two.
func TellAlike(s *trace.Sheet) {
	first := map[string]*trace.Line{}
	for i := range s.Lines {
		l := &s.Lines[i]
		var other *trace.Line
		for _, key := range keys(l.Setup.Name) {
			if at, again := first[key]; !again {
				first[key] = l
			} else if other == nil && at != l {
				other = at
			}
		}
		if other != nil {
			s.Problems = append(s.Problems, alike(s, l, other))
		}
	}
}

func alike(s *trace.Sheet, l, other *trace.Line) trace.Problem {
	p := trace.Problem{File: s.Name, Field: "line", Value: trace.Shorten(l.Setup.Name), Warn: true,
		Cause: fmt.Sprintf("this name and %q are nearly the same, and were taken for two lines", trace.Shorten(other.Setup.Name)),
		Hint:  "if it is one line, write its name in one way",
		Check: remark.NamesAlike{Name: other.Setup.Name, Other: l.Setup.Name}}
	file, row := firstOf(s, l)
	if otherFile, otherRow := firstOf(s, other); row > 0 && otherRow > 0 {
		p.File, p.Row = file, row
		p.Cause = fmt.Sprintf("this name and %q (line %d of %s) are nearly the same, and were taken for two lines", trace.Shorten(other.Setup.Name), otherRow, otherFile)
	}
	if code := unusual(l.Setup.Name, other.Setup.Name); code != "" {
		p.Hint = fmt.Sprintf("if it is one line, write its name in one way; one of them alone has the character %s", code)
	}
	return p
}

// firstOf is where the first reading of a line stands.
func firstOf(s *trace.Sheet, l *trace.Line) (file string, row int) {
	for i := range l.Readings {
		if r := &l.Readings[i]; int(r.File) < len(s.Inputs) && r.Row > 0 {
			return s.Inputs[r.File].Name, int(r.Row)
		}
	}
	return "", 0
}

// unusual is the code of a character outside plain English that one of two names has and
// the other has not: who compares them by eye may not see it.
func unusual(a, b string) string {
	for _, names := range [][2]string{{a, b}, {b, a}} {
		for _, c := range names[0] {
			if c > unicode.MaxASCII && !strings.ContainsRune(names[1], c) {
				return fmt.Sprintf("U+%04X", c)
			}
		}
	}
	return ""
}

// keys are what names have in common that look alike: one in which a dash between a letter
// and a figure may be left out, and one in which letters and figures that look alike are
// the same.
func keys(name string) []string {
	var plain strings.Builder
	for _, c := range strings.ToLower(norm.NFKC.String(name)) {
		switch {
		case unicode.IsSpace(c) || unicode.Is(unicode.Pd, c) || c == '_' || c == '\u2212' || c == '\u00ad': // minus, soft hyphen
			plain.WriteByte(' ')
		case unicode.Is(unicode.Cf, c) || unicode.IsControl(c): // nothing that is seen
		default:
			if latin, ok := lookLike[c]; ok {
				c = latin
			}
			plain.WriteRune(c)
		}
	}
	parts := strings.Join(strings.Fields(plain.String()), "-")
	var apart strings.Builder
	last := ' '
	for _, c := range parts {
		if letterBeside(last, c) || letterBeside(c, last) {
			apart.WriteByte('-')
		}
		apart.WriteRune(c)
		last = c
	}
	return []string{"apart " + apart.String(), "seen " + strings.NewReplacer("o", "0", "i", "1", "l", "1").Replace(parts)}
}

// letterBeside reports whether a letter stands beside a figure.
func letterBeside(a, b rune) bool { return unicode.IsLetter(a) && unicode.IsDigit(b) }

// lookLike are small letters of other scripts whose capitals or selves look like Latin
// ones. Judgement: those of common typefaces.
var lookLike = map[rune]rune{
	'а': 'a', 'в': 'b', 'с': 'c', 'е': 'e', 'н': 'h', 'і': 'i', 'ј': 'j', 'к': 'k', 'м': 'm', 'о': 'o', 'р': 'p', 'ѕ': 's', 'т': 't', 'у': 'y', 'х': 'x', 'ԝ': 'w', // Cyrillic
	'α': 'a', 'β': 'b', 'ε': 'e', 'ζ': 'z', 'η': 'h', 'ι': 'i', 'κ': 'k', 'μ': 'm', 'ν': 'n', 'ο': 'o', 'ρ': 'p', 'τ': 't', 'υ': 'y', 'χ': 'x', // Greek
}
