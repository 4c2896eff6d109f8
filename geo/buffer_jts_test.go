package geo

import (
	"encoding/xml"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

type jtsRun struct {
	Cases []struct {
		Desc  string `xml:"desc"`
		A     string `xml:"a"`
		Tests []struct {
			Op struct {
				Name string `xml:"name,attr"`
				Arg2 string `xml:"arg2,attr"`
				Want string `xml:",chardata"`
			} `xml:"op"`
		} `xml:"test"`
	} `xml:"case"`
}

func readJTS(t *testing.T, name string) jtsRun {
	t.Helper()
	raw, err := os.ReadFile("../testdata/buffer/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var run jtsRun
	if err := xml.Unmarshal(raw, &run); err != nil {
		t.Fatal(err)
	}
	return run
}

func readWKT(t *testing.T, s string) geom.Geometry {
	t.Helper()
	s = strings.Replace(strings.Join(strings.Fields(s), " "), "LINEARRING", "LINESTRING", 1)
	g, err := geom.UnmarshalWKT(s, geom.NoValidate{})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// pathsOf returns the paths of a point or line geometry, nil for a polygon.
func pathsOf(g geom.Geometry) [][]XY {
	var out [][]XY
	for _, part := range g.Dump() {
		if part.Dimension() == 2 {
			return nil
		}
		var path []XY
		seq := part.DumpCoordinates()
		for i := range seq.Length() {
			q := seq.GetXY(i)
			path = append(path, XY{q.X, q.Y})
		}
		out = append(out, path)
	}
	return out
}

// The buffer cases of the JTS test suite on points and lines
// (testdata/SOURCES.md, buffer). Its arcs lie inside the circle with 8 sides a
// quarter, ours outside with 32: the expected polygon must lie in ours, and the
// areas may differ by the 0.64 % of a circle that both account for, no more.
func TestBufferAgainstJTS(t *testing.T) {
	compared := 0
	for _, c := range readJTS(t, "jts_buffer.xml").Cases {
		paths := pathsOf(readWKT(t, c.A))
		for _, test := range c.Tests {
			halfWidthM, err := strconv.ParseFloat(test.Op.Arg2, 64)
			if err != nil || test.Op.Name != "buffer" || halfWidthM <= 0 || len(paths) == 0 {
				continue
			}
			want := readWKT(t, test.Op.Want)
			var parts []orb.MultiPolygon
			for _, p := range paths {
				zone, err := Buffer(p, halfWidthM)
				if err != nil {
					t.Fatalf("%s by %g: %v", strings.TrimSpace(c.Desc), halfWidthM, err)
				}
				parts = append(parts, zone)
			}
			zone, err := Union(parts...)
			if err != nil {
				t.Fatal(err)
			}
			got := geomOf(zone)
			missing, err := geom.Difference(want, got)
			if err != nil {
				t.Fatal(err)
			}
			if missing.Area() > 1e-7*want.Area() {
				t.Errorf("%s by %g: %g m2 of the expected zone are missing", strings.TrimSpace(c.Desc), halfWidthM, missing.Area())
			}
			if r := got.Area() / want.Area(); r > 1.0067 {
				t.Errorf("%s by %g: area is %.5f times the expected one", strings.TrimSpace(c.Desc), halfWidthM, r)
			}
			compared++
		}
	}
	if compared < 10 {
		t.Errorf("only %d cases compared", compared)
	}
	t.Logf("%d cases compared", compared)
}

func TestUnionAgainstJTS(t *testing.T) {
	compared := 0
	for _, c := range readJTS(t, "jts_unary_union.xml").Cases {
		a := readWKT(t, c.A)
		var zones []orb.MultiPolygon
		flat := a.Dimension() == 2
		for _, part := range a.Dump() {
			flat = flat && part.IsPolygon() && part.Validate() == nil && !part.IsEmpty()
			if flat {
				zone, err := canonical(part.ForceCCW())
				if err != nil {
					t.Fatal(err)
				}
				zones = append(zones, zone)
			}
		}
		if !flat || len(zones) == 0 {
			continue
		}
		got, err := Union(zones...)
		if err != nil {
			t.Fatal(err)
		}
		want, err := canonical(readWKT(t, c.Tests[0].Op.Want).ForceCCW())
		if err != nil {
			t.Fatal(err)
		}
		diff, err := geom.SymmetricDifference(geomOf(got), geomOf(want))
		if err != nil {
			t.Fatal(err)
		}
		if diff.Area() > 1e-9 {
			t.Errorf("%s: union differs by %g", strings.TrimSpace(c.Desc), diff.Area())
		}
		zoneArea(t, got)
		compared++
	}
	if compared < 2 {
		t.Errorf("only %d cases compared", compared)
	}
	t.Logf("%d cases compared", compared)
}
