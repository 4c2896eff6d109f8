package intake

import (
	"math"
	"slices"
	"strings"
	"testing"

	"loamline.example/trace"
)

// A table whose positions nobody can tell yet is shown all the same, with what
// stands in its columns.
func TestPreview(t *testing.T) {
	text := "# as exported\nBreite;Laenge;Depth (ft);line\n44,1;-71,5;3,4;W-1\n\n44,2;-71,6;;W-1\nshort;row\n44,3;-71,7;3,6;W-1\n"
	p, err := ReadPreview(strings.NewReader(text), "walk.csv", TableOptions{Columns: map[string]string{"depth_ft": "depth (FT)"}}, 10)
	if err != nil {
		t.Fatal(err)
	}
	if p.Separator != ";" || len(p.Columns) != 4 {
		t.Fatalf("read as %+v", p)
	}
	for i, want := range []struct {
		name   string
		sample []string
	}{{"", []string{"44,1", "44,2", "44,3"}}, {"", []string{"-71,5", "-71,6", "-71,7"}}, {"depth_ft", []string{"3,4", "3,6"}}, {"line", []string{"W-1", "W-1", "W-1"}}} {
		if c := p.Columns[i]; c.Name != want.name || !slices.Equal(c.Sample, want.sample) {
			t.Errorf("column %d: %+v, not %+v", i+1, c, want)
		}
	}
	if _, err := ReadPreview(strings.NewReader("PK\x03\x04zip"), "walk.csv", TableOptions{}, 10); err == nil {
		t.Error("a zip archive was shown as a table")
	}
}

// A file's own column map stands in for the job's.
func TestColumnsOfOneFile(t *testing.T) {
	f := textFile("a.csv", "Y,X,D\n44.1,-71.5,3\n")
	f.Columns = map[string]string{"lat": "Y", "lon": "X", "depth_ft": "D"}
	g := textFile("b.csv", "lat,lon,T\n44.1,-71.5,2\n")
	g.Columns = map[string]string{"depth_m": "T"}
	src, err := Load(t.Context(), LoadOptions{Job: trace.DefaultJob(), Tables: []File{f, g}})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := src.Readings[0].DepthM, src.Readings[1].DepthM; math.Abs(a-3*0.3048) > 1e-12 || b != 2 {
		t.Errorf("depths %g and %g m", a, b)
	}
}
