package layer

import (
	"iter"
	"strings"
	"time"

	"loamline.example/export/words"
	"loamline.example/trace"
)

// readingColumns is what the map tells of a reading, each with where it comes from.
var readingColumns = []struct {
	Column
	of func(s *trace.Sheet, r *trace.Reading) Value
}{
	{Column{Name: "point", Type: TypeText, Words: "the reading's own number", Contract: true},
		func(_ *trace.Sheet, r *trace.Reading) Value { return textValue(r.Point) }},
	{Column{Name: "file", Type: TypeText, Words: "file that it came from", Contract: true},
		func(s *trace.Sheet, r *trace.Reading) Value { return textValue(InputName(s, r.File)) }},
	{Column{Name: "row", Type: TypeInteger, Words: "line of that file on which the record starts, from 1", Contract: true, Always: true},
		func(_ *trace.Sheet, r *trace.Reading) Value { return integerValue(int(r.Row)) }},
	{Column{Name: "status", Type: TypeText, Words: "used, set_aside, check or exposed", Contract: true, Always: true, Enum: []string{"used", "set_aside", "check", "exposed"}},
		func(_ *trace.Sheet, r *trace.Reading) Value { return textValue(string(r.Status)) }},
	{Column{Name: "reason", Type: TypeText, Words: "why it was set aside, or what was dropped from it", Contract: true},
		func(s *trace.Sheet, r *trace.Reading) Value { return textValue(words.Remark(s.Job.Units, r.Reason)) }},
	{Column{Name: "station_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "where it lies along the line", Contract: true},
		func(_ *trace.Sheet, r *trace.Reading) Value { return realValue(r.StationM) }},
	{Column{Name: "offset_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "from the line, positive to the right of travel", Contract: true},
		func(_ *trace.Sheet, r *trace.Reading) Value { return realValue(r.OffsetM) }},
	{Column{Name: "depth_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "depth to the centre as shown or measured", Contract: true},
		func(_ *trace.Sheet, r *trace.Reading) Value { return realValue(r.DepthM) }},
	{Column{Name: "current_ma", Type: TypeReal, Unit: "mA", Decimals: 3, Words: "current as shown", Contract: true},
		func(_ *trace.Sheet, r *trace.Reading) Value { return realValue(r.CurrentMA) }},
	{Column{Name: "depth_dropped", Type: TypeBoolean, Words: "position used, depth not", Always: true},
		func(_ *trace.Sheet, r *trace.Reading) Value { return booleanValue(r.DepthDropped) }},
	{Column{Name: "raise_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "how far the receiver was lifted"},
		func(_ *trace.Sheet, r *trace.Reading) Value { return realValue(r.RaiseM) }},
	{Column{Name: "null_offset_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "null position less peak position, positive to the right of travel"},
		func(_ *trace.Sheet, r *trace.Reading) Value { return realValue(r.NullOffsetM) }},
	{Column{Name: "elev_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "ground elevation, in the vertical frame of the input"},
		func(_ *trace.Sheet, r *trace.Reading) Value { return realValue(r.ElevM) }},
	{Column{Name: "fix", Type: TypeInteger, Words: "GNSS quality as in NMEA 0183 GGA"},
		func(_ *trace.Sheet, r *trace.Reading) Value { return fixValue(r.Fix) }},
	{Column{Name: "h_acc_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "horizontal accuracy as stated, one sigma per axis"},
		func(_ *trace.Sheet, r *trace.Reading) Value { return realValue(r.HAccM) }},
	{Column{Name: "freq_hz", Type: TypeReal, Unit: "Hz", Decimals: 3, Words: "locating frequency"},
		func(_ *trace.Sheet, r *trace.Reading) Value { return realValue(r.FreqHz) }},
	{Column{Name: "time", Type: TypeText, Words: "RFC 3339", Instant: true},
		func(_ *trace.Sheet, r *trace.Reading) Value { return textValue(timeText(r.Time)) }},
	{Column{Name: "note", Type: TypeText, Words: "as written by the locator"},
		func(_ *trace.Sheet, r *trace.Reading) Value { return textValue(r.Note) }},
}

var Reading = Layer{
	Role: trace.RoleReading, Shape: ShapePoint,
	Words:   "every reading that could be read, with its fate; without geometry where it has no possible position",
	Columns: columnsOfReadings(),
	Each:    eachReading,
}

func columnsOfReadings() []Column {
	var out []Column
	for _, c := range readingColumns {
		out = append(out, c.Column)
	}
	return out
}

func eachReading(s *trace.Sheet) iter.Seq[*Feature] {
	return func(yield func(*Feature) bool) {
		f := &Feature{}
		for i := range s.Lines {
			l := &s.Lines[i]
			f.Line, f.Utility = l.Setup.Name, l.Setup.Utility
			for k := range l.Readings {
				r := &l.Readings[k]
				f.At, f.NoPlace = r.Geographic, !r.Placed() || !r.Geographic.Valid()
				f.Values = appendReading(f.Values[:0], s, r)
				if !yield(f) {
					return
				}
			}
		}
	}
}

func appendReading(v []Value, s *trace.Sheet, r *trace.Reading) []Value {
	for i := range readingColumns {
		v = append(v, readingColumns[i].of(s, r))
	}
	return v
}

func fixValue(f trace.Fix) Value {
	if f == trace.FixUnknown {
		return Value{Type: TypeInteger}
	}
	return integerValue(int(f))
}

// InputName is the name of the file that a reading came from.
func InputName(s *trace.Sheet, file int32) string {
	if file < 0 || int(file) >= len(s.Inputs) {
		return ""
	}
	return s.Inputs[file].Name
}

func timeText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.RFC3339Nano)
}

// BaseName is the last element of a file name, whichever way it is separated:
// a map tells no folder of the machine that made it.
func BaseName(name string) string {
	return name[strings.LastIndexAny(name, `/\`)+1:]
}
