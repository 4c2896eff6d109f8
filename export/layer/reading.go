package layer

import (
	"iter"
	"strings"
	"time"

	"loamline.example/export/words"
	"loamline.example/trace"
)

var Reading = Layer{
	Role: trace.RoleReading, Shape: ShapePoint,
	Words: "every reading that could be read, with its fate; without geometry where it has no possible position",
	Columns: []Column{
		{Name: "point", Type: TypeText, Words: "the reading's own number", Contract: true},
		{Name: "file", Type: TypeText, Words: "file that it came from", Contract: true},
		{Name: "row", Type: TypeInteger, Words: "line of that file on which the record starts, from 1", Contract: true, Always: true},
		{Name: "status", Type: TypeText, Words: "used, set_aside, check or exposed", Contract: true, Always: true, Enum: []string{"used", "set_aside", "check", "exposed"}},
		{Name: "reason", Type: TypeText, Words: "why it was set aside, or what was dropped from it", Contract: true},
		{Name: "station_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "where it lies along the line", Contract: true},
		{Name: "offset_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "from the line, positive to the right of travel", Contract: true},
		{Name: "depth_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "depth to the centre as shown or measured", Contract: true},
		{Name: "current_ma", Type: TypeReal, Unit: "mA", Decimals: 3, Words: "current as shown", Contract: true},
		{Name: "depth_dropped", Type: TypeBoolean, Words: "position used, depth not", Always: true},
		{Name: "raise_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "how far the receiver was lifted"},
		{Name: "null_offset_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "null position less peak position, positive to the right of travel"},
		{Name: "elev_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "ground elevation, in the vertical frame of the input"},
		{Name: "fix", Type: TypeInteger, Words: "GNSS quality as in NMEA 0183 GGA"},
		{Name: "h_acc_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "horizontal accuracy as stated, one sigma per axis"},
		{Name: "freq_hz", Type: TypeReal, Unit: "Hz", Decimals: 3, Words: "locating frequency"},
		{Name: "time", Type: TypeText, Words: "RFC 3339", Instant: true},
		{Name: "note", Type: TypeText, Words: "as written by the locator"},
	},
	Each: eachReading,
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
	fix := Value{Type: TypeInteger}
	if r.Fix != trace.FixUnknown {
		fix = integerValue(int(r.Fix))
	}
	return append(v,
		textValue(r.Point), textValue(InputName(s, r.File)), integerValue(int(r.Row)),
		textValue(string(r.Status)), textValue(words.Remark(s.Job.Units, r.Reason)),
		realValue(r.StationM), realValue(r.OffsetM), realValue(r.DepthM), realValue(r.CurrentMA),
		booleanValue(r.DepthDropped), realValue(r.RaiseM), realValue(r.NullOffsetM), realValue(r.ElevM),
		fix, realValue(r.HAccM), realValue(r.FreqHz), textValue(timeText(r.Time)), textValue(r.Note),
	)
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
