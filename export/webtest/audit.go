package webtest

import (
	_ "embed"
	"strings"

	"github.com/chromedp/chromedp"
)

//go:embed testdata/axe-core/axe.min.js
var axe string

// finding is one rule that a page breaks.
type finding struct {
	ID, Impact, Help string
	Nodes            []struct {
		HTML           string
		FailureSummary string
		Target         []any
	}
}

// Audit runs axe-core over the page and reports what it finds, serious and
// critical findings as failures. The rules are those of WCAG 2.0 to 2.2, levels
// A and AA, and axe's own best practices.
func (tab *Tab) Audit(name string) {
	tab.t.Helper()
	if !Eval[bool](tab, "'axe' in window") { // a page that is looked at again has it
		// Through the debugger, which the page's Content-Security-Policy does not bind.
		Eval[any](tab, axe+"; null")
	}
	found, err := run(tab, chromedp.Evaluate[[]finding](
		`axe.run(document, {resultTypes: ['violations']}).then(r => r.violations.map(v => ({ID: v.id, Impact: v.impact, Help: v.help,
			Nodes: v.nodes.map(n => ({HTML: n.html, FailureSummary: n.failureSummary, Target: n.target}))})))`,
		chromedp.EvalAwaitPromise))
	if err != nil {
		tab.t.Fatal(err)
	}
	for _, f := range found {
		var where []string
		for _, n := range f.Nodes {
			where = append(where, n.HTML+"\n"+n.FailureSummary)
		}
		say := tab.t.Logf
		if f.Impact == "serious" || f.Impact == "critical" {
			say = tab.t.Errorf
		}
		say("%s: %s (%s): %s\n%s", name, f.ID, f.Impact, f.Help, strings.Join(where, "\n"))
	}
}
