package intake

import (
	"slices"
	"strconv"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Field is something that a readings table can tell. Its row in fields is all that
// there is of it: the columns that are read, what stands in a blank table and what a
// column can be said to mean come from there.
type Field struct {
	Name   string
	Units  []string // as a column's name ends, the metric one first; none where there is nothing to convert
	US     string   // the unit in a blank table in US units, where that is another
	Words  string   // what to write there, in a blank table; empty where another field stands for it
	Choice string   // what it is, without the unit, where the meaning of a column is chosen
	Group  string   // under which heading it is then
	Key    bool     // heads the table: it tells one reading from another

	measures string // the field that this is another name or scale of, else its own name
	vital    string // what to do if it cannot be read, where the row is useless then
	cost     remark.Cost

	// Where a value goes, one of the three.
	number func(r *trace.Reading) *float64
	text   func(r *trace.Reading) *string
	parse  func(r *trace.Reading, text string) error // must not keep text, which holds the whole row
	tell   func(r *trace.Reading) string             // what parse reads; none where another field stands for it

	domain domain // of a number: which ones it can be
	plain  bool   // parse reads a number
}

// What to do about a row that is useless without one of its values.
const (
	vitalPosition = "the row cannot be placed without it; correct the value"
	vitalDegrees  = "the row cannot be placed without it; write decimal degrees, such as -71.50231"
	vitalLift     = "without it nobody can tell whether the row is a point of the line; correct the value"
)

// units are those of columns: what each is in metres, hertz, milliamperes or decibels,
// and how it is called.
var units = map[string]struct {
	inMetric float64
	words    string
}{
	"": {1, ""}, "m": {1, "metres"}, "ft": {geo.FootM, "feet"}, "usft": {geo.USSurveyFootM, "US survey feet"},
	"in": {geo.InchM, "inches"}, "cm": {0.01, "centimetres"}, "ma": {1, "mA"}, "hz": {1, "Hz"}, "khz": {1000, "kHz"}, "db": {1, "dB"},
}

// The headings under which fields are offered.
const (
	ofPosition = "Position"
	ofDepth    = "Depth"
	ofSignal   = "Signal"
	ofNotes    = "Notes"
)

// Groups are the headings in their order.
func Groups() []string { return []string{ofPosition, ofDepth, ofSignal, ofNotes} }

// fields is every field, in the order in which people are shown them.
var fields = []Field{
	{Name: "lat", Words: "latitude in decimal degrees, with its sign", Choice: "latitude, decimal degrees", Group: ofPosition,
		number: func(r *trace.Reading) *float64 { return &r.Geographic.LatDeg }, domain: anyNumber, vital: vitalDegrees},
	{Name: "lon", Words: "longitude in decimal degrees, with its sign", Choice: "longitude, decimal degrees", Group: ofPosition,
		number: func(r *trace.Reading) *float64 { return &r.Geographic.LonDeg }, domain: anyNumber, vital: vitalDegrees},
	{Name: "east", Units: []string{"m", "ft", "usft"}, Choice: "easting", Group: ofPosition,
		number: func(r *trace.Reading) *float64 { return &r.Projected[0] }, domain: anyNumber, vital: vitalPosition},
	{Name: "north", Units: []string{"m", "ft", "usft"}, Choice: "northing", Group: ofPosition,
		number: func(r *trace.Reading) *float64 { return &r.Projected[1] }, domain: anyNumber, vital: vitalPosition},
	{Name: "elev", Units: []string{"m", "ft"}, US: "ft", Words: "ground elevation", Choice: "ground elevation", Group: ofPosition,
		number: func(r *trace.Reading) *float64 { return &r.ElevM }, domain: anyNumber},
	{Name: "fix", Words: "GNSS quality as in NMEA 0183 GGA: 1 autonomous, 2 differential, 4 RTK fixed, 5 RTK float", Choice: "GNSS quality, 0 to 8 as in GGA", Group: ofPosition,
		parse: setFix, tell: fixText, cost: remark.CostAccuracy},
	{Name: "hdop", Words: "horizontal dilution of precision", Choice: "HDOP", Group: ofPosition,
		number: func(r *trace.Reading) *float64 { return &r.HDOP }, domain: aboveZero, cost: remark.CostAccuracy},
	{Name: "h_acc", Units: []string{"m", "ft", "cm"}, US: "ft", Words: "horizontal accuracy, one sigma per axis, as the positioning receiver states it", Choice: "horizontal accuracy (one sigma)", Group: ofPosition,
		number: func(r *trace.Reading) *float64 { return &r.HAccM }, domain: aboveZero, cost: remark.CostAccuracy},
	{Name: "line", Words: "name of the line believed to be under the receiver", Choice: "name of the line", Group: ofNotes, Key: true,
		text: func(r *trace.Reading) *string { return &r.Line }, cost: remark.CostLine},
	{Name: "point", Words: "number of the reading", Choice: "number of the reading", Group: ofNotes, Key: true,
		text: func(r *trace.Reading) *string { return &r.Point }},
	{Name: "time", Words: "with its zone: 2026-05-12T09:30:00-05:00", Choice: "time with zone (RFC 3339)", Group: ofPosition, Key: true,
		parse: setTime, tell: timeText, cost: remark.CostTime},
	{Name: "depth", Units: []string{"m", "ft", "in", "cm"}, US: "in", Words: "from the ground to the centre of the line; empty where none was shown", Choice: "depth to the line's centre", Group: ofDepth,
		number: func(r *trace.Reading) *float64 { return &r.DepthM }, domain: anyNumber, cost: remark.CostDepth},
	{Name: "current", Units: []string{"ma"}, Words: "current in the line", Choice: "current in the line", Group: ofSignal,
		number: func(r *trace.Reading) *float64 { return &r.CurrentMA }, domain: anyNumber, cost: remark.CostCurrent},
	{Name: "signal", Words: "signal strength; signal_db in decibels", Choice: "signal strength, relative", Group: ofSignal,
		number: func(r *trace.Reading) *float64 { return &r.Signal }, domain: notNegative, cost: remark.CostSignal},
	{Name: "signal_db", Choice: "signal strength, dB", Group: ofSignal,
		parse: setDecibels, plain: true, measures: "signal", cost: remark.CostSignal},
	{Name: "signal_low", Words: "signal of the bottom antenna", Choice: "signal of the bottom antenna", Group: ofSignal,
		number: func(r *trace.Reading) *float64 { return &r.SignalLow }, domain: notNegative, cost: remark.CostAntennas},
	{Name: "signal_high", Words: "signal of the top antenna", Choice: "signal of the top antenna", Group: ofSignal,
		number: func(r *trace.Reading) *float64 { return &r.SignalHigh }, domain: notNegative, cost: remark.CostAntennas},
	{Name: "lift", Units: []string{"m", "ft", "in"}, US: "in", Words: "how far the receiver was lifted off the ground: a check, never a point of the line", Choice: "receiver lifted off the ground by", Group: ofDepth,
		number: func(r *trace.Reading) *float64 { return &r.RaiseM }, domain: notNegative, vital: vitalLift, cost: remark.CostLift},
	// What a lift was called before; tables that say so are still read.
	{Name: "raise", Units: []string{"m", "ft", "in"}, Choice: "receiver lifted off the ground by (former name)", Group: ofDepth,
		number: func(r *trace.Reading) *float64 { return &r.RaiseM }, domain: notNegative, vital: vitalLift, measures: "lift", cost: remark.CostLift},
	{Name: "null_offset", Units: []string{"m", "ft", "in"}, US: "in", Words: "null minus peak, positive to the right of the direction of travel", Choice: "null minus peak, right positive", Group: ofSignal,
		number: func(r *trace.Reading) *float64 { return &r.NullOffsetM }, domain: anyNumber, cost: remark.CostNull},
	{Name: "phase", Words: "current direction against the one expected: with or against", Choice: "current direction, with or against", Group: ofSignal,
		parse: setPhase, tell: phaseText, cost: remark.CostDirection},
	{Name: "freq", Units: []string{"hz", "khz"}, Words: "locating frequency", Choice: "locating frequency", Group: ofSignal,
		number: func(r *trace.Reading) *float64 { return &r.FreqHz }, domain: aboveZero},
	{Name: "hookup", Words: "direct, clamp, induction or passive", Choice: "hookup: direct, clamp, induction, passive", Group: ofSignal,
		parse: setHookup, tell: func(r *trace.Reading) string { return string(r.Hookup) }, cost: remark.CostHookup},
	{Name: "exposed", Words: "yes where the line was exposed and measured", Choice: "exposed and measured, yes or no", Group: ofNotes,
		parse: setExposed, tell: exposedText, cost: remark.CostExposed},
	{Name: "note", Words: "anything", Choice: "note", Group: ofNotes,
		text: func(r *trace.Reading) *string { return &r.Note }},
}

// Fields lists every field of a readings table, in the order in which people are
// shown them.
func Fields() []Field { return slices.Clone(fields) }

// ChoiceIn is Choice with a unit.
func (f Field) ChoiceIn(unit string) string {
	if unit == "" {
		return f.Choice
	}
	return f.Choice + ", " + f.unitWords(unit)
}

func (f Field) unitWords(unit string) string {
	if unit == "ft" && slices.Contains(f.Units, "usft") {
		return "international feet"
	}
	return units[unit].words
}

// In is the name of the field's column in a unit; the empty one where it has none.
func (f Field) In(unit string) string {
	if unit == "" {
		return f.Name
	}
	return f.Name + "_" + unit
}

// FieldsBeyond are those that none of some columns tells, nor another field. Whoever
// writes readings in columns of their own writes these behind them, and loses nothing.
func FieldsBeyond(names ...string) []Field {
	told := map[string]bool{}
	for _, name := range names {
		told[columns[name].field] = true
	}
	return slices.DeleteFunc(Fields(), func(f Field) bool { return f.measures != "" || told[f.Name] })
}

// Metric is the name of the field's column in its metric unit.
func (f Field) Metric() string { return f.In(f.units()[0]) }

// Cell is what that column has of a reading; empty where it is not known.
func (f Field) Cell(r *trace.Reading) string {
	switch {
	case f.number != nil:
		if v := *f.number(r); trace.Known(v) {
			return strconv.FormatFloat(v, 'g', -1, 64)
		}
		return ""
	case f.text != nil:
		return *f.text(r)
	}
	return f.tell(r)
}

// units are those of the field, one empty where it has none.
func (f Field) units() []string {
	if len(f.Units) == 0 {
		return []string{""}
	}
	return f.Units
}

// fieldOf is the field of a name without its unit.
func fieldOf(name string) (Field, bool) {
	i := slices.IndexFunc(fields, func(f Field) bool { return f.Name == name })
	if i < 0 {
		return Field{}, false
	}
	return fields[i], true
}

// costOf is what a map does without a field: known of those that make it another map,
// or one that is sure of more than it was told.
func costOf(name string) remark.Cost {
	f, _ := fieldOf(name)
	return f.cost
}
