// Package jobfile holds a job's settings as people write them, by the keys of a job file:
// from a form, from a program's JSON or from the file itself, with everything that is wrong
// with them at once. What the keys mean is read by package intake and nowhere else: nothing
// here judges a setting by itself.
package jobfile

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// Settings are a job's settings as people write them: the keys of a job file,
// lengths with their unit. Empty and zero mean not said.
type Settings struct {
	JobID         string              `toml:"job_id,omitempty" json:"job_id,omitempty"`
	Ticket        string              `toml:"ticket,omitempty" json:"ticket"`
	Date          string              `toml:"date,omitempty" json:"date"`
	ValidUntil    string              `toml:"valid_until,omitempty" json:"valid_until"`
	Locator       string              `toml:"locator,omitempty" json:"locator"`
	Area          string              `toml:"area,omitempty" json:"area"`
	Units         string              `toml:"units" json:"units"`
	Language      string              `toml:"language,omitempty" json:"language,omitempty"`
	CRS           string              `toml:"crs" json:"crs"`
	Datum         string              `toml:"datum,omitempty" json:"datum"`
	Epoch         float64             `toml:"epoch,omitzero" json:"epoch,omitempty"`
	VerticalDatum string              `toml:"vertical_datum,omitempty" json:"vertical_datum"`
	AntennaGapM   float64             `toml:"antenna_gap_m,omitzero" json:"antenna_gap_m,omitempty"`
	GNSSOffsetS   float64             `toml:"gnss_offset_s,omitzero" json:"gnss_offset_s,omitempty"`
	Tolerance     ToleranceSettings   `toml:"tolerance" json:"tolerance"`
	Contact       ContactSettings     `toml:"contact,omitempty" json:"contact,omitzero"`
	Columns       map[string]string   `toml:"columns,omitempty" json:"columns,omitempty"`
	Lines         []LineSettings      `toml:"line,omitempty" json:"lines"`
	References    []ReferenceSettings `toml:"reference,omitempty" json:"references"`
	Features      []FeatureSettings   `toml:"feature,omitempty" json:"features,omitempty"`
	Output        OutputSettings      `toml:"output,omitempty" json:"output"`
}

// FeatureSettings are a fixed feature that a tape can be held to.
type FeatureSettings struct {
	Name     string `toml:"name" json:"name"`
	Position []any  `toml:"position" json:"position"` // longitude and latitude, or east and north with their unit
}

// ContactSettings are whom a crew calls where a line is hit.
type ContactSettings struct {
	Owner      string `toml:"owner,omitempty" json:"owner,omitempty"`
	OwnerPhone string `toml:"owner_phone,omitempty" json:"owner_phone,omitempty"`
	Emergency  string `toml:"emergency_phone,omitempty" json:"emergency_phone,omitempty"`
}

// OutputSettings choose what the outputs of a job leave open.
type OutputSettings struct {
	CRS     string `toml:"crs,omitempty" json:"crs,omitempty"` // of files but GeoJSON and KML
	Sheets  string `toml:"sheets,omitempty" json:"sheets,omitempty"`
	PageURL string `toml:"page_url,omitempty" json:"page_url,omitempty"`
}

// ToleranceSettings are the rule by which the tolerance zone is drawn.
type ToleranceSettings struct {
	HalfWidth    string `toml:"half_width" json:"half_width"`
	MeasuredFrom string `toml:"measured_from" json:"measured_from"`
	Rule         string `toml:"rule,omitempty" json:"rule"`
}

// LineSettings are what is said about one line.
type LineSettings struct {
	Name        string    `toml:"name" json:"name"`
	Utility     string    `toml:"utility,omitempty" json:"utility"`
	Diameter    string    `toml:"diameter,omitempty" json:"diameter"`
	Material    string    `toml:"material,omitempty" json:"material"`
	Hookup      string    `toml:"hookup,omitempty" json:"hookup"`
	FreqHz      float64   `toml:"freq_hz,omitzero" json:"freq_hz,omitempty"`
	PowerW      float64   `toml:"power_w,omitzero" json:"power_w,omitempty"`
	Transmitter []float64 `toml:"transmitter,omitempty" json:"transmitter,omitempty"` // longitude, latitude
}

// ReferenceSettings say what a reference layer holds.
type ReferenceSettings struct {
	File    string  `toml:"file" json:"file"`
	Utility string  `toml:"utility,omitempty" json:"utility"`
	CRS     string  `toml:"crs,omitempty" json:"crs,omitempty"`
	Datum   string  `toml:"datum,omitempty" json:"datum,omitempty"`
	Epoch   float64 `toml:"epoch,omitempty" json:"epoch,omitempty"`

	Layer      string `toml:"layer,omitempty" json:"layer,omitempty"`
	Table      string `toml:"table,omitempty" json:"table,omitempty"`
	NameColumn string `toml:"name_column,omitempty" json:"name_column,omitempty"`
	Role       string `toml:"role,omitempty" json:"role,omitempty"`
}

// DefaultSettings are those of a run without a job file.
func DefaultSettings() Settings { return SettingsOf(trace.DefaultJob()) }

// SettingsOf writes a job's settings as a person would.
func SettingsOf(j trace.Job) Settings {
	s := Settings{JobID: j.ID, Ticket: j.Ticket, Date: j.Date, ValidUntil: j.ValidUntil, Locator: j.Locator, Area: j.Area,
		Units: string(j.Units), Language: j.Language, CRS: j.CRS, Datum: j.Datum, Epoch: j.Epoch, VerticalDatum: j.VerticalDatum,
		AntennaGapM: orZero(j.AntennaGap), GNSSOffsetS: j.GNSSOffsetS, Columns: j.Columns,
		Contact:   ContactSettings(j.Contact),
		Tolerance: ToleranceSettings{lengthText(j.Tolerance.HalfWidthM), j.Tolerance.MeasuredFrom, j.Tolerance.Rule}}
	for _, l := range j.Lines {
		ls := LineSettings{Name: l.Name, Utility: string(l.Utility), Diameter: lengthText(l.DiameterM), Material: l.Material,
			Hookup: string(l.Hookup), FreqHz: orZero(l.FreqHz), PowerW: orZero(l.PowerW)}
		if l.Transmitter != nil {
			ls.Transmitter = []float64{l.Transmitter.LonDeg, l.Transmitter.LatDeg}
		}
		s.Lines = append(s.Lines, ls)
	}
	for _, r := range j.References {
		s.References = append(s.References, ReferenceSettings{File: r.File, Utility: string(r.Utility), CRS: r.CRS, Datum: r.Datum, Epoch: r.Epoch,
			Layer: r.Layer, Table: r.Table, NameColumn: r.NameColumn, Role: r.Role})
	}
	for _, f := range j.Features {
		at := []any{f.X, f.Y}
		if f.Grid {
			at = []any{gridText(f.X), gridText(f.Y)}
		}
		s.Features = append(s.Features, FeatureSettings{f.Name, at})
	}
	s.Output = OutputSettings{j.OutputCRS, j.Sheets, j.PageURL}
	return s
}

// Clone shares nothing with the settings that it comes from.
func (s Settings) Clone() Settings {
	s.Columns = maps.Clone(s.Columns)
	s.Lines = slices.Clone(s.Lines)
	for i := range s.Lines {
		s.Lines[i].Transmitter = slices.Clone(s.Lines[i].Transmitter)
	}
	s.References = slices.Clone(s.References)
	s.Features = slices.Clone(s.Features)
	for i := range s.Features {
		s.Features[i].Position = slices.Clone(s.Features[i].Position)
	}
	return s
}

// TOML is the job file that says the same.
func (s Settings) TOML() ([]byte, error) {
	var b bytes.Buffer
	enc := toml.NewEncoder(&b)
	if err := enc.Encode(s); err != nil {
		return nil, fmt.Errorf("writing the settings: %w", err)
	}
	return b.Bytes(), nil
}

// Job reads the settings as the job file that says the same would be read. The
// error is a trace.Problem whose field is the key at fault.
func (s Settings) Job() (trace.Job, error) {
	text, err := s.TOML()
	if err != nil {
		return trace.Job{}, err
	}
	job, err := intake.ReadJobFile(bytes.NewReader(text), "settings")
	if p, ok := err.(*trace.Problem); ok {
		// The lines of a file that nobody wrote help nobody.
		named := *p
		named.File, named.Row, named.Column = "", 0, 0
		return job, &named
	}
	return job, err
}

// lengthText words a length in inches where it is a whole number of eighths,
// else in metres; empty where it is not known.
func lengthText(m float64) string {
	if !trace.Known(m) || m == 0 {
		return ""
	}
	if eighths := m / geo.InchM * 8; math.Abs(eighths-math.Round(eighths)) < 1e-6 {
		return strconv.FormatFloat(math.Round(eighths)/8, 'g', -1, 64) + " in"
	}
	return strconv.FormatFloat(m, 'g', 10, 64) + " m"
}

// gridText writes a coordinate as it was read.
func gridText(m float64) string { return strconv.FormatFloat(m, 'f', -1, 64) + " m" }

func orZero(v float64) float64 {
	if !trace.Known(v) {
		return 0
	}
	return v
}

// WithLines adds an empty entry for every line that the readings name and the
// settings do not.
func (s Settings) WithLines(names []string) Settings {
	known := map[string]bool{}
	for _, l := range s.Lines {
		known[l.Name] = true
	}
	s = s.Clone()
	for _, n := range names {
		if n = strings.TrimSpace(n); n != "" && !known[n] {
			known[n] = true
			s.Lines = append(s.Lines, LineSettings{Name: n, Utility: string(trace.UnknownKind)})
		}
	}
	return s
}
