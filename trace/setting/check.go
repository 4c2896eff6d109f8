package setting

import (
	"errors"
	"fmt"
	"math"
	"net/url"
	"slices"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// How many bytes a name and a remark may have: a sheet, a label and a list have to
// carry them.
const (
	MaxNameBytes = 200
	MaxNoteBytes = 2000
)

// Limits past which a setting is a slip of the hand.
const (
	minHalfWidthM = 0.05 // nor is any as narrow
	maxHalfWidthM = 15.5 // 50 ft and a little: no law's tolerance zone is as wide
	maxDiameterM  = 5.0  // the widest pipes that are laid in open ground (common practice, no source)
	// No receiver has its antennas closer together or farther apart (common practice, no
	// source; as trace/receiver has it): 1.31 is 0.40 m in feet, and depths from the
	// antennas go with it.
	minAntennaM, maxAntennaM = 0.2, 1.0
	maxClockS                = 50 * 365.25 * 86400 // a receiver that starts at 1980 or 2000
)

// bad is that the setting of a key cannot be used.
func bad(key, format string, args ...any) error {
	return &trace.Problem{Field: key, Cause: fmt.Sprintf(format, args...)}
}

// Check reports the first setting that cannot be used, as a trace.Problem whose field
// is its key in the job file.
func Check(j trace.Job) error {
	switch {
	case j.Units != geo.Metric && j.Units != geo.US:
		return bad("units", "%q is not a system of units: use \"metric\" or \"us\"", j.Units)
	case !slices.Contains([]string{"", trace.English, trace.Spanish, trace.EnglishAndSpanish}, j.Language):
		return bad("language", "%q is not a language of the map: use \"en\", \"es\" or \"en+es\"", j.Language)
	case j.Tolerance.MeasuredFrom != trace.FromEdge && j.Tolerance.MeasuredFrom != trace.FromCenterline:
		return bad("tolerance.measured_from", "%q is not known: use \"edge\" or \"centerline\"", j.Tolerance.MeasuredFrom)
	case !(j.Tolerance.HalfWidthM > 0):
		return bad("tolerance.half_width", "it must be more than nothing, such as \"18 in\"")
	case j.Tolerance.HalfWidthM < minHalfWidthM:
		return bad("tolerance.half_width", "%.4g m is narrower than any tolerance zone: check the unit", j.Tolerance.HalfWidthM)
	case j.Tolerance.HalfWidthM > maxHalfWidthM:
		return bad("tolerance.half_width", "%.4g m is wider than any tolerance zone, and %.4g m is the most that is taken: check the unit, such as in for m", j.Tolerance.HalfWidthM, maxHalfWidthM)
	case trace.Known(j.AntennaGap) && !(j.AntennaGap >= minAntennaM && j.AntennaGap <= maxAntennaM):
		return bad("antenna_gap_m", "%g m is not a distance between two antennas in one receiver, such as 0.40%s", j.AntennaGap, antennaUnit(j.AntennaGap))
	case j.Epoch != 0 && !(j.Epoch >= 1980 && j.Epoch <= 2100):
		return bad("epoch", "%g is not a decimal year between 1980 and 2100, such as 2026.36", j.Epoch)
	case !(math.Abs(j.GNSSOffsetS) <= maxClockS):
		return bad("gnss_offset_s", "%g is not a number of seconds that two clocks can be apart", j.GNSSOffsetS)
	}
	for _, d := range []struct{ key, value string }{{"job_id", j.ID}, {"ticket", j.Ticket}, {"locator", j.Locator}, {"area", j.Area},
		{"vertical_datum", j.VerticalDatum}, {"tolerance.rule", j.Tolerance.Rule}} {
		if len(d.value) > MaxNoteBytes {
			return bad(d.key, "a text of %d bytes, where %d are the most that a map can carry", len(d.value), MaxNoteBytes)
		}
	}
	if err := checkContact(j.Contact); err != nil {
		return err
	}
	for _, d := range []struct{ key, value string }{{"date", j.Date}, {"valid_until", j.ValidUntil}} {
		if _, err := time.Parse(time.DateOnly, d.value); d.value != "" && err != nil {
			return bad(d.key, "%q is not a day: write an existing day as YYYY-MM-DD, such as 2026-05-12", d.value)
		}
	}
	if !slices.Contains([]string{"", trace.SheetsCrew, trace.SheetsFull, trace.SheetsBoth}, j.Sheets) {
		return bad("output.sheets", "%q is not a choice of sheets: use \"crew\", \"full\" or \"both\"", j.Sheets)
	}
	if err := checkPageURL(j.PageURL); err != nil {
		return &trace.Problem{Field: "output.page_url", Cause: err.Error(), Err: err}
	}
	if j.Date != "" && j.ValidUntil != "" && j.ValidUntil < j.Date {
		return bad("valid_until", "%s is before the date of the locate, %s", j.ValidUntil, j.Date)
	}
	if key, err := checkUnderlay(j.Underlay); err != nil {
		return &trace.Problem{Field: "underlay." + key, Cause: err.Error(), Err: err}
	}
	return checkFrame(j)
}

// checkFrame looks up the reference system and the datum.
func checkFrame(j trace.Job) error {
	wrap := func(key string, err error) error {
		return &trace.Problem{Field: key, Cause: err.Error(), Err: err}
	}
	if _, err := geo.LookupCRS(j.CRS); err != nil {
		return wrap("crs", err)
	}
	if j.OutputCRS != "" {
		if _, err := geo.LookupOutputCRS(j.OutputCRS); err != nil {
			return wrap("output.crs", err)
		}
	}
	if j.Datum == "" {
		return nil
	}
	if _, err := geo.LookupDatum(j.Datum); err != nil {
		return wrap("datum", err)
	}
	return nil
}

// CheckLine reports the first of a line's settings that cannot be used, and its key
// in the job file.
func CheckLine(l trace.LineSetup) (key string, err error) {
	switch {
	case len(l.Name) > MaxNameBytes:
		return "name", fmt.Errorf("a name of %d bytes, where %d are the most that a map can carry", len(l.Name), MaxNameBytes)
	case len(l.Material) > MaxNameBytes:
		return "material", fmt.Errorf("a text of %d bytes, where %d are the most that a map can carry", len(l.Material), MaxNameBytes)
	case trace.Known(l.DiameterM) && l.DiameterM > maxDiameterM:
		return "diameter", fmt.Errorf("%.4g m is not the diameter of any line, and %.4g m is the most that is taken: check the unit, such as in for m", l.DiameterM, maxDiameterM)
	case trace.Known(l.FreqHz) && !(l.FreqHz > 0):
		return "freq_hz", errors.New("a frequency is more than zero")
	case trace.Known(l.PowerW) && !(l.PowerW > 0):
		return "power_w", errors.New("a transmitter's power is more than zero")
	}
	return "", nil
}

// maxURLBytes is what a printed code still holds in squares that a phone reads
// from the hand.
const maxURLBytes = 200

// checkPageURL reports an address that no phone could open.
func checkPageURL(address string) error {
	if address == "" {
		return nil
	}
	u, err := url.Parse(address)
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" {
		return fmt.Errorf("%q is not the address of a page: write it whole, as in \"https://maps.example/t-2041.html\"", address)
	}
	if len(address) > maxURLBytes {
		return fmt.Errorf("an address of %d bytes, where %d are the most that a printed code can carry", len(address), maxURLBytes)
	}
	return nil
}

// antennaUnit says in which other unit a distance of the antennas is likely to be.
func antennaUnit(gap float64) string {
	for _, u := range []struct {
		inM   float64
		words string
	}{{geo.FootM, "feet"}, {geo.InchM, "inches"}, {0.01, "centimetres"}, {0.001, "millimetres"}} {
		if m := gap * u.inM; m >= minAntennaM && m <= maxAntennaM {
			return fmt.Sprintf("; %g %s would be %.2f", gap, u.words, m)
		}
	}
	return ""
}
