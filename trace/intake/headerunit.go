package intake

import (
	"fmt"
	"slices"
	"strings"

	"loamline.example/trace"
)

// unitWords are the units of length that a header may name in English, Spanish, German
// and French, without accents, by how ours are called; those that no column has are here
// so that a map which takes them for another one is refused. A frequency in another unit
// is seen at once, and may be said to be in it.
var unitWords = func() map[string]string {
	all := map[string]string{}
	for unit, words := range map[string]string{
		"m":    "m metre metres meter meters mtr mtrs mt mts metro metros",
		"dm":   "dm decimetre decimetres decimeter decimeters dezimeter decimetro decimetros",
		"cm":   "cm cms centimetre centimetres centimeter centimeters zentimeter centimetro centimetros",
		"mm":   "mm mms millimetre millimetres millimeter millimeters milimetro milimetros",
		"ft":   "ft fts feet foot dft pie pies fuss pied pieds pi",
		"usft": "usft ftus sft",
		"ift":  "ift intft ftint", // the international foot, where that is said
		"in":   "in ins inch inches pulgada pulgadas pulg plg zoll pouce pouces po",
		"yd":   "yd yds yard yards yarda yardas",
	} {
		for word := range strings.FieldsSeq(words) {
			all[word] = unit
		}
	}
	return all
}()

// unitSaid is how units are called that ours do not say by themselves.
var unitSaid = map[string]string{"usft": "US survey feet", "ift": "international feet"}

// Words that are units only where units stand, at the end or in brackets: "Depth in
// ground", "M 12 depth".
var closingUnits = []string{"m", "in", "pi", "po", "mt"}

// Words that may stand behind a unit that closes a header, "m deep"; those that tell the
// US survey foot, and the international one.
var (
	behindUnits = []string{"deep", "tief", "down", "us"}
	usWords     = []string{"us", "usa", "survey", "agrimensura"}
	intWords    = []string{"international", "intl", "int"}
)

// gluedTo are words that a unit may follow without anything between: "DEPTHFT".
var gluedTo = []string{"depth", "dpth", "tiefe", "profundidad", "profondeur", "prof", "cover", "easting", "northing", "east", "north", "elevation", "elev", "height", "lift", "raise", "offset", "accuracy", "hacc", "acc"}

// unitMarks are the signs of feet and inches: 6' 3".
var unitMarks = []struct{ mark, unit string }{{"''", "in"}, {`"`, "in"}, {"″", "in"}, {"”", "in"}, {"'", "ft"}, {"′", "ft"}, {"’", "ft"}}

// unitInHeader is the unit that a header names last, "" for none.
func unitInHeader(header string) string {
	end := strings.TrimRight(strings.TrimSpace(header), ")]. ")
	for _, m := range unitMarks {
		if strings.HasSuffix(end, m.mark) {
			return m.unit
		}
	}
	words := headerWords(header)
	unit := ""
	for i, w := range words {
		if u := unitOfWord(w.text); u != "" && (!slices.Contains(closingUnits, w.text) || w.alone || closes(words[i+1:]) && !behindDigit(header, w.text)) {
			unit = u
		}
	}
	if unit != "ft" {
		return unit
	}
	switch dotted := strings.Contains(strings.ToLower(header), "u.s"); {
	case dotted || anyWord(words, usWords):
		return "usft"
	case anyWord(words, intWords):
		return "ift"
	}
	return unit
}

// unitOfWord is the unit that a word is, or that is glued to what it measures.
func unitOfWord(word string) string {
	if u := unitWords[word]; u != "" {
		return u
	}
	for _, g := range gluedTo {
		if rest, ok := strings.CutPrefix(word, g); ok && unitWords[rest] != "" {
			return unitWords[rest]
		}
	}
	return ""
}

func closes(behind []headerWord) bool {
	return !slices.ContainsFunc(behind, func(w headerWord) bool { return !slices.Contains(behindUnits, w.text) })
}

// behindDigit reports whether a digit follows the word at the end: M1 is a mark's number.
func behindDigit(header, word string) bool {
	h := strings.TrimRight(strings.TrimSpace(header), "0123456789")
	return len(h) < len(strings.TrimSpace(header)) && strings.HasSuffix(strings.ToLower(h), word)
}

// family is the unit without which of the two feet it is.
func family(unit string) string {
	if unit == "usft" || unit == "ift" {
		return "ft"
	}
	return unit
}

// otherUnit is the unit that a header names where a name of ours reads the column in
// another one, "" where they agree or one of them names none. The two feet are told apart
// where ours are: in eastings and northings, in which they differ by metres.
func otherUnit(header, ours string) string {
	i := strings.LastIndexByte(ours, '_')
	if i < 0 {
		return ""
	}
	reads, known := unitWords[ours[i+1:]]
	says := unitInHeader(header)
	switch _, bothFeet := columns[ours[:i]+"_usft"]; {
	case !known || says == "" || says == reads:
		return ""
	case family(says) != family(reads):
		return says
	case bothFeet && (says == "usft" && reads == "ft" || says == "ift" && reads == "usft"):
		return says
	}
	return ""
}

// unitHint says what to write where a header names another unit than the map.
func unitHint(header, ours, unit string) string {
	field := ours[:strings.LastIndexByte(ours, '_')]
	for _, u := range []string{unit, family(unit)} {
		if _, ok := columns[field+"_"+u]; ok {
			return "write under [columns] " + field + "_" + u + " = " + fmt.Sprintf("%q", trace.Shorten(header)) + "; where the header is wrong, correct it there"
		}
	}
	return "convert the figures, and name the column " + strings.Join(unitNames(field), ", ") + "; where the header is wrong, correct it there"
}
