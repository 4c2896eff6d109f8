package page

import (
	"cmp"
	"html/template"
	"io"
	"slices"
	"strings"

	"loamline.example/export/layer"
	"loamline.example/export/stakeout"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/export/words/beneath"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/closelines"
	"loamline.example/trace/finding"
)

// pageLists is what the page says in plain HTML: everything that the plan and
// the profile show, for who cannot see or use them.
type pageLists struct {
	Style  template.CSS
	Script template.JS
	Data   template.JS
	Policy string
	Tiles  TileSource

	Title    string // of the window
	Heading  string
	Facts    []fact // ticket, date, ...
	US       bool   // feet and inches are shown first
	Cautions []string
	Advice   []listedAdvice
	Lines    []listedLine
	Findings []listedFinding
	Quiet    int // findings that ask nothing
	Asking   int // and those that do
	Close    []both
	// NotChecked is what could not be checked for bleed-over, for want of a column.
	NotChecked string
	TryNext    []both
	// What stands on the plan and must be explained.
	Exposed, Crossings, Checks, Fixed bool
	Call                              *call // where a line is hit; nil where the job states no number
	Ledger                            string
	Aside                             []asideRow
	AsideN                            int // rows left out of Aside
	Problems                          []*trace.Problem
	ProblemN                          int
	Legend                            []listedStyle
	Ground                            bool   // there is a background to explain
	Underlay                          string // what must be read beside a site plan; empty for none
	Origins                           []both
	SitePlan                          []both // where it comes from
	Traced                            bool   // at least one line could be drawn
	Version                           string
}

// fact is one entry of the page's head.
type fact struct {
	Name, Value string
	Minor       bool // left out on a narrow screen
	Until       bool // the last day on which the ticket holds
}

// call is a number to be called, and what dials it.
type call struct {
	Number string
	URL    template.URL
}

// callOf reads what can be dialled out of a number as people write one.
func callOf(number string) *call {
	dial := strings.Map(func(r rune) rune {
		if '0' <= r && r <= '9' || r == '+' {
			return r
		}
		return -1
	}, number)
	if dial == "" {
		return nil
	}
	return &call{number, template.URL("tel:" + dial)}
}

// Limits of the lists. What they leave out is counted on the page and stands in
// the GeoJSON.
const (
	asideListed    = 2000
	problemsListed = 500
	stationsListed = 40
)

func newPageLists(s *trace.Sheet, w io.Writer) (*pageLists, error) {
	p := &pageLists{Title: pageTitle(s), Heading: pageHeading(s), Facts: pageFacts(s), US: s.Job.Units == geo.US,
		Cautions: words.Cautions(s), Call: callOf(s.Job.Contact.Emergency), NotChecked: words.NotChecked(s), Ledger: words.Sentence(words.Capital(words.Ledger(s.Counts))), Version: s.Version}
	order := advice.MostImportantFirst(s)
	for _, a := range order {
		p.Advice = append(p.Advice, listAdvice(s, a))
	}
	for _, f := range advice.ToRepeat(s) {
		p.Advice = append(p.Advice, listRepeat(s, f))
	}
	for i := range p.Advice {
		p.Advice[i].No = i + 1
	}
	used := map[trace.Utility]bool{}
	for i := range s.Lines {
		if _, err := w.Write(nil); err != nil {
			return nil, err
		}
		l := &s.Lines[i]
		p.Lines = append(p.Lines, listLine(s, i))
		p.Findings = append(p.Findings, listFindings(s, i)...)
		p.addAside(s, l)
		p.Traced = p.Traced || l.Centerline != nil
		used[style.Of(l.Setup.Utility).Utility] = true
	}
	p.Findings = inOrder(p.Findings, order)
	problems := words.Problems(s)
	for i := range problems {
		if i == problemsListed {
			p.ProblemN = len(problems) - i
			break
		}
		p.Problems = append(p.Problems, &problems[i])
	}
	for _, st := range style.All() {
		if used[st.Utility] {
			p.Legend = append(p.Legend, listedStyle{st.Name, swatchOf(st.Utility)})
		}
	}
	p.Ground = len(s.Background) > 0
	p.Origins = bothLists(s.Job.Units, func(u geo.Units) []string { return sentences(pageOrigins(u, s)) })
	p.explain(s)
	for _, c := range append(closelines.Find(s), closelines.Records(s)...) {
		p.Close = append(p.Close, bothWays(s.Job.Units, func(u geo.Units) string { return words.CloseWords(u, c) }))
	}
	p.TryNext = bothSentences(s, s.TryNext())
	if s.Underlay != nil {
		p.Underlay = beneath.SitePlanShort
		p.SitePlan = bothLists(s.Job.Units, func(u geo.Units) []string { return beneath.SitePlan(u, s) })
	}
	return p, nil
}

// inOrder brings findings into the order of what is to be checked; what nothing there is
// about follows as it came.
func inOrder(findings []listedFinding, order []trace.Advice) []listedFinding {
	type ranked struct {
		listedFinding
		at int
	}
	rs := make([]ranked, len(findings))
	for i, f := range findings {
		rs[i] = ranked{f, slices.IndexFunc(order, func(a trace.Advice) bool { return advice.IsAbout(a, f.finding) })}
		if rs[i].at < 0 {
			rs[i].at = len(order)
		}
	}
	slices.SortStableFunc(rs, func(a, b ranked) int { return cmp.Compare(a.at, b.at) })
	out := make([]listedFinding, len(rs))
	for i := range rs {
		out[i] = rs[i].listedFinding
	}
	return out
}

// explain notes what the legend must explain.
func (p *pageLists) explain(s *trace.Sheet) {
	for _, f := range p.Findings {
		switch f.Mark {
		case (finding.Crossing{}).Role():
			p.Crossings = true
		case (finding.FieldCheck{}).Role():
			p.Checks = true
		}
		if !f.Asks {
			p.Quiet++
		} else {
			p.Asking++
		}
	}
	p.Exposed = s.Counts.Exposed > 0
	p.Fixed = len(stakeout.TapedFrom(s)) > 0
}

func pageTitle(s *trace.Sheet) string {
	if s.Job.Ticket != "" {
		return "Ticket " + s.Job.Ticket
	}
	return s.Name
}

// pageHeading is what the page says first: the ticket, or that nobody stated one, for a
// map's name is that of a file.
func pageHeading(s *trace.Sheet) string {
	if s.Job.Ticket == "" {
		return "No ticket stated"
	}
	return pageTitle(s)
}

func pageFacts(s *trace.Sheet) []fact {
	var out []fact
	add := func(name, value string, minor bool) {
		if value != "" {
			out = append(out, fact{Name: name, Value: value, Minor: minor})
		}
	}
	date := words.JobDate(s)
	if date == "" {
		date = "date not given"
	}
	add("Area", cmp.Or(s.Job.Area, "not stated"), s.Job.Area == "")
	add("Located", date, false)
	add("Valid until", cmp.Or(s.Job.ValidUntil, "not stated"), false)
	out[len(out)-1].Until = s.Job.ValidUntil != ""
	add("Locator", cmp.Or(s.Job.Locator, "not stated"), true)
	add("Map", s.Name, s.Job.Ticket != "")
	return out
}

// listedAdvice is one thing to check; where it is about a finding, the plan shows
// that.
type listedAdvice struct {
	No            int // the same as on the printed sheet
	Words         both
	Shown         bool
	Line, Finding int
}

func listAdvice(s *trace.Sheet, a trace.Advice) listedAdvice {
	out := listedAdvice{Words: bothWays(s.Job.Units, func(u geo.Units) string { return words.Stopped(words.Item(u, a)) })}
	for i := range s.Lines {
		for k, f := range s.Lines[i].Findings {
			if advice.IsAbout(a, f) {
				out.Shown, out.Line, out.Finding = true, i, k
				return out
			}
		}
	}
	return out
}

// listRepeat is a check made in the field that is to be made again, with what to do as every
// other list has it: a crew that reads the list alone must not have to look for it.
func listRepeat(s *trace.Sheet, c finding.FieldCheck) listedAdvice {
	out := listedAdvice{Words: bothWays(s.Job.Units, func(u geo.Units) string { return words.Stopped(words.LookAt(u, c)) })}
	for i := range s.Lines {
		if s.Lines[i].Setup.Name == c.Line {
			k := slices.IndexFunc(s.Lines[i].Findings, func(f trace.Finding) bool {
				o, ok := f.(finding.FieldCheck)
				return ok && o.Outcome == c.Outcome && o.Kind == c.Kind && o.At == c.At
			})
			out.Line, out.Finding, out.Shown = i, k, k >= 0
		}
	}
	return out
}

// asideRow is a reading that is no point of the line, and why.
type asideRow struct {
	Line, File, Point, Fate string
	Reason                  both
	Row                     int
}

func (p *pageLists) addAside(s *trace.Sheet, l *trace.Line) {
	for i := range l.Readings {
		r := &l.Readings[i]
		if r.Status == trace.StatusUsed && r.Reason == nil {
			continue
		}
		if len(p.Aside) == asideListed {
			p.AsideN++
			continue
		}
		fate := words.Status(r.Status)
		if r.Status == trace.StatusUsed && r.DepthDropped {
			fate = "position used, depth set aside"
		}
		p.Aside = append(p.Aside, asideRow{l.Setup.Name, layer.InputName(s, r.File), r.Point, fate,
			bothWays(s.Job.Units, func(u geo.Units) string { return words.Remark(u, r.Reason) }), int(r.Row)})
	}
}

// pageOrigins tells frame, zones and inputs.
func pageOrigins(u geo.Units, s *trace.Sheet) []string {
	var out []string
	for _, t := range []geo.Told{s.Frame, s.OutputWords} {
		if said := t.In(u); said != "" {
			out = append(out, words.Sentence(said))
		}
	}
	for i := range s.Lines {
		if z := s.Lines[i].Caution; len(z.Area) > 0 {
			out = append(out, "Caution zone: "+words.CautionZone(u, z))
			break
		}
	}
	for _, r := range s.Records {
		out = append(out, "Record "+r.Name+", from "+r.Source+": drawn as given, not traced.")
	}
	out = append(out, beneath.Background(s)...)
	for _, in := range s.Inputs {
		out = append(out, in.Name+", SHA-256 "+in.SHA256)
	}
	return append(out, "Made by loamline "+s.Version+".")
}
