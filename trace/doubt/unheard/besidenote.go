package unheard

import (
	"regexp"
	"strings"
)

// Notes of a locator, in English, Spanish, German and French, that say that the receiver or
// the antenna stood beside the line when its place was taken, as where a car is parked on it
// or a wall keeps the sky off (common practice, no source). A note that says how far off a
// kerb the line runs, or where a valve or another line lies, is none of them: a clause counts
// that is about the reading, or that begins with how far off the line it is.

// measured are figures with the sign of feet or inches, if any, behind them.
var measured = regexp.MustCompile(`[0-9]+(?:[.,][0-9]+)?(\s*['’′]|\s*["”″])?`)

const (
	// asFar is a length, whose figure was made a 9.
	asFar = `(?:(?:about|approx|approximately|ca|some|only|etwa|ungefahr|unos|unas|aprox|environ) )?9 ?(?:m|cm|mm|ft|foot|feet|in|inch|inches|met(?:er|re)s?|metros?|pies?|pulgadas?|pieds?|fuss)`
	// toSide is on which side, or that it is on one.
	toSide = `(?:(?:to|on|a|al|nach|au|vers) )?(?:(?:the|its|la|le|lo|el) )?(?:left|right|l|r|lt|rt|lhs|rhs|north|south|east|west|n|s|e|w|ne|nw|se|sw|off|away|beside|` +
		`izquierda|derecha|norte|sur|este|oeste|links|rechts|nordlich|sudlich|ostlich|westlich|daneben|gauche|droite|nord|sud|est|ouest)(?: (?:hand )?side)?`
	ofLine = `(?:(?:of|from|off|beside|to|de|del|desde|von|vom|neben|der|du) )(?:(?:the|this|la|el|der|dem|le) )?(?:(?:actual|true|real) )?` +
		`(?:line|marks?|paint|cent(?:er|re) ?line|cl|trace|peak|linea|marca|trazado|leitung|trasse|linie|markierung|ligne|trace|marque)`
	// reading are words for what has the place of the row.
	reading = `(?:shot|taken|read|measured|logged|recorded|stood|standing|reading|point|position|gps|gnss|rover|pole|antenna|receiver|` +
		`tomad[oa]|medid[oa]|leid[oa]|punto|lectura|gemessen|aufgenommen|punkt|messpunkt|antenne|prise?|mesuree?|point|lecture)` +
		`(?: (?:is|was|point|reading|shot|taken|here|es|a|ist|wurde|est))*`
	// besideLine says so without a length.
	besideLine = `(?:off|beside|next to|not (?:over|on|above)|al lado de|junto a|no sobre|fuera de|neben|nicht uber|a cote de|pas sur|pas au dessus de) ` +
		`(?:(?:the|this|la|el|der|dem|le) )?(?:line|marks?|paint|cent(?:er|re) ?line|cl|linea|marca|leitung|trasse|linie|markierung|ligne|marque)`
	setOff = `(?:offset|o s|desplazad[oa]|versetzt|decalee?)`
)

// fromOther is the distance to something else, a kerb or a fence.
var fromOther = regexp.MustCompile(`^(?:from|to|de|del|desde|hasta|von|vom|bis|vers|du)\b`)

// besides are the clauses that say so, each with what may stand before its place.
var besides = []*regexp.Regexp{
	regexp.MustCompile(`^(?:` + reading + ` )?` + setOff + ` (?:(?:by|de|um) )?(?:` + asFar + `(?: ` + toSide + `)?|` + toSide + `(?: ` + asFar + `)?)(?: ` + ofLine + `)?\b`),
	regexp.MustCompile(`^(?:` + reading + ` )?` + asFar + ` (?:` + setOff + `(?: ` + toSide + `)?|(?:` + toSide + ` )?` + ofLine + `)\b`),
	regexp.MustCompile(`^` + reading + ` (?:` + asFar + ` ` + toSide + `(?: ` + ofLine + `)?|` + toSide + ` ` + asFar + `)\b`),
	regexp.MustCompile(`^(?:` + reading + ` )?` + besideLine + `\b`),
}

// saysBeside reports whether a note says that its reading was not taken over the line.
func saysBeside(note string) bool {
	if note == "" {
		return false
	}
	said := plainWords(measured.ReplaceAllStringFunc(note, func(figure string) string {
		switch {
		case strings.ContainsAny(figure, `'’′`):
			return "9 ft "
		case strings.ContainsAny(figure, `"”″`):
			return "9 in "
		}
		return "9"
	}))
	for clause := range strings.SplitSeq(said, ",") {
		clause = strings.TrimSpace(clause)
		for _, says := range besides {
			at := says.FindStringIndex(clause)
			if at == nil {
				continue
			}
			if behind := strings.TrimSpace(clause[at[1]:]); carriesOn(behind) && !fromOther.MatchString(behind) {
				return true
			}
		}
	}
	return false
}
