package trace

import (
	"math"
	"reflect"
	"time"

	"loamline.example/geo"
)

// Unknown marks a number that the instrument did not give. Test with Known.
var Unknown = math.NaN()

// Known reports whether a number was given.
func Known(v float64) bool { return !math.IsNaN(v) }

// Fix is the GNSS quality of a position as in NMEA 0183 GGA, or FixUnknown.
type Fix int8

// The qualities of NMEA 0183 GGA.
const (
	FixUnknown       Fix = -1
	FixNone          Fix = 0
	FixAutonomous    Fix = 1
	FixDifferential  Fix = 2
	FixPPS           Fix = 3
	FixRTK           Fix = 4
	FixFloat         Fix = 5
	FixDeadReckoning Fix = 6
	FixManual        Fix = 7
	FixSimulator     Fix = 8
)

// Measured reports whether a position of this quality is a measurement at all.
func (f Fix) Measured() bool {
	switch f {
	case FixNone, FixDeadReckoning, FixManual, FixSimulator:
		return false
	}
	return true
}

// Hookup is how the signal got onto the line.
type Hookup string

// The hookups of the readings table. Empty means not stated.
const (
	HookupDirect    Hookup = "direct"
	HookupClamp     Hookup = "clamp"
	HookupInduction Hookup = "induction"
	HookupPassive   Hookup = "passive"
)

// Phase is the current's direction against the one expected from the hookup.
type Phase int8

// PhaseUnknown is the zero value.
const (
	PhaseUnknown Phase = 0
	PhaseWith    Phase = 1
	PhaseAgainst Phase = -1
)

// Status is what became of a reading. Every row that could be read has
// exactly one.
type Status string

// The fates of a reading.
const (
	StatusUsed     Status = "used"      // in the centerline
	StatusSetAside Status = "set_aside" // not used; Reason says why
	StatusCheck    Status = "check"     // a raised reading: judged, never a point of the line
	StatusExposed  Status = "exposed"   // measured in the open: pins the line
)

// Reading is one reading of the receiver over the line. Numbers that the
// instrument did not give are Unknown.
type Reading struct {
	File  int32  // index into the job's inputs
	Row   int32  // line of the file on which the record starts; the first line is 1
	Line  string // the line that the locator believes to be under the receiver
	Point string
	Note  string

	Time time.Time // in the zone that the file states; zero where not given

	Geographic geo.LonLat // in the input's datum until placed, then WGS 84; NaN where absent
	Projected  [2]float64 // easting, northing in metres of the job's crs; NaN where absent
	Pos        geo.XY     // in the job's plane; NaN where it has no possible place

	ElevM       float64
	HDOP        float64
	HAccM       float64 // one sigma per axis, as stated
	DepthM      float64 // ground to the centre of the conductor, as shown
	CurrentMA   float64
	Signal      float64 // relative, or from dB as 10^(dB/20)
	SignalLow   float64
	SignalHigh  float64
	RaiseM      float64
	NullOffsetM float64 // null minus peak, positive to the right of travel
	FreqHz      float64

	Fix     Fix
	Phase   Phase
	Hookup  Hookup
	Exposed bool
	ByClock bool // its place is that of a GNSS log at its time

	Status       Status
	Reason       Remark // why it was set aside, or what was dropped from it
	DepthDropped bool   // position used, depth not; Reason says why
	StationM     float64
	OffsetM      float64 // from the centerline, positive to the right of travel
}

// NewReading returns a reading in which no number is given.
func NewReading() Reading { return notGiven }

var notGiven = func() Reading {
	r := Reading{Fix: FixUnknown}
	forget(reflect.ValueOf(&r).Elem())
	return r
}()

// forget makes every number of a value unknown, those of its parts too: one that a
// column does not give is never 0, whichever field it is.
func forget(v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		v.SetFloat(Unknown)
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				forget(v.Field(i))
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			forget(v.Index(i))
		}
	}
}

// Placed reports whether the reading has a place in the job's plane. One whose
// position is missing or impossible has none, whatever its row says: it must not
// be drawn.
func (r *Reading) Placed() bool { return Known(r.Pos.X) && Known(r.Pos.Y) }

// OutlierReason is the reason of a reading whose position the line does not run
// through, RepeatReason that of a row that says again what an earlier one says.
type (
	OutlierReason interface {
		Remark
		Outlier()
	}
	RepeatReason interface {
		Remark
		Repeat()
	}
)

// Outlier reports whether a reading was set aside for where it lies.
func (r *Reading) Outlier() bool {
	_, is := r.Reason.(OutlierReason)
	return is && r.Status == StatusSetAside
}

// Repeated reports whether the reading was set aside as a copy of another.
func (r *Reading) Repeated() bool {
	_, is := r.Reason.(RepeatReason)
	return is
}

// SetAside takes the reading out of the line and says why.
func (r *Reading) SetAside(why Remark) { r.Status, r.Reason = StatusSetAside, why }

// DropDepth keeps the reading's position and drops its depth.
func (r *Reading) DropDepth(why Remark) {
	r.DepthDropped = true
	r.AddReason(why)
}

// AddReason adds to what is told of the reading.
func (r *Reading) AddReason(why Remark) {
	switch was := r.Reason.(type) {
	case nil:
		r.Reason = why
	case Several:
		r.Reason = append(was[:len(was):len(was)], why)
	default:
		r.Reason = Several{was, why}
	}
}

// Trace is one line's readings. They stand in input order until the fit has
// given them stations; travel order is rising time where half of them or more have
// one, the others taking that of their neighbour in the file, else the order of the files.
type Trace struct {
	Name     string
	Readings []Reading
}
