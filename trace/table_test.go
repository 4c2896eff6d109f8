package trace

import (
	"errors"
	"io"
	"math"
	"strings"
	"testing"
)

func read(t *testing.T, text string, opt TableOptions) Table {
	t.Helper()
	tab, err := ReadTable(strings.NewReader(text), "a.csv", 0, opt)
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

// The feet are the legal ones: 0.3048 m exactly, and 1200/3937 m exactly for
// the US survey foot (24 FR 5348, 1 July 1959); the inch is 0.0254 m exactly.
func TestReadTableUnits(t *testing.T) {
	tests := []struct {
		header, value string
		get           func(Reading) float64
		want          float64
	}{
		{"depth_m", "1.5", func(r Reading) float64 { return r.DepthM }, 1.5},
		{"depth_ft", "10", func(r Reading) float64 { return r.DepthM }, 3.048},
		{"depth_in", "36", func(r Reading) float64 { return r.DepthM }, 0.9144},
		{"depth_cm", "94", func(r Reading) float64 { return r.DepthM }, 0.94},
		{"h_acc_ft", "1", func(r Reading) float64 { return r.HAccM }, 0.3048},
		{"h_acc_cm", "2", func(r Reading) float64 { return r.HAccM }, 0.02},
		{"elev_ft", "100", func(r Reading) float64 { return r.ElevM }, 30.48},
		{"null_offset_in", "-2", func(r Reading) float64 { return r.NullOffsetM }, -0.0508},
		{"raise_ft", "1", func(r Reading) float64 { return r.RaiseM }, 0.3048},
		{"freq_khz", "32.768", func(r Reading) float64 { return r.FreqHz }, 32768},
		{"signal_db", "40", func(r Reading) float64 { return r.Signal }, 100},
		{"CURRENT_MA", "12", func(r Reading) float64 { return r.CurrentMA }, 12},
		{"east_ft", "2000000", func(r Reading) float64 { return r.Projected[0] }, 609600},
		{"east_usft", "2000000", func(r Reading) float64 { return r.Projected[0] }, 2e6 * 1200 / 3937},
	}
	for _, tt := range tests {
		t.Run(tt.header, func(t *testing.T) {
			tab := read(t, "lat,lon,"+tt.header+"\n44.1,-71.5,"+tt.value+"\n", TableOptions{})
			if len(tab.Readings) != 1 || len(tab.Problems) != 0 {
				t.Fatalf("%d readings, problems %v", len(tab.Readings), tab.Problems)
			}
			if got := tt.get(tab.Readings[0]); math.Abs(got-tt.want) > 1e-9*math.Abs(tt.want) {
				t.Errorf("got %.12g, want %.12g", got, tt.want)
			}
		})
	}
}

func TestReadTableForms(t *testing.T) {
	tests := []struct{ name, text string }{
		{"comma", "lat,lon,depth_m,note\n44.1,-71.5,1.2,x\n"},
		{"semicolon, decimal comma", "lat;lon;depth_m;note\n44,1;-71,5;1,2;x\n"},
		{"tab, decimal comma", "lat\tlon\tdepth_m\tnote\n44,1\t-71,5\t1,2\tx\n"},
		{"byte-order mark", "\xef\xbb\xbflat,lon,depth_m,note\n44.1,-71.5,1.2,x\n"},
		{"comments", "# datum WGS84; exported, with commas\nlat,lon,depth_m,note\n# between\n44.1,-71.5,1.2,x\n"},
		{"quotes and CRLF", "\"lat\",\"lon\",\"depth_m\",\"note\"\r\n\"44.1\",\"-71.5\",\"1.2\",\"x\"\r\n"},
		{"upper case and spaces", " LAT , LON ,Depth_M,NOTE\n 44.1 , -71.5 , 1.2 , x \n"},
		{"no newline at the end", "lat,lon,depth_m,note\n44.1,-71.5,1.2,x"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tab := read(t, tt.text, TableOptions{})
			if len(tab.Readings) != 1 || len(tab.Problems) > 0 {
				t.Fatalf("%d readings, problems %v", len(tab.Readings), tab.Problems)
			}
			r := tab.Readings[0]
			if r.Geographic.LatDeg != 44.1 || r.Geographic.LonDeg != -71.5 || r.DepthM != 1.2 || r.Note != "x" || r.Line != "a" {
				t.Errorf("read %+v", r)
			}
		})
	}
}

func TestReadTableRowsAndColumnsOfProblems(t *testing.T) {
	tests := []struct {
		name, text  string
		row, column int
		cause       string
		unreadable  bool
	}{
		{"depth is a word", "lat,lon,depth_m\n44.1,-71.5,l.04\n", 2, 12, "not a number", false},
		{"depth is NaN", "lat,lon,depth_m\n44.1,-71.5,NaN\n", 2, 12, "not a number", false},
		{"latitude is a word", "lat,lon\n44.1,-71.5\nnorth,-71.5\n", 3, 1, "not a number", true},
		{"row too short", "lat,lon,depth_m\n44.1,-71.5\n", 2, 0, "2 fields where the header has 3", true},
		{"row too long", "lat,lon\n44.1,-71.5,1,2\n", 2, 0, "4 fields where the header has 2", true},
		{"bad fix", "lat,lon,fix\n44.1,-71.5,12\n", 2, 12, "0 to 8", false},
		{"bad time", "lat,lon,time\n44.1,-71.5,noon\n", 2, 12, "RFC 3339", false},
		{"behind a quoted newline", "lat,lon,note,depth_m\n44.1,-71.5,\"a\nb\",1\n44.1,-71.5,c,x\n", 4, 14, "not a number", false},
		{"unknown header", "lat,lon,dpeth_m\n44.1,-71.5,1\n", 1, 9, "not known", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tab := read(t, tt.text, TableOptions{})
			if len(tab.Problems) != 1 {
				t.Fatalf("problems: %v", tab.Problems)
			}
			p := tab.Problems[0]
			if p.Row != tt.row || p.Column != tt.column || !strings.Contains(p.Cause, tt.cause) || p.Hint == "" {
				t.Errorf("%v", p.Error())
			}
			if p.Warn == tt.unreadable || (tab.Unreadable == 1) != tt.unreadable {
				t.Errorf("warning %v, %d unreadable", p.Warn, tab.Unreadable)
			}
		})
	}
}

func TestReadTableRefuses(t *testing.T) {
	tests := []struct{ name, text, cause, hint string }{
		{"nothing", "", "empty", "header row"},
		{"no position", "point,depth_m\n1,2\n", "no column lat and lon", "[columns]"},
		{"half a position", "lat,depth_m\n1,2\n", "no column lon", ""},
		{"duplicate header", "lat,lon,depth_m,Depth_M\n1,2,3,4\n", "columns 3 and 4 have the same header", "rename"},
		{"mixed units", "lat,lon,depth_m,depth_ft\n1,2,3,4\n", `this column and "depth_m" both give depth`, "keep one"},
		{"binary", "PK\x03\x04\x00\x00\x00lat,lon\n", "binary", "CSV"},
		{"UTF-16", "\xff\xfel\x00a\x00t\x00", "UTF-16", "UTF-8"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ReadTable(strings.NewReader(tt.text), "a.csv", 0, TableOptions{})
			var p *Problem
			if !errors.As(err, &p) || !strings.Contains(p.Cause, tt.cause) || !strings.Contains(p.Hint, tt.hint) || p.File != "a.csv" {
				t.Errorf("error: %v", err)
			}
		})
	}
}

func TestReadTableColumnMap(t *testing.T) {
	text := "Y,X,Depth (in)\n44.1,-71.5,36\n"
	opt := TableOptions{Columns: map[string]string{"lat": "Y", "lon": "x", "depth_in": "Depth (in)"}}
	if r := read(t, text, opt).Readings[0]; r.DepthM != 0.9144 || r.Geographic.LonDeg != -71.5 {
		t.Errorf("read %+v", r)
	}
	opt.Columns["depth_in"] = "Deph (in)"
	_, err := ReadTable(strings.NewReader(text), "a.csv", 0, opt)
	if err == nil || !strings.Contains(err.Error(), `nearest header is "Depth (in)"`) {
		t.Errorf("error: %v", err)
	}
}

// endless is a line without end.
type endless struct{ n int }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'a'
	}
	if e.n += len(p); e.n > 1<<30 {
		return 0, io.ErrUnexpectedEOF
	}
	return len(p), nil
}

func TestReadTableEndsAtALineWithoutEnd(t *testing.T) {
	src := &endless{}
	_, err := ReadTable(io.MultiReader(strings.NewReader("lat,lon\n"), src), "a.csv", 0, TableOptions{})
	if err == nil || !strings.Contains(err.Error(), "longer than 1 MB") {
		t.Errorf("error: %v", err)
	}
	if src.n > 8<<20 {
		t.Errorf("%d bytes were read before giving up", src.n)
	}
}

func FuzzReadTable(f *testing.F) {
	f.Add("lat,lon,depth_m\n44.1,-71.5,1.2\n44.1,-71.5\n")
	f.Add("lat;lon;note\n44,1;-71,5;\"a\"\"b\n\"\n# c\n;;\n")
	f.Add("\xef\xbb\xbfLAT\tLON\n1\t2\nx\t2\n\"")
	f.Fuzz(func(t *testing.T, text string) {
		tab, err := ReadTable(strings.NewReader(text), "a.csv", 0, TableOptions{})
		if err != nil {
			return
		}
		hard := 0
		for _, p := range tab.Problems {
			if !p.Warn {
				hard++
			}
		}
		if hard != tab.Unreadable {
			t.Errorf("%d unreadable rows, %d problems", tab.Unreadable, hard)
		}
		for _, r := range tab.Readings {
			if r.Row < 2 {
				t.Errorf("a reading in row %d", r.Row)
			}
		}
	})
}

func BenchmarkReadTable(b *testing.B) {
	var sb strings.Builder
	sb.WriteString("line,point,time,lat,lon,fix,h_acc_m,depth_m,current_ma,null_offset_m\n")
	const rows = 10000
	for range rows {
		sb.WriteString("W-1,17,2026-05-12T09:30:00Z,44.10342123,-71.50231456,4,0.015,1.04,52.1,-0.012\n")
	}
	text := sb.String()
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		tab, err := ReadTable(strings.NewReader(text), "a.csv", 0, TableOptions{})
		if err != nil || len(tab.Readings) != rows {
			b.Fatal(len(tab.Readings), err)
		}
	}
}
