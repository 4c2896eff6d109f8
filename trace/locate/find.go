package locate

import (
	"context"

	"loamline.example/trace"
	"loamline.example/trace/doubt/evenly"
	"loamline.example/trace/doubt/filled"
	"loamline.example/trace/doubt/leapaside"
	"loamline.example/trace/doubt/namechange"
	"loamline.example/trace/doubt/onlead"
	"loamline.example/trace/doubt/setupchange"
	"loamline.example/trace/doubt/unheard"
)

// finder looks for what a line's readings say beside bleed-over, one kind of finding each.
type finder func(l *trace.Line) []trace.Finding

// ofThisPackage are the finders that have no room of their own: each in a file here, which
// declares it. They come after the others, in the order of their files.
var ofThisPackage []finder

func find(look finder) bool {
	ofThisPackage = append(ofThisPackage, look)
	return true
}

// finders are all that look at a line once it is drawn and bleed-over was looked for, in
// the order in which what they find is read. None depends on what another found.
func finders(renamed map[string][]trace.Finding, runs []filled.Run) []finder {
	rooms := []finder{
		func(l *trace.Line) []trace.Finding { return renamed[l.Setup.Name] },
		evenly.Doubts,
		func(l *trace.Line) []trace.Finding { return filled.Doubts(l, runs) },
		func(l *trace.Line) []trace.Finding { return unheard.Doubts(l, ownM) },
		setupchange.Doubts,
		onlead.Doubts,
		leapaside.Doubts,
	}
	return append(rooms, ofThisPackage...)
}

// findMore adds what the finders find on the lines that are drawn.
func findMore(ctx context.Context, lines []trace.Line, runs []filled.Run) error {
	renamed := map[string][]trace.Finding{}
	for i, doubts := range namechange.Doubts(lines) {
		renamed[lines[i].Setup.Name] = doubts
	}
	all := finders(renamed, runs)
	return eachLine(ctx, len(lines), func(i int) error {
		if l := &lines[i]; l.Centerline != nil {
			for _, look := range all {
				l.Findings = append(l.Findings, look(l)...)
			}
		}
		return nil
	})
}
