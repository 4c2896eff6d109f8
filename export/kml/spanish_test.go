package kml

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/trace"
)

// Balloons, folders and names are in Spanish, in two languages one under the other;
// the typed data of the features stay as they are.
func TestBalloonsInSpanish(t *testing.T) {
	text := func(language string) string {
		s := sample.EveryKind()
		s.Job.Language, s.Cautions = language, trace.Cautions()
		var b bytes.Buffer
		if err := Write(&b, s); err != nil {
			t.Fatal(err)
		}
		for dec := xml.NewDecoder(bytes.NewReader(b.Bytes())); ; {
			if _, err := dec.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", language, err)
			}
		}
		return b.String()
	}
	english, spanish, both := text(""), text(trace.Spanish), text(trace.EnglishAndSpanish)
	for en, es := range map[string]string{
		"Call before you dig.": "Llame antes de excavar.", "<name>Check before digging</name>": "<name>Revise antes de excavar</name>",
		"Depths along the line": "Profundidades a lo largo de la línea", "Not traced, ": "Sin rastrear, ", "potable water": "agua potable",
		"Records as handed in, not traced": "Líneas según registros, como se entregaron, no rastreadas",
	} {
		if !strings.Contains(english, en) || strings.Contains(english, es) {
			t.Errorf("in English there is no %q, or there is %q", en, es)
		}
		if !strings.Contains(spanish, es) || strings.Contains(spanish, en) {
			t.Errorf("in Spanish there is no %q, or there is %q", es, en)
		}
		bare := strings.TrimSuffix(strings.TrimPrefix(en, "<name>"), "</name>")
		if !strings.Contains(both, strings.TrimSuffix(es, "</name>")) || !strings.Contains(both, bare) && bare != "Not traced, " && bare != "potable water" {
			t.Errorf("in both there is no %q or no %q", es, bare)
		}
	}
	data := func(s string) string {
		var b strings.Builder
		for _, part := range strings.Split(s, "<ExtendedData>")[1:] {
			in, _, _ := strings.Cut(part, "</ExtendedData>")
			b.WriteString(in)
		}
		return b.String()
	}
	if data(english) != data(spanish) || data(english) != data(both) {
		t.Error("the features' data change with the language")
	}
}
