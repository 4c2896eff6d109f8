package pdf

import (
	"fmt"
	"strings"

	"loamline.example/export/internal/paper"
	"loamline.example/export/words"
)

// A crew sheet in two languages has its lists in both, one under the other, and
// behind them in English what stands elsewhere on the sheet in the other language
// alone: the head, the cautions and what the signs mean.

// inEnglish sets a text under the one in the other language.
func (n *crewWriter) inEnglish(s string, face paper.Face, indent float64) {
	if !n.tongue.Both() || n.tongue.Say(s) == s {
		return
	}
	last := len(n.blocks) - 1
	b := n.written(s, face, indent)
	b.keep, n.blocks[last].keep = n.blocks[last].keep, true
	n.blocks = append(n.blocks, b)
}

// written is a block in English.
func (n *crewWriter) written(s string, face paper.Face, indent float64) noteBlock {
	b := noteBlock{font: n.font(face, 0.95*n.factor), indent: indent, asWritten: true}
	n.c.AsWritten(func() { b.lines = n.c.Wrap(s, b.font, n.widthMM-indent) })
	return b
}

func (n *crewWriter) restInEnglish() {
	if !n.tongue.Both() {
		return
	}
	add := func(gapMM float64, b noteBlock) {
		b.gapMM = gapMM
		n.blocks = append(n.blocks, b)
	}
	head := func(s string) {
		b := n.written(s, paper.Bold, 0)
		b.keep = true
		add(2.2, b)
	}
	head("THIS SHEET IN ENGLISH")
	for _, f := range n.crewFacts() {
		add(0.6, n.written(words.Sentence(f[0]+": "+f[1]), paper.Italic, 0))
	}
	var figures []string
	for _, s := range []string{"not traced", "not read", "not known"} {
		figures = append(figures, fmt.Sprintf("“%s”: %s", n.tongue.Say(s), s))
	}
	add(0.6, n.written(words.Sentence("In the list of depths "+strings.Join(figures, "; ")), paper.Italic, 0))
	head("CAUTION")
	for _, s := range n.cautionTexts() {
		add(0.6, n.written(s, paper.Italic, 0))
	}
	head("LEGEND")
	for s := signLine; s < signEnd; s++ {
		if n.used[s] {
			b := n.written(n.wordsOf(s), paper.Italic, legendSampleMM)
			b.sample = &s
			add(0.6, b)
		}
	}
}

// inBoth is a short text in both languages of the sheet.
func (d *drafter) inBoth(s string) string {
	if !d.tongue.Both() || d.tongue.Say(s) == s {
		return s
	}
	return d.c.AsIs(d.tongue.Say(s) + " / " + s)[0]
}
