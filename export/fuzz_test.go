package export

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"io"
	"testing"

	"loamline.example/export/geojson"
	"loamline.example/export/gpx"
	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/kml"
	"loamline.example/export/table"
	"loamline.example/trace"
)

// Whatever text an input holds, every format stays well-formed.
func FuzzTextFromTheInput(f *testing.F) {
	for _, s := range []string{"W-1", "]]>", "\x00\x1f", "\xff\xfe", "<b>&amp;$[id]", "\"'\\,;\r\n", "=1+1", "\u2028\ufffe😀"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := sample.Sheet()
		s.Lines = s.Lines[2:]
		l := &s.Lines[0]
		l.Setup.Name, l.Setup.Material, s.Job.Ticket, s.Job.Area, s.Problems[0].Value = text, text, text, text, text
		l.Readings = l.Readings[:1]
		l.Readings[0].Note = text
		written := check.Write(t, s, geojson.Write)
		if !json.Valid(written) {
			t.Errorf("GeoJSON %q", written)
		}
		if v := check.Violations(written); len(v) > 0 {
			t.Errorf("%q", v)
		}
		for _, b := range [][]byte{check.Write(t, s, kml.Write), check.Write(t, s, func(w io.Writer, s *trace.Sheet) error { return gpx.Write(w, s, 0) })} {
			dec := xml.NewDecoder(bytes.NewReader(b))
			for {
				if _, err := dec.Token(); err == io.EOF {
					break
				} else if err != nil {
					t.Fatalf("%v in %q", err, b)
				}
			}
		}
		check.CSVRows(t, check.Write(t, s, table.Readings))
		check.CSVRows(t, check.Write(t, s, table.Lines))
	})
}
