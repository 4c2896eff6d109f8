package pdf

import (
	"math"
	"slices"

	"loamline.example/export/internal/plan"
	"loamline.example/geo"
	"loamline.example/trace"
)

// fewSheets is how many strips a job may have on the smaller paper before the
// larger one is taken.
const fewSheets = 3

func (set *sheetSet) choosePaper(opt Options) {
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
func (set *sheetSet) cut(opt Options) {
	set.ruler, set.sheets = set.ruler.on(layoutOf(set.paper), set.ruler.tongue), nil
	win := set.ruler.lay.window(set.bandMM())
	for i := range set.lines {
		l := &set.lines[i]
		if !l.traced() {
			continue
		}
		set.ruler.goOn()
		room := plan.Room{WidthMM: win.W - 2*endsMM, HeightMM: win.H - 6, PadM: set.padM(l), ApartM: set.apartM(i), StepM: stripStepM(set.u)}
		scale := plan.Scale(opt.Scale)
		var strips []plan.Strip
		if scale > 0 {
			strips = plan.Strips(l.path, scale, room)
		} else {
			scale, strips = plan.ChooseScale(set.u, l.path, room)
		}
		for k, st := range strips {
			set.sheets = append(set.sheets, drawnSheet{kind: stripSheet, line: i, scale: scale, strip: st, seq: k})
		}
	}
	set.share()
}

// bandMM measures the caution band of the chosen paper.
func (set *sheetSet) bandMM() float64 {
	return newCautionBand(set.ruler, set.s).heightMM(set.ruler.lay.drawing.W)
}

// padM is the ground beside a line that its sheet must show: its caution zone.
func (j *drawnJob) padM(l *drawnLine) float64 {
	pad := 1.0
	if h := l.Tolerance.HalfWidthM; trace.Known(h) && h > 0 && h < 10 {
		pad = h + 0.5
	}
	return pad
}

// alongsideM is how near another line must run to count as alongside, and
// apartSamples at how many places that is looked at.
const (
	alongsideM   = 1.5
	apartSamples = 60
)

// apartM is the middle distance of another line that runs alongside for a fifth
// of the way or more; 0 where none does.
func (j *drawnJob) apartM(line int) float64 {
	l := &j.lines[line]
	var near []float64
	for k := range apartSamples {
		s := (float64(k) + 0.5) / apartSamples * l.path.Length()
		at, dir := l.path.At(s), l.path.Direction(s)
		best := math.Inf(1)
		for i := range j.lines {
			if o := &j.lines[i]; i != line && o.traced() && o.box.within(alongsideM, at) {
				foot := o.path.Nearest(at)
				d := math.Abs(foot.OffsetM)
				if math.Abs(dir.Dot(o.path.Direction(foot.StationM))) > 0.9 && d > 0.02 && d < alongsideM {
					best = math.Min(best, d)
				}
			}
		}
		if !math.IsInf(best, 1) {
			near = append(near, best)
		}
	}
	if len(near)*5 < apartSamples {
		return 0
	}
	slices.Sort(near)
	return near[len(near)/2]
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
	no := 0
	for i := range set.sheets {
		sh := &set.sheets[i]
		if sh.panel != lowerHalf {
			no++
		}
		sh.no = no
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

// follow numbers the set's sheets after those before it.
func (set *sheetSet) follow(pages int) {
	for i := range set.sheets {
		set.sheets[i].no += pages
	}
	for i := range set.lines {
		if l := &set.lines[i]; l.first > 0 {
			l.first, l.last = l.first+pages, l.last+pages
		}
	}
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
