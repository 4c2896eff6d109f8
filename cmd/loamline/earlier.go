package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"

	"loamline.example/geo"
	"loamline.example/trace"
)

// earlierMap is what the GeoJSON of an earlier run says of itself, which is at its two
// ends: a large one is not read for it.
type earlierMap struct {
	Settings struct {
		Ticket string `json:"ticket"`
	} `json:"settings"`
	Inputs []struct {
		Name   string `json:"name"`
		SHA256 string `json:"sha256"`
	} `json:"inputs"`
	box []float64 // west, south, east, north; nil where it tells none
}

// boxTail is more than a bounding box takes at the end of a map.
const boxTail = 200

// earlierMapAt reads it; false where no map of ours stands there.
func earlierMapAt(path string) (m earlierMap, ok bool) {
	f, err := os.Open(path)
	if err != nil {
		return m, false
	}
	defer f.Close()
	d := json.NewDecoder(f)
	for range 4 { // {, "type", "FeatureCollection", "loamline"
		if t, err := d.Token(); err != nil || t == "features" {
			return m, false
		}
	}
	if d.Decode(&m) != nil || len(m.Inputs) == 0 {
		return m, false
	}
	if info, err := f.Stat(); err == nil {
		tail := make([]byte, min(boxTail, info.Size()))
		if _, err := f.ReadAt(tail, info.Size()-int64(len(tail))); err == nil || err == io.EOF {
			if i := bytes.LastIndex(tail, []byte(`"bbox":[`)); i >= 0 {
				end := bytes.IndexByte(tail[i:], ']')
				if end < 0 || json.Unmarshal(tail[i+len(`"bbox":`):i+end+1], &m.box) != nil || len(m.box) != 4 {
					m.box = nil
				}
			}
		}
	}
	return m, true
}

// replaces says what a map would take the place of: nothing where none of its name is
// there, or one of the same readings; a map of other readings of the same place, as a
// table that was corrected makes it, in words; and an error where it is that of another
// job, by its ticket or its place.
func replaces(s *trace.Sheet, dir string) (told string, err error) {
	path := filepath.Join(dir, s.Name+".geojson")
	old, ok := earlierMapAt(path)
	if !ok {
		return "", nil
	}
	for _, in := range s.Inputs {
		for _, o := range old.Inputs {
			if in.Kind == trace.InputTable && in.SHA256 == o.SHA256 {
				return "", nil
			}
		}
	}
	const choose = "choose another folder with --out, or move that map away"
	switch {
	case s.Job.Ticket != "" && old.Settings.Ticket != "" && s.Job.Ticket != old.Settings.Ticket:
		return "", fmt.Errorf("%s: the map of another ticket, %s, stands there under the same name: %s", path, old.Settings.Ticket, choose)
	case apart(old.box, boxOf(s)):
		return "", fmt.Errorf("%s: the file there is the map of another job, elsewhere: %s", path, choose)
	}
	return path + ": takes the place of an earlier map of that name, made from other readings", nil
}

// boxOf is where the readings of a job lie: west, south, east, north; nil without any.
func boxOf(s *trace.Sheet) []float64 {
	b := []float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	add := func(p geo.LonLat) {
		b[0], b[1], b[2], b[3] = math.Min(b[0], p.LonDeg), math.Min(b[1], p.LatDeg), math.Max(b[2], p.LonDeg), math.Max(b[3], p.LatDeg)
	}
	for i := range s.Lines {
		if c := s.Lines[i].Centerline; c != nil {
			for _, p := range c.Parts {
				for _, v := range p.Vertices {
					add(s.Plane.LonLat(v.Pos))
				}
			}
		}
	}
	if b[0] > b[2] {
		return nil
	}
	return b
}

// apart reports that two boxes have no place in common; one over the antimeridian is
// taken as apart from none.
func apart(a, b []float64) bool {
	if a == nil || b == nil || a[0] > a[2] || b[2]-b[0] > 180 {
		return false
	}
	return a[2] < b[0] || b[2] < a[0] || a[3] < b[1] || b[3] < a[1]
}
