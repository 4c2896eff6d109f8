package layer

import (
	"testing"
	"time"

	"loamline.example/export/internal/sample"
)

// Values and columns are two lists in the same order: their types must agree.
func TestLayersValuesFitTheirColumns(t *testing.T) {
	for _, l := range All() {
		for f := range l.Each(sample.EveryKind()) {
			if len(f.Values) != len(l.Columns) {
				t.Fatalf("%s: %d values for %d columns", l.Role, len(f.Values), len(l.Columns))
			}
			for i, c := range l.Columns {
				if f.Values[i].Type != c.Type {
					t.Errorf("%s.%s: value of type %d, column of type %d", l.Role, c.Name, f.Values[i].Type, c.Type)
				}
			}
		}
	}
}

func TestTimesKeepTheReadingsZone(t *testing.T) {
	evening, err := time.Parse(time.RFC3339, "2026-05-12T20:30:00-05:00")
	if err != nil {
		t.Fatal(err)
	}
	if got := timeText(evening); got != "2026-05-12T20:30:00-05:00" {
		t.Errorf("the time is written as %s", got)
	}
}
