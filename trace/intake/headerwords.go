package intake

import (
	"slices"
	"strings"
	"unicode"
)

// headerWord is a word of a header, in small letters without accents.
type headerWord struct {
	text  string
	alone bool // in brackets of its own, as units stand: "Depth (m) corrected"
}

// plainLetters takes accents off, so that a word needs one spelling in the lists below.
var plainLetters = strings.NewReplacer("ä", "a", "ö", "o", "ü", "u", "ß", "ss", "á", "a", "à", "a", "â", "a", "é", "e", "è", "e", "ê", "e", "í", "i", "ó", "o", "ô", "o", "ú", "u", "ñ", "n",
	"Ä", "A", "Ö", "O", "Ü", "U", "É", "E", "È", "E", "Í", "I", "Ó", "O", "Ú", "U")

// headerWords takes a header apart where its letters change case, at digits and at
// punctuation: "DepthFt", "Depth2ft" and "Depth [ft.]" all say ft.
func headerWords(header string) []headerWord {
	rs := []rune(plainLetters.Replace(header))
	var words []headerWord
	for i := 0; i < len(rs); {
		if !unicode.IsLetter(rs[i]) {
			i++
			continue
		}
		j := i + 1
		for j < len(rs) && unicode.IsLetter(rs[j]) && !newWord(rs, j) {
			j++
		}
		closed := j < len(rs) && strings.ContainsRune(")].", rs[j])
		words = append(words, headerWord{text: strings.ToLower(string(rs[i:j])), alone: closed && i > 0 && strings.ContainsRune("([", rs[i-1])})
		i = j
	}
	return words
}

// newWord reports whether a word begins within letters: at a capital behind a small
// letter, and at the last capital before a small one ("USFeet").
func newWord(rs []rune, i int) bool {
	if !unicode.IsUpper(rs[i]) {
		return false
	}
	return unicode.IsLower(rs[i-1]) || i+1 < len(rs) && unicode.IsLower(rs[i+1]) && unicode.IsUpper(rs[i-1])
}

// What headers say that a depth is measured to, where that is not the centre of the line;
// in English, Spanish, German and French.
var (
	topWords    = []string{"top", "crown", "cover", "uberdeckung", "ueberdeckung", "deckung", "scheitel", "oberkante", "recubrimiento", "clave", "recouvrement", "couverture"}
	invertWords = []string{"invert", "flowline", "sohle", "rohrsohle", "unterkante", "solera", "batea", "radier"}
	centreWords = []string{"centre", "center", "centerline", "axis", "mitte", "achse", "centro", "eje", "axe", "ground", "surface"} // the ground's top is none of the line's
)

// depthTo is what a header says that depths are measured to, "" where it does not say or
// says the centre.
func depthTo(header string) string {
	switch words := headerWords(header); {
	case anyWord(words, centreWords):
		return ""
	case anyWord(words, topWords):
		return "top"
	case anyWord(words, invertWords):
		return "invert"
	}
	return ""
}

// Headers of depths in the same languages; and words of columns that say something about
// the depths, and are none.
var (
	depthWords    = []string{"depth", "depths", "dpth", "tiefe", "tiefen", "profundidad", "prof", "profondeur", "burial", "cover", "uberdeckung", "ueberdeckung", "recubrimiento", "recouvrement"}
	notDepthWords = []string{"error", "err", "quality", "conf", "confidence", "sd", "std", "sigma", "accuracy", "acc", "mode", "type", "unit", "units", "method", "source", "note", "date", "water", "material"}
)

// saysDepth reports whether a header is that of a depth.
func saysDepth(header string) bool {
	words := headerWords(header)
	return anyWord(words, depthWords) && !anyWord(words, notDepthWords)
}

func anyWord(words []headerWord, of []string) bool {
	return slices.ContainsFunc(words, func(w headerWord) bool { return slices.Contains(of, w.text) })
}

// axes are the words for the two directions of a place, in the same languages; headers
// may run them together with others ("gpslatitude").
var axes = map[string][]string{
	"north": {"lat", "latitude", "latitud", "breite", "breitengrad", "north", "northing", "northings", "norte", "nord", "hochwert"},
	"east":  {"lon", "long", "lng", "longitude", "longitud", "laenge", "lange", "laengengrad", "langengrad", "east", "easting", "eastings", "este", "rechtswert"},
}

// otherAxis reports whether a header says the other direction than a name of ours that
// reads the column: "Northing" for east_m.
func otherAxis(header, ours string) bool {
	mine, other := "north", "east"
	switch columns[ours].field {
	case "lat", "north":
	case "lon", "east":
		mine, other = other, mine
	default:
		return false
	}
	return saysAxis(header, other) && !saysAxis(header, mine)
}

func saysAxis(header, axis string) bool {
	var plain []headerWord // without units: "N (m)"
	for _, w := range headerWords(header) {
		if anyWord([]headerWord{w}, axes[axis]) || strings.HasSuffix(w.text, "latitude") && axis == "north" || strings.HasSuffix(w.text, "longitude") && axis == "east" {
			return true
		}
		if unitWords[w.text] == "" {
			plain = append(plain, w)
		}
	}
	return len(plain) == 1 && plain[0].text == axis[:1]
}
