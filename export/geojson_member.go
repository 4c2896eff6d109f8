package export

import (
	"bytes"
	"encoding/json"
	"strings"

	"loamline/export/schema"
	"loamline/geo"
	"loamline/trace"
)

// number is a JSON number, or null where it is not known.
type number float64

// MarshalJSON implements json.Marshaler.
func (n number) MarshalJSON() ([]byte, error) { return appendReal(nil, float64(n), 6), nil }

// memberJSON is the foreign member loamline.
type memberJSON struct {
	Version   string        `json:"version"`
	Schema    string        `json:"schema"`
	Job       string        `json:"job"`
	Frame     string        `json:"frame"`
	Settings  settingsJSON  `json:"settings"`
	Inputs    []inputJSON   `json:"inputs"`
	Counts    countsJSON    `json:"counts"`
	Lines     []lineJSON    `json:"lines"`
	Problems  []problemJSON `json:"problems"`
	Cautions  []string      `json:"cautions"`
	Advice    []string      `json:"advice"`
	Positions string        `json:"positions"`
}

type settingsJSON struct {
	JobID       string             `json:"job_id,omitempty"`
	Ticket      string             `json:"ticket"`
	Date        string             `json:"date"`
	ValidUntil  string             `json:"valid_until"`
	Locator     string             `json:"locator"`
	Area        string             `json:"area"`
	Units       string             `json:"units"`
	CRS         string             `json:"crs"`
	Datum       string             `json:"datum"`
	Epoch       number             `json:"epoch"`
	AntennaGapM number             `json:"antenna_gap_m"`
	Vertical    string             `json:"vertical_datum"`
	GNSSOffsetS number             `json:"gnss_offset_s"`
	Tolerance   toleranceJSON      `json:"tolerance"`
	Columns     map[string]string  `json:"columns"`
	Lines       []lineSettingsJSON `json:"line"`
	References  []referenceJSON    `json:"reference"`
}

type toleranceJSON struct {
	HalfWidthM   number `json:"half_width_m"`
	MeasuredFrom string `json:"measured_from"`
	Rule         string `json:"rule"`
}

type lineSettingsJSON struct {
	Name        string   `json:"name"`
	Utility     string   `json:"utility"`
	DiameterM   number   `json:"diameter_m"`
	Material    string   `json:"material"`
	Hookup      string   `json:"hookup"`
	FreqHz      number   `json:"freq_hz"`
	PowerW      number   `json:"power_w"`
	Transmitter []number `json:"transmitter"`
}

type referenceJSON struct {
	File    string `json:"file"`
	Utility string `json:"utility"`
}

type inputJSON struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

type countsJSON struct {
	Rows       int `json:"rows"`
	Used       int `json:"used"`
	SetAside   int `json:"set_aside"`
	Check      int `json:"check"`
	Exposed    int `json:"exposed"`
	Unreadable int `json:"unreadable"`
}

// lineJSON tells of every line, also of one that has no centerline.
type lineJSON struct {
	Name       string   `json:"name"`
	Utility    string   `json:"utility"`
	TracedM    number   `json:"traced_m"`
	Checked    []string `json:"checked"`
	Statements []string `json:"statements"`
	TryNext    []string `json:"try_next"`
}

type problemJSON struct {
	File    string `json:"file"`
	Row     int    `json:"row"`
	Column  int    `json:"column"`
	Field   string `json:"field"`
	Value   string `json:"value"`
	Cause   string `json:"cause"`
	Hint    string `json:"hint"`
	Warning bool   `json:"warning"`
}

// member writes the foreign member loamline.
func (e *geojsonWriter) member(s *trace.Sheet) error {
	text, err := memberText(s)
	e.raw(text)
	return err
}

// memberText is the member loamline as JSON.
func memberText(s *trace.Sheet) (string, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	err := enc.Encode(memberOf(s))
	return strings.TrimSpace(b.String()), err
}

func memberOf(s *trace.Sheet) memberJSON {
	m := memberJSON{
		Version: s.Version, Schema: schema.Version, Job: s.Name, Frame: s.Frame,
		Settings: settingsOf(s.Job),
		Inputs:   []inputJSON{}, Lines: []lineJSON{}, Problems: []problemJSON{},
		Counts:    countsJSON(s.Counts),
		Cautions:  notNil(s.Cautions),
		Advice:    notNil(s.Advice),
		Positions: "WGS 84, longitude then latitude, degrees (RFC 7946)",
	}
	for _, in := range s.Inputs {
		m.Inputs = append(m.Inputs, inputJSON{in.Name, in.SHA256})
	}
	for i := range s.Lines {
		l := &s.Lines[i]
		tracedM := 0.0
		if l.Centerline != nil {
			tracedM = l.Centerline.TracedM()
		}
		m.Lines = append(m.Lines, lineJSON{l.Setup.Name, string(StyleOf(l.Setup.Utility).Utility),
			millimetres(tracedM), notNil(l.Checked), notNil(l.Statements), notNil(l.TryNext)})
	}
	for _, p := range s.Problems {
		m.Problems = append(m.Problems, problemJSON{p.File, p.Row, p.Column, p.Field, p.Value, p.Cause, p.Hint, p.Warn})
	}
	return m
}

func settingsOf(j trace.Job) settingsJSON {
	out := settingsJSON{
		JobID: j.ID, Ticket: j.Ticket, Date: j.Date, ValidUntil: j.ValidUntil, Locator: j.Locator, Area: j.Area,
		Units: string(j.Units), CRS: j.CRS, Datum: j.Datum, Epoch: number(known(j.Epoch)), AntennaGapM: number(known(j.AntennaGap)),
		Vertical: j.VerticalDatum, GNSSOffsetS: number(j.GNSSOffsetS),
		Tolerance:  toleranceJSON{number(j.Tolerance.HalfWidthM), j.Tolerance.MeasuredFrom, j.Tolerance.Rule},
		Columns:    map[string]string{},
		Lines:      []lineSettingsJSON{},
		References: []referenceJSON{},
	}
	if out.Units == "" {
		out.Units = string(geo.Metric)
	}
	for k, v := range j.Columns { // encoding/json sorts the keys
		out.Columns[k] = v
	}
	for _, l := range j.Lines {
		ls := lineSettingsJSON{l.Name, string(l.Utility), number(known(l.DiameterM)), l.Material,
			string(l.Hookup), number(known(l.FreqHz)), number(known(l.PowerW)), nil}
		if l.Transmitter != nil {
			ls.Transmitter = []number{number(l.Transmitter.LonDeg), number(l.Transmitter.LatDeg)}
		}
		out.Lines = append(out.Lines, ls)
	}
	for _, r := range j.References {
		out.References = append(out.References, referenceJSON{baseName(r.File), string(r.Utility)})
	}
	return out
}

// millimetres rounds a length as the properties are.
func millimetres(m float64) number { return number(float64(int64(m*1000+0.5)) / 1000) }

func notNil(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}
