package words

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"loamline.example/geo"
)

// InUnits rewrites the lengths of a sentence that was worded in the units of the
// job for whoever reads in others: findings and advice come worded. A figure keeps
// its kind, which its digits tell: stations have one decimal of a metre or whole
// feet, small lengths two decimals of a metre, one of a foot, or inches. Bands, and
// distances within which something must be done, are rounded up. What stands in
// names is left alone.
func InUnits(to, job geo.Units, sentence string, names ...string) string {
	if to == job || job == geo.US && to == geo.FeetInches {
		return sentence
	}
	lengths := metricLengths
	if job == geo.US {
		lengths = usLengths
	}
	var b strings.Builder
	for _, piece := range aroundNames(sentence, names) {
		if piece.name {
			b.WriteString(piece.text)
			continue
		}
		b.WriteString(lengths.ReplaceAllStringFunc(piece.text, func(s string) string {
			return inUnits(to, lengths.FindStringSubmatch(s))
		}))
	}
	return b.String()
}

// A length as the job's units word it: perhaps ± or 'within' before it, perhaps a
// range without a unit of its own, the figure, its unit, and a band behind it.
var (
	metricLengths = regexp.MustCompile(`(± |within )?(?:\b(\d+(?:\.\d+)?) to )?\b(\d+(?:\.\d+)?) (m|cm)\b( ± (\d+(?:\.\d+)?)\b)?`)
	usLengths     = regexp.MustCompile(`(± |within )?(?:\b(\d+(?:\.\d+)?) to )?\b(\d+(?:\.\d+)?) (ft|in)\b( ± (\d+(?:\.\d+)?)\b)?`)
)

var unitM = map[string]float64{"m": 1, "cm": 0.01, "ft": geo.FootM, "in": geo.InchM}

func inUnits(to geo.Units, m []string) string {
	before, from, figure, unit, band := m[1], m[2], m[3], m[4], m[6]
	metres := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return math.NaN()
		}
		return v * unitM[unit]
	}
	long := unit == "m" && decimals(figure) == 1 || unit == "ft" && decimals(figure) == 0
	say := func(s string) string {
		switch v := metres(s); {
		case before != "":
			return ShortUp(to, v)
		case long:
			return to.Long(v)
		case unit == "cm" || unit == "in" && v < geo.InchM:
			return to.Fine(v)
		default:
			return to.Short(v)
		}
	}
	switch {
	case band != "":
		return before + to.WithBand(metres(figure), metres(band))
	case from != "" && before != "± ": // both ends of a range are rounded alike
		return before + bareUnit(say(from), say(figure)) + " to " + say(figure)
	case from != "":
		return before + from + " to " + say(figure)
	}
	return before + say(figure)
}

// bareUnit takes the unit off the first of two figures that share it.
func bareUnit(a, b string) string {
	for _, unit := range []string{" m", " ft", " in", " cm"} {
		if strings.HasSuffix(a, unit) && strings.HasSuffix(b, unit) && strings.Count(a, " ") == 1 && strings.Count(b, " ") == 1 {
			return strings.TrimSuffix(a, unit)
		}
	}
	return a
}

func decimals(figure string) int {
	if _, after, ok := strings.Cut(figure, "."); ok {
		return len(after)
	}
	return 0
}

type namedPiece struct {
	text string
	name bool
}

// standards are names of standards that end in a figure, before which 'in' is no unit.
const standards = `\bNF S70-003\b`

// aroundNames parts a sentence at the names in it and at what stands in quotes.
func aroundNames(sentence string, names []string) []namedPiece {
	quoted := `'[^']*'|"[^"]*"|` + standards
	for _, n := range names {
		if n != "" {
			quoted = regexp.QuoteMeta(n) + "|" + quoted
		}
	}
	var out []namedPiece
	last := 0
	for _, at := range regexp.MustCompile(quoted).FindAllStringIndex(sentence, -1) {
		out = append(out, namedPiece{sentence[last:at[0]], false}, namedPiece{sentence[at[0]:at[1]], true})
		last = at[1]
	}
	return append(out, namedPiece{sentence[last:], false})
}
