package tongue

import (
	"regexp"
	"slices"
	"strings"
)

// pair is an English template and what another language says for it. Neither has
// the full stop of its last sentence.
type pair struct{ english, other string }

// template is a pair made ready: the English one in literal pieces around its
// places, the other in pieces and places by their numbers.
type template struct {
	pair
	literals []string // one more than there are places
	kinds    []string
	out      []outPiece
	weight   int // letters that a sentence must share with it
}

type outPiece struct {
	text  string
	place int // -1 for text
}

var placePattern = regexp.MustCompile(`\{([a-z]+)(\d*)\}`)

func compile(p pair) *template {
	t := &template{pair: p}
	var names []string
	last := 0
	for _, at := range placePattern.FindAllStringSubmatchIndex(p.english, -1) {
		t.literals = append(t.literals, p.english[last:at[0]])
		t.kinds = append(t.kinds, p.english[at[2]:at[3]])
		names = append(names, p.english[at[0]:at[1]])
		last = at[1]
	}
	t.literals = append(t.literals, p.english[last:])
	for _, l := range t.literals {
		t.weight += len(l)
	}
	last = 0
	for _, at := range placePattern.FindAllStringIndex(p.other, -1) {
		t.out = append(t.out, outPiece{p.other[last:at[0]], -1}, outPiece{"", slices.Index(names, p.other[at[0]:at[1]])})
		last = at[1]
	}
	t.out = append(t.out, outPiece{p.other[last:], -1})
	return t
}

// say holds a sentence against the template and says it in the other language.
func (t *template) say(by *Speaker, s string) (string, bool) {
	first, last := t.literals[0], t.literals[len(t.literals)-1]
	if len(t.kinds) == 0 {
		return t.other, s == first
	}
	if len(s) < len(first)+len(last) || !strings.HasPrefix(s, first) || !strings.HasSuffix(s, last) {
		return "", false
	}
	args := make([]string, len(t.kinds))
	if !t.fill(by, s[len(first):len(s)-len(last)], 0, args) {
		return "", false
	}
	var b strings.Builder
	for _, p := range t.out {
		if p.place < 0 {
			b.WriteString(p.text)
		} else {
			b.WriteString(args[p.place])
		}
	}
	return b.String(), true
}

// fill finds what stands in the k-th place and those after it, the shortest first.
func (t *template) fill(by *Speaker, rest string, k int, args []string) (ok bool) {
	if k == len(t.kinds)-1 {
		args[k], ok = by.fits(t.kinds[k], rest)
		return ok
	}
	next := t.literals[k+1]
	for from := 1; from <= len(rest); from++ {
		i := strings.Index(rest[from:], next)
		if i < 0 {
			return false
		}
		from += i
		if args[k], ok = by.fits(t.kinds[k], rest[:from]); ok && t.fill(by, rest[from+len(next):], k+1, args) {
			return true
		}
	}
	return false
}
