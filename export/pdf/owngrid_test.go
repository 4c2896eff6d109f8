package pdf

import (
	"regexp"
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/geo"
)

// The sheet's grid is that of the job's output system, in its own unit, and the
// legend and the notes say so.
func TestGridOfTheOutputSystem(t *testing.T) {
	s := sample.Sheet()
	var err error
	if s.Output, err = geo.NewFrame("EPSG:3437", "NAD83(2011)", 2026.36); err != nil { // New Hampshire, US survey feet
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(poppler(t, "pdftotext", pdfFile(t, pdfBytes(t, s, Options{})), "-")), " ")
	if !strings.Contains(text, "EPSG:3437 (NAD83 / New Hampshire (ftUS)) in US survey feet") || strings.Contains(text, "latitude and longitude in degrees") {
		t.Error("the sheets do not say what their coordinates are")
	}
	x, y, err := s.Output.FromWGS84(s.Plane.Origin())
	if err != nil {
		t.Fatal(err)
	}
	// Ticks stand within 1000 ft of the job's origin, which geo puts there.
	for unit, want := range map[string]float64{"E": x, "N": y} {
		found := false
		for _, m := range regexp.MustCompile(`\b(\d{6,7}) `+unit+`\b`).FindAllStringSubmatch(text, -1) {
			v := 0.0
			for _, c := range m[1] {
				v = 10*v + float64(c-'0')
			}
			if v < want-1000 || v > want+1000 {
				t.Errorf("a tick at %s, the job at %.0f %s", m[0], want, unit)
			}
			found = true
		}
		if !found {
			t.Errorf("no tick of %s in %.300s", unit, text)
		}
	}
}
