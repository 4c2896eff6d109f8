package pdf

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"loamline.example/export/internal/plan"
	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// crowded is a line with so many doubts on a few metres that neither the plan nor the
// column beside it has room for their words.
func crowded(doubts int, words string) *trace.Sheet {
	s := sample.Of(geo.Metric, sample.Straight(30, 0, 7))
	l := &s.Lines[0]
	for k := range doubts {
		from := 10 + 0.15*float64(k)
		f := finding.Doubt{Line: l.Setup.Name, FromM: from, ToM: from + 4, Path: l.Centerline.Polyline().Slice(from, from+4), Why: trace.Verbatim("two passes lie apart")}
		l.Findings = append(l.Findings, f)
		s.Advice = append(s.Advice, trace.Advice{Line: l.Setup.Name, FromM: f.FromM, ToM: f.ToM, Kind: trace.AdviseDoubt, Remark: trace.Verbatim(fmt.Sprintf("Item%d. %s", k, words))})
	}
	return s
}

// What a plan sheet shows of the check list and what it says to be left are the list:
// words that found no room on the plan are no items beside it, and no sheet shows none.
func TestPlanSheetCountsTheItemsThatItLeavesOut(t *testing.T) {
	long := strings.Repeat("The antennas read nearly the same here, as a transmitter's own field would show. ", 40)
	for _, tt := range []struct {
		doubts int
		words  string
	}{{2, long}, {14, "Find the line there before digging, or expose it, and tell whoever asks."}, {80, long}} {
		pages := pagesOf(t, pdfBytes(t, crowded(tt.doubts, tt.words), Options{Paper: A4, Sheets: trace.SheetsFull}))
		seen := 0
		for no, page := range pages {
			if !strings.Contains(page, "CHECK BEFORE DIGGING") {
				continue
			}
			seen++
			shown, left := len(regexp.MustCompile(`Item\d+\.`).FindAllString(page, -1)), 0
			if m := regexp.MustCompile(`and (\d+) more: see the notes`).FindStringSubmatch(page); m != nil {
				left, _ = strconv.Atoi(m[1])
			}
			if shown == 0 || shown+left != tt.doubts {
				t.Errorf("%d items: sheet %d shows %d and says that %d are left", tt.doubts, no+1, shown, left)
			}
			if shown < tt.doubts || tt.words == long {
				if !strings.Contains(page, "see the notes") && !strings.Contains(page, "See the notes") {
					t.Errorf("%d items: sheet %d does not say where the rest is", tt.doubts, no+1)
				}
			}
		}
		if seen == 0 {
			t.Error("no sheet has the list")
		}
	}
}

// In too little room every item is told in few words before any is left out: what the
// sheet itself shows in more than what it does not.
func TestItemsAreCutBeforeTheyAreLeftOut(t *testing.T) {
	set, err := newSheetSet(sample.Sheet(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	set.sheets = append(set.sheets, drawnSheet{kind: notesSheet, no: 4, line: -1})
	text := strings.Repeat("words that tell what is the matter at a place ", 8)
	list := []checkItem{{text: text, no: 1, own: true}, {text: text, no: 3, own: true}, {text: text, no: 2}, {text: text, note: true}}
	col := checkColumn{sheetSet: set, pencil: set.ruler}
	f := col.font(0, 1)
	at := func(lines float64) []int {
		return col.cuts(list, f, plan.Rect{W: 60, H: (lines+0.1)*f.LineMM() + 4*checkGapMM})
	}
	full := at(1000)
	for i, n := range full {
		if n < 5 || n != full[0] {
			t.Fatalf("item %d has %d lines", i, n)
		}
	}
	all := float64(full[0])
	for _, tt := range []struct {
		room float64
		want []int
	}{
		{4 * all, full},
		{3*all + 1, []int{full[0], full[0], full[0], 0}},
		{2*all + 2 + 1, []int{full[0], full[0], 2, 0}},
		{4 + 2 + 1, []int{2, 2, 2, 0}},
		{2 + 2 + 1, []int{2, 2, 0, 0}},
		{2, []int{1, 0, 0, 0}},
	} {
		got := at(tt.room)
		if fmt.Sprint(got) != fmt.Sprint(tt.want) {
			t.Errorf("in %g lines: %v, want %v", tt.room, got, tt.want)
		}
	}
}
