package landxml

import (
	"bufio"
	"fmt"
	"io"

	"loamline.example/export/layer"
	"loamline.example/export/place"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// Namespace is that of the schema, LandXML-1.2 of landxml.org, 29 July 2008.
const namespace = "http://www.landxml.org/schema/LandXML-1.2"

// noDay stands where neither the job nor a reading says when: the schema demands a
// day, and a clock would say when the file was made.
const noDay = "0001-01-01"

// Write writes the job.
func Write(w io.Writer, s *trace.Sheet) error {
	frame, err := place.GridFrame(s)
	if err != nil {
		return err
	}
	d := &document{s: s, frame: frame, placer: place.NewPlacer(s.Plane, frame), out: bufio.NewWriter(w), names: map[string]int{}}
	day := words.JobDate(s)
	if day == "" {
		day = noDay
	}
	d.raw("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	d.open("LandXML", "xmlns", namespace, "version", "1.2", "date", day, "time", "00:00:00", "language", "English", "readOnly", "false")
	d.units()
	d.system()
	d.project()
	d.empty("Application", "name", "loamline", "version", s.Version)
	for i := range s.Lines {
		if _, err := d.out.Write(nil); err != nil {
			return err
		}
		if err := d.points(i); err != nil {
			return fmt.Errorf("line %q: %w", s.Lines[i].Setup.Name, err)
		}
	}
	for _, l := range layer.All() {
		if err := d.layer(l); err != nil {
			return fmt.Errorf("%s: %w", l.Role, err)
		}
	}
	if err := d.solid(); err != nil {
		return err
	}
	if err := d.known(); err != nil {
		return err
	}
	d.end("LandXML")
	return d.out.Flush()
}

// document is a job while it is written. What fails in writing is kept by out until
// it is flushed.
type document struct {
	s      *trace.Sheet
	frame  geo.Frame
	placer place.Placer
	out    *bufio.Writer
	depth  int            // of open elements
	names  map[string]int // how often a feature's name was given
}

// units are those of the plane system. Only the linear one is used; the schema
// wants the others named too.
func (d *document) units() {
	d.open("Units")
	switch d.frame.CRS.Unit {
	case "ft", "ftUS":
		foot := map[string]string{"ft": "foot", "ftUS": "USSurveyFoot"}[d.frame.CRS.Unit]
		d.empty("Imperial", "linearUnit", foot, "areaUnit", "squareFoot", "volumeUnit", "cubicFeet",
			"temperatureUnit", "fahrenheit", "pressureUnit", "inHG", "elevationUnit", "feet")
	default:
		d.empty("Metric", "linearUnit", "meter", "areaUnit", "squareMeter", "volumeUnit", "cubicMeter",
			"temperatureUnit", "celsius", "pressureUnit", "milliBars", "elevationUnit", "meter")
	}
	d.end("Units")
}

// system names the coordinate system, and what happened on the way into it.
func (d *document) system() {
	d.open("CoordinateSystem", "name", d.frame.CRS.Name, "epsgCode", fmt.Sprint(d.frame.CRS.Code), "desc", place.FrameWords(d.frame),
		"projectedCoordinateSystemName", d.frame.CRS.Name, "horizontalDatum", d.frame.Datum.Name, "verticalDatum", d.s.Job.VerticalDatum)
	d.open("Feature", "name", "frame")
	d.property("coordinates", "north, east and, where it is known, elevation of the line's centre, in the unit of this system: "+place.FrameWords(d.frame))
	d.property("frame", d.s.Frame.In(d.s.Job.Units))
	d.property("output", d.s.OutputWords.In(d.s.Job.Units))
	d.property("vertical_datum", d.s.Job.VerticalDatum)
	d.end("Feature")
	d.end("CoordinateSystem")
}

// project holds what is true of the whole map: it must not travel without.
func (d *document) project() {
	d.open("Project", "name", d.s.Name, "desc", words.DocumentName(d.s))
	d.list("cautions", "caution", words.Cautions(d.s))
	d.list("check before digging", "check", words.Advice(d.s))
	d.open("Feature", "name", "job")
	for _, p := range [][2]string{{"ticket", d.s.Job.Ticket}, {"date", words.JobDate(d.s)}, {"valid_until", d.s.Job.ValidUntil}, {"locator", d.s.Job.Locator}, {"area", d.s.Job.Area}} {
		d.property(p[0], p[1])
	}
	d.end("Feature")
	d.columns()
	d.end("Project")
}

// list is a feature with a property for each of several sentences; nothing where
// there is none.
func (d *document) list(name, label string, sentences []string) {
	if len(sentences) == 0 {
		return
	}
	d.open("Feature", "name", name)
	for _, words := range sentences {
		d.property(label, words)
	}
	d.end("Feature")
}

// columns says what each property means, and its unit.
func (d *document) columns() {
	d.open("Feature", "name", "properties")
	seen := map[string]bool{}
	for _, l := range layer.All() {
		for _, c := range l.Columns {
			meaning := c.Words
			if c.Unit != "" {
				meaning += " (" + c.Unit + ")"
			}
			if label := l.Role + "." + c.Name; !seen[label] {
				seen[label] = true
				d.property(label, meaning)
			}
		}
	}
	d.end("Feature")
}
