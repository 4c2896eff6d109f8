package intake

import (
	"errors"
	"fmt"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// feature reads a [[feature]]: a name and a position to hold a tape to.
func (f *jobFile) feature(path string, doc map[string]any) error {
	var fixed trace.FixedFeature
	placed := false
	err := f.table(path, doc, setters{
		"name":     text(&fixed.Name),
		"position": func(v any) error { placed = true; return fixedPosition(&fixed, v) },
	})
	if err != nil {
		return err
	}
	fixed.Name = strings.TrimSpace(fixed.Name)
	switch {
	case fixed.Name == "":
		return f.problem(path, "this feature has no name", "give it the name that a crew would know it by: name = \"hydrant 12\"")
	case len(fixed.Name) > setting.MaxNameBytes:
		return f.problem(join(path, "name"), fmt.Sprintf("a name of %d bytes, where %d are the most that a map can carry", len(fixed.Name), setting.MaxNameBytes), "")
	case !placed:
		return f.problem(path, "this feature has no position", "give longitude and latitude: position = [ -71.50231, 44.10342 ]")
	}
	for _, other := range f.job.Features {
		if other.Name == fixed.Name {
			return f.problem(join(path, "name"), fmt.Sprintf("there are two features %q", fixed.Name), "tell them apart: a tape is held to one of them")
		}
	}
	f.job.Features = append(f.job.Features, fixed)
	return nil
}

// fixedPosition takes longitude and latitude, or east and north of the job's
// grid: lengths with their unit, or metres. No grid is used so near its origin
// that figures of both kinds could be confused.
func fixedPosition(to *trace.FixedFeature, v any) error {
	const wanted = "longitude and latitude are required, [ -71.50231, 44.10342 ], or east and north in the job's crs, in metres or with their unit"
	list, ok := v.([]any)
	if !ok || len(list) != 2 {
		return errors.New(wanted)
	}
	xy, texts := [2]float64{}, 0
	for i, item := range list {
		if _, isText := item.(string); isText {
			texts++
			if err := gridLength(&xy[i], item); err != nil {
				return err
			}
		} else if number(&xy[i])(item) != nil {
			return errors.New(wanted)
		}
	}
	if texts == 1 {
		return errors.New("one of the two has a unit and the other has none: write both the same way")
	}
	to.X, to.Y = xy[0], xy[1]
	to.Grid = texts == 2 || !(geo.LonLat{LonDeg: xy[0], LatDeg: xy[1]}).Valid()
	return nil
}

// gridLength reads a coordinate with its unit; zero and less are coordinates too.
func gridLength(to *float64, v any) error {
	m, err := geo.ParseLength(v.(string))
	*to = m
	return err
}
