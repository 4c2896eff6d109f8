package tracetest

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"strings"
)

// File is a file of a job.
type File struct {
	Name  string
	Bytes []byte
}

// JobFile, ReferenceFile and TruthFile name the files beside the tables.
const (
	JobFile       = "job.toml"
	ReferenceFile = "reference.geojson"
	TruthFile     = "truth.geojson"
)

// Files returns everything that a locate of this job would hand in (the tables,
// the job file, the reference layer where records exist) and the truth, the
// part that no locate has.
func (j Job) Files(l Layout) ([]File, error) {
	files, err := j.Tables(l)
	if err != nil {
		return nil, err
	}
	files = append(files, File{JobFile, j.jobFile(l)})
	ref, err := j.Reference()
	if err != nil {
		return nil, err
	}
	if ref != nil {
		files = append(files, File{ReferenceFile, ref})
	}
	truth, err := j.TruthGeoJSON()
	return append(files, File{TruthFile, truth}), err
}

// Tables returns the readings tables of the job in a layout: trace.csv, or one
// file a line, named after it.
func (j Job) Tables(l Layout) ([]File, error) {
	if len(j.Traces) == 1 || l.OneFile {
		var b bytes.Buffer
		err := j.WriteCSV(&b, l, j.Traces...)
		return []File{{"trace.csv", b.Bytes()}}, err
	}
	var out []File
	for _, t := range j.Traces {
		var b bytes.Buffer
		if err := j.WriteCSV(&b, l, t); err != nil {
			return nil, err
		}
		out = append(out, File{strings.ToLower(j.Lines[t.Line].Name) + ".csv", b.Bytes()})
	}
	return out, nil
}

// lineName is the name that a line has in the tables: its own, or that of the
// file where the tables name none.
func (j Job) lineName(l Layout, line int) string {
	if l.Has[ColLine] {
		return j.Lines[line].Name
	}
	return "trace"
}

// jobFile writes the settings that a locate of this job would state.
func (j Job) jobFile(l Layout) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "ticket = %q\n", fmt.Sprintf("%s-%d", j.Family, j.Seed))
	fmt.Fprintf(&b, "date = 2026-05-12\n")
	fmt.Fprintf(&b, "antenna_gap_m = %.3f\n", j.AntennaGapM)
	if l.CRS != "" {
		fmt.Fprintf(&b, "crs = %q\n", l.CRS)
	}
	if l.Foreign {
		b.WriteString("\n[columns]\n")
		for _, c := range Columns() {
			if l.Has[c] {
				fmt.Fprintf(&b, "%s = %q\n", l.header(c), l.shownHeader(c))
			}
		}
	}
	for _, t := range j.Traces {
		fmt.Fprintf(&b, "\n[[line]]\nname = %q\nutility = %q\n", j.lineName(l, t.Line), j.Lines[t.Line].Utility)
		if j.Transmitter != nil && t.Line == 0 {
			p := j.Plane.LonLat(*j.Transmitter)
			fmt.Fprintf(&b, "hookup = \"induction\"\npower_w = %.1f\ntransmitter = [%.8f, %.8f]\n", j.PowerW, p.LonDeg, p.LatDeg)
		}
	}
	for _, n := range j.Lines {
		if n.Known {
			fmt.Fprintf(&b, "\n[[reference]]\nfile = %q\n", ReferenceFile)
			break
		}
	}
	return b.Bytes()
}

// Reference returns the layer of lines that are on record, as GeoJSON; nil
// where there are none. Records lie where the lines do, with the survey's error
// of a decimetre or two, bodily shifted; every second one knows its depth.
func (j Job) Reference() ([]byte, error) {
	r := stream(j.Family, j.Seed, "reference")
	var fs []feature
	for _, l := range j.Lines {
		if !l.Known {
			continue
		}
		sd := cmp.Or(j.RecordErrM, 0.1)
		shift := vec{r.norm(sd), r.norm(sd), 0}
		pts := l.Path.Points
		f := feature{Type: "Feature", Properties: map[string]any{"name": l.Name + "-record", "utility": l.Utility}}
		var line [][2]float64
		for i := 0; i < len(pts); i += 4 {
			p := pts[i]
			p.X, p.Y = p.X+shift.x, p.Y+shift.y
			line = append(line, j.degrees(p))
		}
		if r.chance(0.5) {
			var sum float64
			for _, d := range l.DepthM {
				sum += d
			}
			f.Properties["depth_m"] = math.Round(100*sum/float64(len(l.DepthM))) / 100
		}
		f.Geometry = geometry{"LineString", line}
		fs = append(fs, f)
	}
	if fs == nil {
		return nil, nil
	}
	return collection(fs)
}
