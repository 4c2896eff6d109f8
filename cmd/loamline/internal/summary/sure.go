package summary

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"loamline.example/export/words"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
)

// sureness is how far a line is to be trusted, in a few words.
type sureness struct{ words, ink string }

// doubtWords is what one kind of finding says about how sure a line is.
type doubtWords struct {
	words string // empty where it says nothing about that
	stop  bool   // the drawn line must not be trusted there
}

// doubts says so of each kind. A kind without words of its own, which a person
// must look at, is named by its role.
var doubts = finding.PerKind[doubtWords]{
	Doubt: func(finding.Doubt) doubtWords { return doubtWords{"in doubt", true} },
	BleedOver: func(f finding.BleedOver) doubtWords {
		switch {
		case f.Jump:
			return doubtWords{"may follow another line", true}
		case f.Grade == trace.GradeWatch:
			return doubtWords{words.Grade(f.Grade), false}
		}
		return doubtWords{words.Grade(f.Grade), true}
	},
	Gap:      func(finding.Gap) doubtWords { return doubtWords{"not traced", false} },
	Crossing: func(finding.Crossing) doubtWords { return doubtWords{} },
	FieldCheck: func(f finding.FieldCheck) doubtWords {
		switch f.Outcome {
		case trace.OutcomePassed:
			return doubtWords{}
		case trace.OutcomeInconclusive:
			return doubtWords{"a field check is inconclusive", false}
		}
		return doubtWords{"a field check failed", false}
	},
	Else: func(f trace.Finding) doubtWords {
		if !f.NeedsEyes() {
			return doubtWords{}
		}
		return doubtWords{strings.ToLower(words.RoleTitle(f.Role())), false}
	},
}

// doubtOrder puts the worst first; what is not in it comes after.
var doubtOrder = []string{words.Grade(trace.GradeStrong), "may follow another line", "in doubt", words.Grade(trace.GradeSuspect), "not traced", words.Grade(trace.GradeWatch)}

// maxSure is how many findings stand in a line of the table, which then fits a
// terminal; the list below it has them all.
const maxSure = 1

// howSure sums up what was found against a line, the worst first. A line
// against which nothing was found is never called right: the words say how much
// there was to check it by.
func howSure(l *trace.Line, s *trace.Sheet) sureness {
	if l.Centerline == nil {
		return sureness{"NO LINE COULD BE DRAWN", inkStop}
	}
	spans, colour := map[string][][2]float64{}, inkWarn
	var found []string
	for _, f := range l.Findings {
		d := doubts.Of(f)
		if d.words == "" {
			continue
		}
		if d.stop {
			colour = inkStop
		}
		if !slices.Contains(found, d.words) {
			found = append(found, d.words)
		}
		if from, to := f.Span(); to > from {
			spans[d.words] = append(spans[d.words], [2]float64{from, to})
		}
	}
	if len(found) == 0 {
		return nothingFound(l, s)
	}
	slices.SortStableFunc(found, func(a, b string) int { return doubtRank(a) - doubtRank(b) })
	more := len(found) - maxSure
	found = found[:min(maxSure, len(found))]
	for i, words := range found {
		if lengthM := lengthOf(spans[words]); lengthM > 0 {
			found[i] += " over " + s.Job.Units.Long(lengthM)
		}
	}
	if more > 0 {
		found = append(found, fmt.Sprintf("%d more below", more))
	}
	return sureness{strings.Join(found, "; "), colour}
}

// lengthOf is how much of a line stretches take up, what several share counted once.
func lengthOf(spans [][2]float64) (sumM float64) {
	slices.SortFunc(spans, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	reached := math.Inf(-1)
	for _, s := range spans {
		sumM += max(0, s[1]-max(s[0], reached))
		reached = max(reached, s[1])
	}
	return sumM
}

func doubtRank(words string) int {
	if i := slices.Index(doubtOrder, words); i >= 0 {
		return i
	}
	return len(doubtOrder)
}

// nothingFound says how much there was to find something by, and what of the list of what
// to check is about all of a line or its input: it is no surer than that list.
func nothingFound(l *trace.Line, s *trace.Sheet) sureness {
	missing := missingChecks(l)
	if len(missing) == 3 {
		return sureness{"positions alone: nothing to check them by", inkWarn}
	}
	for _, a := range advice.MostImportantFirst(s) {
		switch {
		case a.Line != l.Setup.Name && (a.Line != "" || a.Kind != trace.AdviseInput):
		case a.Kind == trace.AdviseInput:
			return sureness{"its input is in doubt: see below", inkWarn}
		case a.Kind == trace.AdviseAccuracy:
			return sureness{"positions or depths are in doubt: see below", inkWarn}
		}
	}
	found := "no sign of trouble found"
	if s.Doubted().DoubtM > 0 {
		found += " but for the datum"
	}
	if len(missing) > 0 {
		found += ", without " + strings.Join(missing, " and ")
	}
	return sureness{found, ""}
}

// missingChecks names which of depth, current and null no reading of a line has.
func missingChecks(l *trace.Line) []string {
	var out []string
	for _, kind := range []struct {
		name string
		has  func(trace.Reading) bool
	}{
		{"depth", func(r trace.Reading) bool { return trace.Known(r.DepthM) && !r.DepthDropped }},
		{"current", func(r trace.Reading) bool {
			return trace.Known(r.CurrentMA) || trace.Known(r.Signal) || trace.Known(r.SignalLow)
		}},
		{"null", func(r trace.Reading) bool { return trace.Known(r.NullOffsetM) }},
	} {
		if !slices.ContainsFunc(l.Readings, kind.has) {
			out = append(out, kind.name)
		}
	}
	return out
}

// notChecked says once which checks were not possible, on which lines; empty
// where all were made.
func notChecked(s *trace.Sheet) string {
	lines := map[string][]string{}
	var order []string
	drawn := 0
	for _, l := range s.Lines {
		if l.Centerline == nil {
			continue
		}
		drawn++
		for _, note := range l.Checked {
			what, not := words.NotCheckable(note)
			if !not {
				continue
			}
			what = strings.ToLower(what)
			if lines[what] == nil {
				order = append(order, what)
			}
			lines[what] = append(lines[what], OnOneLine(l.Setup.Name))
		}
	}
	for i, what := range order {
		switch on := lines[what]; {
		case len(on) == drawn:
		case len(on) > maxNamed:
			order[i] += fmt.Sprintf(" (%d lines)", len(on))
		default:
			order[i] += " (" + strings.Join(on, ", ") + ")"
		}
	}
	if len(order) == 0 {
		return ""
	}
	return "Not checked, for the table has nothing usable on it: " + strings.Join(order, "; ") + ": another line may have gone unseen."
}

// maxNamed is how many lines are named one by one in a sentence.
const maxNamed = 6
