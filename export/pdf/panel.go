package pdf

import (
	"math"

	"loamline.example/export/internal/plan"
)

// panel is which part of its page a strip takes: a straight stretch leaves most
// of a large sheet empty, so two of them share one.
type panel int

const (
	wholePage panel = iota
	upperHalf
	lowerHalf
)

// sharedFromMM is the height of drawing from which on a page is large enough for
// two strips.
const sharedFromMM = 240

// panelOf is where plan and profile of a strip stand beside a band of cautions, and the
// plan has so much more of a whole page.
func (l sheetLayout) panelOf(p panel, bandMM, spareMM float64) (window, profile plan.Rect) {
	if p == wholePage {
		w := l.window(bandMM)
		w.H += spareMM
		below := w.Bottom() + coordsMM + bandMM
		return w, plan.Rect{X: l.drawing.X, Y: below, W: l.drawing.W, H: l.drawing.Bottom() - below}
	}
	half := plan.Rect{X: l.drawing.X, Y: l.drawing.Y, W: l.drawing.W, H: (l.drawing.H - bandMM) / 2}
	if p == lowerHalf {
		half.Y = l.drawing.Bottom() - half.H
	}
	profileMM := half.H * 0.47
	window, profile = half, half
	window.H -= profileMM
	profile.Y, profile.H = window.Bottom(), profileMM
	return window.Inset(coordsMM), profile
}

// share puts two strips that follow each other on one page where both are
// straight enough for half of it.
func (set *sheetSet) share() {
	if set.ruler.lay.drawing.H < sharedFromMM {
		return
	}
	for i := 0; i+1 < len(set.sheets); i++ {
		a, b := &set.sheets[i], &set.sheets[i+1]
		if set.flat(a) && set.flat(b) {
			a.panel, b.panel = upperHalf, lowerHalf
			i++
		}
	}
}

// flat reports whether a strip fits half a page, and turns one that shows all of
// its line so that it does.
func (set *sheetSet) flat(sh *drawnSheet) bool {
	l := &set.lines[sh.line]
	win, _ := set.ruler.lay.panelOf(upperHalf, set.bandMM(), 0)
	mm := sh.scale.MMPerM()
	path := l.path.Slice(sh.strip.FromM, sh.strip.ToM)
	fits := func(angle float64) bool {
		w, h, _ := plan.Bounds(path, angle)
		return w*mm <= win.W-2*endsMM+1e-6 && (h+2*set.padM(l))*mm <= win.H-6
	}
	if fits(sh.strip.AngleRad) {
		return true
	}
	d := path[len(path)-1].Sub(path[0])
	along := math.Atan2(d.Y, d.X)
	if along > math.Pi/2 {
		along -= math.Pi
	} else if along <= -math.Pi/2 {
		along += math.Pi
	}
	if d.Norm() == 0 || !fits(along) {
		return false
	}
	_, _, sh.strip.Center = plan.Bounds(path, along)
	sh.strip.AngleRad = along
	return true
}

// onPage are the strips that share a strip's page, the upper first.
func (set *sheetSet) onPage(sh *drawnSheet) []*drawnSheet {
	var out []*drawnSheet
	for i := range set.sheets {
		if k := &set.sheets[i]; k.kind == sh.kind && k.no == sh.no {
			out = append(out, k)
		}
	}
	return out
}

// total counts all pages that are printed.
func (set *sheetSet) total() int {
	return set.before.crew + set.before.stake + set.before.set
}

// pages is the number of the set's last page.
func (set *sheetSet) pages() int {
	if len(set.sheets) == 0 {
		return 0
	}
	return set.sheets[len(set.sheets)-1].no
}

// beside is the strip of the same line before or behind a strip; nil for none.
func (set *sheetSet) beside(sh *drawnSheet, step int) *drawnSheet {
	for i := range set.sheets {
		if k := &set.sheets[i]; k.kind == stripSheet && k.line == sh.line && k.seq == sh.seq+step {
			return k
		}
	}
	return nil
}

// whereWords says where a line goes on from a strip.
func whereWords(from, to *drawnSheet) string {
	switch {
	case from.no != to.no:
		return "see " + sheetsWords(to.no, to.no)
	case to.panel == lowerHalf:
		return "see below"
	}
	return "see above"
}
