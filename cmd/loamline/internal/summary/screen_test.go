package summary

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// busy is a sheet with so many pieces of advice of every kind on six lines, and
// problems in its input.
func busy(each int) *trace.Sheet {
	s := &trace.Sheet{Name: "busy", Job: trace.DefaultJob()}
	for i := range 6 {
		s.Lines = append(s.Lines, trace.Line{Setup: trace.LineSetup{Name: fmt.Sprintf("W-%d", i)}})
	}
	add := func(kind trace.AdviceKind, r func(line string, from, to float64) trace.Remark) {
		for i := range each {
			line, from, to := fmt.Sprintf("W-%d", i%6), float64(10*i), float64(10*i+7)
			s.Advice = append(s.Advice, trace.Advice{Line: line, FromM: from, ToM: to, AtM: from, Kind: kind, Remark: r(line, from, to)})
		}
	}
	plain := func(line string, from, to float64) trace.Remark {
		return trace.Verbatim(fmt.Sprintf("%s, %.1f m: a sentence on what was found there, long enough to break. Find the line there before digging.", line, from))
	}
	for kind := range checkTitles {
		add(kind, plain)
	}
	for _, grade := range []trace.Grade{trace.GradeStrong, trace.GradeSuspect, trace.GradeWatch} {
		add(trace.AdviseBleed, func(line string, from, to float64) trace.Remark {
			return remark.BleedItem{Line: line, Stretches: []remark.Stretch{{FromM: from, ToM: to}}, Grade: grade, LeavesM: trace.Unknown}
		})
	}
	for i := range each {
		s.Problems = append(s.Problems, trace.Problem{File: "busy.csv", Row: i + 2, Field: fmt.Sprintf("field %d", i), Cause: "this is not a number"})
	}
	return s
}

// However much is to be checked, the short summary fits a screen, says how many items
// there are and names every kind of them.
func TestShortSummaryFitsAScreen(t *testing.T) {
	for _, each := range []int{1, 2, 5, 40} {
		s := busy(each)
		var b strings.Builder
		Short(&b, s, []string{"out/busy.geojson", "out/busy.kml"})
		// All thirteen kinds at once on six lines leave a row for each, and two for the
		// first problem.
		if rows := screenRows(b.String()); rows > screenHeight+5 {
			t.Errorf("%d of each kind: %d rows\n%s", each, rows, b.String())
		}
		if want := fmt.Sprintf("(%d items, all in full with --verbose", len(s.Advice)); !strings.Contains(b.String(), want) {
			t.Errorf("%d of each kind: no %q in\n%s", each, want, b.String())
		}
		for _, title := range checkTitles {
			if each == 1 {
				title = "a sentence on what was found there" // under each
			}
			if !strings.Contains(b.String(), title) {
				t.Errorf("%d of each kind: %q is not named", each, title)
			}
		}
	}
}

// A terminal's lines are broken between words, under the first word of the line, with
// colour or without; elsewhere nothing is broken.
func TestLinesBreakBetweenWords(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"short enough\n", "short enough\n"},
		{"  - a sentence that is wider than the screen by a word or two, so it breaks\n",
			"  - a sentence that is wider than the\n    screen by a word or two, so it\n    breaks\n"},
		{"  12. a sentence that is wider than the screen by a word or two\n",
			"  12. a sentence that is wider than the\n      screen by a word or two\n"},
		{"  - a sentence that is wider, by a word in red: \x1b[1;31mred\x1b[0m\n",
			"  - a sentence that is wider, by a word\n    in red: \x1b[1;31mred\x1b[0m\n"},
		{"a word: aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa b\n",
			"a word:\naaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa\nb\n"},
		{"a length is one word: 7 ft 11 in\n", "a length is one word: 7 ft 11 in\n"},
		{"a length is not broken in two: 7 ft 11 in ± 6 in\n", "a length is not broken in two:\n7 ft 11 in ± 6 in\n"},
		{"nor is one in metres, wherever it is 0.53 m ± 0.51\n", "nor is one in metres, wherever it is\n0.53 m ± 0.51\n"},
		{"  W-1   W     " + Hang + "\x1b[1;31mbleed-over strongly suspected\x1b[0m over 26.5 m\n",
			"  W-1   W     \x1b[1;31mbleed-over strongly\n              suspected\x1b[0m over 26.5 m\n"},
		{"  W-1   W     ± 1.87 m  " + Hang + "\x1b[1;31mbleed-over strongly suspected\x1b[0m over 26.5 m\n",
			"  W-1   W     ± 1.87 m\n      \x1b[1;31mbleed-over strongly suspected\x1b[0m over\n      26.5 m\n"},
		{"  W-1   W     " + Hang + "doubtful\n", "  W-1   W     doubtful\n"},
		{"  W-1   W     \x1b[1;31mbleed-over strongly suspected\x1b[0m over 26.5 m\n",
			"  W-1   W     \x1b[1;31mbleed-over strongly\n  suspected\x1b[0m over 26.5 m\n"},
	} {
		if got := wrapLine(c.line, 40); got != c.want {
			t.Errorf("%q: got %q", c.line, got)
		}
	}
	long := strings.Repeat("word ", 100)
	var b strings.Builder
	if Write(&b, Hang+long); b.String() != long {
		t.Error("what is no terminal is broken into rows")
	}
}

func TestUpToFullStop(t *testing.T) {
	names := []string{"St. Odo main", "W-1"}
	for text, want := range map[string]string{
		"W-1, 14.2 m: not traced. Find the line there.": "W-1, 14.2 m: not traced.",
		"St. Odo main crosses W-1. Expose both.":        "St. Odo main crosses W-1.",
		"one sentence, St. Odo main":                    "one sentence, St. Odo main",
	} {
		if got := upToFullStop(text, names); got != want {
			t.Errorf("%q: got %q", text, got)
		}
	}
}

// Where the list is shortened, the place, the side and the distance of what the paint may
// mislead in stand longer than what else is said, whatever stands before it: in figures
// where sentences take too many rows.
func TestWhereNotToDigIsCutLast(t *testing.T) {
	s := &trace.Sheet{Name: "long", Job: trace.DefaultJob(), Lines: []trace.Line{{Setup: trace.LineSetup{Name: "A"}}}}
	doubt := "A, 2.0 m to 5.0 m: readings do not go together. " + strings.Repeat("A sentence that goes on about it. ", 12) + "Find the line there before digging."
	s.Advice = []trace.Advice{
		{Line: "A", FromM: 2, ToM: 5, Kind: trace.AdviseDoubt, Remark: trace.Verbatim(doubt)},
		{Line: "A", FromM: 8, ToM: 30, Kind: trace.AdviseBleed, Remark: remark.BleedItem{Line: "A", Grade: trace.GradeStrong, From: "B", Stretches: []remark.Stretch{{FromM: 8, ToM: 30}},
			Likely: []remark.Displaced{{ShiftM: 0.5, Shift95M: 0.2, Side: trace.Left, All: true}}, LeavesM: 8, Also: []string{"C"},
			Reach: remark.Reach{LeftM: [2]float64{2.4, 2.4}, RightM: [2]float64{0.7, 0.7}, Known: true}}},
	}
	for i := range 12 {
		s.Advice = append(s.Advice, trace.Advice{Line: "A", FromM: float64(40 + i), ToM: float64(41 + i), Kind: trace.AdviseGap, Remark: trace.Verbatim(strings.Repeat("Not traced there, in more words than it takes. ", 4))})
	}
	var b strings.Builder
	Short(&b, s, nil)
	if rows := screenRows(b.String()); rows > screenHeight {
		t.Errorf("%d rows", rows)
	}
	for _, want := range []string{"A, 2.0 m to 5.0 m: readings do not go together.",
		"A, 8.0 m to 30.0 m: bleed-over strongly suspected, perhaps from B. The line probably lies 0.50 m ± 0.20 to the left of the paint.",
		"Expose before digging within 0.70 m to the right of the paint and 2.40 m to its left."} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
	kinds := checkKinds(s, s.Advice)
	texts, _, kept := fitChecks(kinds, 4)
	if want := "bleed-over strongly suspected: A 8.0 to 30.0 m; probably 0.50 m ± 0.20 to the left; expose within 0.70 m right, 2.40 m left"; !slices.Contains(texts, want) || !kept || listRows(texts) > 4 {
		t.Errorf("%v %q", kept, texts)
	}
	if texts, _, kept := fitChecks(kinds, 3); kept || listRows(texts) > 3 {
		t.Errorf("%v %q", kept, texts)
	}
	// Problems of the input are not told one by one where that takes the room for it.
	for i := range 12 {
		s.Advice = append(s.Advice, trace.Advice{Line: fmt.Sprint("L", i), FromM: 1, ToM: 2, Kind: trace.AdviseDoubt, Remark: trace.Verbatim(fmt.Sprintf("Sentence %d of a doubt.", i))})
	}
	s.Problems = []trace.Problem{{File: "a.csv", Row: 2, Cause: strings.Repeat("what is wrong, ", 70)}, {File: "a.csv", Row: 3, Cause: "else"}}
	b.Reset()
	Short(&b, s, nil)
	if rows := screenRows(b.String()); rows > screenHeight || !strings.Contains(b.String(), "2 problems in the input: --verbose and the files list them all\n") || !strings.Contains(b.String(), "2.40 m") {
		t.Errorf("%d rows\n%s", rows, b.String())
	}
}

// A check in the field that could tell nothing is counted and named in short as it is in full.
func TestShortSummaryNamesChecksToMakeAgain(t *testing.T) {
	s := busy(5)
	s.Lines[2].Findings = append(s.Lines[2].Findings, finding.FieldCheck{Line: "W-2", Kind: trace.CheckLift, StationM: 12,
		Outcome: trace.OutcomeInconclusive, Remark: trace.Verbatim("Depth grew by 0.17 m. Lift higher and read again.")})
	var short, whole strings.Builder
	Short(&short, s, nil)
	Whole(&whole, s, nil)
	for _, want := range []string{fmt.Sprintf("(%d items", len(s.Advice)+1), "- W-2: Lift check is inconclusive, at 12.0 m. Lift higher and read again."} {
		if !strings.Contains(short.String(), want) {
			t.Errorf("no %q in\n%s", want, short.String())
		}
	}
	if want := fmt.Sprintf("\n  %d. W-2: Lift check is inconclusive, at 12.0 m. Lift higher", len(s.Advice)+1); !strings.Contains(whole.String(), want) {
		t.Errorf("no %q in\n%s", want, whole.String())
	}
}
