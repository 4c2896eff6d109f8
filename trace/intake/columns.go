package intake

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
	"time"
	"unicode"

	"loamline.example/trace"
)

// column is one name that a readings table may use: a field in one of its units.
type column struct {
	name   string // with its unit, as in the header
	field  string // what it measures: two columns of one field contradict each other
	number bool
	vital  string                                    // what to do if it cannot be read, where the row is useless then
	set    func(r *trace.Reading, text string) error // must not keep text, which holds the whole row
	text   func(r *trace.Reading) *string            // instead of set where any text will do
}

// columns is every name of the readings table. Units become metres, hertz and
// milliamperes here and nowhere else.
var columns = func() map[string]column {
	all := map[string]column{}
	for _, f := range fields {
		for _, unit := range f.units() {
			c := column{name: f.In(unit), field: cmp.Or(f.measures, f.Name), number: f.plain || f.number != nil,
				vital: f.vital, set: f.parse, text: f.text}
			if f.number != nil {
				if f.domain == 0 {
					panic("intake: which numbers it can be is not stated: say the domain of " + f.Name + " in trace/intake/fields.go")
				}
				in, known := units[unit]
				if !known {
					panic("intake: nothing is stated of the unit of " + c.name + ": add it to units in trace/intake/fields.go")
				}
				c.set = func(r *trace.Reading, text string) error { return f.domain.put(f.number(r), text, in.inMetric) }
			}
			all[c.name] = c
		}
	}
	return all
}()

// unitNames lists the names of a field that lacks its unit, as in "depth".
func unitNames(field string) []string {
	if f, ok := fieldOf(field); ok && f.measures != "" {
		field = f.measures
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

// domain is which numbers a field can have; the zero value is none, so that a field
// says it.
type domain int

const (
	_ domain = iota
	anyNumber
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
	t, err := parseTime(text)
	if err != nil {
		if _, err := time.Parse("2006-01-02T15:04:05", text); err == nil {
			return fmt.Errorf("the time has no zone: write Z or an offset such as -05:00 behind it")
		}
		return fmt.Errorf("this is not a time as in RFC 3339, such as 2026-05-12T09:30:00Z")
	}
	r.Time = t.Add(leap) // in its own zone: the day of the locate is the locator's
	return nil
}

// offsetForms are the zones of ISO 8601 that RFC 3339 leaves out, and that mean the same.
var offsetForms = []string{time.RFC3339Nano, "2006-01-02T15:04:05Z0700", "2006-01-02T15:04:05Z07"}

// parseTime reads a time in capitals with its zone, be it written UTC or behind a space.
func parseTime(text string) (t time.Time, err error) {
	for _, utc := range []string{"UTC", "GMT"} {
		if rest, ok := strings.CutSuffix(text, utc); ok {
			text = strings.TrimRight(rest, " ") + "Z"
		}
	}
	if i := strings.IndexByte(text, ' '); i > 0 && i+1 < len(text) && strings.IndexByte("+-Z", text[i+1]) >= 0 {
		text = text[:i] + text[i+1:]
	}
	for _, form := range offsetForms {
		if t, err = time.Parse(form, text); err == nil {
			return t, nil
		}
	}
	return t, err
}

func timeText(r *trace.Reading) string {
	if r.Time.IsZero() {
		return ""
	}
	return r.Time.Format(time.RFC3339Nano)
}

// fixWords are the qualities that have one meaning in every export. "Fixed", "Fix" and
// "RTK" alone are none: to some programs any position is a fix, and taken for centimetres
// it would make a map sure that is not.
var fixWords = map[string]int{
	"autonomous": 1, "dgps": 2, "dgnss": 2, "differential": 2, "sbas": 2,
	"rtkfixed": 4, "rtkfix": 4, "fixedrtk": 4, "rtkfloat": 5, "floatrtk": 5, "float": 5,
}

func notLetter(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }

func setFix(r *trace.Reading, text string) error {
	v, err := strconv.Atoi(text)
	if whole, point := strings.CutSuffix(strings.TrimRight(text, "0"), "."); err != nil && point {
		v, err = strconv.Atoi(whole) // a spreadsheet's 4.0
	}
	if word, known := fixWords[strings.Join(strings.FieldsFunc(strings.ToLower(text), notLetter), "")]; known {
		v, err = word, nil
	}
	if err != nil || v < 0 || v > 8 {
		return fmt.Errorf("this is not a GNSS quality, a whole number from 0 to 8")
	}
	r.Fix = trace.Fix(v)
	return nil
}

func fixText(r *trace.Reading) string {
	if r.Fix == trace.FixUnknown {
		return ""
	}
	return strconv.Itoa(int(r.Fix))
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

func phaseText(r *trace.Reading) string {
	switch r.Phase {
	case trace.PhaseWith:
		return "with"
	case trace.PhaseAgainst:
		return "against"
	}
	return ""
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

func exposedText(r *trace.Reading) string {
	if r.Exposed {
		return "yes"
	}
	return ""
}
