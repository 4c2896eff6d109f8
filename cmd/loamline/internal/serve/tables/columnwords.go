package tables

import (
	"strings"

	"loamline.example/trace/intake"
)

// ColumnChoice is a meaning that a column can have, in words.
type ColumnChoice struct {
	Name  string // ours, with its unit
	Words string
	Group string
}

// columnWords are the meanings in the order in which they are offered.
var columnWords = func() []ColumnChoice {
	groups := map[string][]ColumnChoice{}
	for _, f := range intake.Fields() {
		if len(f.Units) == 0 {
			groups[f.Group] = append(groups[f.Group], ColumnChoice{f.Name, f.Choice, f.Group})
		}
		for _, u := range f.Units {
			groups[f.Group] = append(groups[f.Group], ColumnChoice{f.In(u), f.ChoiceIn(u), f.Group})
		}
	}
	var out []ColumnChoice
	for _, g := range intake.Groups() {
		out = append(out, groups[g]...)
	}
	return out
}()

// ColumnChoices lists every meaning that a column can have.
func ColumnChoices() []ColumnChoice { return columnWords }

// ColumnWords says what a column of ours means.
func ColumnWords(name string) string {
	if name == notUsed {
		return "not used"
	}
	for _, c := range columnWords {
		if c.Name == name {
			return c.Words
		}
	}
	return name
}

// guess says what a header that is not ours seems to mean: a name of ours where
// header and unit leave no doubt, and whether it should be asked about at all.
// A length without a unit is never guessed: feet taken for metres can kill.
func guess(header string) (name string, ask bool) {
	h := plainHeader(header)
	for _, g := range guesses {
		if !g.matches(h) {
			continue
		}
		if len(g.units) == 0 {
			return g.name, true
		}
		for _, u := range g.units {
			for _, word := range unitWords[u] {
				if strings.Contains(h, " "+word+" ") {
					return g.name + "_" + u, true
				}
			}
		}
		return "", true
	}
	return "", false
}

// plainHeader is a header's words and figures, apart.
func plainHeader(header string) string {
	return " " + strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return ' '
	}, strings.ToLower(header)) + " "
}

// mayBeDepth reports whether a header speaks of a depth, or of the cover.
func mayBeDepth(header string) bool {
	h := plainHeader(header)
	for _, g := range guesses {
		if g.matches(h) {
			return g.name == "depth" || g.name == ""
		}
	}
	return false
}

// guessRule matches headers that hold one of the words; a word that ends in *
// may go on.
type guessRule struct {
	name  string
	words []string
	units []string
}

func (g guessRule) matches(h string) bool {
	for _, w := range g.words {
		if stem, open := strings.CutSuffix(w, "*"); open && strings.Contains(h, " "+stem) || strings.Contains(h, " "+w+" ") {
			return true
		}
	}
	return false
}

var guesses = []guessRule{
	{"null_offset", []string{"null offset", "null position", "null dist*"}, []string{"m", "ft", "in"}},
	{"h_acc", []string{"hacc", "h acc", "accuracy", "hrms", "horizontal acc*", "horizontal pre*"}, []string{"m", "ft", "cm"}},
	{"lat", []string{"lat", "latitude*"}, nil},
	{"lon", []string{"lon", "long", "lng", "longitude*"}, nil},
	{"east", []string{"east", "easting*"}, []string{"usft", "ft", "m"}},
	{"north", []string{"north", "northing*"}, []string{"usft", "ft", "m"}},
	{"depth", []string{"depth*", "dpth"}, []string{"ft", "in", "cm", "m"}},
	{"elev", []string{"elev*", "altitude*", "height*"}, []string{"ft", "m"}},
	{"lift", []string{"raise*", "lift*"}, []string{"ft", "in", "m"}},
	{"current", []string{"current*"}, []string{"ma"}},
	{"freq", []string{"freq*"}, []string{"khz", "hz"}},
	{"signal", []string{"signal*", "strength"}, []string{"db"}},
	{"time", []string{"time*", "timestamp*", "datetime*"}, nil},
	{"fix", []string{"fix*", "gps quality", "gnss quality"}, nil},
	{"hdop", []string{"hdop*"}, nil},
	{"line", []string{"line", "line name", "line id"}, nil},
	{"point", []string{"point*", "reading no", "reading number"}, nil},
	{"", []string{"cover*"}, nil}, // to the top of the line, and depth is to its centre: people must decide
	{"note", []string{"note*", "comment*", "remark*"}, nil},
}

var unitWords = map[string][]string{
	"m": {"m", "metre", "metres", "meter", "meters"}, "ft": {"ft", "foot", "feet"}, "in": {"in", "inch", "inches"},
	"cm": {"cm", "centimetres", "centimeters"}, "usft": {"usft", "ftus", "us survey feet", "us ft"},
	"ma": {"ma", "milliamps", "milliamperes"}, "hz": {"hz"}, "khz": {"khz"}, "db": {"db"},
}

// IsColumnName reports whether a name is one that a table may use.
func IsColumnName(name string) bool {
	for _, n := range intake.ColumnNames() {
		if n == name {
			return true
		}
	}
	return false
}
