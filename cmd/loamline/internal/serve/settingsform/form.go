// Package settingsform reads the form of a job's settings as people fill it in, figures with
// decimal commas among it, over the settings as they are. What of them is right is judged by
// package jobfile, and how the form looks is the page's.
package settingsform

import (
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/problem"
)

// Read reads a form over settings that have every line: what the form does not
// hold stays as it is. What cannot be read is told field by field.
func Read(values map[string][]string, set jobfile.Settings) (jobfile.Settings, []problem.Problem) {
	f := form{values: values}
	for name, to := range map[string]*string{
		"ticket": &set.Ticket, "date": &set.Date, "valid_until": &set.ValidUntil, "locator": &set.Locator, "area": &set.Area, "units": &set.Units, "language": &set.Language,
		"crs": &set.CRS, "datum": &set.Datum, "vertical_datum": &set.VerticalDatum, "tolerance.half_width": &set.Tolerance.HalfWidth,
		"tolerance.measured_from": &set.Tolerance.MeasuredFrom, "tolerance.rule": &set.Tolerance.Rule,
		"contact.owner": &set.Contact.Owner, "contact.owner_phone": &set.Contact.OwnerPhone, "contact.emergency_phone": &set.Contact.Emergency,
		"job_id": &set.JobID, "output.crs": &set.Output.CRS, "output.sheets": &set.Output.Sheets, "output.page_url": &set.Output.PageURL,
	} {
		f.text(name, to)
	}
	f.number("epoch", &set.Epoch)
	f.number("antenna_gap_m", &set.AntennaGapM)
	f.number("gnss_offset_s", &set.GNSSOffsetS)
	set.Lines = append([]jobfile.LineSettings(nil), set.Lines...)
	for i := range set.Lines {
		l := &set.Lines[i]
		at := "line." + strconv.Itoa(i) + "."
		f.text(at+"utility", &l.Utility)
		f.text(at+"diameter", &l.Diameter)
		f.text(at+"material", &l.Material)
		f.text(at+"hookup", &l.Hookup)
		f.number(at+"freq_hz", &l.FreqHz)
		f.number(at+"power_w", &l.PowerW)
		l.Transmitter = f.transmitter(at+"transmitter.", l.Transmitter)
	}
	f.forAll(set.Lines)
	set.References = append([]jobfile.ReferenceSettings(nil), set.References...)
	f.references(set.References)
	set.Features = f.features(set.Features)
	return set, f.problems
}

// form reads fields and collects what cannot be read.
type form struct {
	values   map[string][]string
	problems []problem.Problem
}

func (f *form) get(name string) (string, bool) {
	v, ok := f.values[name]
	if !ok || len(v) == 0 {
		return "", false
	}
	return strings.TrimSpace(v[0]), true
}

func (f *form) text(name string, to *string) {
	if v, ok := f.get(name); ok {
		*to = v
	}
}

func (f *form) number(name string, to *float64) {
	v, ok := f.get(name)
	if !ok {
		return
	}
	if v == "" {
		*to = 0
		return
	}
	n, err := readNumber(name, v)
	if err != nil {
		f.problems = append(f.problems, problem.Problem{Field: name, Value: v, Cause: err.Error(), Hint: "write figures only, such as 0.40"})
		return
	}
	*to = n
}

// transmitter reads where a line's transmitter stood, in degrees: both fields empty for
// nowhere. A form without them leaves it as it is.
func (f *form) transmitter(at string, before []float64) []float64 {
	x, has := f.get(at + "x")
	y, _ := f.get(at + "y")
	switch {
	case !has:
		return before
	case x == "" && y == "":
		return nil
	case x == "" || y == "":
		f.problems = append(f.problems, problem.Problem{Field: strings.TrimSuffix(at, "."), Cause: "one of longitude and latitude is missing", Hint: "write both, in degrees, or neither"})
		return before
	}
	out := make([]float64, 2)
	f.number(at+"x", &out[0])
	f.number(at+"y", &out[1])
	return out
}

// forAll lays what the form says of all lines over every one of them; an empty
// field leaves them as they are.
func (f *form) forAll(lines []jobfile.LineSettings) {
	var all jobfile.LineSettings
	for name, to := range map[string]*string{"utility": &all.Utility, "diameter": &all.Diameter, "material": &all.Material, "hookup": &all.Hookup} {
		f.text("all."+name, to)
	}
	f.number("all.freq_hz", &all.FreqHz)
	f.number("all.power_w", &all.PowerW)
	for i := range lines {
		l := &lines[i]
		for _, t := range []struct{ from, to *string }{{&all.Utility, &l.Utility}, {&all.Diameter, &l.Diameter}, {&all.Material, &l.Material}, {&all.Hookup, &l.Hookup}} {
			if *t.from != "" {
				*t.to = *t.from
			}
		}
		if all.FreqHz != 0 {
			l.FreqHz = all.FreqHz
		}
		if all.PowerW != 0 {
			l.PowerW = all.PowerW
		}
	}
}
