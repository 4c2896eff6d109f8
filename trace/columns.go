package trace

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
	"time"

	"loamline/geo"
)

// column is one name that a readings table may use.
type column struct {
	name  string // with its unit, as in the header
	field string // what it measures: two columns of one field contradict each other
	set   func(r *Reading, text string) error
}

// columns is every name of the readings table. Units become metres, hertz and
// milliamperes here and nowhere else.
var columns = func() map[string]column {
	all := map[string]column{}
	add := func(name, field string, set func(*Reading, string) error) { all[name] = column{name, field, set} }
	number := func(field string, at func(*Reading) *float64, units map[string]float64) {
		for suffix, factor := range units {
			name := field
			if suffix != "" {
				name += "_" + suffix
			}
			add(name, field, func(r *Reading, text string) error {
				v, err := parseNumber(text)
				if err == nil {
					*at(r) = v * factor
				}
				return err
			})
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
	number("lat", func(r *Reading) *float64 { return &r.Geographic.LatDeg }, plain)
	number("lon", func(r *Reading) *float64 { return &r.Geographic.LonDeg }, plain)
	number("east", func(r *Reading) *float64 { return &r.Projected[0] }, lengths("m", "ft", "usft"))
	number("north", func(r *Reading) *float64 { return &r.Projected[1] }, lengths("m", "ft", "usft"))
	number("elev", func(r *Reading) *float64 { return &r.ElevM }, lengths("m", "ft"))
	number("hdop", func(r *Reading) *float64 { return &r.HDOP }, plain)
	number("h_acc", func(r *Reading) *float64 { return &r.HAccM }, lengths("m", "ft", "cm"))
	number("depth", func(r *Reading) *float64 { return &r.DepthM }, lengths("m", "ft", "in", "cm"))
	number("current", func(r *Reading) *float64 { return &r.CurrentMA }, map[string]float64{"ma": 1})
	number("signal", func(r *Reading) *float64 { return &r.Signal }, plain)
	add("signal_db", "signal", func(r *Reading, text string) error {
		v, err := parseNumber(text)
		if err == nil {
			r.Signal = math.Pow(10, v/20)
		}
		return err
	})
	number("signal_low", func(r *Reading) *float64 { return &r.SignalLow }, plain)
	number("signal_high", func(r *Reading) *float64 { return &r.SignalHigh }, plain)
	number("raise", func(r *Reading) *float64 { return &r.RaiseM }, lengths("m", "ft", "in"))
	number("null_offset", func(r *Reading) *float64 { return &r.NullOffsetM }, lengths("m", "ft", "in"))
	number("freq", func(r *Reading) *float64 { return &r.FreqHz }, map[string]float64{"hz": 1, "khz": 1000})
	add("line", "line", func(r *Reading, text string) error { r.Line = text; return nil })
	add("point", "point", func(r *Reading, text string) error { r.Point = text; return nil })
	add("note", "note", func(r *Reading, text string) error { r.Note = text; return nil })
	add("time", "time", setTime)
	add("fix", "fix", setFix)
	add("phase", "phase", setPhase)
	add("hookup", "hookup", setHookup)
	add("exposed", "exposed", setExposed)
	return all
}()

// ColumnNames lists every name that a readings table may use, sorted.
func ColumnNames() []string {
	names := make([]string, 0, len(columns))
	for n := range columns {
		names = append(names, n)
	}
	sort.Strings(names)
	return names
}

// parseNumber reads a plain decimal number: no words such as NaN, no hexadecimal.
func parseNumber(text string) (float64, error) {
	for i := 0; i < len(text); i++ {
		if strings.IndexByte("+-.0123456789eE", text[i]) < 0 {
			return 0, fmt.Errorf("not a number")
		}
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, fmt.Errorf("not a number")
	}
	return v, nil
}

func setTime(r *Reading, text string) error {
	t, err := time.Parse(time.RFC3339Nano, strings.Replace(text, " ", "T", 1))
	if err != nil {
		return fmt.Errorf("not a time as in RFC 3339, such as 2026-05-12T09:30:00Z")
	}
	r.Time = t.UTC()
	return nil
}

func setFix(r *Reading, text string) error {
	v, err := strconv.Atoi(text)
	if err != nil || v < 0 || v > 8 {
		return fmt.Errorf("not a GNSS quality of 0 to 8")
	}
	r.Fix = Fix(v)
	return nil
}

func setPhase(r *Reading, text string) error {
	switch strings.ToLower(text) {
	case "with":
		r.Phase = PhaseWith
	case "against":
		r.Phase = PhaseAgainst
	default:
		return fmt.Errorf("neither 'with' nor 'against'")
	}
	return nil
}

func setHookup(r *Reading, text string) error {
	switch h := Hookup(strings.ToLower(text)); h {
	case HookupDirect, HookupClamp, HookupInduction, HookupPassive:
		r.Hookup = h
		return nil
	}
	return fmt.Errorf("not one of direct, clamp, induction, passive")
}

func setExposed(r *Reading, text string) error {
	switch strings.ToLower(text) {
	case "yes", "y", "true", "1":
		r.Exposed = true
	case "no", "n", "false", "0":
		r.Exposed = false
	default:
		return fmt.Errorf("neither 'yes' nor 'no'")
	}
	return nil
}
