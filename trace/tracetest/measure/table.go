package measure

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// table writes a Markdown table.
type table struct {
	w     io.Writer
	width int
	err   error
}

func (t *table) printf(format string, args ...any) {
	if t.err == nil {
		_, t.err = fmt.Fprintf(t.w, format, args...)
	}
}

func (t *table) head(cells ...string) {
	t.width = len(cells)
	t.row(cells...)
	t.printf("|%s\n", strings.Repeat(" --- |", len(cells)))
}

func (t *table) row(cells ...string) { t.printf("| %s |\n", strings.Join(cells, " | ")) }

// metres words a length to the millimetre, or a dash where there is none.
func metres(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return fmt.Sprintf("%.3f", v)
}

// percent words a share.
func percent(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return fmt.Sprintf("%.1f", 100*v)
}

func share(part, whole int) string {
	if whole == 0 {
		return "–"
	}
	return fmt.Sprintf("%s (%d)", percent(float64(part)/float64(whole)), whole)
}

// over words a quotient, or a dash where it has none.
func over(a, b float64, digits int) string {
	if q := a / b; !math.IsNaN(q) && !math.IsInf(q, 0) {
		return strconv.FormatFloat(q, 'f', digits, 64)
	}
	return "–"
}
