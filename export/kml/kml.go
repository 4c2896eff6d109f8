package kml

import (
	"encoding/xml"
	"fmt"
	"io"
	"slices"

	"github.com/twpayne/go-kml/v3"

	"loamline.example/export/layer"
	"loamline.example/export/place"
	"loamline.example/export/style"
	"loamline.example/export/tongue"
	"loamline.example/export/words"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// mostReadings is how many readings a document holds; with more, those that were
// used or set aside are left to the GeoJSON, and the folder says so.
const mostReadings = 20000

// Write writes the sheet for an ordinary viewer, as OGC KML 2.2: one folder a
// line with its traced parts, findings, depths, zones and readings; utilities
// by colour and by words and letters; the cautions in the document's own
// description. Everything lies on the ground: no altitude is written, since a
// depth must not be taken for one.
//
// It streams, placemark by placemark.
func Write(w io.Writer, s *trace.Sheet) error { return WriteSharing(w, s, ownAreas(s)) }

// WriteSharing is Write with the zones of the sheet as others write them too.
func WriteSharing(w io.Writer, s *trace.Sheet, areas *place.Areas) error {
	return write(w, s, areas, false)
}

func ownAreas(s *trace.Sheet) *place.Areas {
	return &place.Areas{Degrees: place.NewDegrees(s.Plane)}
}

func write(w io.Writer, s *trace.Sheet, areas *place.Areas, files bool) error {
	k := &writer{s: s, files: files, Areas: areas, date: words.JobDate(s), by: tongue.For(s), enc: xml.NewEncoder(w), layers: layer.All(), labels: labelled{}}
	k.token(xml.ProcInst{Target: "xml", Inst: []byte(`version="1.0" encoding="UTF-8"`)})
	total := 0
	for i := range s.Lines {
		total += len(s.Lines[i].Readings)
	}
	k.crowded = total > mostReadings
	k.open("kml", xml.Attr{Name: xml.Name{Local: "xmlns"}, Value: kml.Namespace})
	k.open("Document")
	k.put(kml.Name(k.by.Say(words.DocumentName(s))), kml.Open(true), kml.Snippet(k.title("Approximate positions. Expose to verify.")),
		kml.Description(k.documentText()))
	k.put(k.view(s.Lines)...)
	k.put(k.styles()...)
	k.put(kmlSchemas(k.layers)...)
	k.adviceFolder()
	for i := range s.Lines {
		k.lineFolder(&s.Lines[i])
	}
	k.recordsFolder()
	k.backgroundFolder()
	if k.files {
		k.groundOverlay()
	}
	k.close("Document")
	k.close("kml")
	if k.err == nil {
		k.err = k.enc.Close()
	}
	if k.err == nil {
		_, k.err = io.WriteString(w, "\n")
	}
	return k.err
}

// writer holds what the parts of a document share. The first error stops it.
type writer struct {
	*place.Areas
	s       *trace.Sheet
	date    string
	by      *tongue.Speaker
	enc     *xml.Encoder
	layers  []layer.Layer
	crowded bool // more than mostReadings
	files   bool // pictures lie beside the document
	labels  labelled
	// The line whose snippet was asked for last, and that.
	snippetOf *trace.Line
	snippet   string
	err       error
}

func (k *writer) token(t xml.Token) {
	if k.err == nil {
		k.err = k.enc.EncodeToken(t)
	}
}

func (k *writer) open(name string, attr ...xml.Attr) {
	k.token(xml.CharData("\n"))
	k.token(xml.StartElement{Name: xml.Name{Local: name}, Attr: attr})
}

func (k *writer) close(name string) { k.token(xml.EndElement{Name: xml.Name{Local: name}}) }

func (k *writer) put(elements ...kml.Element) {
	for _, e := range elements {
		k.token(xml.CharData("\n"))
		if k.err == nil {
			k.err = k.enc.Encode(e)
		}
	}
}

// folder writes a folder around what fill writes.
func (k *writer) folder(name string, visible, open bool, fill func(), more ...kml.Element) {
	k.open("Folder")
	k.put(kml.Name(k.title(name)), kml.Visibility(visible), kml.Open(open))
	k.put(more...)
	fill()
	k.close("Folder")
}

func (k *writer) lineFolder(l *trace.Line) {
	more := []kml.Element{kml.Snippet(k.by.Say(k.lineSnippet(l))), kml.Description(k.lineText(l))}
	more = append(more, k.view([]trace.Line{*l})...)
	one := *k.s
	one.Lines = []trace.Line{*l}
	k.folder(words.LineTitle(l.Setup), true, false, func() {
		for _, y := range inOrder(k.layers) {
			if write := lineFolders[y.Role].write; write != nil {
				write(k, l, y, &one)
			} else {
				k.findings(y, &one)
			}
		}
	}, more...)
}

// lineFolders is how each role of a line is written, and its place among the folders; a
// role that is not here is that of findings.
var lineFolders = map[string]struct {
	place int
	write func(k *writer, l *trace.Line, y layer.Layer, one *trace.Sheet)
}{
	trace.RoleCenterline: {-1, func(k *writer, l *trace.Line, y layer.Layer, one *trace.Sheet) {
		k.centerlines(l, y, one)
		k.depthFolder(l)
		k.stakeOutFolder(l)
	}},
	trace.RoleCautionZone:   {1, (*writer).zone},
	trace.RoleToleranceZone: {2, (*writer).zone},
	trace.RoleReading:       {3, func(k *writer, l *trace.Line, y layer.Layer, _ *trace.Sheet) { k.readingFolders(l, y) }},
}

// inOrder puts a line's folders as they are looked for: the line itself, what is
// found about it, its zones, and last the readings.
func inOrder(layers []layer.Layer) []layer.Layer {
	out := slices.Clone(layers)
	slices.SortStableFunc(out, func(a, b layer.Layer) int { return lineFolders[a.Role].place - lineFolders[b.Role].place })
	return out
}

// fit stops the document at coordinates that are not finite.
func (k *writer) fit(y layer.Layer, f *layer.Feature) bool {
	if err := f.CheckPlace(); err != nil && k.err == nil {
		k.err = fmt.Errorf("line %q, %s: %w", f.Line, y.Role, err)
	}
	return k.err == nil
}

func (k *writer) centerlines(l *trace.Line, y layer.Layer, one *trace.Sheet) {
	if l.Centerline == nil {
		return
	}
	n, along := 0, words.NewAlong(l)
	for f := range y.Each(one) {
		if n++; !k.fit(y, f) {
			return
		}
		name := words.LineTitle(l.Setup)
		if parts := f.Values[1].Num; parts > 1 {
			name += fmt.Sprintf(", part %d of %d", n, int(parts))
		}
		from, to := f.Values[3].Nums[0], f.Values[3].Nums[len(f.Values[3].Nums)-1]
		k.put(kml.Placemark(kml.Name(k.by.Say(name)), kml.Snippet(k.by.Say(words.Range(k.s.Job.Units, from, to))),
			kml.Description(k.stretchText(l, along, from, to)), kml.StyleURL("#line-"+style.Of(f.Utility).Code),
			kmlData(y, f), k.lineGeometry(f.Path, nil)))
	}
}

func (k *writer) zone(l *trace.Line, y layer.Layer, one *trace.Sheet) {
	for f := range y.Each(one) {
		if !k.fit(y, f) {
			return
		}
		text := words.Zone(k.s.Job.Units, l.Tolerance)
		if y.Role == trace.RoleCautionZone {
			text = words.CautionZone(k.s.Job.Units, l.Caution)
		}
		g, err := k.areaGeometry(f.Area)
		if err != nil {
			k.err = fmt.Errorf("line %q, %s: %w", f.Line, y.Role, err)
			return
		}
		k.put(kml.Placemark(kml.Name(k.by.Say(words.RoleTitle(y.Role)+", "+l.Setup.Name)), kml.Snippet("").WithMaxLines(0),
			kml.Description(k.text(text)), kml.StyleURL("#"+y.Role+"-"+style.Of(f.Utility).Code),
			kmlData(y, f), g))
	}
}

// findings writes a folder of one kind of finding, where there is any.
func (k *writer) findings(y layer.Layer, one *trace.Sheet) {
	var found []trace.Finding
	for _, f := range one.Lines[0].Findings {
		if f.Role() == y.Role {
			found = append(found, f)
		}
	}
	if len(found) == 0 {
		return
	}
	k.folder(words.RoleTitle(y.Role), true, y.Role == finding.RoleBleedOver, func() {
		n := 0
		for f := range y.Each(one) {
			fd := found[n]
			if n++; !k.fit(y, f) {
				return
			}
			p := kml.Placemark(kml.Name(k.by.Say(words.FindingTitle(k.s.Job.Units, fd))), kml.Snippet("").WithMaxLines(0),
				kml.Description(k.list("", words.Finding(k.s.Job.Units, fd))), kml.StyleURL("#"+findingStyle.Of(fd)), kmlData(y, f))
			if g := k.findingGeometry(y, f); g != nil {
				p.Append(g)
			}
			k.put(p)
		}
	})
}

func (k *writer) findingGeometry(y layer.Layer, f *layer.Feature) kml.Element {
	switch {
	case f.NoPlace:
		return nil
	case y.Shape == layer.ShapePoint:
		return k.pointGeometry(k.Geographic(f.At))
	case len(f.Path) < 2:
		return nil
	case y.Role == finding.RoleGap:
		return k.dashGeometry(f.Path)
	}
	return k.lineGeometry(f.Path, middle(f.Path))
}

// readingFolders writes the readings by their fate, shut and not drawn at first:
// hundreds of pins hide the line, and whoever wants them turns them on.
func (k *writer) readingFolders(l *trace.Line, y layer.Layer) {
	if len(l.Readings) == 0 {
		return
	}
	if k.crowded {
		k.folder(fmt.Sprintf("%s (%d), not drawn", words.RoleTitle(trace.RoleReading), len(l.Readings)), false, false, func() {
			k.readingFolder(l, y, trace.StatusExposed)
			k.readingFolder(l, y, trace.StatusCheck)
		}, kml.Description(k.text(fmt.Sprintf("This job has more than %d readings, more than a viewer takes. Those that were used or set aside are in the GeoJSON.", mostReadings))))
		return
	}
	k.folder(fmt.Sprintf("%s (%d)", words.RoleTitle(trace.RoleReading), len(l.Readings)), false, false, func() {
		for _, st := range []trace.Status{trace.StatusExposed, trace.StatusCheck, trace.StatusSetAside, trace.StatusUsed} {
			k.readingFolder(l, y, st)
		}
	})
}

func (k *writer) readingFolder(l *trace.Line, y layer.Layer, st trace.Status) {
	some := *l
	some.Readings = nil
	for i := range l.Readings {
		if l.Readings[i].Status == st {
			some.Readings = append(some.Readings, l.Readings[i])
		}
	}
	if len(some.Readings) == 0 {
		return
	}
	one := *k.s
	one.Lines = []trace.Line{some}
	k.folder(fmt.Sprintf("%s (%d)", words.Capital(words.Status(st)), len(some.Readings)), false, false, func() {
		i := -1
		for f := range y.Each(&one) {
			i++
			r := &some.Readings[i]
			p := kml.Placemark(kml.Name(k.by.Say(k.readingName(r))), kml.Visibility(false), kml.Snippet("").WithMaxLines(0),
				kml.Description(k.readingText(r)), kml.StyleURL("#reading-"+string(st)), kmlData(y, f))
			if !f.NoPlace {
				p.Append(k.pointGeometry(k.Geographic(f.At)))
			}
			k.put(p)
		}
	})
}

// backgroundFolder draws what the layers hold beside lines.
func (k *writer) backgroundFolder() {
	if len(k.s.Background) == 0 {
		return
	}
	k.folder("Background as handed in", true, false, func() {
		for _, b := range k.s.Background {
			if len(b.Path) < 2 {
				continue
			}
			k.put(kml.Placemark(kml.Name(b.Name), kml.Snippet("").WithMaxLines(0),
				kml.Description(k.text("From "+b.Source+", drawn as given. It is not a utility line.")),
				kml.StyleURL("#record"), k.lineGeometry(b.Path, nil)))
		}
	})
}

// recordsFolder draws the reference layers that were handed in.
func (k *writer) recordsFolder() {
	if len(k.s.Records) == 0 {
		return
	}
	k.folder("Records as handed in, not traced", true, false, func() {
		for _, r := range k.s.Records {
			if len(r.Path) < 2 {
				continue
			}
			st := style.Of(r.Utility)
			k.put(kml.Placemark(kml.Name(k.by.Say("Record "+r.Name+", "+st.Name+" ("+st.Code+")")), kml.Snippet("").WithMaxLines(0),
				kml.Description(k.text("From "+r.Source+", drawn as given. A record is not a locate.")),
				kml.StyleURL("#record"), k.lineGeometry(r.Path, nil)))
		}
	})
}
