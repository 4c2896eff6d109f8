package crosscheck

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// asWide is how much less than what a rule's text names a zone may be and still be as wide:
// figures are rounded. Judgement.
const asWide = 0.97

// namedWidth is a length, or two of one unit, at the beginning of a text, and what follows.
var namedWidth = regexp.MustCompile(`(?i)^(\d+(?:[.,]\d+)?)(?:\s*(?:to|or|and|-|–)\s*(\d+(?:[.,]\d+)?))?[\s-]*` +
	`(inch(?:es)?|in|["″]|feet|foot|ft|['′]|mm|millimet(?:re|er)s?|cm|centimet(?:re|er)s?|m|met(?:re|er)s?)([^\pL\d].*|)$`)

// rule tells where the text of the tolerance rule, which the map prints, names a wider zone
// than is drawn: its width was set in a text and not in half_width, or in another unit.
func (f *Found) rule(src trace.Source) {
	t := src.Job.Tolerance
	widths := widthsIn(t.Rule)
	if len(widths) == 0 || !(t.HalfWidthM > 0) {
		return
	}
	narrower, whole := true, false
	for _, w := range widths {
		narrower = narrower && t.HalfWidthM < asWide*w
		whole = whole || t.HalfWidthM >= asWide*w/2 && t.HalfWidthM <= w/2/asWide && across(t.Rule) // the zone's, from side to side
	}
	text := strings.ToLower(t.Rule)
	fromCenter := t.MeasuredFrom == trace.FromCenterline && strings.Contains(text, "edge") && !strings.Contains(text, "cent") && t.HalfWidthM <= widths[0]/asWide
	if (!narrower || whole) && !fromCenter {
		return
	}
	f.tell(trace.Problem{File: src.Name, Field: "tolerance.rule", Value: t.Rule,
		Cause: fmt.Sprintf("this text, which the map prints, names a wider zone than is drawn: half_width is %.4g m, measured from the %s", t.HalfWidthM, t.MeasuredFrom),
		Hint:  "set half_width and measured_from as the rule has them; its text alone widens nothing",
		Check: remark.RuleWider{Rule: t.Rule, HalfWidthM: t.HalfWidthM}})
}

// across reports whether a text speaks of the width of a zone from side to side.
func across(text string) bool {
	text = strings.ToLower(text)
	return strings.Contains(text, "wide") || strings.Contains(text, "width")
}

// widthsIn are the lengths that a text names, in metres, as far as they can be of a zone. A
// number of a section is none, nor is part of a fraction, and "in" is an inch only where no
// sentence goes on with it.
func widthsIn(text string) []float64 {
	const least, most = 0.1, 15.5 // as trace/setting has them, but for figures that are no zone's. Judgement
	var out []float64
	for at := 0; at < len(text); {
		if text[at] < '0' || text[at] > '9' {
			at++
			continue
		}
		m := namedWidth.FindStringSubmatch(strings.TrimSpace(text[at:]))
		before := strings.Fields(text[:at])
		part := at > 0 && text[at-1] == '/'
		for at < len(text) && strings.IndexByte("0123456789.,", text[at]) >= 0 {
			at++
		}
		if m == nil || part || len(before) > 0 && isSection(before[len(before)-1]) || strings.EqualFold(m[3], "in") && goesOn(m[4]) {
			continue
		}
		for _, figure := range m[1:3] {
			v, err := strconv.ParseFloat(strings.ReplaceAll(figure, ",", "."), 64) // bits: a bound of the arithmetic
			if v *= metresOf(strings.ToLower(m[3])); err == nil && v >= least && v <= most {
				out = append(out, v)
			}
		}
	}
	return out
}

// isSection reports whether a word announces the number of a section.
func isSection(word string) bool {
	switch strings.ToLower(strings.Trim(word, ".,;:(")) {
	case "section", "sec", "§", "§§", "rule", "chapter", "ch", "article", "art", "title", "part", "code", "no", "clause", "act", "statute", "figure", "table", "page":
		return true
	}
	return false
}

// goesOn reports whether a sentence goes on behind the word "in", as "in the code" does.
func goesOn(after string) bool {
	words := strings.Fields(after)
	if len(words) == 0 || !strings.HasPrefix(after, " ") {
		return false
	}
	switch strings.ToLower(strings.Trim(words[0], ".,;:()")) {
	case "from", "each", "either", "to", "on", "of", "beyond", "plus", "both", "outside", "wide", "around", "or", "and", "horizontally", "at", "zone", "per", "by", "measured", "minimum", "all", "+", "/":
		return false
	}
	return true
}

// metresOf is a unit's length in metres.
func metresOf(unit string) float64 {
	switch {
	case strings.HasPrefix(unit, "in"), unit == `"`, unit == "″":
		return geo.InchM
	case strings.HasPrefix(unit, "f"), unit == "'", unit == "′":
		return geo.FootM
	case strings.HasPrefix(unit, "mm"), strings.HasPrefix(unit, "milli"):
		return 0.001 // derived
	case strings.HasPrefix(unit, "c"):
		return 0.01 // derived
	}
	return 1
}
