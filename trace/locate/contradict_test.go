package locate

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/clean"
	"loamline.example/trace/intake"
)

// built loads and builds a job of one table.
func built(t *testing.T, job trace.Job, table string) (*trace.Sheet, error) {
	t.Helper()
	src, err := intake.Load(t.Context(), intake.LoadOptions{Name: "walk", Job: job, Tables: []intake.File{textFile("walk.csv", table)}})
	if err != nil {
		return nil, err
	}
	return Build(t.Context(), src)
}

// warned returns the first warning about a field, or fails.
func warned(t *testing.T, s *trace.Sheet, err error, field, want string) trace.Problem {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range words.Problems(s) {
		if p.Warn && p.Field == field && strings.Contains(p.Error(), want) {
			return p
		}
	}
	t.Fatalf("nothing is said about %s with %q: %v", field, want, words.Problems(s))
	return trace.Problem{}
}

// advised fails unless the check list of a sheet has the words under a kind.
func advised(t *testing.T, s *trace.Sheet, kind trace.AdviceKind, words string) {
	t.Helper()
	for _, a := range s.Advice {
		if a.Kind == kind && a.Line == "W-1" && strings.Contains(said(a.Remark), words) {
			return
		}
	}
	t.Errorf("nothing to check of kind %q with %q: %v", kind, words, s.Advice)
}

// bothPositions is a walk with degrees and a grid in every row; the grid's
// eastings are shifted from a row on.
func bothPositions(t *testing.T, shiftM float64, fromRow, toRow int) string {
	t.Helper()
	crs, err := geo.LookupCRS("EPSG:32619")
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString("line,lat,lon,east_m,north_m,h_acc_m,depth_m\n")
	for i := range 12 {
		g := geo.LonLat{LonDeg: -71.5, LatDeg: 44.1 + float64(i)*2e-5}
		e, n, err := crs.Project(g)
		if err != nil {
			t.Fatal(err)
		}
		if i >= fromRow && i < toRow {
			e += shiftM
		}
		fmt.Fprintf(&b, "W-1,%.8f,%.8f,%.3f,%.3f,0.02,1.00\n", g.LatDeg, g.LonDeg, e, n)
	}
	return b.String()
}

func gridJob(crs string) trace.Job {
	j := trace.DefaultJob()
	j.CRS, j.Datum = crs, "WGS84"
	return j
}

// Two positions of a row that lie apart are never chosen between in silence.
func TestTwoPositionsApart(t *testing.T) {
	job := gridJob("EPSG:32619")
	if s, err := built(t, job, bothPositions(t, 0, 0, 12)); err != nil || len(s.Problems) > 0 {
		t.Errorf("agreeing: %v, %v", err, s.Problems)
	}
	var p *trace.Problem
	_, err := built(t, job, bothPositions(t, 5, 0, 12))
	if !errors.As(err, &p) || p.Row != 2 || !strings.Contains(err.Error(), "5.00 m apart") {
		t.Errorf("all rows: %v", err)
	}
	s, err := built(t, job, bothPositions(t, 5, 4, 6))
	warned(t, s, err, "lat, lon, east, north", "2 rows")
	advised(t, s, trace.AdviseInput, "2 rows had two positions")
	if s.Counts.SetAside != 2 || !strings.Contains(said(s.Lines[0].Readings[4].Reason), "5.00 m apart") {
		t.Errorf("%+v, %q", s.Counts, s.Lines[0].Readings[4].Reason)
	}
	// Digits that were rounded are no contradiction.
	rounded := strings.NewReplacer(".000,0.02", ",0.02").Replace(bothPositions(t, 0.04, 0, 12))
	if _, err := built(t, job, rounded); err != nil {
		t.Error(err)
	}
}

// International feet in a grid of US survey feet are 2 ppm off: 1.3 m at two
// million feet (NGS: the foot was deprecated on 31 December 2022 for that
// confusion; 1 US survey foot = 1200/3937 m, 1 foot = 0.3048 m).
func TestFeetOfTheOtherKind(t *testing.T) {
	walk := "line,%s,%s,h_acc_m,depth_m\n"
	for i := range 8 {
		walk += fmt.Sprintf("W-1,6500000.00,%.2f,0.02,1.00\n", 1850000+float64(i)*6)
	}
	job := gridJob("EPSG:2229")
	job.Datum = ""
	_, err := built(t, job, fmt.Sprintf(walk, "east_ft", "north_ft"))
	var p *trace.Problem
	if !errors.As(err, &p) || p.Row != 1 || p.Column != 6 || !strings.Contains(err.Error(), "US survey feet") {
		t.Errorf("got %v", err)
	}
	if _, err := built(t, job, fmt.Sprintf(walk, "east_usft", "north_usft")); err != nil {
		t.Error(err)
	}
	job.Columns = map[string]string{"east_ft": "east_ft", "north_ft": "north_ft"}
	s, err := built(t, job, fmt.Sprintf(walk, "east_ft", "north_ft"))
	warned(t, s, err, "east_ft", "US survey feet")
}

func depthWalk(depths ...float64) string {
	var b strings.Builder
	b.WriteString("line,lat,lon,h_acc_m,elev_m,depth_m\n")
	for i, d := range depths {
		fmt.Fprintf(&b, "W-1,%.8f,-71.5,0.02,%.2f,%.2f\n", 44.1+float64(i)*2e-5, 73+0.01*float64(i), d)
	}
	return b.String()
}

// Depths of ten metres among depths of one have lost their point; depths of ten
// metres along a whole line are told, for the method does not read them well.
func TestDepthsTenTimesTooLarge(t *testing.T) {
	s, err := built(t, gridJob("EPSG:4326"), depthWalk(1, 1.02, 1.01, 10.4, 10.3, 10.2, 1.03, 1, 1.01, 1.02, 1, 1.01))
	p := warned(t, s, err, "depth", "ten times")
	if p.File != "walk.csv" || p.Row != 5 {
		t.Errorf("at %s:%d", p.File, p.Row)
	}
	advised(t, s, trace.AdviseInput, "3 depths are ten times as deep")
	for _, v := range s.Lines[0].Centerline.Parts[0].Vertices {
		if v.DepthM > 1.5 {
			t.Errorf("drawn at %.2f m at %.1f m", v.DepthM, v.StationM)
		}
	}
	s, err = built(t, gridJob("EPSG:4326"), depthWalk(10.4, 10.3, 10.5, 10.4, 10.3, 10.4, 10.2, 10.4))
	warned(t, s, err, "depth", "check the unit")
	advised(t, s, trace.AdviseDoubt, "a tenth of the depths drawn")
	for _, v := range s.Lines[0].Centerline.Parts[0].Vertices {
		if v.DepthM-v.Depth95M > v.DepthM/10 {
			t.Errorf("a band of %.2f m about %.2f m does not hold a tenth of it", v.Depth95M, v.DepthM)
		}
	}
	// A bore that goes down in strides is what it is.
	s, err = built(t, gridJob("EPSG:4326"), depthWalk(1, 1.4, 2, 2.8, 3.9, 4.8, 4.9, 4.8, 3.9, 2.8, 2, 1.4, 1))
	if err != nil || len(s.Problems) > 0 {
		t.Errorf("%v, %v", err, s.Problems)
	}
}

// One elevation that leaps is no ground, and draws no conductor.
func TestElevationThatLeaps(t *testing.T) {
	table := strings.Replace(depthWalk(1, 1.02, 1.01, 1, 1.03, 1, 1.01, 1.02, 1, 1.01), ",73.04,", ",200.00,", 1)
	job := gridJob("EPSG:4326")
	job.VerticalDatum = "NAVD88"
	s, err := built(t, job, table)
	p := warned(t, s, err, "elev", "200.00 m")
	if p.Row != 6 {
		t.Errorf("row %d", p.Row)
	}
	advised(t, s, trace.AdviseInput, "1 ground elevation stands out")
	for _, v := range s.Lines[0].Centerline.Parts[0].Vertices {
		if trace.Known(v.ElevM) && math.Abs(v.ElevM-72) > 0.3 {
			t.Errorf("conductor at %.2f m", v.ElevM)
		}
	}
}

// A comma is a decimal comma or it parts thousands: which one is told by the
// other numbers of the row, and where they do not tell, the value is left out.
func TestThousandsSeparator(t *testing.T) {
	table := "line;lat;lon;depth_m;current_ma\n" +
		"W-1;44.10000;-71.5;1.00;33,000\n" + // points elsewhere: thousands
		"W-1;44,10002;-71,50001;1,045;33,000\n" + // commas elsewhere: thirty-three
		"W-1;44,10004;-71,50001;1,00;33.000\n" // a point that parts thousands
	got := readText(t, table, intake.TableOptions{})
	for i, want := range []float64{trace.Unknown, 33, trace.Unknown} {
		if c := got.Readings[i].CurrentMA; c != want && (trace.Known(c) || trace.Known(want)) {
			t.Errorf("row %d: %v mA, want %v", i+2, c, want)
		}
	}
	if d := got.Readings[1].DepthM; d != 1.045 {
		t.Errorf("depth %v", d)
	}
	if len(got.Problems) != 2 || got.Problems[0].Row != 2 || got.Problems[0].Column != 25 || !strings.Contains(got.Problems[0].Error(), "thousands") {
		t.Errorf("got %v", got.Problems)
	}
}

// Newline-delimited features are read all, not the first one.
func TestNewlineDelimitedFeatures(t *testing.T) {
	const one = `{"type":"Feature","properties":{"name":"G-%d"},"geometry":{"type":"LineString","coordinates":[[-71.5,44.1],[-71.501,44.1]]}}` + "\n"
	layer := fmt.Sprintf(one, 1) + fmt.Sprintf(one, 2) + "\x1e" + fmt.Sprintf(one, 3)
	records, problems, err := intake.ReadRecords(strings.NewReader(layer), "gas.geojsonl", trace.Gas)
	if err != nil || len(records) != 3 || len(problems) != 0 || records[2].Name != "G-3" {
		t.Errorf("%v, %v, %v", records, problems, err)
	}
	if _, _, err := intake.ReadRecords(strings.NewReader(fmt.Sprintf(one, 1)+"and more"), "gas.geojsonl", trace.Gas); err == nil || !strings.Contains(err.Error(), "gas.geojsonl:2") {
		t.Errorf("got %v", err)
	}
}

// A lost decimal point makes every depth ten times as deep, the cover over a hump
// as well; a dive is not deep throughout.
func TestDeepThroughout(t *testing.T) {
	for _, c := range []struct {
		name   string
		depths []float64
		want   bool
	}{
		{"ten times over a hump", []float64{11, 10.8, 11.1, 10.9, 4.1, 3.9, 10.7, 11.2}, true},
		{"ten times", []float64{8, 8.2, 7.9}, true},
		{"a dive", []float64{1.1, 1.2, 5.5, 6, 6.2, 6.1, 5.8, 5.9}, false},
		{"as the method reads", []float64{3.2, 3.4, 4.1}, false},
		{"none", nil, false},
	} {
		var rs []*trace.Reading
		for _, d := range c.depths {
			rs = append(rs, &trace.Reading{DepthM: d})
		}
		if got := clean.DeepThroughout(rs); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
