package geo

import "strings"

// Told is a sentence with lengths in it, to be worded in whoever's units.
type Told struct {
	words   string    // with lengthHere for each length
	lengths []float64 // metres
}

// lengthHere stands for a length: no name that a sentence could hold has it.
const lengthHere = "\x00"

// Plain is a sentence without lengths.
func Plain(words string) Told { return Told{words: words} }

// In words the sentence; lengths are how far something lies off, and are rounded up.
func (t Told) In(u Units) string {
	parts := strings.Split(t.words, lengthHere)
	var b strings.Builder
	for i, part := range parts {
		if b.WriteString(part); i < len(t.lengths) && i+1 < len(parts) {
			b.WriteString(u.ShortUp(t.lengths[i]))
		}
	}
	return b.String()
}

// and joins sentences.
func (t Told) and(more ...Told) Told {
	out := Told{words: t.words, lengths: append([]float64(nil), t.lengths...)}
	for _, m := range more {
		if m.words == "" {
			continue
		}
		if out.words != "" {
			out.words += " "
		}
		out.words += m.words
		out.lengths = append(out.lengths, m.lengths...)
	}
	return out
}

// told is a sentence with its lengths.
func told(words string, lengthsM ...float64) Told { return Told{words, lengthsM} }
