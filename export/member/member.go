package member

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"

	"loamline.example/export/layer"
	"loamline.example/export/literal"
	"loamline.example/export/schema"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
)

// number is a JSON number, or null where it is not known.
type number float64

// MarshalJSON implements json.Marshaler.
func (n number) MarshalJSON() ([]byte, error) { return literal.AppendReal(nil, float64(n), 6), nil }

// JSON is the foreign member loamline.
type JSON struct {
	Version string `json:"version"`
	Schema  string `json:"schema"`
	Job     string `json:"job"`
	Frame   string `json:"frame"`
	// Output is what a GIS must know of the frame that files are in.
	Output    string        `json:"output,omitempty"`
	Settings  settingsJSON  `json:"settings"`
	Inputs    []Input       `json:"inputs"`
	Counts    Counts        `json:"counts"`
	Lines     []lineJSON    `json:"lines"`
	Problems  []problemJSON `json:"problems"`
	Cautions  []string      `json:"cautions"`
	Advice    []adviceJSON  `json:"advice"`
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
	Language    string             `json:"language,omitempty"` // where it is not English
	CRS         string             `json:"crs"`
	Datum       string             `json:"datum"`
	Epoch       number             `json:"epoch"`
	AntennaGapM number             `json:"antenna_gap_m"`
	Vertical    string             `json:"vertical_datum"`
	GNSSOffsetS number             `json:"gnss_offset_s"`
	Tolerance   toleranceJSON      `json:"tolerance"`
	Contact     *contactJSON       `json:"contact,omitempty"`
	Columns     map[string]string  `json:"columns"`
	Lines       []lineSettingsJSON `json:"line"`
	References  []referenceJSON    `json:"reference"`
	Features    []featureJSON      `json:"feature,omitempty"`
	Underlay    *underlayJSON      `json:"underlay,omitempty"`
	Output      *outputJSON        `json:"output,omitempty"`
}

// contactJSON is whom a crew calls where a line is hit.
type contactJSON struct {
	Owner      string `json:"owner,omitempty"`
	OwnerPhone string `json:"owner_phone,omitempty"`
	Emergency  string `json:"emergency_phone,omitempty"`
}

// featureJSON is a fixed feature: longitude and latitude in the job's datum, or
// east and north of its crs in metres.
type featureJSON struct {
	Name     string   `json:"name"`
	Position []number `json:"position"`
}

// underlayJSON is the site plan that is drawn beneath the lines.
type underlayJSON struct {
	File    string `json:"file"`
	CRS     string `json:"crs,omitempty"`
	Datum   string `json:"datum,omitempty"`
	Epoch   number `json:"epoch,omitempty"`
	Opacity number `json:"opacity"`
}

type outputJSON struct {
	CRS     string `json:"crs,omitempty"`
	Sheets  string `json:"sheets,omitempty"`
	PageURL string `json:"page_url,omitempty"`
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

	CRS        string `json:"crs,omitempty"`
	Datum      string `json:"datum,omitempty"`
	Epoch      number `json:"epoch,omitempty"`
	Layer      string `json:"layer,omitempty"`
	Table      string `json:"table,omitempty"`
	NameColumn string `json:"name_column,omitempty"`
	Role       string `json:"role,omitempty"`
}

// Input is a file that went into a map.
type Input struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

// Counts is the ledger; the five others add up to the rows.
type Counts struct {
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

// adviceJSON is one thing to check before digging; the stations are null where
// it is about a whole line or the whole map.
type adviceJSON struct {
	Line  string `json:"line"`
	FromM number `json:"from_m"`
	ToM   number `json:"to_m"`
	Kind  string `json:"kind"`
	Words string `json:"words"`
}

func adviceOf(s *trace.Sheet) []adviceJSON {
	out := make([]adviceJSON, len(s.Advice))
	for i, a := range advice.MostImportantFirst(s) {
		out[i] = adviceJSON{a.Line, millimetres(a.FromM), millimetres(a.ToM), string(a.Kind), words.Item(s.Job.Units, a)}
	}
	return out
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

// Text is the member loamline as JSON.
func Text(s *trace.Sheet) (string, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	err := enc.Encode(of(s))
	return strings.TrimSpace(b.String()), err
}

func of(s *trace.Sheet) JSON {
	m := JSON{
		Version: s.Version, Schema: schema.Version, Job: s.Name, Frame: s.Frame.In(s.Job.Units), Output: s.OutputWords.In(s.Job.Units),
		Settings: settingsOf(s.Job),
		Inputs:   []Input{}, Lines: []lineJSON{}, Problems: []problemJSON{},
		Counts:    Counts(s.Counts),
		Cautions:  literal.NotNil(words.Cautions(s)),
		Advice:    adviceOf(s),
		Positions: "WGS 84, longitude then latitude, degrees (RFC 7946)",
	}
	for _, in := range s.Inputs {
		m.Inputs = append(m.Inputs, Input{in.Name, in.SHA256})
	}
	said := func(rs []trace.Remark) []string { return literal.NotNil(words.Remarks(s.Job.Units, rs)) }
	for i := range s.Lines {
		l := &s.Lines[i]
		tracedM := 0.0
		if l.Centerline != nil {
			tracedM = l.Centerline.TracedM()
		}
		m.Lines = append(m.Lines, lineJSON{l.Setup.Name, string(style.Of(l.Setup.Utility).Utility),
			millimetres(tracedM), said(l.Checked), said(l.Statements), said(l.TryNext)})
	}
	for _, p := range words.Problems(s) {
		m.Problems = append(m.Problems, problemJSON{p.File, p.Row, p.Column, p.Field, p.Value, p.Cause, p.Hint, p.Warn})
	}
	return m
}

func settingsOf(j trace.Job) settingsJSON {
	out := settingsJSON{
		JobID: j.ID, Ticket: j.Ticket, Date: j.Date, ValidUntil: j.ValidUntil, Locator: j.Locator, Area: j.Area,
		Units: string(j.Units), Language: j.Language, CRS: j.CRS, Datum: j.Datum, Epoch: number(layer.Known(j.Epoch)), AntennaGapM: number(layer.Known(j.AntennaGap)),
		Vertical: j.VerticalDatum, GNSSOffsetS: number(j.GNSSOffsetS),
		Tolerance:  toleranceJSON{number(j.Tolerance.HalfWidthM), j.Tolerance.MeasuredFrom, j.Tolerance.Rule},
		Columns:    map[string]string{},
		Lines:      []lineSettingsJSON{},
		References: []referenceJSON{},
	}
	if j.Contact != (trace.Contact{}) {
		out.Contact = (*contactJSON)(&j.Contact)
	}
	if out.Units == "" {
		out.Units = string(geo.Metric)
	}
	for k, v := range j.Columns { // encoding/json sorts the keys
		out.Columns[k] = v
	}
	for _, l := range j.Lines {
		ls := lineSettingsJSON{l.Name, string(l.Utility), number(layer.Known(l.DiameterM)), l.Material,
			string(l.Hookup), number(layer.Known(l.FreqHz)), number(layer.Known(l.PowerW)), nil}
		if l.Transmitter != nil {
			ls.Transmitter = []number{number(l.Transmitter.LonDeg), number(l.Transmitter.LatDeg)}
		}
		out.Lines = append(out.Lines, ls)
	}
	for _, r := range j.References {
		out.References = append(out.References, referenceJSON{File: layerName(r), Utility: string(r.Utility), CRS: r.CRS, Datum: r.Datum, Epoch: number(r.Epoch),
			Layer: r.Layer, Table: r.Table, NameColumn: r.NameColumn, Role: r.Role})
	}
	for _, f := range j.Features {
		out.Features = append(out.Features, featureJSON{f.Name, []number{number(f.X), number(f.Y)}})
	}
	if u := j.Underlay; u.File != "" {
		out.Underlay = &underlayJSON{layer.BaseName(u.File), u.CRS, u.Datum, number(u.Epoch), number(u.Opacity)}
	}
	if o := (outputJSON{j.OutputCRS, j.Sheets, j.PageURL}); o != (outputJSON{}) {
		out.Output = &o
	}
	return out
}

// layerName is a layer's name without its folder or, of a database, without who
// opens it.
func layerName(r trace.Reference) string {
	if r.InDatabase() {
		return r.ShownName()
	}
	return layer.BaseName(r.File)
}

// millimetres rounds a length as the properties are; what is not known stays so.
func millimetres(m float64) number { return number(math.Floor(m*1000+0.5) / 1000) }
