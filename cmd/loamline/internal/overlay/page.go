package overlay

import (
	_ "embed"
	"html/template"
	"io"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

//go:embed page.html.tmpl
var pageText string

var page = template.Must(template.New("page").Parse(pageText))

type pageLine struct {
	Name, Other string
	Words       []string
	Disagree    []string
}

// WritePage writes plan, words and cautions as one page.
func WritePage(w io.Writer, first, second trace.Located, laid []compare.Overlay, u geo.Units) error {
	v := struct {
		First, Second string
		Warning       string
		Plan          *Plan
		Lines         []pageLine
		Cautions      []string
	}{First: first.Name, Second: second.Name, Warning: Warning(first, second), Plan: NewPlan(first, second, laid, u), Cautions: trace.Cautions()}
	for _, o := range laid {
		l := pageLine{Name: o.Line, Words: Words(o, u)}
		if o.Other != o.Line {
			l.Other = o.Other
		}
		for _, s := range o.Disagree {
			l.Disagree = append(l.Disagree, StretchWords(s, u))
		}
		v.Lines = append(v.Lines, l)
	}
	return page.Execute(w, v)
}
