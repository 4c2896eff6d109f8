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
	var b strings.Builder
	if err := Lines(&b, s); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, name := range rows[0] {
		at[name] = i
	}
	vertices := layer.AllWithVertices()
	vertex := vertices[len(vertices)-1]
	column := map[string]int{}
	for i, c := range vertex.Columns {
		column[c.Name] = i
	}
	n := 0
	for f := range vertex.Each(s) {
		n++
		row := rows[n]
		for _, name := range []string{"depth_m", "depth_95_m", "horizontal_95_m", "datum_doubt_m"} {
			v := f.Values[column[name]]
			got, err := strconv.ParseFloat(row[at[name]], 64)
			if known := err == nil; known != v.Known || known && math.Abs(got-v.Num) > 0.0006 {
				t.Errorf("%s at %s: the table has %q, the vertex %v", name, row[at["station_m"]], row[at[name]], v.Num)
			}
		}
		if grade := row[at["bleed_over"]]; grade == "strong" && (row[at["horizontal_95_m"]] == "" || row[at["depth_95_m"]] == "") {
			t.Errorf("no band at %s, which is graded %s", row[at["station_m"]], grade)
		}
		if of := row[at["datum_doubt_m"]]; (of == "1.410") != (row[at["line"]] == "W-1") {
			t.Errorf("%q beside the band of %s, whose frame is in doubt if it is W-1", of, row[at["line"]])
		}
		if strings.HasPrefix(row[at["words"]], "edge of a stretch") && row[at["horizontal_95_m"]] != "" {
			t.Errorf("a band beside a gap: %v", row)
		}
	}
	if n != len(rows)-1 || n == 0 {
		t.Errorf("%d vertices, %d rows", n, len(rows)-1)
	}
}

// A column of one name has one figure in both tables: the band across the line without
// what the datum may add, which has a column of its own.
func TestStakeOutHasTheBandsOfTheLines(t *testing.T) {
	s := sample.Sheet()
	s.Lines[0].Caution.DoubtM = 1.41
	read := func(write func(io.Writer, *trace.Sheet) error) []map[string]string {
		var b strings.Builder
		if err := write(&b, s); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var out []map[string]string
		for _, row := range rows[1:] {
			named := map[string]string{}
			for i, cell := range row {
				named[rows[0][i]] = cell
			}
			out = append(out, named)
		}
		return out
	}
	of := map[string]map[string]string{}
	for _, row := range read(Lines) {
		of[row["line"]+" "+row["station_m"]] = row
	}
	same := 0
	for _, row := range read(StakeOut) {
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
