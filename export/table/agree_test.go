package table

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/layer"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// A row of the table and the vertex that GeoPackage and PostGIS have of the same place
// give the same bands: in a stretch graded suspect or strong, also below another doubt,
// those with the displacement in them, beside a gap none, and what the frame may be off beside each.
func TestTableAndVerticesAgree(t *testing.T) {
	s := sample.Sheet()
	l := &s.Lines[0]
	l.Findings = append(l.Findings, finding.Doubt{Line: "W-1", FromM: 15, ToM: 17, Path: l.Centerline.Parts[0].Path()[7:9], Why: trace.Verbatim("Two passes lie apart.")})
	l.Caution.DoubtM = 1.41
	rows := named(t, s, Lines)
	vertices := layer.AllWithVertices()
	vertex := vertices[len(vertices)-1]
	column := map[string]int{}
	for i, c := range vertex.Columns {
		column[c.Name] = i
	}
	n := 0
	for f := range vertex.Each(s) {
		row := rows[n]
		n++
		for _, name := range []string{"depth_m", "depth_95_m", "horizontal_95_m", "datum_doubt_m"} {
			v := f.Values[column[name]]
			got, err := strconv.ParseFloat(row[name], 64)
			if known := err == nil; known != v.Known || known && math.Abs(got-v.Num) > 0.0006 {
				t.Errorf("%s at %s: the table has %q, the vertex %v", name, row["station_m"], row[name], v.Num)
			}
		}
		// No figure stands in a column where the words beside it say that it is not known: a
		// suspicion with a bound does not lift a doubt that has none.
		unknown := strings.Contains(row["words"], "position across the line: not known")
		if unknown != (row["horizontal_95_m"] == "") || unknown && row["depth_m"]+row["depth_95_m"]+row["cover_m"]+row["elev_m"] != "" {
			t.Errorf("at %s the bands are %q and %q, the depth %q, the words %q", row["station_m"], row["horizontal_95_m"], row["depth_95_m"], row["depth_m"], row["words"])
		}
		if of := row["datum_doubt_m"]; (of == "1.410") != (row["line"] == "W-1") {
			t.Errorf("%q beside the band of %s, whose frame is in doubt if it is W-1", of, row["line"])
		}
		if strings.HasPrefix(row["words"], "edge of a stretch") && row["horizontal_95_m"] != "" {
			t.Errorf("a band beside a gap: %v", row)
		}
	}
	if n != len(rows) || n == 0 {
		t.Errorf("%d vertices, %d rows", n, len(rows))
	}
}

// A column of one name has one figure in both tables: the band across the line without
// what the datum may add, which has a column of its own.
func TestStakeOutHasTheBandsOfTheLines(t *testing.T) {
	s := sample.Sheet()
	s.Lines[0].Caution.DoubtM = 1.41
	of := map[string]map[string]string{}
	for _, row := range named(t, s, Lines) {
		of[row["line"]+" "+row["station_m"]] = row
	}
	same := 0
	for _, row := range named(t, s, StakeOut) {
		line, ok := of[row["line"]+" "+row["station_m"]]
		if !ok {
			continue // between two vertices
		}
		same++
		for _, name := range []string{"horizontal_95_m", "datum_doubt_m", "depth_95_m"} {
			if row[name] != line[name] {
				t.Errorf("%s at %s m of %s: %q among the points, %q of the line", name, row["station_m"], row["line"], row[name], line[name])
			}
		}
	}
	if same < 5 {
		t.Errorf("%d places in both", same)
	}
}

// named are the rows of a table by the names of its columns.
func named(t *testing.T, s *trace.Sheet, write func(io.Writer, *trace.Sheet) error) (out []map[string]string) {
	t.Helper()
	var b strings.Builder
	if err := write(&b, s); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		cells := map[string]string{}
		for i, cell := range row {
			cells[rows[0][i]] = cell
		}
		out = append(out, cells)
	}
	return out
}

// Where the words say that a depth is not known, for its band reaches the surface, its column
// is empty in both tables: 1.236 stood beside "depth of the line not known".
func TestNoDepthWhereTheWordsKnowNone(t *testing.T) {
	s := sample.Sheet()
	for i := range s.Lines[0].Centerline.Parts[0].Vertices {
		v := &s.Lines[0].Centerline.Parts[0].Vertices[i]
		v.Depth95M = 1.2 * v.DepthM
	}
	for name, write := range map[string]func(io.Writer, *trace.Sheet) error{"lines": Lines, "stakeout": StakeOut} {
		n := 0
		for _, row := range named(t, s, write) {
			unknown := strings.Contains(row["words"], "depth not known") || strings.Contains(row["words"], "depth of the line not known")
			if figures := row["depth_m"] + row["depth_95_m"]; unknown && figures != "" {
				t.Errorf("%s at %s: %q beside %q", name, row["station_m"], figures, row["words"])
			}
			if unknown {
				n++
			}
		}
		if n == 0 {
			t.Errorf("%s: no depth is unknown", name)
		}
	}
}
