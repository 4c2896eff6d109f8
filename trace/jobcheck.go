package trace

import (
	"errors"
	"fmt"
	"math"
	"net/url"
	"slices"
	"time"

	"loamline.example/geo"
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
	maxHalfWidthM = 30.0 // no law's tolerance zone is nearly as wide
	maxDiameterM  = 10.0
	maxAntennaM   = 5.0
	maxClockS     = 50 * 365.25 * 86400 // a receiver that starts at 1980 or 2000
)

// Check reports the first setting that cannot be used, as a Problem whose field
// is its key in the job file.
func (j Job) Check() error {
	bad := func(key, format string, args ...any) error {
		return &Problem{Field: key, Cause: fmt.Sprintf(format, args...)}
	}
	switch {
	case j.Units != geo.Metric && j.Units != geo.US:
		return bad("units", "%q is no system of units: use \"metric\" or \"us\"", j.Units)
	case !slices.Contains([]string{"", English, Spanish, EnglishAndSpanish}, j.Language):
		return bad("language", "%q is no language of the map: use \"en\", \"es\" or \"en+es\"", j.Language)
	case j.Tolerance.MeasuredFrom != FromEdge && j.Tolerance.MeasuredFrom != FromCenterline:
		return bad("tolerance.measured_from", "%q is not known: use \"edge\" or \"centerline\"", j.Tolerance.MeasuredFrom)
	case !(j.Tolerance.HalfWidthM > 0):
		return bad("tolerance.half_width", "it must be more than nothing, such as \"18 in\"")
	case j.Tolerance.HalfWidthM < minHalfWidthM:
		return bad("tolerance.half_width", "%.4g m is narrower than any tolerance zone: check the unit", j.Tolerance.HalfWidthM)
	case j.Tolerance.HalfWidthM > maxHalfWidthM:
		return bad("tolerance.half_width", "%.4g m is wider than any tolerance zone: check the unit", j.Tolerance.HalfWidthM)
	case Known(j.AntennaGap) && !(j.AntennaGap > 0 && j.AntennaGap <= maxAntennaM):
		return bad("antenna_gap_m", "%g m is no distance of two antennas in one receiver, such as 0.40", j.AntennaGap)
	case j.Epoch != 0 && !(j.Epoch >= 1980 && j.Epoch <= 2100):
		return bad("epoch", "%g is no decimal year between 1980 and 2100, such as 2026.36", j.Epoch)
	case !(math.Abs(j.GNSSOffsetS) <= maxClockS):
		return bad("gnss_offset_s", "%g is no number of seconds that two clocks can be apart", j.GNSSOffsetS)
	}
	for _, d := range []struct{ key, value string }{{"job_id", j.ID}, {"ticket", j.Ticket}, {"locator", j.Locator}, {"area", j.Area},
		{"vertical_datum", j.VerticalDatum}, {"tolerance.rule", j.Tolerance.Rule}} {
		if len(d.value) > MaxNoteBytes {
			return bad(d.key, "a text of %d bytes, where %d are the most that a map can carry", len(d.value), MaxNoteBytes)
		}
	}
	for _, d := range []struct{ key, value string }{{"date", j.Date}, {"valid_until", j.ValidUntil}} {
		if _, err := time.Parse(time.DateOnly, d.value); d.value != "" && err != nil {
			return bad(d.key, "%q is not a day: write 2026-05-12", d.value)
		}
	}
	if !slices.Contains([]string{"", SheetsCrew, SheetsFull, SheetsBoth}, j.Sheets) {
		return bad("output.sheets", "%q is no choice of sheets: use \"crew\", \"full\" or \"both\"", j.Sheets)
	}
	if err := checkPageURL(j.PageURL); err != nil {
		return &Problem{Field: "output.page_url", Cause: err.Error(), Err: err}
	}
	if j.Date != "" && j.ValidUntil != "" && j.ValidUntil < j.Date {
		return bad("valid_until", "%s is before the date of the locate, %s", j.ValidUntil, j.Date)
	}
	if key, err := j.Underlay.Check(); err != nil {
		return &Problem{Field: "underlay." + key, Cause: err.Error(), Err: err}
	}
	return j.checkFrame()
}

// checkFrame looks up the reference system and the datum.
func (j Job) checkFrame() error {
	wrap := func(key string, err error) error {
		return &Problem{Field: key, Cause: err.Error(), Err: err}
	}
	if _, err := geo.LookupCRS(j.CRS); err != nil {
		return wrap("crs", err)
	}
	if j.OutputCRS != "" {
		c, err := geo.LookupCRS(j.OutputCRS)
		if err == nil {
			err = c.Writable()
		}
		if err != nil {
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

// Check reports the first of a line's settings that cannot be used, and its key
// in the job file.
func (l LineSetup) Check() (key string, err error) {
	switch {
	case len(l.Name) > MaxNameBytes:
		return "name", fmt.Errorf("a name of %d bytes, where %d are the most that a map can carry", len(l.Name), MaxNameBytes)
	case len(l.Material) > MaxNameBytes:
		return "material", fmt.Errorf("a text of %d bytes, where %d are the most that a map can carry", len(l.Material), MaxNameBytes)
	case Known(l.DiameterM) && l.DiameterM > maxDiameterM:
		return "diameter", fmt.Errorf("%.4g m is no diameter of a line: check the unit", l.DiameterM)
	case Known(l.FreqHz) && !(l.FreqHz > 0):
		return "freq_hz", errors.New("a frequency is more than zero")
	case Known(l.PowerW) && !(l.PowerW > 0):
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
		return fmt.Errorf("%q is no address of a page: write it whole, as in \"https://maps.example/t-2041.html\"", address)
	}
	if len(address) > maxURLBytes {
		return fmt.Errorf("an address of %d bytes, where %d are the most that a printed code can carry", len(address), maxURLBytes)
	}
	return nil
}
