package serve

import (
	"fmt"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/trace"
)

// spareFeatures is how many empty rows for fixed features the form has.
const spareFeatures = 2

// maxFeatures bounds what a form may say; a crew tapes from a handful.
const maxFeatures = 200

// featureRow is a fixed feature as the form shows it.
type featureRow struct {
	I          int
	Name, X, Y string
}

func featureRows(features []jobfile.FeatureSettings) []featureRow {
	var out []featureRow
	for i, f := range features {
		row := featureRow{I: i, Name: f.Name}
		if len(f.Position) == 2 {
			row.X, row.Y = coordinateText(f.Position[0]), coordinateText(f.Position[1])
		}
		out = append(out, row)
	}
	for range spareFeatures {
		out = append(out, featureRow{I: len(out)})
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

// roleChoices are what a reference layer can be for.
func roleChoices() []utilityChoice {
	return []utilityChoice{{trace.RoleLine, "lines that may be neighbours"}, {trace.RoleBackground, "background: drawn, never suspected"}}
}

// sheetChoices are what can be printed.
func sheetChoices() []utilityChoice {
	return []utilityChoice{{"", "as the program does it"}, {trace.SheetsCrew, "crew sheet"}, {trace.SheetsFull, "full sheets"}, {trace.SheetsBoth, "both"}}
}

// languageChoices are what a crew can read.
func languageChoices() []utilityChoice {
	return []utilityChoice{{"", "English (default)"}, {trace.Spanish, "Spanish"}, {trace.EnglishAndSpanish, "English and Spanish"}}
}

// Label is a field of the form in words, for the list of what is wrong.
func (v settingsView) Label(field string) string {
	parts := strings.Split(field, ".")
	if words, ok := fieldWords[field]; ok {
		return words
	}
	if len(parts) < 2 {
		return field
	}
	last := parts[len(parts)-1]
	words := fieldWords[parts[0]+"."+last]
	i, err := strconv.Atoi(parts[1])
	if err != nil {
		return firstOf(words, field)
	}
	name := ""
	switch {
	case parts[0] == "line" && i < len(v.Set.Lines):
		name = v.Set.Lines[i].Name
	case parts[0] == "reference" && i < len(v.Set.References):
		name = v.Set.References[i].File
	case parts[0] == "feature":
		name = "fixed feature " + strconv.Itoa(i+1)
	}
	return strings.Trim(name+", "+words, ", ")
}

var fieldWords = map[string]string{
	"ticket": "Ticket", "job_id": "Job number of the office", "locator": "Locator", "date": "Day of the locate", "valid_until": "Valid until", "area": "Place", "units": "Units", "language": "Language of the crew",
	"tolerance.half_width": "Half-width of the tolerance zone", "tolerance.measured_from": "Tolerance zone measured from", "tolerance.rule": "Rule",
	"crs": "Reference system", "datum": "Frame of the corrections", "epoch": "Epoch", "antenna_gap_m": "Bottom to top antenna", "vertical_datum": "Vertical datum",
	"gnss_offset_s": "GNSS log's time minus the readings' time", "output.crs": "Reference system of the files", "output.sheets": "Printed sheets", "output.page_url": "Address of the page",
	"all.freq_hz": "Frequency of all lines", "all.power_w": "Transmitter power of all lines", "all.diameter": "Outer diameter of all lines",
	"line.utility": "utility", "line.diameter": "outer diameter", "line.material": "material", "line.hookup": "hookup", "line.freq_hz": "frequency", "line.power_w": "transmitter power",
	"line.name": "name", "line.transmitter": "transmitter", "line.x": "longitude of the transmitter", "line.y": "latitude of the transmitter", "reference.utility": "utility", "reference.role": "role", "reference.layer": "layer", "reference.name_column": "column of the names",
	"reference.crs": "reference system", "reference.datum": "datum", "reference.epoch": "epoch", "reference.table": "table",
	"feature.name": "name", "feature.x": "longitude or easting", "feature.y": "latitude or northing", "feature.position": "position",
}
