package pdf

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/tongue"
	"loamline.example/export/words"
	"loamline.example/trace"
)

type sheetKind int

const (
	overviewSheet sheetKind = iota
	stripSheet
	notesSheet
	crewSheet
)

// drawnSheet is one page of the set.
type drawnSheet struct {
	kind  sheetKind
	no    int
	line  int // index into the set's lines, of a strip
	scale plan.Scale
	strip plan.Strip
	panel panel
	seq   int // of a strip on its line, from 0
	note  int // number of the notes page, from 0
	// spareMM is what a profile has no use for of its room, and the plan has instead.
	spareMM float64
}

// sheetSet is the plan of all pages: how many there are of which kind, and what of the
// job is on which.
type sheetSet struct {
	*drawnJob
	ruler   *pencil // measures on the set's paper before there are pages
	paper   Paper
	sheets  []drawnSheet
	printed string  // trace.SheetsCrew, SheetsFull or SheetsBoth
	given   Paper   // as asked for; "" is the job's choice
	before  leading // pages before the set, and how many there are in all
}

// leading counts the pages that are printed beside the plan and profile set: all
// pages of a print have one numbering.
type leading struct{ crew, stake, set int }

// prints reports whether one of both kinds of sheet is wanted.
func (set *sheetSet) prints(kind string) bool {
	return set.printed == trace.SheetsBoth || set.printed == kind
}

func newSheetSet(s *trace.Sheet, opt Options) (*sheetSet, error) {
	if s == nil {
		return nil, errors.New("no sheet to print")
	}
	if opt.Scale < 0 || math.IsNaN(opt.Scale) || math.IsInf(opt.Scale, 0) {
		return nil, fmt.Errorf("a drawing scale of 1:%v cannot be drawn: give its denominator, such as 200", opt.Scale)
	}
	if _, err := ParsePaper(string(opt.Paper)); err != nil {
		return nil, err
	}
	set := &sheetSet{printed: cmp.Or(opt.Sheets, s.Job.Sheets, trace.SheetsBoth), given: opt.Paper}
	if !slices.Contains([]string{trace.SheetsCrew, trace.SheetsFull, trace.SheetsBoth}, set.printed) {
		return nil, fmt.Errorf("%q is not a choice of sheets: use crew, full or both", set.printed)
	}
	set.ruler = newPencil(paper.New(100, 100, paper.Info{}), sheetLayout{}, tongue.For(s), opt.asked)
	set.drawnJob = newDrawnJob(s)
	set.choosePaper(opt)
	return set, nil
}

// linesOn are the lines whose strips a page has.
func (set *sheetSet) linesOn(sh *drawnSheet) []int {
	var out []int
	for _, k := range set.onPage(sh) {
		if k.kind == stripSheet && !slices.Contains(out, k.line) {
			out = append(out, k.line)
		}
	}
	return out
}

// shows reports whether a page has a strip of a line.
func (set *sheetSet) shows(sh *drawnSheet, line string) bool {
	for _, k := range set.onPage(sh) {
		if k.kind == stripSheet && set.lines[k.line].Setup.Name == line {
			return true
		}
	}
	return false
}

// notesWords names the sheets with the notes.
func (set *sheetSet) notesWords() string {
	first := 0
	for _, sh := range set.sheets {
		if sh.kind == notesSheet && first == 0 {
			first = sh.no
		}
	}
	return sheetsWords(first, set.pages())
}

// noAdvice stands where a job lists nothing to check.
func (set *sheetSet) noAdvice() string {
	if set.strips() == 0 {
		return "Nothing was traced on this job: have the lines located before any digging."
	}
	return "No particular check is listed for this job. Follow the cautions: expose every line before digging near it."
}

// sheetName is the sheet in a few words.
func (set *sheetSet) sheetName(sh *drawnSheet) string {
	s := "Sheet " + strconv.Itoa(sh.no) + ": "
	switch sh.kind {
	case overviewSheet:
		return s + "overview"
	case notesSheet:
		return s + "notes"
	}
	for i, k := range set.onPage(sh) {
		if i > 0 {
			s += "; "
		}
		s += set.lines[k.line].Setup.Name + ", " + words.Range(set.u, k.strip.FromM, k.strip.ToM)
	}
	return s
}
