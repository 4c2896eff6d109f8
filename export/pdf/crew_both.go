package pdf

import (
	"fmt"
	"strings"

	"loamline.example/export/internal/paper"
	"loamline.example/export/words"
)

// A crew sheet in two languages has each item of its lists in both, one under the
// other, and the cautions side by side. Head, titles and legend have both in one text,
// and the tables, whose figures are those of every language, what their words mean.

// inEnglish sets a text under the one in the other language.
func (n *crewWriter) inEnglish(s string, face paper.Face, indent float64) {
	if !n.tongue.Both() || n.tongue.Say(s) == s {
		return
	}
	last := len(n.blocks) - 1
	b := n.written(s, face, indent)
	b.gapMM = 0.2
	b.keep, n.blocks[last].keep = n.blocks[last].keep, true
	n.blocks = append(n.blocks, b)
}

// written is a block in English.
func (n *crewWriter) written(s string, face paper.Face, indent float64) noteBlock {
	b := noteBlock{font: n.font(face, n.factor), indent: indent, asWritten: true}
	n.c.AsWritten(func() { b.lines = n.c.Wrap(s, b.font, n.widthMM-indent) })
	return b
}

// termsInBoth tells what the tables and the plan say in the other language alone.
func (n *crewWriter) termsInBoth() {
	if !n.tongue.Both() {
		return
	}
	var terms []string
	told := map[string]bool{}
	for _, b := range n.blocks {
		for _, h := range b.heads {
			told[h] = true
		}
		for _, line := range b.lines {
			for _, cell := range strings.Split(line, "\t") {
				told[cell] = len(b.tabs) > 0
			}
		}
	}
	for _, s := range []string{"depth", "across", "across, or more", "map, right", "map, left", "right", "left", "do not trust", "not traced", "not read", "not known"} {
		if !told[s] {
			continue
		}
		terms = append(terms, fmt.Sprintf("“%s”: %s", n.tongue.Say(s), s))
	}
	n.blocks = append(n.blocks, n.written(words.Sentence(strings.Join(terms, "; ")), paper.Italic, 0))
	n.blocks[len(n.blocks)-1].gapMM = 0.8
}
