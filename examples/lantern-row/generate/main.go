// Command generate remakes the inputs of the lantern-row example and the truth
// beside them: readings simulated over lines that are known, spoiled by the
// faults that a day in the field brings.
//
//	go run ./examples/lantern-row/generate
package main

import (
	"bytes"
	"fmt"
	"log"
	"os"
	"path/filepath"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// seed is the day at Lantern Row.
const seed = 10

func main() {
	log.SetFlags(0)
	log.SetPrefix("generate: ")
	dir := filepath.Join("examples", "lantern-row")
	if len(os.Args) > 1 {
		dir = os.Args[1]
	}
	job := tracetest.Street(seed)
	tables, err := job.Tables(tracetest.Plain().Without(tracetest.ColSignal))
	if err != nil {
		log.Fatal(err)
	}
	truth, err := job.TruthGeoJSON()
	if err != nil {
		log.Fatal(err)
	}
	files := map[string][]byte{
		"lantern-row.csv":      fieldFaults(oneTable(tables)),
		"town-records.geojson": records(job),
		"truth.geojson":        truth,
	}
	for name, content := range files {
		if err := os.WriteFile(filepath.Join(dir, name), content, 0o644); err != nil {
			log.Fatal(err)
		}
	}
}

// oneTable puts the tables of all lines under one header.
func oneTable(tables []tracetest.File) []string {
	var rows []string
	for i, t := range tables {
		lines := strings.Split(strings.TrimSpace(string(t.Bytes)), "\n")
		if i > 0 {
			lines = lines[1:]
		}
		rows = append(rows, lines...)
	}
	return rows
}

// fieldFaults spoils a few rows the way they come in: a letter in a depth, a
// receiver's filler, a lost fix, a row sent twice, swapped degrees, a broken
// latitude.
func fieldFaults(rows []string) []byte {
	column := map[string]int{}
	for i, name := range strings.Split(rows[0], ",") {
		column[name] = i
	}
	set := func(row int, name, value string) {
		cells := strings.Split(rows[row], ",")
		cells[column[name]] = value
		rows[row] = strings.Join(cells, ",")
	}
	set(9, "depth_m", "l.17")
	set(14, "depth_m", "999")
	set(21, "fix", "0")
	swapped := strings.Split(rows[33], ",")
	lat, lon := column["lat"], column["lon"]
	swapped[lat], swapped[lon] = swapped[lon], swapped[lat]
	rows[33] = strings.Join(swapped, ",")
	set(40, "lat", "44.l0012")

	var b bytes.Buffer
	fmt.Fprintln(&b, "# Lantern Row, day of the trace. An invented street in open ocean; simulated readings.")
	for i, row := range rows {
		fmt.Fprintln(&b, row)
		if i == 26 {
			fmt.Fprintln(&b, row) // sent twice
		}
	}
	return b.Bytes()
}

// records is the town's layer: the water main as once drawn, right along the
// street and 1.4 m off beyond the elbow, and the gas main.
func records(job tracetest.Job) []byte {
	var b bytes.Buffer
	fmt.Fprint(&b, `{"type":"FeatureCollection","features":[`)
	water, gas := job.Lines[0], job.Lines[1]
	drawn := []struct {
		name, utility string
		path          []geo.XY
	}{
		{"W-1 street", "water", shifted(water.Path.Slice(water.FromM, water.FromM+98), 0.15)},
		{"W-1 lane", "water", shifted(water.Path.Slice(water.FromM+104, water.ToM), 1.4)},
		{"G-1", "gas", shifted(gas.Path.Slice(gas.FromM, gas.ToM), -0.1)},
	}
	for i, d := range drawn {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "\n"+`{"type":"Feature","properties":{"name":%q,"utility":%q},"geometry":{"type":"LineString","coordinates":[`, d.name, d.utility)
		for k, ll := range job.Plane.LineString(d.path) {
			if k > 0 {
				b.WriteByte(',')
			}
			fmt.Fprintf(&b, "[%.7f,%.7f]", ll[0], ll[1])
		}
		b.WriteString("]}}")
	}
	b.WriteString("\n]}\n")
	return b.Bytes()
}

// shifted moves a path to its right.
func shifted(path []geo.XY, rightM float64) []geo.XY {
	pl := geo.NewPolyline(path)
	out := make([]geo.XY, 0, len(path))
	for i, p := range path {
		d := pl.Direction(pl.Station(i))
		out = append(out, p.Add(geo.XY{X: d.Y, Y: -d.X}.Scale(rightM)))
	}
	return out
}
