package kml

import (
	"slices"
	"strconv"
	"strings"

	"github.com/twpayne/go-kml/v3"

	"loamline.example/export/stakeout"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
)

// adviceFolder lists what to check before digging, first of all and the gravest
// first: each with its place, and a view of it for whoever touches it in the list.
func (k *writer) adviceFolder() {
	all := words.Advice(k.s)
	if len(all) == 0 {
		return
	}
	k.folder("Check before digging", true, true, func() {
		no := 0
		put := func(title, text string, path []geo.XY) {
			p := kml.Placemark(kml.Name(strconv.Itoa(no+1)+". "+title), kml.Snippet(k.by.Say(all[no])).WithMaxLines(2), kml.Description(text))
			no++
			if len(path) > 0 {
				p.Append(k.lookAt(path)...)
			}
			p.Append(kml.StyleURL("#advice"))
			if len(path) > 0 {
				p.Append(k.pointGeometry(k.XY(*middle(path))))
			}
			k.put(p)
		}
		for _, a := range advice.MostImportantFirst(k.s) {
			title, text := k.adviceWords(a)
			put(title, text, k.adviceWhere(a))
		}
		for _, f := range advice.ToRepeat(k.s) {
			u := k.s.Job.Units
			put(f.Line+": "+k.by.Say(words.FindingTitle(u, f)), "<p><b>"+k.text(words.Stopped(words.LookAt(u, f)))+"</b></p>", f.Where())
		}
	}, kml.Description(k.list("", all)))
}

// said is advice in English, in the job's units.
func (k *writer) said(a trace.Advice) string { return words.Item(k.s.Job.Units, a) }

// about is the finding that advice is about, where it is about one.
func (k *writer) about(a trace.Advice) trace.Finding {
	for i := range k.s.Lines {
		for _, f := range k.s.Lines[i].Findings {
			if advice.IsAbout(a, f) {
				return f
			}
		}
	}
	return nil
}

// elsewhere reports whether advice on bleed-over is about more than the finding's
// stretch, or about a part of it: its name and its place are its own then.
func (k *writer) elsewhere(a trace.Advice, f trace.Finding) bool {
	from, to := f.Span()
	return a.Kind == trace.AdviseBleed && (a.FromM != from || a.ToM != to)
}

// adviceWords are a short name for the list, in the crew's language, and the whole of it for the balloon.
func (k *writer) adviceWords(a trace.Advice) (title, html string) {
	html = "<p><b>" + k.text(words.Stopped(k.said(a))) + "</b></p>"
	if f := k.about(a); f != nil {
		html += k.list("Why", words.Finding(k.s.Job.Units, f))
		if !k.elsewhere(a, f) {
			return a.Line + ": " + k.by.Say(words.FindingTitle(k.s.Job.Units, f)), html
		}
	}
	title, _, _ = strings.Cut(k.by.Say(k.said(a)), ". ")
	return title, html
}

// adviceWhere is the stretch or place that advice is about; all of the line, or
// of the job, where it is about no part of it.
func (k *writer) adviceWhere(a trace.Advice) []geo.XY {
	if f := k.about(a); f != nil && len(f.Where()) > 0 && !k.elsewhere(a, f) {
		return f.Where()
	}
	var all []geo.XY
	for i := range k.s.Lines {
		l := &k.s.Lines[i]
		if a.Line != "" && l.Setup.Name != a.Line {
			continue
		}
		if l.Centerline == nil {
			for j := range l.Readings {
				if r := &l.Readings[j]; r.Placed() && (r.Status == trace.StatusUsed || r.Status == trace.StatusExposed) {
					all = append(all, r.Pos)
				}
			}
			continue
		}
		line := l.Centerline.Polyline()
		if a.Line != "" && trace.Known(a.FromM) && trace.Known(a.ToM) {
			return line.Slice(a.FromM, a.ToM)
		}
		all = append(all, line.Points...)
	}
	return all
}

// stakeOutFolder holds the points to put back on the ground, off at first: their
// pins would hide the line.
func (k *writer) stakeOutFolder(l *trace.Line) {
	u := k.s.Job.Units
	line := slices.IndexFunc(k.s.Lines, func(o trace.Line) bool { return o.Setup.Name == l.Setup.Name })
	points := stakeout.LinePoints(k.s, line, 0)
	if len(points) == 0 {
		return
	}
	k.folder("Points to stake out ("+strconv.Itoa(len(points))+")", false, false, func() {
		for _, p := range points {
			items := []string{words.Capital(p.Title()), "At " + u.Long(p.Vertex.StationM), words.Capital(p.Told.Depth(u, k.date)), words.Capital(p.Told.Position(u))}
			if b := p.Told.Doubt; b != nil && b.Watch {
				items = slices.Insert(items, 2, words.Capital(b.Words))
			}
			if ties := stakeout.TieWords(u, p.Ties); ties != "" {
				items = append(items, "Tape this place: "+ties)
			}
			k.put(kml.Placemark(kml.Name(k.by.Say("Stake-out point "+p.ID)), kml.Visibility(false), kml.Snippet(k.by.Say(p.Title())).WithMaxLines(1), kml.Description(k.list("", items)),
				kml.StyleURL("#stakeout"), k.pointGeometry(k.XY(p.Vertex.Pos))))
		}
	})
}
