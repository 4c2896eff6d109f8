package intake

import (
	"slices"
	"strings"
	"unicode"

	"loamline.example/trace/remark"
	"loamline.example/trace/spelling"
)

// guess is which column of ours an unknown header is likely meant for.
type guess struct {
	field string
	names []string // with their units, the likeliest alone where one can be told
	other bool     // the header names a unit that ours are not in
}

func (g guess) words() string { return strings.Join(g.names, ", ") }

// besideField are words that a header has beside what it measures.
var besideField = []string{"value", "reading", "name", "id", "no", "nr", "number", "quality", "type", "strength", "deg", "the", "of"}

// electric are units of other things than lengths, by how ours are called.
var electric = map[string]string{"ma": "ma", "milliampere": "ma", "hz": "hz", "khz": "khz", "db": "db"}

// guessColumn finds what an unknown header is likely meant for: a name of ours
// without its unit or with it spelt otherwise ("depth", "Depth (m)", "Line no."), or
// one that a slip of the finger makes of it ("depht_m").
func guessColumn(header string) (guess, bool) {
	h := strings.ToLower(strings.TrimSpace(header))
	if names := unitNames(h); len(names) > 0 {
		return guess{field: columns[names[0]].field, names: names}, true
	}
	if g, ok := guessByWords(h); ok {
		return g, true
	}
	most := 1
	if len(h) > 6 {
		most = 2 // two letters that changed places count as two
	}
	best, bestDistance := "", most+1
	for _, n := range ColumnNames() {
		if d := spelling.Distance(h, n); len(n) > 3 && h != "" && h[0] == n[0] && d < bestDistance {
			best, bestDistance = n, d
		}
	}
	if best == "" && (saysDepth(header) || slipOfDepth(header)) {
		return guessDepth(header), true
	}
	if best == "" {
		return guess{}, false
	}
	return guess{field: columns[best].field, names: []string{best}}, true
}

// slipOfDepth reports whether a word of a header is one for a depth but for a letter, or for
// two that changed places. A department is none.
func slipOfDepth(header string) bool {
	words := headerWords(header)
	return !anyWord(words, notDepthWords) && slices.ContainsFunc(words, func(w headerWord) bool {
		return w.text != "dept" && slices.ContainsFunc(depthWords, func(depth string) bool {
			d := spelling.Distance(w.text, depth)
			return len(depth) > 4 && w.text[0] == depth[0] && (d == 1 || d == 2 && sameLetters(w.text, depth))
		})
	})
}

func sameLetters(a, b string) bool {
	x, y := []byte(a), []byte(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

// guessDepth is for a depth by another name, or to another place than the line's centre
// ("Tiefe", "cover_m"): whoever maps it is told of that.
func guessDepth(header string) guess {
	g := guess{field: "depth", names: unitNames("depth")}
	if unit := family(unitInHeader(header)); slices.Contains(g.names, "depth_"+unit) {
		g.names = []string{"depth_" + unit}
	} else {
		g.other = unit != ""
	}
	return g
}

// guessByWords takes a header apart: what remains without its unit and what says no
// more than that it is a figure must be a field of ours.
func guessByWords(h string) (guess, bool) {
	var words []string
	unit := ""
	for _, w := range strings.FieldsFunc(h, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		switch {
		case slices.Contains(besideField, w):
		case len(words) > 0 && unitWords[w] != "":
			unit = unitWords[w]
		case len(words) > 0 && electric[w] != "":
			unit = electric[w]
		default:
			words = append(words, w)
		}
	}
	field := strings.Join(words, "_")
	var names []string
	for _, n := range ColumnNames() {
		if columns[n].field == field && (n == field || strings.HasPrefix(n, field+"_")) {
			names = append(names, n)
		}
	}
	if len(names) == 0 {
		return guess{}, false
	}
	for _, u := range []string{unit, family(unit)} {
		if one := field + "_" + u; u != "" && slices.Contains(names, one) {
			return guess{field: field, names: []string{one}}, true
		}
	}
	return guess{field: field, names: names, other: unit != "" && strings.Contains(names[0], "_")}, true
}

// misnamed is an unknown column that is likely meant for one of ours which the file
// has not.
type misnamed struct {
	column, problem int
	guess
}

// findMisnamed notes the unknown columns that are likely meant for one of ours, for
// what was lost with them is told at the end. problems has the column's own by its
// number.
func (t *tableReader) findMisnamed(problems map[int]int) {
	for i, c := range t.table.Columns {
		at, told := problems[i]
		if c.Name != "" || !told {
			continue
		}
		g, ok := guessColumn(c.Header)
		if !ok || costOf(g.field) == "" || t.reads(g.field) || g.field == "signal" && t.reads("signal_low") {
			continue
		}
		t.misnamed = append(t.misnamed, misnamed{i, at, g})
	}
}

func (t *tableReader) reads(field string) bool {
	return slices.ContainsFunc(t.use, func(c column) bool { return c.field == field })
}

// countMisnamed counts the values that are lost with misnamed columns.
func (t *tableReader) countMisnamed() {
	for _, m := range t.misnamed {
		if strings.TrimSpace(t.rec.field(m.column)) != "" {
			t.table.Columns[m.column].Filled++
		}
	}
}

// tellMisnamed says what was lost with misnamed columns that hold something.
func (t *tableReader) tellMisnamed() {
	for _, m := range t.misnamed {
		c := t.table.Columns[m.column]
		if c.Filled == 0 {
			continue
		}
		problem := &t.table.Problems[m.problem]
		if m.other {
			problem.Check = remark.ColumnUnit{Table: t.name, Header: c.Header, Name: m.words(), Cost: costOf(m.field)}
		} else {
			problem.Check = remark.ColumnUnknown{Table: t.name, Header: c.Header, Means: m.words(), Cost: costOf(m.field)}
		}
	}
}
