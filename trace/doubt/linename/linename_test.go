package linename

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

func sheet(names ...string) *trace.Sheet {
	s := &trace.Sheet{Name: "job", Inputs: []trace.Input{{Name: "walk.csv"}}}
	for i, name := range names {
		r := trace.NewReading()
		r.Row = int32(2 + 30*i)
		s.Lines = append(s.Lines, trace.Line{Setup: trace.LineSetup{Name: name}, Readings: []trace.Reading{r}})
	}
	return s
}

// Names that look alike are told, with where both stand; others are not.
func TestAlikeNames(t *testing.T) {
	for _, c := range []struct {
		a, b string
		told bool
	}{
		{"W-1", "w 1", true}, {"W-1", "W_1", true}, {"W-1", "W1", true}, {"W-1", "W\u20131", true}, {"W-1", "W\u22121", true},
		{"W-1", "W-\u200b1", true}, {"W-1", "\uff37\uff0d\uff11", true}, {"M-1", "\u041c-1", true}, {"A 1", "\u0391 1", true},
		{"W-1", "W-l", true}, {"W-10", "W-1O", true}, {"Linea\u0301", "Line\u00e1", true},
		{"W-1", "W-11", false}, {"1-1", "11", false}, {"W-1", "G-1", false}, {"W-1", "W-2", false}, {"W-1", "W-1A", false}, {"Oil 1", "Oil 2", false},
		{"W 1 1", "W 11", false},
	} {
		s := sheet(c.a, c.b)
		TellAlike(s)
		if told := len(s.Problems) == 1; told != c.told {
			t.Errorf("%q, %q: %v", c.a, c.b, s.Problems)
			continue
		}
		if c.told && (s.Problems[0].Row != 32 || !strings.Contains(s.Problems[0].Cause, "(line 2 of walk.csv)") || s.Problems[0].Check == nil) {
			t.Errorf("%q, %q: %v", c.a, c.b, s.Problems[0])
		}
	}
	s := sheet("W-1", "W\u20131")
	TellAlike(s)
	if !strings.Contains(s.Problems[0].Hint, "U+2013") {
		t.Errorf("a dash that is seen as another: %v", s.Problems[0])
	}
}

// Two tables that name no line and differ in their endings alone are one line: where they
// lie apart, that is told.
func TestTablesWithoutALine(t *testing.T) {
	for _, c := range []struct {
		name         string
		second, line string
		atM          float64
		told         bool
	}{
		{"goes on", "walk.txt", "walk", 100, false}, {"beside itself", "walk.txt", "walk", 3, false},
		{"far", "walk.txt", "walk", 4000, true}, {"apart", "walk.txt", "walk", 150, true}, {"just apart", "walk.txt", "walk", 121, true}, {"just near", "walk.txt", "walk", 119, false},
		{"a line that is named", "walk.txt", "W-1", 4000, false}, {"another table", "other.csv", "walk", 4000, false},
	} {
		s := &trace.Sheet{Inputs: []trace.Input{{Name: "walk.csv"}, {Name: c.second}}}
		l := trace.Line{Setup: trace.LineSetup{Name: c.line}}
		for i := range 40 {
			r := trace.NewReading()
			r.File, r.Row, r.Pos = int32(i/20), int32(2+i%20), geo.XY{X: 5 * float64(i%20)}
			if r.File == 1 {
				r.Pos.X += c.atM
			}
			l.Readings = append(l.Readings, r)
		}
		s.Lines = []trace.Line{l}
		TellUnnamed(s)
		if told := len(s.Problems) == 1; told != c.told {
			t.Errorf("%s: %v", c.name, s.Problems)
		}
		if c.told && s.Problems[0].Check != (remark.TablesAsOne{First: "walk.csv", Second: "walk.txt", Line: "walk", ApartM: apartM}) {
			t.Errorf("%s: %v", c.name, s.Problems[0].Check)
		}
	}
}
