package crosscheck

import (
	"math"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/setting"
)

// check is what is found of readings at a place that were taken at a time.
func check(t *testing.T, job trace.Job, at geo.LonLat, taken string, change func(r *trace.Reading)) Found {
	t.Helper()
	src := trace.Source{Name: "job", Inputs: []trace.Input{{Name: "t.csv"}}}
	for i := range 12 {
		r := trace.Reading{Row: int32(i + 2), Line: "W-1", FreqHz: trace.Unknown, Geographic: at}
		if taken != "" {
			when, err := time.Parse(time.RFC3339, taken)
			if err != nil {
				t.Fatal(err)
			}
			r.Time = when
		}
		if change != nil {
			change(&r)
		}
		src.Readings = append(src.Readings, r)
	}
	src.Job = job
	frame, err := setting.Frame(setting.DatedBy(job, src.Readings))
	if err != nil {
		t.Fatal(err)
	}
	return Job(src, frame, at)
}

var (
	sydney      = geo.LonLat{LonDeg: 151.21, LatDeg: -33.87}
	minneapolis = geo.LonLat{LonDeg: -93.265, LatDeg: 44.9778}
)

func of(datum, date string, epoch float64) trace.Job {
	j := trace.DefaultJob()
	j.Datum, j.Date, j.Epoch = datum, date, epoch
	return j
}

// An epoch that is not when the readings were taken is told where it moves the map, with
// how far, and so is a clock that is 1024 weeks off. Australia moves some 0.07 m a year
// (Geoscience Australia, GDA2020 technical manual, from memory).
func TestEpochAgainstTheReadings(t *testing.T) {
	for _, c := range []struct {
		name, datum, date, taken string
		epoch                    float64
		at                       geo.LonLat
		offM                     float64 // 0: nothing is told
	}{
		{"the reference epoch of GDA94", "GDA94", "", "2024-05-14T07:31:00Z", 1994, sydney, 2.0},
		{"the same, with a date alone", "GDA94", "2024-05-14", "", 1994, sydney, 2.0},
		{"the same, with neither", "GDA94", "", "", 1994, sydney, 2.1},
		{"the reference epoch of GDA2020", "GDA2020", "", "2024-05-14T07:31:00Z", 2020, sydney, 0.29},
		{"the day of the readings", "GDA94", "", "2024-05-14T07:31:00Z", 2024.37, sydney, 0},
		{"no epoch", "GDA94", "", "2024-05-14T07:31:00Z", 0, sydney, 0},
		{"an epoch of the year, nothing else", "GDA94", "", "", 2024.37, sydney, 0},
		{"a frame that stands still", "WGS84", "", "2024-05-14T07:31:00Z", 1994, sydney, 0},
		{"a week number that began anew", "NAD83(2011)", "", "2004-09-28T07:31:00Z", 0, minneapolis, 0.36},
		{"the future", "NAD83(2011)", "", "2043-12-29T07:31:00Z", 0, minneapolis, 0.36},
		{"a clock that is right, years after this was written", "NAD83(2011)", "", "2035-05-14T07:31:00Z", 0, minneapolis, 0},
		{"a clock that is right", "NAD83(2011)", "", "2024-05-14T07:31:00Z", 0, minneapolis, 0},
		{"a date beside a wrong clock", "NAD83(2011)", "2024-05-14", "2004-09-28T07:31:00Z", 0, minneapolis, 0},
	} {
		got := check(t, of(c.datum, c.date, c.epoch), c.at, c.taken, nil)
		if told := len(got.Problems) > 0; told != (c.offM > 0) || math.Abs(got.OffM-c.offM) > 0.15*c.offM+0.01 {
			t.Errorf("%s: %.2f m off, %v", c.name, got.OffM, got.Problems)
		}
	}
}

// What moves the map by 5 cm or more is told (judgement: as well as a frame is converted).
func TestEpochIsToldFromFiveCentimetres(t *testing.T) {
	const taken, year = "2024-05-14T07:31:00Z", 2024.366
	frame, err := geo.NewFrame("EPSG:4326", "GDA94", year)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range []float64{0.047, 0.053} {
		back := 0.0
		for between(frame, sydney, year, year-back) < m {
			back += 0.01
		}
		if got := check(t, of("GDA94", "", year-back), sydney, taken, nil); (len(got.Problems) > 0) != (m > 0.05) {
			t.Errorf("%.3f m: %v", m, got.Problems)
		}
	}
}

// A clock on the time of another part of the world tells that the longitude's sign was
// lost; one of a wide zone, of summer, in UTC or about the date line tells nothing.
func TestZoneAgainstTheLongitude(t *testing.T) {
	for _, c := range []struct {
		taken string
		lon   float64
		told  bool
	}{
		{"2024-05-14T02:31:00-05:00", 93.265, true}, {"2024-05-14T02:31:00-05:00", -93.265, false}, {"2024-05-14T07:31:00Z", 93.265, false},
		{"2024-05-14T02:31:00+08:00", 73.6, false},   // the west of China
		{"2024-05-14T02:31:00+14:00", -157.4, false}, // Kiribati
		{"2024-05-14T02:31:00+02:00", -9.2, false},   // the west of Spain in summer
		{"2024-05-14T02:31:00-03:00", -72.3, false},  // the south of Argentina
	} {
		got := check(t, trace.DefaultJob(), geo.LonLat{LonDeg: c.lon, LatDeg: 30}, c.taken, nil)
		if told := len(got.Problems) == 1; told != c.told {
			t.Errorf("%s at %g: %v", c.taken, c.lon, got.Problems)
		} else if told && !got.Problems[0].Check.(remark.ZoneFar).SignMayBeLost {
			t.Errorf("%s at %g: no word of the sign", c.taken, c.lon)
		}
	}
}

// Hookup and frequency of the job file are held against the rows, and frequencies against
// what anybody traces at.
func TestSetupAgainstTheRows(t *testing.T) {
	for _, c := range []struct {
		name             string
		stated, read     trace.Hookup
		statedHz, readHz float64
		told             int
	}{
		{"the same", trace.HookupDirect, trace.HookupDirect, 8192, 8192, 0},
		{"named roundly", trace.HookupDirect, trace.HookupDirect, 33000, 32768, 0},
		{"another hookup", trace.HookupInduction, trace.HookupDirect, 8192, 8192, 1},
		{"another frequency", trace.HookupDirect, trace.HookupDirect, 33000, 8192, 1},
		{"no rows say", trace.HookupDirect, "", 8192, trace.Unknown, 0},
		{"no setting says", "", trace.HookupDirect, trace.Unknown, 512, 0},
		{"kilohertz as hertz", "", trace.HookupDirect, trace.Unknown, 8.192, 1},
		{"hertz as kilohertz", "", trace.HookupDirect, trace.Unknown, 8192000, 1},
	} {
		j := trace.DefaultJob()
		j.Lines = []trace.LineSetup{{Name: "W-1", DiameterM: trace.Unknown, PowerW: trace.Unknown, Hookup: c.stated, FreqHz: c.statedHz}}
		got := check(t, j, minneapolis, "", func(r *trace.Reading) { r.Hookup, r.FreqHz = c.read, c.readHz })
		if len(got.Problems) != c.told {
			t.Errorf("%s: %v", c.name, got.Problems)
		}
	}
}

// Web Mercator is told wherever it is stated, for no figure lies outside it.
func TestWebMercatorIsTold(t *testing.T) {
	j := trace.DefaultJob()
	j.CRS = "EPSG:3857"
	if got := check(t, j, minneapolis, "", nil); len(got.Problems) != 1 || got.Problems[0].Check != (remark.WebMercator{}) {
		t.Error(got.Problems)
	}
}

// A rule whose text names a wider zone than is drawn is told; one that names the same, or a
// number that is no width, is not.
func TestRuleAgainstTheZone(t *testing.T) {
	const in = geo.InchM
	for _, c := range []struct {
		rule  string
		halfM float64
		from  string
		told  bool
	}{
		{"", 18 * in, trace.FromEdge, false},
		{"common best practice, 18 in from the outer edge; local law takes precedence", 18 * in, trace.FromEdge, false},
		{"State law: 24 in from the outer edge", 18 * in, trace.FromEdge, true},
		{"24 inches each side", 18 * in, trace.FromEdge, true},
		{`24" from the edge`, 18 * in, trace.FromEdge, true},
		{"2-foot rule", 18 * in, trace.FromEdge, true},
		{"600 mm beiderseits", 18 * in, trace.FromEdge, true},
		{"600 mm beiderseits", 0.6, trace.FromEdge, false},
		{"0,5 m", 18 * in, trace.FromEdge, true},
		{"1.5 ft from the outer edge", 18 * in, trace.FromEdge, false},
		{"1 1/2 ft from the outer edge", 18 * in, trace.FromEdge, false},
		{"18 in from the outer edge", 0.18, trace.FromEdge, true},
		{"18 in from the outer edge", 18 * in, trace.FromCenterline, true},
		{"18 in from the outer edge, and half the pipe", 21 * in, trace.FromCenterline, false},
		{"18 in from the centerline", 18 * in, trace.FromCenterline, false},
		{"24 in for gas, 18 in for all others", 18 * in, trace.FromEdge, false},
		{"18 to 24 in", 18 * in, trace.FromEdge, false},
		{"a zone 36 in wide", 18 * in, trace.FromEdge, false},
		{"a zone 48 in wide", 18 * in, trace.FromEdge, true},
		{"18 in", 24 * in, trace.FromEdge, false},
		{"Section 24 in the state code", 18 * in, trace.FromEdge, false},
		{"§ 4216.4 in code", 18 * in, trace.FromEdge, false},
		{"as amended in 2024 in this state", 18 * in, trace.FromEdge, false},
		{"rule 36 m", 18 * in, trace.FromEdge, false},
		{"within 3 days, 811", 18 * in, trace.FromEdge, false},
	} {
		job := trace.DefaultJob()
		job.Tolerance = trace.Tolerance{HalfWidthM: c.halfM, MeasuredFrom: c.from, Rule: c.rule}
		var f Found
		f.rule(trace.Source{Job: job})
		if (len(f.Problems) == 1) != c.told || len(f.Problems) > 1 {
			t.Errorf("%q, %.3f m from the %s: %v", c.rule, c.halfM, c.from, f.Problems)
		}
	}
}

// Rows that were traced and say that the line was exposed are told where they are a good part
// of a line; exposures among them, and a trench that was measured, are not.
func TestExposedAgainstWhatWasHeard(t *testing.T) {
	for _, c := range []struct {
		name           string
		exposed, heard func(k int) bool
		told           bool
	}{
		{"a column filled with yes", func(int) bool { return true }, func(int) bool { return true }, true},
		{"an open trench", func(int) bool { return true }, func(int) bool { return false }, false},
		{"three places", func(k int) bool { return k < 3 }, func(int) bool { return true }, false},
		{"none", func(int) bool { return false }, func(int) bool { return true }, false},
	} {
		k := 0
		f := check(t, of("WGS84", "", 0), minneapolis, "", func(r *trace.Reading) {
			unread := trace.NewReading()
			unread.Row, unread.Line, unread.Geographic = r.Row, r.Line, r.Geographic
			*r = unread
			if r.Exposed = c.exposed(k); c.heard(k) {
				r.CurrentMA = 90
			}
			k++
		})
		told := false
		for _, p := range f.Problems {
			_, ok := p.Check.(remark.ExposedAndHeard)
			told = told || ok
		}
		if told != c.told {
			t.Errorf("%s: %v", c.name, f.Problems)
		}
	}
}
