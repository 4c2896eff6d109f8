package pdf

import (
	"strings"
	"testing"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
)

// No heading and no cell of a crew sheet's tables runs into the next one or out of the
// column of the list, whatever the language and the units; in type of the sheet's own size
// and in the least.
func TestTablesKeepToTheirColumns(t *testing.T) {
	named := noDatum(geo.US)
	for i := range named.Lines {
		named.Lines[i].Setup.Name = "Watermain of the upper town " + string(rune('A'+i))
	}
	far := sample.Of(geo.US, sample.Straight(2400, 0.4, 480))
	far.Lines[0].Caution.DoubtM, far.Lines[0].Caution.DoubtDatum = 12.4, "NAD83(2011)"
	jobs := map[string]*trace.Sheet{"datum not stated": noDatum(geo.Metric), "datum not stated, feet": noDatum(geo.US), "long names": named, "far": far, "sample": sample.Sheet()}
	broken := 0
	for name, s := range jobs {
		for _, language := range []string{trace.English, trace.Spanish, trace.EnglishAndSpanish} {
			set, err := newSheetSet(in(language, s), Options{Sheets: trace.SheetsCrew})
			if err != nil {
				t.Fatal(err)
			}
			by := set.ruler.tongue
			on := uprightPage{set, newPencil(paper.New(300, 300, paper.Info{}), upright(set.crewPaper()), by, nil)}
			d := newCrewDraft(on, crewFit{stepM: set.stationStepM(0)})
			width := crewColumn(d.lay.frame.Inset(1.6), 0).W
			for _, pt := range []float64{crewTypes[0], crewTypes[len(crewTypes)-1]} {
				blocks, runsOut := d.written(width, pt/d.lay.basePt, false)
				if runsOut {
					t.Errorf("%s, %s, %g pt: a table knows itself that it runs out of its column", name, language, pt)
				}
				for _, b := range blocks {
					if len(b.heads) > 0 && len(b.lines) > 1 {
						broken++
					}
					for _, line := range b.lines {
						cells := strings.Split(line, "\t")
						for k, cell := range cells {
							end := width
							if k+1 < len(b.tabs) {
								end = b.tabs[k+1]
							}
							if b.tabs != nil && cell != "" && b.tabs[k]+d.c.Width(cell, b.font) > end+1e-6 {
								t.Errorf("%s, %s, %g pt: %q runs out of its column", name, language, pt, cell)
							}
						}
					}
				}
			}
		}
	}
	if broken == 0 {
		t.Error("no heading took more than one line")
	}
}
