package unheard

import (
	"regexp"
	"slices"
	"strings"
)

// Notes of a locator, in English, Spanish, German and French, that say that the line was not
// heard at a place or that the place was guessed (common practice, no source). What a note
// says of something else (the material, a valve, the depth, a neighbour) is none of them:
// a phrase counts where it speaks of the signal or the place, and where what follows it is
// the end of its clause or goes on about where and why.

// notHeard speak of the signal, or of the line where it is sought.
var notHeard = regexp.MustCompile(`\b(?:` + strings.Join([]string{
	`(?:no|lost|losing|loses|without|loss of) (?:the )?(?:signal|tone)`,
	`(?:no|lost|losing|loses) (?:the )?trace`,
	`(?:signal|tone|trace) (?:(?:is|was|has been|got) )?(?:lost|gone|dropped|disappeared|vanished)(?: out)?`,
	`signal loss`,
	`(?:could not|couldnt|cannot|can not|cant|unable to) (?:trace|locate|hear)(?: (?:the |this )?(?:line|signal|tone|it))?`,
	`(?:sin|no hay|pierde la|perdio la|perdida la|perdida de|perdida de la) senal`, `senal perdida`,
	`(?:kein|keine|ohne) (?:signal|ton|ortungssignal)`, `(?:signal|ton) (?:verloren|weg|verschwunden)`,
	`(?:pas de|aucun|sans|perte de|perte du) signal`, `signal (?:perdu|disparu)`,
}, "|") + `)\b`)

// guessed are words by which a place was not read. A clause of nothing else speaks of the
// place, where the note names no other thing.
const guessed = `assumed|guess|guessed|guesswork|best guess|interpolated|extrapolated|supuest[oa]|interpolad[oa]|extrapolad[oa]|` +
	`angenommen|geraten|vermutet|interpoliert|extrapoliert|supposee?|devinee?|interpolee?|extrapolee?|` +
	`not (?:traced|located|heard)|no (?:localizad|rastread)[oa]|nicht (?:geortet|gehort)|non (?:localise|trace|detecte)e?`

// place are words for the line where it runs.
const place = `position|place|location|line|route|path|alignment|course|trace|run|posicion|lugar|linea|ruta|trazado|` +
	`lage|ort|verlauf|leitung|trasse|leitungsverlauf|lieu|ligne`

var (
	placeGuessed = regexp.MustCompile(`\b(?:(?:` + place + `) (?:(?:is|was|only|ist|wurde|nur|es|esta|est) )?(?:` + guessed + `)|` +
		`(?:assumed|guessed|interpolated|extrapolated) (?:the )?(?:` + place + `))\b`)
	alone = regexp.MustCompile(`^(?:` + guessed + `)\b`)
)

// ofOther are figures, and words of what else a note may tell.
var ofOther = regexp.MustCompile(`[0-9]|\b(?:depth|cover|material|size|diameter|dia|type|pressure|owner|age|pvc|hdpe|pe|steel|iron|copper|plastic|concrete|` +
	`valve|meter|hydrant|manhole|box|joint|splice|tee|sonde|profundidad|diametro|tamano|tipo|acero|hierro|cobre|valvula|caja|arqueta|` +
	`tiefe|uberdeckung|durchmesser|dimension|stahl|guss|kupfer|schieber|schacht|muffe|profondeur|materiau|diametre|acier|fonte|cuivre|vanne|regard)\b`)

// A word behind a phrase with which it speaks of the signal or the place still: none that a
// thing's name could be. Before one, a word that says the opposite of it; and before the word
// for a place, one that makes it another thing's.
var (
	goesOn = words(`a again all along am and any anymore anywhere at because before behind below beneath between beyond but by due during for from further
		furthermore here hence in inside into near now on only or out outside over past since so still straight there then through to today toward towards
		under underneath until up via when where while with within across after` + // English
		` aqui bajo cerca debajo desde despues detras durante en entre hacia hasta mas ni o para pero por porque sobre y ya` + // Spanish
		` ab aber am an auf bei bis durch hier hinter im mehr nach neben seit und unter von vor weil wegen zwischen` + // German
		` apres au avant car depuis derriere entre et ici jusqua jusquau mais ou pour sous sur vers`) // French
	denied = words(`not never nor no hardly without nunca no sin nicht nie kein keine ohne pas jamais sans non`)
	mayBe  = words(`the this its line route path our that exact horizontal approximate approx true main pipe cable duct gas water sewer electric power telecom fibre fiber ` +
		`and but with la el su de los del die der das den le les du l et y und only also nur`)
	others = regexp.MustCompile(`^(?:on|from|of|in|at|de|en|von|vom|auf|du|a) (?:(?:the|any|la|el|los|las|den|der|dem|le|les) )?` +
		`(?:other|others|adjacent|next|neighbou?r\w*|parallel|second|[0-9]+ ?k?hz|otr[oa]s?|vecin[oa]s?|ander\w*|nachbar\w*|autres?|voisine?s?|owner|office)\b|` +
		`^to be\b|^(?:by|to|from) (?:half|[0-9]|(?:a|about) (?:half|third|quarter|[0-9]))`)
)

func words(of string) []string { return strings.Fields(of) }

var plain = strings.NewReplacer("ä", "a", "ö", "o", "ü", "u", "ß", "ss", "á", "a", "à", "a", "â", "a", "é", "e", "è", "e", "ê", "e", "í", "i", "î", "i", "ó", "o", "ô", "o", "ú", "u", "ñ", "n",
	"'", "", "’", "", ",", " , ", ";", " , ", ".", " , ", "(", " , ", ")", " , ", "!", " , ", "?", " , ")

// plainWords is a note in small letters without accents, its words apart from each other and
// from what parts its clauses, which is a comma.
func plainWords(note string) string {
	note = plain.Replace(strings.ToLower(note))
	note = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == ',' {
			return r
		}
		return ' '
	}, note)
	return strings.Join(strings.Fields(note), " ")
}

// saysSo reports whether a note says that the line was not heard where it was written, or
// that the place was guessed.
func saysSo(note string) bool {
	if note == "" {
		return false
	}
	said := plainWords(note)
	for _, at := range notHeard.FindAllStringIndex(said, -1) {
		if before, behind := about(said, at); !slices.Contains(denied, before) && carriesOn(behind) {
			return true
		}
	}
	for _, at := range placeGuessed.FindAllStringIndex(said, -1) {
		before, behind := about(said, at)
		if (before == "" || before == "," || slices.Contains(mayBe, before) || slices.Contains(goesOn, before)) && !slices.Contains(denied, before) && carriesOn(behind) {
			return true
		}
	}
	other := ofOther.MatchString(said)
	for clause := range strings.SplitSeq(said, ",") {
		clause = strings.TrimSpace(clause)
		if at := alone.FindStringIndex(clause); at != nil {
			if behind := strings.TrimSpace(clause[at[1]:]); behind != "" && carriesOn(behind) || behind == "" && !other {
				return true
			}
		}
	}
	return false
}

// about is the word before a phrase, and all that follows it.
func about(said string, at []int) (before, behind string) {
	if w := strings.Fields(said[:at[0]]); len(w) > 0 {
		before = w[len(w)-1]
	}
	return before, strings.TrimSpace(said[at[1]:])
}

// carriesOn reports whether what follows a phrase leaves it what it says.
func carriesOn(behind string) bool {
	next, _, _ := strings.Cut(behind, " ")
	return next == "" || next == "," || slices.Contains(goesOn, next) && !others.MatchString(behind)
}
