package intake

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// column is one name that a readings table may use.
type column struct {
	name   string // with its unit, as in the header
	field  string // what it measures: two columns of one field contradict each other
	number bool
	vital  string                                    // what to do if it cannot be read, where the row is useless then
	set    func(r *trace.Reading, text string) error // must not keep text, which holds the whole row
	text   func(r *trace.Reading) *string            // instead of set where any text will do
}

// What to do about a row that is useless without one of its values.
const (
	vitalPosition = "the row cannot be placed without it; correct the value"
	vitalDegrees  = "the row cannot be placed without it; write decimal degrees, such as -71.50231"
	vitalLift     = "without it nobody can tell whether the row is a point of the line; correct the value"
)

// columns is every name of the readings table. Units become metres, hertz and
// milliamperes here and nowhere else.
var columns = func() map[string]column {
	all := map[string]column{}
	add := func(c column) { all[c.name] = c }
	number := func(field string, at func(*trace.Reading) *float64, domain domain, units map[string]float64) {
		for suffix, factor := range units {
			c := column{name: field, field: field, number: true}
			if suffix != "" {
				c.name += "_" + suffix
			}
			c.set = func(r *trace.Reading, text string) error { return domain.put(at(r), text, factor) }
			switch field {
			case "lat", "lon":
				c.vital = vitalDegrees
			case "east", "north":
				c.vital = vitalPosition
			case "lift":
				c.vital = vitalLift
			}
			add(c)
		}
	}
	plain := map[string]float64{"": 1}
	lengths := func(suffixes ...string) map[string]float64 {
		unit := map[string]float64{"m": 1, "ft": geo.FootM, "usft": geo.USSurveyFootM, "in": geo.InchM, "cm": 0.01}
		out := map[string]float64{}
		for _, s := range suffixes {
			out[s] = unit[s]
		}
		return out
	}
	number("lat", func(r *trace.Reading) *float64 { return &r.Geographic.LatDeg }, anyNumber, plain)
	number("lon", func(r *trace.Reading) *float64 { return &r.Geographic.LonDeg }, anyNumber, plain)
	number("east", func(r *trace.Reading) *float64 { return &r.Projected[0] }, anyNumber, lengths("m", "ft", "usft"))
	number("north", func(r *trace.Reading) *float64 { return &r.Projected[1] }, anyNumber, lengths("m", "ft", "usft"))
	number("elev", func(r *trace.Reading) *float64 { return &r.ElevM }, anyNumber, lengths("m", "ft"))
	number("hdop", func(r *trace.Reading) *float64 { return &r.HDOP }, aboveZero, plain)
	number("h_acc", func(r *trace.Reading) *float64 { return &r.HAccM }, aboveZero, lengths("m", "ft", "cm"))
	number("depth", func(r *trace.Reading) *float64 { return &r.DepthM }, anyNumber, lengths("m", "ft", "in", "cm"))
	number("current", func(r *trace.Reading) *float64 { return &r.CurrentMA }, anyNumber, map[string]float64{"ma": 1})
	number("signal", func(r *trace.Reading) *float64 { return &r.Signal }, notNegative, plain)
	number("signal_low", func(r *trace.Reading) *float64 { return &r.SignalLow }, notNegative, plain)
	number("signal_high", func(r *trace.Reading) *float64 { return &r.SignalHigh }, notNegative, plain)
	number("lift", func(r *trace.Reading) *float64 { return &r.RaiseM }, notNegative, lengths("m", "ft", "in"))
	for _, unit := range []string{"m", "ft", "in"} {
		c := all["lift_"+unit]
		c.name = formerLift + "_" + unit
		add(c)
	}
	number("null_offset", func(r *trace.Reading) *float64 { return &r.NullOffsetM }, anyNumber, lengths("m", "ft", "in"))
	number("freq", func(r *trace.Reading) *float64 { return &r.FreqHz }, aboveZero, map[string]float64{"hz": 1, "khz": 1000})
	add(column{name: "signal_db", field: "signal", number: true, set: setDecibels})
	for name, at := range map[string]func(*trace.Reading) *string{
		"line":  func(r *trace.Reading) *string { return &r.Line },
		"point": func(r *trace.Reading) *string { return &r.Point },
		"note":  func(r *trace.Reading) *string { return &r.Note },
	} {
		add(column{name: name, field: name, text: at})
	}
	for name, set := range map[string]func(*trace.Reading, string) error{
		"time": setTime, "fix": setFix, "phase": setPhase, "hookup": setHookup, "exposed": setExposed,
	} {
		add(column{name: name, field: name, set: set})
	}
	return all
}()

// formerLift is what a lift was called before; tables that say so are still read.
const formerLift = "raise"

// unitNames lists the names of a field that lacks its unit, as in "depth".
func unitNames(field string) []string {
	if field == formerLift {
		field = "lift"
	}
	var names []string
	for _, n := range columnNames {
		if columns[n].field == field && strings.HasPrefix(n, field) {
			names = append(names, n)
		}
	}
	return names
}

// columnNames is every name of a readings table, sorted.
var columnNames = func() []string {
	names := make([]string, 0, len(columns))
	for n := range columns {
		names = append(names, n)
	}
	sort.Strings(names)
	return names
}()

// ColumnNames lists every name that a readings table may use, sorted.
func ColumnNames() []string { return columnNames }

// domain is which numbers a field can have.
type domain int

const (
	anyNumber domain = iota
	aboveZero
	notNegative
)

var (
	errNotNumber = errors.New("this is not a number")
	errComma     = errors.New("this is not a number: a decimal comma needs semicolons or tabs between the columns")
	errAboveZero = errors.New("this must be more than zero")
	errNegative  = errors.New("this must not be less than zero")
	errBeyond    = errors.New("no instrument has such a number")
)

// mostNumber is more than any instrument's number in any unit that is read here.
const mostNumber = 1e12

// put reads a number of the domain into a field, times factor.
func (d domain) put(to *float64, text string, factor float64) error {
	v, err := parseNumber(text)
	if v *= factor; err == nil && math.IsInf(v, 0) {
		err = errNotNumber
	}
	switch {
	case err != nil:
		return err
	case math.Abs(v) > mostNumber:
		return errBeyond
	case d == aboveZero && v <= 0:
		return errAboveZero
	case d == notNegative && v < 0:
		return errNegative
	}
	*to = v
	return nil
}

// parseNumber reads a plain decimal number: no words such as NaN, no
// hexadecimal, no digit groups.
func parseNumber(text string) (float64, error) {
	for i := 0; i < len(text); i++ {
		c := text[i]
		if c >= '0' && c <= '9' || c == '.' || c == '-' || c == '+' || c == 'e' || c == 'E' {
			continue
		}
		if c == ',' && isDigits(strings.Replace(text, ",", "", 1)) {
			return 0, errComma
		}
		return 0, errNotNumber
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, errNotNumber
	}
	return v, nil
}

func isDigits(text string) bool {
	_, err := strconv.ParseUint(strings.TrimLeft(text, "+-"), 10, 64)
	return err == nil
}

// setDecibels turns a field strength's level into a ratio: 20 dB are a factor
// of ten (IEC 60027-3).
func setDecibels(r *trace.Reading, text string) error {
	level := trace.Unknown
	if err := anyNumber.put(&level, text, 1); err != nil {
		return err
	}
	ratio := math.Pow(10, level/20)
	if !(ratio <= mostNumber) {
		return errBeyond
	}
	r.Signal = ratio
	return nil
}

func setTime(r *trace.Reading, text string) error {
	text = strings.ToUpper(text)
	if len(text) > 10 && text[10] == ' ' {
		text = text[:10] + "T" + text[11:]
	}
	// Go knows no leap second, which RFC 3339 (5.6) allows: it is the first of
	// the next minute here.
	leap := time.Duration(0)
	if len(text) > 19 && text[16:19] == ":60" {
		text, leap = text[:17]+"59"+text[19:], time.Second
	}
	t, err := time.Parse(time.RFC3339Nano, text)
	if err != nil {
		if _, err := time.Parse("2006-01-02T15:04:05", text); err == nil {
			return fmt.Errorf("the time has no zone: write Z or an offset such as -05:00 behind it")
		}
		return fmt.Errorf("this is not a time as in RFC 3339, such as 2026-05-12T09:30:00Z")
	}
	r.Time = t.Add(leap) // in its own zone: the day of the locate is the locator's
	return nil
}

func setFix(r *trace.Reading, text string) error {
	v, err := strconv.Atoi(text)
	if err != nil || v < 0 || v > 8 {
		return fmt.Errorf("this is not a GNSS quality, a whole number from 0 to 8")
	}
	r.Fix = trace.Fix(v)
	return nil
}

func setPhase(r *trace.Reading, text string) error {
	switch strings.ToLower(text) {
	case "with":
		r.Phase = trace.PhaseWith
	case "against":
		r.Phase = trace.PhaseAgainst
	default:
		return fmt.Errorf("this is neither 'with' nor 'against'")
	}
	return nil
}

func setHookup(r *trace.Reading, text string) error {
	for _, h := range []trace.Hookup{trace.HookupDirect, trace.HookupClamp, trace.HookupInduction, trace.HookupPassive} {
		if strings.EqualFold(text, string(h)) {
			r.Hookup = h
			return nil
		}
	}
	return fmt.Errorf("this is not one of direct, clamp, induction, passive")
}

func setExposed(r *trace.Reading, text string) error {
	switch strings.ToLower(text) {
	case "yes", "y", "true", "1":
		r.Exposed = true
	case "no", "n", "false", "0":
		r.Exposed = false
	default:
		return fmt.Errorf("this is neither 'yes' nor 'no'")
	}
	return nil
}
