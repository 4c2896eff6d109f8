package settingsform

import (
	"fmt"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/problem"
)

// spareFeatures is how many empty rows for fixed features the form has.
const spareFeatures = 2

// maxFeatures bounds what a form may say; a crew tapes from a handful.
const maxFeatures = 200

// FeatureRow is a fixed feature as the form shows it.
type FeatureRow struct {
	I          int
	Name, X, Y string
}

// FeatureRows are the fixed features with some empty rows for more.
func FeatureRows(features []jobfile.FeatureSettings) []FeatureRow {
	var out []FeatureRow
	for i, f := range features {
		row := FeatureRow{I: i, Name: f.Name}
		if len(f.Position) == 2 {
			row.X, row.Y = coordinateText(f.Position[0]), coordinateText(f.Position[1])
		}
		out = append(out, row)
	}
	for range spareFeatures {
		out = append(out, FeatureRow{I: len(out)})
	}
	return out
}

func coordinateText(v any) string {
	switch n := v.(type) {
	case float64:
		return strconv.FormatFloat(n, 'f', -1, 64)
	case int64:
		return strconv.FormatInt(n, 10)
	}
	return fmt.Sprint(v)
}

// features reads the fixed features of the form; one whose fields are all empty
// is none. A form without them leaves them as they are.
func (f *form) features(before []jobfile.FeatureSettings) []jobfile.FeatureSettings {
	var out []jobfile.FeatureSettings
	said := false
	for i := range min(maxFeatures, len(before)+spareFeatures) {
		at := fmt.Sprintf("feature.%d.", i)
		name, has := f.get(at + "name")
		if !has {
			if i < len(before) {
				out = append(out, before[i])
			}
			continue
		}
		said = true
		x, _ := f.get(at + "x")
		y, _ := f.get(at + "y")
		if name == "" && x == "" && y == "" {
			continue
		}
		out = append(out, jobfile.FeatureSettings{Name: name, Position: []any{f.coordinate(at+"x", x), f.coordinate(at+"y", y)}})
	}
	if !said {
		return before
	}
	return out
}

// coordinate reads degrees or metres, or leaves a length with its unit as it is.
func (f *form) coordinate(field, v string) any {
	if strings.ContainsFunc(v, func(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }) {
		return v
	}
	n, err := readNumber(field, v)
	if err != nil {
		f.problems = append(f.problems, problem.Problem{Field: field, Value: v, Cause: err.Error(), Hint: "write degrees, or metres of the job's grid, such as -71.50231"})
		return 0.0
	}
	return n
}

// references reads what the form says of the reference layers.
func (f *form) references(refs []jobfile.ReferenceSettings) {
	for i := range refs {
		r, at := &refs[i], fmt.Sprintf("reference.%d.", i)
		for name, to := range map[string]*string{"utility": &r.Utility, "role": &r.Role, "layer": &r.Layer, "name_column": &r.NameColumn, "crs": &r.CRS, "datum": &r.Datum} {
			f.text(at+name, to)
		}
		f.number(at+"epoch", &r.Epoch)
	}
}
