package geo

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// published is a transformation as testdata/datum/parameters.json has it.
type published struct {
	Code       int     `json:"epsg_code"`
	Convention string  `json:"rotation_convention"`
	Epoch      float64 `json:"parameter_epoch"`
	Tx         float64 `json:"tx_m"`
	Ty         float64 `json:"ty_m"`
	Tz         float64 `json:"tz_m"`
	Rx         float64 `json:"rx_mas"`
	Ry         float64 `json:"ry_mas"`
	Rz         float64 `json:"rz_mas"`
	S          float64 `json:"scale_ppb"`
	DTx        float64 `json:"dtx_m_per_yr"`
	DTy        float64 `json:"dty_m_per_yr"`
	DTz        float64 `json:"dtz_m_per_yr"`
	DRx        float64 `json:"drx_mas_per_yr"`
	DRy        float64 `json:"dry_mas_per_yr"`
	DRz        float64 `json:"drz_mas_per_yr"`
	DS         float64 `json:"dscale_ppb_per_yr"`
}

func (p published) helmert() helmert {
	return helmert{
		p.Code, p.Convention == "coordinate_frame", p.Epoch,
		parameters{p.Tx, p.Ty, p.Tz, p.Rx, p.Ry, p.Rz, p.S},
		parameters{p.DTx, p.DTy, p.DTz, p.DRx, p.DRy, p.DRz, p.DS},
	}
}

func readPublished(t *testing.T) map[string]published {
	t.Helper()
	raw, err := os.ReadFile("../testdata/datum/parameters.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Transformations map[string]published }
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	return file.Transformations
}

func apart(a, b geocentric) float64 {
	return math.Hypot(math.Hypot(a.x-b.x, a.y-b.y), a.z-b.z)
}

// The parameters in the code are those of the EPSG dataset.
func TestHelmertParameters(t *testing.T) {
	all := readPublished(t)
	checked := map[int]bool{}
	for _, d := range datums {
		for _, s := range d.steps {
			p, ok := all["EPSG:"+strconv.Itoa(s.by.code)]
			if !ok {
				continue
			}
			if p.helmert() != s.by {
				t.Errorf("EPSG:%d is %+v, published %+v", s.by.code, s.by, p.helmert())
			}
			checked[s.by.code] = true
		}
	}
	if len(checked) != 8 {
		t.Errorf("%d transformations compared: %v", len(checked), checked)
	}
}

// Geocentric results of PROJ 9.1.1 at two epochs, for every published set.
func TestHelmertAgainstPROJ(t *testing.T) {
	all := readPublished(t)
	for _, r := range readTable(t, "datum/proj_9.1.1_time_dependent_checks.csv") {
		p, ok := all[r["transformation"]]
		if !ok {
			t.Fatalf("%s has no parameters", r["transformation"])
		}
		h := p.helmert()
		src := geocentric{num(t, r["src_x_m"]), num(t, r["src_y_m"]), num(t, r["src_z_m"])}
		want := geocentric{num(t, r["dst_x_m"]), num(t, r["dst_y_m"]), num(t, r["dst_z_m"])}
		epoch := num(t, r["epoch"])
		got := h.forward(src, epoch)
		if d := apart(got, want); d > 1e-4 {
			t.Errorf("%s %s %g: off %g m", r["transformation"], r["city"], epoch, d)
		}
		if d := apart(h.inverse(got, epoch), src); d > 1e-7 {
			t.Errorf("%s doesn't come back: off %g m", r["transformation"], d)
		}
		// The ellipsoid's side of it, as longitude and latitude.
		ll, height := GRS80Ellipsoid.fromGeocentric(got)
		if math.Abs(ll.LonDeg-num(t, r["dst_lon_deg"])) > 2e-9 || math.Abs(ll.LatDeg-num(t, r["dst_lat_deg"])) > 1e-9 || math.Abs(height-num(t, r["dst_h_m"])) > 1e-4 {
			t.Errorf("%s %s %g: %v, %g m", r["transformation"], r["city"], epoch, ll, height)
		}
	}
}

// Worked examples of IOGP Guidance Note 7-2 and the GDA2020 Technical Manual.
func TestHelmertWorkedExamples(t *testing.T) {
	raw, err := os.ReadFile("../testdata/datum/published_checks.json")
	if err != nil {
		t.Fatal(err)
	}
	var all []struct {
		ID         string
		Convention string
		ParamEpoch float64 `json:"parameter_epoch"`
		Parameters published
		Epoch      float64
		Source     [3]float64 `json:"source_xyz_m"`
		Published  [3]float64 `json:"published_xyz_m"`
		Tolerance  float64    `json:"tolerance_m"`
	}
	// "source" is also the name of the citation.
	if err := json.Unmarshal([]byte(strings.ReplaceAll(string(raw), `"source":`, `"citation":`)), &all); err != nil {
		t.Fatal(err)
	}
	if len(all) != 3 {
		t.Fatalf("%d examples", len(all))
	}
	for _, c := range all {
		c.Parameters.Convention, c.Parameters.Epoch = c.Convention, c.ParamEpoch
		got := c.Parameters.helmert().forward(geocentric{c.Source[0], c.Source[1], c.Source[2]}, c.Epoch)
		if d := apart(got, geocentric{c.Published[0], c.Published[1], c.Published[2]}); d > c.Tolerance*math.Sqrt(3) {
			t.Errorf("%s: off %g m", c.ID, d)
		}
	}
	// The same two from the GDA2020 manual through the datum table.
	gda94, gda2020 := mustDatum(t, "GDA94"), mustDatum(t, "GDA2020")
	if gda94.steps[0].by.forward(geocentric{-4052051.7643, 4212836.2017, -2545106.0245}, 0).x == 0 ||
		apart(gda94.steps[0].by.forward(geocentric{-4052051.7643, 4212836.2017, -2545106.0245}, 0), geocentric{-4052052.7379, 4212835.9897, -2545104.5898}) > 2e-4 {
		t.Error("GDA94 to GDA2020 differs from the manual")
	}
	if apart(gda2020.steps[0].by.forward(geocentric{-4052052.6588, 4212835.9938, -2545104.6946}, 2018), geocentric{-4052052.7373, 4212835.9835, -2545104.5867}) > 2e-4 {
		t.Error("ITRF2014 to GDA2020 differs from the manual")
	}
}

func mustDatum(t testing.TB, name string) Datum {
	t.Helper()
	d, err := LookupDatum(name)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// How far NAD83(2011) and ITRF2014 are apart at two epochs, by PROJ 9.1.1, as
// printed to the millimetre.
func TestDatumOffset(t *testing.T) {
	d := mustDatum(t, "NAD83(2011)")
	for _, c := range []struct {
		city           string
		lon, lat       float64
		in2010, in2026 float64
	}{
		{"Seattle", -122.3321, 47.6062, 1.400, 1.596},
		{"Denver", -104.9903, 39.7392, 1.246, 1.433},
		{"New York", -74.0060, 40.7128, 1.053, 1.252},
	} {
		p := LonLat{c.lon, c.lat}
		if a, b := d.OffsetM(p, 2010), d.OffsetM(p, 2026); math.Abs(a-c.in2010) > 2e-3 || math.Abs(b-c.in2026) > 2e-3 {
			t.Errorf("%s: %.3f and %.3f m, want %.3f and %.3f", c.city, a, b, c.in2010, c.in2026)
		}
	}
}

// Ordnance Survey's printed pair for one place: the seven parameters alone are
// metres off, as the caution says, and no more.
func TestDatumOSGB36(t *testing.T) {
	d := mustDatum(t, "OSGB36")
	// Caister Water Tower: OSGB36 as printed by the Ordnance Survey; ETRS89 from memory.
	got, _ := d.ToWGS84(LonLat{1.7179215833333334, 52.65757030555555}, 0, 2010)
	xy := NewPlane(got).XY(LonLat{1 + 42/60.0 + 57.8663/3600, 52 + 39/60.0 + 28.8282/3600})
	if off := math.Hypot(xy.X, xy.Y); off > 5 {
		t.Errorf("%g m off", off)
	}
}

// The differences that the page on reference systems quotes for 2026, to a digit. Those of Seattle,
// Honolulu and Berlin are also PROJ's (TestDatumWaysAgainstPROJ); the others follow
// from transformations that are compared with it.
func TestDatumOffsetsQuoted(t *testing.T) {
	for _, c := range []struct {
		datum    string
		lon, lat float64
		wantM    float64
	}{
		{"NAD83(2011)", -66.1, 18.4, 0.6}, {"NAD83(2011)", -122.33, 47.6, 1.6}, {"NAD83(PA11)", -157.8583, 21.3069, 3.9},
		{"ETRS89", 13.4, 52.5, 0.9}, {"ETRS89", -9.1, 38.7, 0.9}, {"ETRS89", 24.9, 60.2, 0.9},
		{"GDA94", 151.2, -33.9, 1.8}, {"GDA94", 130.8, -12.5, 2.2}, {"GDA2020", 151.2, -33.9, 0.3},
	} {
		if m := mustDatum(t, c.datum).OffsetM(LonLat{c.lon, c.lat}, 2026); math.Abs(m-c.wantM) > 0.05 {
			t.Errorf("%s at %g, %g: %.2f m, quoted %.1f", c.datum, c.lon, c.lat, m, c.wantM)
		}
	}
}

// What the page on reference systems says of frames is what is reckoned with here: the differences above, and
// how well old frames are converted.
func TestPageQuotesTheFrames(t *testing.T) {
	text, err := os.ReadFile("../examples/reference-systems.md")
	if err != nil {
		t.Fatal(err)
	}
	offM := func(datum string, lon, lat float64) float64 {
		return mustDatum(t, datum).OffsetM(LonLat{lon, lat}, 2026)
	}
	good := func(datum string) string {
		return strconv.FormatFloat(mustDatum(t, datum).AccuracyM, 'g', -1, 64)
	}
	for _, want := range []string{
		"In 2026 the same figures lie off WGS 84 by",
		fmt.Sprintf("| NAD83(2011) | %.1f (Puerto Rico) to %.1f (Seattle) |", offM("NAD83(2011)", -66.1, 18.4), offM("NAD83(2011)", -122.33, 47.6)),
		fmt.Sprintf("| NAD83(PA11), Hawaii | %.1f |", offM("NAD83(PA11)", -157.8583, 21.3069)),
		fmt.Sprintf("| ETRS89, Europe | %.1f |", offM("ETRS89", 13.4, 52.5)),
		fmt.Sprintf("| GDA94, Australia | %.1f to %.1f |", offM("GDA94", 151.2, -33.9), offM("GDA94", 130.8, -12.5)),
		fmt.Sprintf("| GDA2020, Australia | %.1f |", offM("GDA2020", 151.2, -33.9)),
		fmt.Sprintf("the Netherlands (28992) %s m, Switzerland %s m (2056) and %s m (21781), Belgium (31370) %s m, Austria %s m, Germany (31466 to 31469) %s m, Czechia and Slovakia (5514) %s m, most of it in the east, Great Britain (27700) %s m",
			good("Amersfoort"), good("CH1903+"), good("CH1903"), good("BD72"), good("MGI"), good("DHDN"), good("S-JTSK"), good("OSGB36")),
	} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}

func TestDatumRoundTrip(t *testing.T) {
	for _, d := range datums {
		p := LonLat{-1.5, 52.4}
		q, h := d.ToWGS84(p, 100, 2026.4)
		r, h2 := d.FromWGS84(q, h, 2026.4)
		if math.Abs(r.LonDeg-p.LonDeg) > 1e-12 || math.Abs(r.LatDeg-p.LatDeg) > 1e-12 || math.Abs(h2-100) > 1e-7 {
			t.Errorf("%s: %v %g m came back", d.Name, r, h2)
		}
	}
}

func TestLookupDatum(t *testing.T) {
	for name, want := range map[string]string{
		"NAD 83 (2011)": "NAD83(2011)", "nad83_2011": "NAD83(2011)", "NAD83": "NAD83", "WGS-84": "WGS84",
		"WGS 84 (G2139)": "WGS84", "itrf2014": "ITRF2014", "ETRS89": "ETRS89", "ch1903": "CH1903", "CH 1903+": "CH1903+", "NAD83(CSRS) v7": "NAD83(CSRS)v7",
	} {
		if d, err := LookupDatum(name); err != nil || d.Name != want {
			t.Errorf("%q: %q, %v", name, d.Name, err)
		}
	}
	for _, name := range []string{"", "NAD27", "NAD83(2022)"} {
		if _, err := LookupDatum(name); err == nil || !strings.Contains(err.Error(), "NAD83(2011)") {
			t.Errorf("%q: error %v", name, err)
		}
	}
}
