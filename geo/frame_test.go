package geo

import (
	"math"
	"strings"
	"testing"
)

func TestFrameWords(t *testing.T) {
	at := LonLat{-74.0060, 40.7128}
	for _, c := range []struct {
		crs, datum string
		epoch      float64
		stated     bool
		want       []string
	}{
		{"", "", 0, false, []string{"not stated", "NAD83(2011)", "1.26 m off"}},
		{"EPSG:4326", "WGS84", 2026.36, true, []string{"Positions are in WGS84", "not moved"}},
		{"EPSG:4326", "NAD83(2011)", 2026.36, true, []string{"Positions are in NAD83(2011)", "1.26 m", "2026.36", "EPSG:8970 reversed"}},
		{"EPSG:4326", "NAD83(2011)", 0, true, []string{"2010.00 (assumed"}},
		{"EPSG:2263", "", 2026.36, true, []string{"realisation isn't stated", "EPSG:8970"}},
		{"EPSG:2263", "NAD83(2011)", 2026.36, true, []string{"Positions are in NAD83(2011)"}},
		{"EPSG:2263", "WGS84", 2026.36, true, []string{"not moved", "EPSG:2263", "is defined on NAD83"}},
		{"EPSG:27700", "ETRS89", 2026, true, []string{"OSGB36", "whatever the corrections were in", "OSTN15", "about 5 m"}},
		{"EPSG:3857", "", 0, false, []string{"not stated", "Web Mercator"}},
		{"EPSG:32618", "ITRF2020", 2026, true, []string{"ITRF2020", "EPSG:9991 reversed"}},
	} {
		f, err := NewFrame(c.crs, c.datum, c.epoch)
		if err != nil {
			t.Errorf("%s %s: %v", c.crs, c.datum, err)
			continue
		}
		words := f.Words(at).In(Metric)
		for _, w := range c.want {
			if !strings.Contains(words, w) {
				t.Errorf("%s %s: %q says nothing of %q", c.crs, c.datum, words, w)
			}
		}
		if f.Stated != c.stated {
			t.Errorf("%s %s: stated %v", c.crs, c.datum, f.Stated)
		}
	}
}

func TestFrameErrors(t *testing.T) {
	for _, c := range []struct {
		crs, datum string
		epoch      float64
		want       string
	}{
		{"EPSG:1", "", 0, "EPSG:1"},
		{"", "NAD27", 0, "NAD27"},
		{"EPSG:32631", "Amersfoort", 0, "ellipsoid"},
		{"", "WGS84", 26.4, "decimal year"},
		{"", "WGS84", math.NaN(), "decimal year"},
	} {
		if _, err := NewFrame(c.crs, c.datum, c.epoch); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: error %v", c, err)
		}
	}
}

// Eastings in feet, through the datum and back, to a tenth of a millimetre.
func TestFrameRoundTrip(t *testing.T) {
	f, err := NewFrame("EPSG:2263", "NAD83(2011)", 2026.36)
	if err != nil {
		t.Fatal(err)
	}
	const x, y = 987654.321, 201234.567
	p, err := f.Unproject(x*USSurveyFootM, y*USSurveyFootM)
	if err != nil {
		t.Fatal(err)
	}
	gx, gy, err := f.FromWGS84(p)
	if err != nil || math.Hypot(gx-x, gy-y)*USSurveyFootM > 1e-4 {
		t.Errorf("came back as %.5f, %.5f: %v", gx, gy, err)
	}
}

// What an unstated datum could mean, by continent.
func TestFrameDoubt(t *testing.T) {
	f, err := NewFrame("", "", 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		at       LonLat
		name     string
		min, max float64
	}{
		{LonLat{-74, 40.7}, "NAD83(2011)", 1.2, 1.3},
		{LonLat{-122.3, 47.6}, "NAD83(2011)", 1.5, 1.7},
		{LonLat{-157.86, 21.3}, "NAD83(PA11)", 1.5, 4},
		{LonLat{144.75, 13.48}, "NAD83(MA11)", 0.3, 3},
		{LonLat{13.4, 52.5}, "ETRS89", 0.7, 1.1},
		{LonLat{151.2, -33.9}, "GDA94", 1.7, 2.4},
		{LonLat{36.8, -1.3}, "", 1, 1},
	} {
		name, m := f.DoubtM(c.at)
		if name != c.name || m < c.min || m > c.max {
			t.Errorf("%v: %s %.2f m, want %s %.1f to %.1f", c.at, name, m, c.name, c.min, c.max)
		}
	}
	for _, r := range localFrames {
		mustDatum(t, r.datum)
	}
}

// What a known frame leaves open.
func TestFrameCoarse(t *testing.T) {
	for _, c := range []struct {
		crs, datum, name string
		offM             float64
	}{
		{"EPSG:27700", "", "OSGB36", 5},
		{"EPSG:31467", "", "DHDN", 3},
		{"EPSG:28992", "", "Amersfoort", 0.4},
		{"EPSG:31370", "", "BD72", 0.5},
		{"EPSG:9271", "", "MGI", 2},
		{"EPSG:21781", "", "CH1903", 2},
		{"EPSG:5514", "", "S-JTSK", 4},
		{"EPSG:2263", "", "NAD83", 1},
		{"EPSG:2263", "NAD83(2011)", "", 0},
		{"EPSG:2193", "", "NZGD2000", 1.5},
		{"EPSG:6677", "", "JGD2011", 1},
		{"EPSG:25832", "", "", 0},
		{"", "", "", 0}, // DoubtM speaks of it
	} {
		f, err := NewFrame(c.crs, c.datum, 2026)
		if err != nil {
			t.Error(err)
			continue
		}
		if m := f.CoarseM(); m != c.offM || c.name != "" && f.Datum.Name != c.name {
			t.Errorf("%s %s: %q %g, want %q %g", c.crs, c.datum, f.Datum.Name, m, c.name, c.offM)
		}
	}
}

// What came in goes out with the same figures, at whatever epoch.
func TestFrameIn(t *testing.T) {
	in, err := NewFrame("EPSG:4326", "NAD83(2011)", 2026.36)
	if err != nil {
		t.Fatal(err)
	}
	out, err := in.In("EPSG:6539") // NAD83(2011) / New York Long Island (ftUS)
	if err != nil {
		t.Fatal(err)
	}
	p := LonLat{-74.0060, 40.7128}
	e, n, err := mustCRS(t, "EPSG:6539").Project(p)
	if err != nil {
		t.Fatal(err)
	}
	x, y, err := out.FromWGS84(in.ToWGS84(p))
	if err != nil || math.Hypot(x*USSurveyFootM-e, y*USSurveyFootM-n) > 1e-4 {
		t.Errorf("%.4f, %.4f ft, want %.4f, %.4f (%v)", x, y, e/USSurveyFootM, n/USSurveyFootM, err)
	}
	if out, err = in.In("EPSG:32618"); err != nil || out.Datum.Name != "WGS84" || out.Epoch != 2026.36 {
		t.Errorf("%+v, %v", out, err)
	}
	if _, err = in.In("EPSG:1"); err == nil {
		t.Error("EPSG:1 was found")
	}
}

// Whoever reprojects WGS 84 by a null transformation is told how far off that lands:
// the shifts of the frames at each place are those of TestDatumOffsetsQuoted.
func TestOutputWordsTellTheReprojection(t *testing.T) {
	own := func(crs, datum string) Frame {
		f, err := NewFrame(crs, datum, 2026)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	at := LonLat{-74.0060, 40.7128}
	for _, c := range []struct {
		at      LonLat
		out, in Frame
		want    []string
	}{
		{at, Frame{}, own("EPSG:4326", "NAD83(2011)"), []string{"The files are in WGS 84", "NAD83(2011)", "1.26 m off", "time-dependent", "crs under [output]"}},
		{at, Frame{}, own("EPSG:4326", "WGS84"), []string{"1.26 m off"}},
		{LonLat{13.4, 52.5}, Frame{}, own("EPSG:4326", "ETRS89"), []string{"ETRS89", "0.94 m off"}},
		{at, own("EPSG:2263", "NAD83(2011)"), own("EPSG:4326", "NAD83(2011)"), []string{"are in EPSG:2263", "frame NAD83(2011)", "GeoJSON, KML, GPX and the page are WGS 84"}},
	} {
		got := c.out.OutputWords(c.at, c.in).In(Metric)
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("%q says nothing of %q", got, w)
			}
		}
	}
	if got := (Frame{}).OutputWords(LonLat{-30.5, 44.1}, own("EPSG:4326", "WGS84")).In(Metric); got != "" {
		t.Errorf("in the open ocean no frame is another: %q", got)
	}
}

// What tells how far a map lies off is worded in whoever's units, and rounded up.
func TestFrameWordsInEitherUnits(t *testing.T) {
	at := LonLat{-74.0060, 40.7128}
	f, err := NewFrame("EPSG:4326", "", 2026)
	if err != nil {
		t.Fatal(err)
	}
	_, offM := f.DoubtM(at)
	for _, u := range []Units{Metric, US} {
		want := "the whole map lies " + u.ShortUp(offM) + " off"
		if said := f.Words(at).In(u); !strings.Contains(said, want) {
			t.Errorf("%v: %q does not say %q", u, said, want)
		}
		if said := (Frame{}).OutputWords(at, f).In(u); u != Metric && strings.Contains(said, " m ") || !strings.Contains(said, "would then lie ") {
			t.Errorf("%v: %q", u, said)
		}
		anywhere := LonLat{139.65, 35.67} // no frame of the place is known
		if _, offM := f.DoubtM(anywhere); !strings.Contains(f.Words(anywhere).In(u), "may lie off by "+u.ShortUp(offM)+" or more") {
			t.Errorf("%v: %q", u, f.Words(anywhere).In(u))
		}
	}
}
