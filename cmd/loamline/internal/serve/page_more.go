package serve

import (
	"strconv"
	"strings"

	"loamline.example/trace"
)

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
	"contact.owner": "Owner of the lines", "contact.owner_phone": "Phone of the owner", "contact.emergency_phone": "Emergency number",
	"tolerance.half_width": "Half-width of the tolerance zone", "tolerance.measured_from": "Tolerance zone measured from", "tolerance.rule": "Rule",
	"crs": "Reference system", "datum": "Frame of the corrections", "epoch": "Epoch", "antenna_gap_m": "Bottom to top antenna", "vertical_datum": "Vertical datum",
	"gnss_offset_s": "GNSS log's time minus the readings' time", "output.crs": "Reference system of the files", "output.sheets": "Printed sheets", "output.page_url": "Address of the page",
	"all.freq_hz": "Frequency of all lines", "all.power_w": "Transmitter power of all lines", "all.diameter": "Outer diameter of all lines",
	"line.utility": "utility", "line.diameter": "outer diameter", "line.material": "material", "line.hookup": "hookup", "line.freq_hz": "frequency", "line.power_w": "transmitter power",
	"line.name": "name", "line.transmitter": "transmitter", "line.x": "longitude of the transmitter", "line.y": "latitude of the transmitter", "reference.utility": "utility", "reference.role": "role", "reference.layer": "layer", "reference.name_column": "column of the names",
	"reference.crs": "reference system", "reference.datum": "datum", "reference.epoch": "epoch", "reference.table": "table",
	"feature.name": "name", "feature.x": "longitude or easting", "feature.y": "latitude or northing", "feature.position": "position",
}
