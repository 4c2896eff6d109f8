package tongue

import (
	"slices"
	"strings"
	"unicode"
)

// catalogue holds the templates of a language by the word of each that the fewest
// others have, so that a sentence is held against a handful of them.
type catalogue struct {
	all     []*template
	byWord  map[string][]int
	general []int // templates without a word of their own
}

func newCatalogue(groups ...[]pair) *catalogue {
	c := &catalogue{byWord: map[string][]int{}}
	count := map[string]int{}
	var own [][]string
	for _, g := range groups {
		for _, p := range g {
			t := compile(p)
			c.all = append(c.all, t)
			words := t.words()
			own = append(own, words)
			for _, w := range words {
				count[w]++
			}
		}
	}
	for i, words := range own {
		key := ""
		for _, w := range words {
			if key == "" || count[w] < count[key] || count[w] == count[key] && len(w) > len(key) {
				key = w
			}
		}
		if key == "" {
			c.general = append(c.general, i)
		} else {
			c.byWord[key] = append(c.byWord[key], i)
		}
	}
	return c
}

func isLetter(r rune) bool { return unicode.IsLetter(r) }

func wordsOf(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !isLetter(r) })
}

// words are the whole words that every sentence of the template has: one that
// touches a place could be part of a longer one.
func (t *template) words() []string {
	var out []string
	for i, l := range t.literals {
		if i > 0 {
			l = strings.TrimLeftFunc(l, isLetter)
		}
		if i < len(t.literals)-1 {
			l = strings.TrimRightFunc(l, isLetter)
		}
		out = append(out, wordsOf(l)...)
	}
	return out
}

// candidates are the templates that a sentence could be, the most particular first.
func (c *catalogue) candidates(s string) []int {
	var out []int
	seen := map[string]bool{}
	for _, w := range wordsOf(s) {
		if !seen[w] {
			seen[w] = true
			out = append(out, c.byWord[w]...)
		}
	}
	out = append(out, c.general...)
	slices.SortStableFunc(out, func(a, b int) int {
		if d := c.all[b].weight - c.all[a].weight; d != 0 {
			return d
		}
		return a - b
	})
	return out
}
