package export

import (
	"fmt"
	"html"
	"math"
	"strings"

	"github.com/twpayne/go-kml/v3"

	"loamline/trace"
)

// htmlText readies a text for a balloon, whose content viewers read as HTML and
// search for $[...] entities.
func htmlText(s string) string {
	return strings.ReplaceAll(html.EscapeString(strings.ToValidUTF8(s, "\uFFFD")), "$[", "&#36;[")
}

// htmlList is a list with a heading, or nothing where it is empty.
func htmlList(heading string, items []string) string {
	if len(items) == 0 {
		return ""
	}
	var b strings.Builder
	if heading != "" {
		b.WriteString("<h4>" + htmlText(heading) + "</h4>")
	}
	b.WriteString("<ul>")
	for _, it := range items {
		b.WriteString("<li>" + htmlText(it) + "</li>")
	}
	b.WriteString("</ul>")
	return b.String()
}

// documentText tells what the map is, what it rests on and what it is not.
func (k *kmlWriter) documentText() string {
	s := k.s
	var b strings.Builder
	b.WriteString(htmlList("Read this first", s.Cautions))
	b.WriteString(htmlList("Check before digging", s.AdviceWords()))
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
	add("Frame", s.Frame)
	add("Tolerance zone", toleranceText(s))
	about = append(about, countsWords(s.Counts))
	for _, in := range s.Inputs {
		about = append(about, "Input "+in.Name+", SHA-256 "+in.SHA256)
	}
	add("Made by", "loamline "+s.Version)
	b.WriteString(htmlList("About this map", about))
	var problems []string
	for i := range s.Problems {
		if i == 20 {
			problems = append(problems, fmt.Sprintf("and %d more, in the GeoJSON", len(s.Problems)-i))
			break
		}
		problems = append(problems, s.Problems[i].Error())
	}
	b.WriteString(htmlList("What was wrong in the input", problems))
	return b.String()
}

func toleranceText(s *trace.Sheet) string {
	t := s.Job.Tolerance
	if !(t.HalfWidthM > 0) {
		return ""
	}
	from := "the outer edge"
	if t.MeasuredFrom == "centerline" {
		from = "the centerline"
	}
	return s.Job.Units.Short(t.HalfWidthM) + " to each side, measured from " + from + ruleWords(t.Rule)
}

// countsWords is the ledger in one line.
func countsWords(c trace.Counts) string {
	return fmt.Sprintf("%d rows read: %d used, %d set aside, %d raised as checks, %d exposed, %d unreadable",
		c.Rows, c.Used, c.SetAside, c.Check, c.Exposed, c.Unreadable)
}

// lineSnippet is what a list of folders shows under a line's name.
func (k *kmlWriter) lineSnippet(l *trace.Line) string {
	if l.Centerline == nil {
		return "No line could be drawn from these readings"
	}
	return DepthRangeWords(k.s.Job.Units, l.Centerline, k.date)
}

func (k *kmlWriter) lineText(l *trace.Line) string {
	u := k.s.Job.Units
	items := []string{k.lineSnippet(l)}
	if w := SetupWords(u, l.Setup); w != "" {
		items = append(items, capital(w))
	}
	if l.Centerline != nil {
		items = append(items, "Traced: "+u.Long(l.Centerline.TracedM()))
	}
	c := trace.CountReadings(l.Readings)
	items = append(items, fmt.Sprintf("%d readings: %d used, %d set aside, %d raised as checks, %d exposed", c.Rows, c.Used, c.SetAside, c.Check, c.Exposed))
	var doubts []string
	for _, f := range l.Findings {
		switch f.(type) {
		case trace.BleedOver, trace.Gap, trace.Doubt, trace.RecordDifference:
			doubts = append(doubts, FindingTitle(u, f))
		}
	}
	notes := l.Checked
	if l.Centerline != nil {
		notes = append(append([]string(nil), l.Centerline.Notes...), l.Checked...)
	}
	return htmlList("", items) + htmlList("Do not rely on", doubts) + htmlList("To be known", notes)
}

// stretchText is the balloon of a traced part: depths by station.
func (k *kmlWriter) stretchText(l *trace.Line, fromM, toM float64) string {
	u := k.s.Job.Units
	var b strings.Builder
	b.WriteString("<p>" + htmlText(capital(k.lineSnippet(l))) + "</p>")
	b.WriteString("<table><tr><th>Station</th><th>Read depth to centre</th><th>Across the line, 95 %</th></tr>")
	for _, v := range k.stations(l, fromM, toM, 25) {
		across := "not known"
		if trace.Known(v.Horizontal95M) {
			across = "± " + shortUp(u, v.Horizontal95M)
		}
		b.WriteString("<tr><td>" + u.Long(v.StationM) + "</td><td>" + htmlText(strings.TrimPrefix(StationLabel(u, l, v), "read ")) +
			"</td><td>" + htmlText(across) + "</td></tr>")
	}
	b.WriteString("</table>")
	var doubts []string
	for _, f := range l.Findings {
		if bo, ok := f.(trace.BleedOver); ok && bo.ToM >= fromM && bo.FromM <= toM {
			doubts = append(doubts, FindingTitle(u, f))
		}
	}
	b.WriteString(htmlList("Do not rely on", doubts))
	return b.String()
}

// stations are the round stations between two others, at most some n a line.
func (k *kmlWriter) stations(l *trace.Line, fromM, toM float64, n int) []trace.Vertex {
	step := stationStepM(k.s.Job.Units, l.Centerline.TracedM(), n)
	var out []trace.Vertex
	for _, p := range l.Centerline.Parts {
		for _, s := range roundStations(p, step) {
			if s >= fromM-1e-6 && s <= toM+1e-6 {
				out = append(out, profileAt(p, s))
			}
		}
	}
	return out
}

// depthFolder puts letter and depth on the ground at round stations: few, since
// their labels must not cover the line.
func (k *kmlWriter) depthFolder(l *trace.Line) {
	if l.Centerline == nil {
		return
	}
	u, st := k.s.Job.Units, StyleOf(l.Setup.Utility)
	k.folder("Depths along the line", true, false, func() {
		for _, p := range l.Centerline.Parts {
			for _, v := range k.stations(l, p.FromM(), p.ToM(), 10) {
				w := []string{capital(DepthWords(u, v.DepthM, v.Depth95M, k.date)), capital(PositionWords(u, v.Horizontal95M))}
				if b := doubtAt(l, v.StationM); b != nil {
					w = append(FindingWords(u, *b), w...)
				}
				k.put(kml.Placemark(kml.Name(st.Code+" "+u.Long(v.StationM)+": "+StationLabel(u, l, v)),
					kml.Snippet("").WithMaxLines(0), kml.Description(htmlList("", w)), kml.StyleURL("#depth-"+st.Code),
					k.pointGeometry(k.xy(v.Pos))))
			}
		}
	})
}

func (k *kmlWriter) readingName(r *trace.Reading) string {
	name := r.Point
	if name == "" {
		name = fmt.Sprintf("row %d", r.Row)
	}
	return name + ", " + StatusWords(r.Status)
}

func (k *kmlWriter) readingText(r *trace.Reading) string {
	u := k.s.Job.Units
	var w []string
	if r.Reason != "" {
		w = append(w, capital(r.Reason))
	}
	if trace.Known(r.DepthM) {
		if r.Status == trace.StatusExposed {
			w = append(w, "Depth to centre measured in the open: "+u.Short(r.DepthM)+onDate(readingDay(r, k.date)))
		} else {
			w = append(w, "Receiver showed depth to centre "+u.Short(r.DepthM)+" (one reading)"+onDate(readingDay(r, k.date))+"; expose to verify")
		}
	}
	if trace.Known(r.CurrentMA) {
		w = append(w, "Current "+trimFloat(r.CurrentMA, 1)+" mA")
	}
	if trace.Known(r.RaiseM) && r.RaiseM > 0 {
		w = append(w, "Receiver lifted by "+u.Short(r.RaiseM))
	}
	if trace.Known(r.StationM) && trace.Known(r.OffsetM) {
		w = append(w, "At "+u.Long(r.StationM)+", "+u.Short(math.Abs(r.OffsetM))+" "+sideOf(r.OffsetM)+" of the line")
	}
	if f := inputName(k.s, r.File); f != "" {
		w = append(w, fmt.Sprintf("%s, row %d", f, r.Row))
	}
	if r.Note != "" {
		w = append(w, "Note: "+r.Note)
	}
	return htmlList("", w)
}
