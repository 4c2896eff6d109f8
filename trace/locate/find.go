package locate

import "loamline.example/trace"

// finders look for what a line's readings say beside bleed-over, one kind of finding
// each, once the line is drawn and bleed-over was looked for: each in a file of its own,
// which declares it. None depends on what another found.
var finders []func(l *trace.Line) []trace.Finding

func find(look func(l *trace.Line) []trace.Finding) bool {
	finders = append(finders, look)
	return true
}

// findMore adds what the finders find on a line that is drawn.
func findMore(l *trace.Line) {
	if l.Centerline == nil {
		return
	}
	var found []trace.Finding
	for _, look := range finders {
		found = append(found, look(l)...)
	}
	l.Findings = append(l.Findings, found...)
}
