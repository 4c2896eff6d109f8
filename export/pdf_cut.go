package export

import (
	"loamline/export/internal/plan"
	"loamline/geo"
	"loamline/trace"
)

// fewSheets is how many strips a job may have on the smaller paper before the
// larger one is taken.
const fewSheets = 3

func (set *sheetSet) choosePaper(opt PDFOptions) {
	small, large := papers(set.u)
	set.paper = opt.Paper
	if opt.Paper == "" {
		set.paper = small
	}
	set.cut(opt)
	if opt.Paper == "" && len(set.sheets) > fewSheets {
		set.paper = large
		set.cut(opt)
	}
	set.number()
}

// cut lays the strips of every line.
func (set *sheetSet) cut(opt PDFOptions) {
	set.lay, set.sheets = layoutOf(set.paper), nil
	win := set.lay.window(set.bandMM())
	for i := range set.lines {
		l := &set.lines[i]
		if !l.traced() {
			continue
		}
		room := plan.Room{WidthMM: win.W - 2*endsMM, HeightMM: win.H - 6, PadM: set.padM(l), StepM: stripStepM(set.u)}
		scale := plan.Scale(opt.Scale)
		var strips []plan.Strip
		if scale > 0 {
			strips = plan.Strips(l.path, scale, room)
		} else {
			scale, strips = plan.ChooseScale(set.u, l.path, room)
		}
		for _, st := range strips {
			set.sheets = append(set.sheets, drawnSheet{kind: stripSheet, line: i, scale: scale, strip: st})
		}
	}
}

// bandMM measures the caution band of the chosen paper.
func (set *sheetSet) bandMM() float64 {
	d := &drafter{sheetSet: set, c: set.ruler}
	return d.cautionsHeight(set.lay.drawing.W)
}

// padM is the ground beside a line that its sheet must show: its caution zone.
func (set *sheetSet) padM(l *drawnLine) float64 {
	pad := 1.0
	if h := l.Tolerance.HalfWidthM; trace.Known(h) && h > 0 && h < 10 {
		pad = h + 0.5
	}
	return pad
}

func stripStepM(u geo.Units) float64 {
	if u == geo.US {
		return 5 * geo.FootM
	}
	return 1
}

// number puts the overview in front where it is wanted and numbers the sheets.
func (set *sheetSet) number() {
	if len(set.sheets) != 1 || !set.allTraced() {
		set.sheets = append([]drawnSheet{{kind: overviewSheet, line: -1}}, set.sheets...)
	}
	for i := range set.sheets {
		sh := &set.sheets[i]
		sh.no = i + 1
		if sh.kind != stripSheet {
			continue
		}
		l := &set.lines[sh.line]
		if l.first == 0 {
			l.first = sh.no
		}
		l.last = sh.no
	}
}

func (set *sheetSet) allTraced() bool {
	for i := range set.lines {
		if !set.lines[i].traced() {
			return false
		}
	}
	return true
}

// strips counts the drawings in the set.
func (set *sheetSet) strips() int {
	n := 0
	for _, sh := range set.sheets {
		if sh.kind == stripSheet {
			n++
		}
	}
	return n
}
