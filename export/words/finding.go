package words

import (
	"math"

	"loamline.example/export/words/nofigure"
	"loamline.example/geo"
	"loamline.example/trace"
)

// told is what is said of a finding: a title in one short line and sentences.
type told struct {
	title     string
	sentences []string
}

// kind is what is said of one kind of finding. Each has a file of its own,
// finding_*.go, which declares it; a kind without words could not be acted on.
type kind struct {
	title string // of all of them, for folders, tables and legends
	tell  func(geo.Units, trace.Finding) told
}

var kinds = map[string]kind{} // by role

// worded declares what is said of a kind.
func worded[F trace.Finding](title string, of func(geo.Units, F) told) kind {
	var f F
	k := kind{title, func(u geo.Units, f trace.Finding) told { return of(u, f.(F)) }}
	kinds[f.Role()] = k
	return k
}

// kindOf is what is said of a finding's kind.
func kindOf(f trace.Finding) kind {
	k, worded := kinds[f.Role()]
	if !worded {
		panic("words: nothing is said of " + f.Role() + ": declare it with worded in a file export/words/finding_*.go")
	}
	return k
}

// FindingTitle is a finding in one short line for a label or a list.
func FindingTitle(u geo.Units, f trace.Finding) string {
	return nofigure.Say(kindOf(f).tell(u, f).title, f)
}

// Finding tells a finding in sentences: what was found, with the figures,
// and what it means for whoever digs.
func Finding(u geo.Units, f trace.Finding) []string {
	out := kindOf(f).tell(u, f).sentences
	for i := range out {
		out[i] = nofigure.Say(out[i], f)
	}
	return out
}

// sideOf names the side of an offset, positive to the right of travel.
func sideOf(offsetM float64) string {
	if offsetM < 0 {
		return string(trace.Left)
	}
	return string(trace.Right)
}

// nothing reports a distance that rounds to nothing as words has it: it lies to no side.
func nothing(words func(float64) string, m float64) bool { return words(math.Abs(m)) == words(0) }

func appendWords(w []string, s string) []string {
	if s == "" {
		return w
	}
	return append(w, Sentence(s))
}
