package pdf

import (
	"math"
	"slices"
	"strings"

	"loamline.example/export/internal/paper"
)

// The room between two columns of a table, and the least where more rows then stand side
// by side.
const (
	tableGapMM      = 2.2
	tableLeastGapMM = 0.9
)

// table sets rows side by side in as many columns as have room: no cell is ever
// cut. The words again, and the heads, stand above what goes on in the next column of the
// sheet.
func (n *crewWriter) table(heads []string, cells [][]string, again string) {
	f, bold := n.font(paper.Regular, n.factor), n.font(paper.Bold, n.factor)
	headed, wide := n.tableHeads(heads, cells, f, bold)
	gapMM, each := tableGapMM, 0.0
	for _, w := range wide {
		each += w
	}
	fits := func(gapMM float64) int { return int((n.widthMM + gapMM) / (each + float64(len(heads))*gapMM)) }
	if fits(gapMM) == 0 || fits(tableLeastGapMM) > fits(gapMM) {
		gapMM = tableLeastGapMM
	}
	across := min(max(1, fits(gapMM)), max(1, len(cells)))
	n.runsOut = n.runsOut || each+gapMM*float64(len(heads)-1) > n.widthMM+1e-6
	for k := range wide {
		wide[k] += gapMM
	}
	var tabs []float64
	for k := range across {
		x := float64(k) * (n.widthMM + gapMM) / float64(across)
		for _, w := range wide {
			tabs = append(tabs, x)
			x += w
		}
	}
	var rows []string
	for k, c := range cells {
		if k%across == 0 {
			rows = append(rows, strings.Join(c, "\t"))
		} else {
			rows[len(rows)-1] += "\t" + strings.Join(c, "\t")
		}
	}
	for i, line := range headed {
		headed[i] = strings.Join(slices.Repeat([]string{line}, across), "\t")
	}
	again += "\n" + strings.Join(headed, "\n")
	n.blocks = append(n.blocks, noteBlock{lines: headed, font: bold, gapMM: 0.3, tabs: tabs, keep: true, heads: heads})
	n.blocks = append(n.blocks, noteBlock{lines: rows, font: f, gapMM: 0.3, tabs: tabs, again: again})
}

// tableHeads are the headings of a table in lines, their cells parted by tabs, and how wide
// its columns are: where a line of all of them would run out of the list's column, each
// is broken between its words, down to what stands below it.
func (n *crewWriter) tableHeads(heads []string, cells [][]string, f, bold paper.Font) (lines []string, wide []float64) {
	least, wide := make([]float64, len(heads)), make([]float64, len(heads))
	whole := float64(len(heads)-1) * tableGapMM
	for k, h := range heads {
		for _, c := range cells {
			least[k] = math.Max(least[k], n.c.Width(c[k], f))
		}
		wide[k] = math.Max(least[k], n.c.Width(h, bold))
		whole += wide[k]
	}
	if whole <= n.widthMM {
		return []string{strings.Join(heads, "\t")}, wide
	}
	broken, most := make([][]string, len(heads)), 1
	for k, h := range heads {
		for _, word := range strings.Fields(n.c.Wrap(h, bold, math.Inf(1))[0]) {
			least[k] = math.Max(least[k], n.c.Width(n.c.AsIs(word)[0], bold)+0.01)
		}
		broken[k] = n.c.Wrap(h, bold, least[k])
		most = max(most, len(broken[k]))
	}
	for i := range most {
		row := make([]string, len(heads))
		for k, b := range broken {
			if at := i - (most - len(b)); at >= 0 { // they end on the line above the figures
				row[k] = b[at]
			}
		}
		lines = append(lines, strings.Join(row, "\t"))
	}
	return lines, least
}
