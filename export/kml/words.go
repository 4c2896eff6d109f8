package kml

import (
	"fmt"
	"html"
	"slices"
	"strings"

	"loamline.example/export/layer"
	"loamline.example/export/station"
	"loamline.example/export/words"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
)

// htmlText readies a text for a balloon, whose content viewers read as HTML and
// search for $[...] entities.
func htmlText(s string) string {
	return strings.ReplaceAll(html.EscapeString(strings.ToValidUTF8(s, "\uFFFD")), "$[", "&#36;[")
}

// text is a text of a balloon in the crew's language, in two languages one under
// the other.
func (k *writer) text(s string) string { return k.inBoth(k.by.Say(s), s) }

func (k *writer) inBoth(said, english string) string {
	if said == english || !k.by.Both() {
		return htmlText(said)
	}
	return htmlText(said) + `<br><i lang="en">` + htmlText(english) + "</i>"
}

// title is a short text: the name of a folder, a heading.
func (k *writer) title(s string) string {
	said := k.by.Say(s)
	if said == s || !k.by.Both() {
		return said
	}
	return said + " / " + s
}

// list is a list with a heading, or nothing where it is empty.
func (k *writer) list(heading string, items []string) string {
	texts := make([]string, len(items))
	for i, it := range items {
		texts[i] = k.text(it)
	}
	return k.listed(heading, texts)
}

// listed is a list of texts that are HTML.
func (k *writer) listed(heading string, items []string) string {
	if len(items) == 0 {
		return ""
	}
	var b strings.Builder
	if heading != "" {
		b.WriteString("<h4>" + htmlText(k.title(heading)) + "</h4>")
	}
	b.WriteString(`<ul style="padding-left:20px">`)
	for _, it := range items {
		b.WriteString("<li>" + it + "</li>")
	}
	b.WriteString("</ul>")
	return b.String()
}

// documentText tells what the map is, what it rests on and what it is not.
func (k *writer) documentText() string {
	s := k.s
	var b strings.Builder
	b.WriteString(k.list("Read this first", words.Cautions(s)))
	var check []string
	for _, a := range advice.MostImportantFirst(s) {
		check = append(check, words.Item(s.Job.Units, a))
	}
	b.WriteString(k.list("Check before digging", check))
	var about []string
	add := func(label, text string) {
		if text != "" {
			about = append(about, label+": "+text)
		}
	}
	add("Ticket", s.Job.Ticket)
	add("Date of the locate", k.date)
	add("Valid until", s.Job.ValidUntil)
	add("Locator", s.Job.Locator)
	add("Area", s.Job.Area)
	add("Frame", s.Frame.In(s.Job.Units))
	add("Tolerance zone", words.Tolerance(s.Job.Units, s.Job.Tolerance))
	about = append(about, words.RowCounts(s.Counts))
	for _, in := range s.Inputs {
		about = append(about, "Input "+in.Name+", SHA-256 "+in.SHA256)
	}
	add("Made by", "loamline "+s.Version)
	b.WriteString(k.list("About this map", about))
	var problems []string
	for i, p := range words.Problems(s) {
		if i == 20 {
			problems = append(problems, k.text(fmt.Sprintf("and %d more, in the GeoJSON", len(s.Problems)-i)))
			break
		}
		problems = append(problems, k.inBoth(k.by.Problem(&p), p.Error()))
	}
	b.WriteString(k.listed("Problems in the input", problems))
	return b.String()
}

// lineSnippet is what a list of folders shows under a line's name.
func (k *writer) lineSnippet(l *trace.Line) string {
	if l.Centerline == nil {
		return "No line could be drawn from these readings"
	}
	if k.snippetOf != l { // every part of the line tells it
		k.snippetOf, k.snippet = l, words.DepthRange(k.s.Job.Units, l, k.date)
	}
	return k.snippet
}

func (k *writer) lineText(l *trace.Line) string {
	u := k.s.Job.Units
	items := []string{k.lineSnippet(l)}
	if w := words.Setup(u, l.Setup); w != "" {
		items = append(items, words.Capital(w))
	}
	if l.Centerline != nil {
		items = append(items, "Traced: "+u.Long(l.Centerline.TracedM()))
	}
	c := trace.CountReadings(l.Readings)
	items = append(items, words.ReadingCounts(c))
	var doubts []string
	for _, f := range l.Findings {
		if from, to := f.Span(); f.NeedsEyes() && from != to {
			doubts = append(doubts, words.FindingTitle(u, f))
		}
	}
	notes := l.Checked
	if l.Centerline != nil {
		notes = append(slices.Clone(l.Centerline.Notes), l.Checked...)
	}
	return k.list("", items) + k.list("Do not rely on", doubts) + k.list("Notes", words.Remarks(u, notes))
}

// stretchText is the balloon of a traced part: depths by station.
func (k *writer) stretchText(l *trace.Line, along *words.Along, fromM, toM float64) string {
	u := k.s.Job.Units
	var b strings.Builder
	b.WriteString("<p>" + k.text(words.Capital(k.lineSnippet(l))) + "</p>")
	b.WriteString("<table><tr>")
	for _, head := range []string{"Station", "Read depth to centre", "Across the line, 95 %"} {
		b.WriteString("<th>" + htmlText(k.title(head)) + "</th>")
	}
	b.WriteString("</tr>")
	for _, v := range k.stations(l, fromM, toM, 25) {
		told := along.At(v)
		b.WriteString(`<tr><td style="white-space:nowrap">` + u.Long(v.StationM) + "</td><td>" + htmlText(k.title(strings.TrimPrefix(told.DepthLabel(u), "read "))) +
			"</td><td>" + htmlText(k.title(told.PositionAlone(u))) + "</td></tr>")
	}
	b.WriteString("</table>")
	var doubts []string
	for _, f := range l.Findings {
		if bo, ok := f.(finding.BleedOver); ok && bo.ToM >= fromM && bo.FromM <= toM {
			doubts = append(doubts, words.FindingTitle(u, f))
		}
	}
	b.WriteString(k.list("Do not rely on", doubts))
	return b.String()
}

// stations are the round stations between two others, at most some n a line.
func (k *writer) stations(l *trace.Line, fromM, toM float64, n int) []trace.Vertex {
	step := station.StepM(k.s.Job.Units, l.Centerline.TracedM(), n)
	var out []trace.Vertex
	for _, p := range l.Centerline.Parts {
		for _, s := range station.Round(p, step) {
			if s >= fromM-1e-6 && s <= toM+1e-6 {
				out = append(out, station.At(p, s))
			}
		}
	}
	return out
}

func (k *writer) readingName(r *trace.Reading) string {
	name := r.Point
	if name == "" {
		name = fmt.Sprintf("row %d", r.Row)
	}
	return name + ", " + words.Status(r.Status)
}

func (k *writer) readingText(r *trace.Reading) string {
	w := words.Reading(k.s.Job.Units, r, k.date)
	if f := layer.InputName(k.s, r.File); f != "" {
		w = append(w, fmt.Sprintf("%s, row %d", f, r.Row))
	}
	if r.Note != "" {
		w = append(w, "Note: "+r.Note)
	}
	return k.list("", w)
}
