package geo

import (
	"math"
	"slices"
	"strconv"
	"testing"
)

// carry brings a place from one frame to another by way of WGS 84, as positions
// of a job are carried.
func carry(from, to Datum, g geocentric, epoch float64) geocentric {
	p, h := from.Ellipsoid.fromGeocentric(g)
	p, h = from.ToWGS84(p, h, epoch)
	p, h = to.FromWGS84(p, h, epoch)
	return to.Ellipsoid.toGeocentric(p, h)
}

// Pairs that agencies publish, or that their own tools print, for one place in two
// frames at one epoch, there and back.
func TestDatumPublishedPairs(t *testing.T) {
	rows := readTable(t, "datum/published_pairs.csv")
	if len(rows) != 15 {
		t.Errorf("%d pairs", len(rows))
	}
	for _, r := range rows {
		from, to, epoch := mustDatum(t, r["from"]), mustDatum(t, r["to"]), num(t, r["epoch"])
		a := geocentric{num(t, r["from_x_m"]), num(t, r["from_y_m"]), num(t, r["from_z_m"])}
		b := geocentric{num(t, r["to_x_m"]), num(t, r["to_y_m"]), num(t, r["to_z_m"])}
		// The millimetres are those that WGS 84's ellipsoid differs by from GRS 1980's.
		tolM := num(t, r["tolerance_m"]) + 2e-4
		there, back := carry(from, to, a, epoch), carry(to, from, b, epoch)
		if off := apart(there, b); off > tolM {
			t.Errorf("%s: off %.4f m", r["id"], off)
		} else {
			t.Logf("%s: off %.4f m", r["id"], off)
		}
		if off := apart(back, a); off > tolM {
			t.Errorf("%s, back: off %.4f m", r["id"], off)
		}
	}
}

// Every transformation on the way of any frame, against PROJ's own of the same
// code, or against parameters.json where PROJ 9.1.1 has it not or rounded
// (TestHelmertParameters, TestHelmertAgainstPROJ).
func TestEveryTransformationAgainstPROJ(t *testing.T) {
	type way struct {
		by       helmert
		from, to Ellipsoid
	}
	ways := map[int]way{}
	for _, d := range datums {
		el := d.Ellipsoid
		for _, s := range d.steps {
			w := way{s.by, el, GRS80Ellipsoid}
			if s.backward {
				w.from = GRS80Ellipsoid
			}
			ways[s.by.code] = w
			el = GRS80Ellipsoid
		}
	}
	compared := map[int]bool{8970: true, 10335: true, 10337: true, 10572: true}
	for _, r := range readTable(t, "datum/proj_9.1.1_every_transformation.csv") {
		code, _ := strconv.Atoi(r["epsg"])
		w, ok := ways[code]
		if !ok {
			t.Errorf("EPSG:%d is on no frame's way", code)
			continue
		}
		compared[code] = true
		a := [3]float64{num(t, r["from_1"]), num(t, r["from_2"]), num(t, r["from_3"])}
		b := [3]float64{num(t, r["to_1"]), num(t, r["to_2"]), num(t, r["to_3"])}
		epoch := num(t, r["epoch"])
		if r["kind"] == "geocentric" {
			if off := apart(w.by.forward(geocentric{a[0], a[1], a[2]}, epoch), geocentric{b[0], b[1], b[2]}); off > 2e-5 {
				t.Errorf("EPSG:%d at %g: off %g m", code, epoch, off)
			}
			continue
		}
		p, _ := w.to.fromGeocentric(w.by.forward(w.from.toGeocentric(LonLat{a[1], a[0]}, a[2]), epoch))
		if math.Abs(p.LatDeg-b[0]) > 1.2e-9 || math.Abs(p.LonDeg-b[1]) > 1.2e-9 { // 0.1 mm, by which WGS 84 differs from GRS 1980
			t.Errorf("EPSG:%d: %.11f, %.11f, want %.11f, %.11f", code, p.LatDeg, p.LonDeg, b[0], b[1])
		}
	}
	for code := range ways {
		if !compared[code] {
			t.Errorf("EPSG:%d was not compared", code)
		}
	}
}

// offM is the horizontal distance in metres.
func offM(a, b LonLat) float64 {
	xy := NewPlane(a).XY(b)
	return math.Hypot(xy.X, xy.Y)
}

// Figures in old grids that agencies publish with ETRS89 positions, made with
// their grids: what the seven parameters leave is within what we say, and the mean
// of it well below, so that a shift by a metre would show.
func TestOldFramesPublishedGridPairs(t *testing.T) {
	etrs := mustDatum(t, "ETRF2000")
	worst := map[string]float64{}
	sum, n := map[string]XY{}, map[string]int{}
	for _, r := range readTable(t, "datum/published_grid_pairs.csv") {
		c := mustCRS(t, r["epsg"])
		d := mustDatum(t, c.Datum)
		p, err := c.Unproject(num(t, r["east_m"]), num(t, r["north_m"]))
		if err != nil {
			t.Error(err)
			continue
		}
		// A job has no heights in an old frame either.
		q, h := d.ToWGS84(p, 0, 2024)
		got, _ := etrs.FromWGS84(q, h, 2024)
		want := LonLat{num(t, r["lon_deg"]), num(t, r["lat_deg"])}
		off := offM(want, got)
		if off > num(t, r["tolerance_m"]) || off > d.AccuracyM {
			t.Errorf("%s: off %.2f m, %s claims %g", r["id"], off, d.Name, d.AccuracyM)
		}
		worst[d.Name] = math.Max(worst[d.Name], off)
		sum[d.Name] = sum[d.Name].Add(NewPlane(want).XY(got))
		n[d.Name]++
	}
	for name, w := range worst {
		mean := sum[name].Scale(1 / float64(n[name]))
		t.Logf("%s: %d places, worst %.2f m, mean %.2f east %.2f north", name, n[name], w, mean.X, mean.Y)
		if mean.Norm() > 0.8 {
			t.Errorf("%s lies off as a whole by %.2f m", name, mean.Norm())
		}
	}
}

// The national grids BeTA2007 and CHENyx06, and Slovakia's own parameters, as PROJ
// applied them. Those that S-JTSK goes by are Czechia's, so it may lie off as a whole.
func TestOldFramesAgainstNationalGrids(t *testing.T) {
	etrs := mustDatum(t, "ETRF2000")
	sum, n := map[string]XY{}, map[string]int{}
	for _, r := range readTable(t, "datum/proj_9.1.1_national_grids.csv") {
		d := mustDatum(t, r["datum"])
		q, h := d.ToWGS84(LonLat{num(t, r["lon_deg"]), num(t, r["lat_deg"])}, 0, 2024)
		got, _ := etrs.FromWGS84(q, h, 2024)
		want := LonLat{num(t, r["etrs89_lon_deg"]), num(t, r["etrs89_lat_deg"])}
		off := offM(want, got)
		t.Logf("%s %s %s: off %.2f m", d.Name, r["lon_deg"], r["lat_deg"], off)
		if off > d.AccuracyM {
			t.Errorf("%s at %v: off %.2f m, said to be good to %g", d.Name, want, off, d.AccuracyM)
		}
		sum[d.Name] = sum[d.Name].Add(NewPlane(want).XY(got))
		n[d.Name]++
	}
	for name, s := range sum {
		mean := s.Scale(1 / float64(n[name])).Norm()
		t.Logf("%s: mean %.2f m", name, mean)
		if mean > 0.8 && name != "S-JTSK" {
			t.Errorf("%s lies off as a whole by %.2f m", name, mean)
		}
	}
}

// The frames of the United States and of Europe as a job goes through them, at two
// epochs, against PROJ 9.1.1: a transformation that is applied the wrong way round
// moves by twice the difference.
func TestDatumWaysAgainstPROJ(t *testing.T) {
	to := map[string][2]string{
		"EPSG:8970": {"ITRF2014", "NAD83(2011)"}, "EPSG:10335": {"ITRF2014", "NAD83(PA11)"}, "EPSG:10337": {"ITRF2014", "NAD83(MA11)"},
		"EPSG:8405": {"ITRF2014", "ETRF2000"}, "EPSG:8366": {"ITRF2014", "ETRF2014"}, "EPSG:10572": {"ITRF2020", "ETRF2020"},
	}
	seen := map[string]bool{}
	for _, r := range readTable(t, "datum/proj_9.1.1_time_dependent_checks.csv") {
		names, ok := to[r["transformation"]]
		if !ok {
			continue
		}
		seen[r["transformation"]] = true
		src := geocentric{num(t, r["src_x_m"]), num(t, r["src_y_m"]), num(t, r["src_z_m"])}
		want := geocentric{num(t, r["dst_x_m"]), num(t, r["dst_y_m"]), num(t, r["dst_z_m"])}
		if off := apart(carry(mustDatum(t, names[0]), mustDatum(t, names[1]), src, num(t, r["epoch"])), want); off > 4e-4 {
			t.Errorf("%s %s %s: off %.4f m", names[1], r["city"], r["epoch"], off)
		}
	}
	if len(seen) != len(to) {
		t.Errorf("only %v", seen)
	}
}

// Frames that are taken as another go its way, and say so.
func TestDatumTakenAs(t *testing.T) {
	for name, as := range map[string]string{
		"NAD83": "NAD83(2011)", "NAD83(HARN)": "NAD83(2011)", "NAD83(NSRS2007)": "NAD83(2011)", "NAD83(CORS96)": "NAD83(2011)",
		"NAD83(CSRS)": "NAD83(CSRS)v7", "ETRS89": "ETRF2000", "SWEREF99": "ETRF2000", "RGF93": "ETRF2000", "IRENET95": "ETRF2000", "ETRF2000-PL": "ETRF2000",
	} {
		a, b := mustDatum(t, name), mustDatum(t, as)
		p := LonLat{10, 50}
		qa, _ := a.ToWGS84(p, 0, 2026)
		qb, _ := b.ToWGS84(p, 0, 2026)
		if qa != qb || a.Note == "" || a.AccuracyM < b.AccuracyM {
			t.Errorf("%s is not taken as %s, or says nothing of it: %q", name, as, a.Note)
		}
	}
}

// Every frame has its ellipsoid (EPSG's, of the geographic system of its name), and is as good
// as is said of it: old frames by the agencies' points and grids (the tests above), and where
// EPSG has no more than its transformations' 0 to 0.03 m, by common practice, no source. They
// stand here so that none changes unseen, nor comes without.
func TestEveryFrame(t *testing.T) {
	want := map[string]struct {
		ellipsoid Ellipsoid
		accuracyM float64
	}{
		"WGS84":           {WGS84Ellipsoid, 0.05},
		"ITRF2008":        {GRS80Ellipsoid, 0.02},
		"ITRF2014":        {GRS80Ellipsoid, 0.02},
		"ITRF2020":        {GRS80Ellipsoid, 0.02},
		"NAD83(2011)":     {GRS80Ellipsoid, 0.05},
		"NAD83(PA11)":     {GRS80Ellipsoid, 0.05},
		"NAD83(MA11)":     {GRS80Ellipsoid, 0.05},
		"NAD83(NSRS2007)": {GRS80Ellipsoid, 0.1},
		"NAD83(CORS96)":   {GRS80Ellipsoid, 0.1},
		"NAD83(HARN)":     {GRS80Ellipsoid, 0.2},
		"NAD83(CSRS)":     {GRS80Ellipsoid, 0.1},
		"NAD83(CSRS)v7":   {GRS80Ellipsoid, 0.05},
		"NAD83":           {GRS80Ellipsoid, 1},
		"ETRS89":          {GRS80Ellipsoid, 0.1},
		"ETRF2000":        {GRS80Ellipsoid, 0.03},
		"ETRF2014":        {GRS80Ellipsoid, 0.03},
		"ETRF2020":        {GRS80Ellipsoid, 0.03},
		"SWEREF99":        {GRS80Ellipsoid, 0.1},
		"RGF93":           {GRS80Ellipsoid, 0.1},
		"IRENET95":        {GRS80Ellipsoid, 0.1},
		"ETRF2000-PL":     {GRS80Ellipsoid, 0.1},
		"GDA94":           {GRS80Ellipsoid, 0.1},
		"GDA2020":         {GRS80Ellipsoid, 0.05},
		"NZGD2000":        {GRS80Ellipsoid, 1.5},
		"JGD2011":         {GRS80Ellipsoid, 1},
		"OSGB36":          {Airy1830, 5},
		"Amersfoort":      {Bessel1841, 0.4},
		"CH1903+":         {Bessel1841, 0.2},
		"CH1903":          {Bessel1841, 2},
		"DHDN":            {Bessel1841, 3},
		"S-JTSK":          {Bessel1841, 4},
		"MGI":             {Bessel1841, 2},
		"BD72":            {International1924, 0.5},
	}
	for _, d := range datums {
		w, known := want[d.Name]
		if !known || d.Ellipsoid != w.ellipsoid || d.AccuracyM != w.accuracyM {
			t.Errorf("%s: %+v, good to %g m; want %+v", d.Name, d.Ellipsoid, d.AccuracyM, w)
		}
	}
	// What was assumed is said of every frame but of those that are what they are called.
	exact := []string{"WGS84", "ITRF2008", "ITRF2014", "ITRF2020", "NAD83(2011)", "NAD83(PA11)", "NAD83(MA11)", "NAD83(CSRS)v7", "ETRF2000", "ETRF2014", "ETRF2020", "GDA94", "GDA2020", "CH1903+"}
	for _, d := range datums {
		if (d.Note == "") != slices.Contains(exact, d.Name) {
			t.Errorf("%s: assumed %q", d.Name, d.Note)
		}
	}
	if len(want) != len(datums) {
		t.Errorf("%d frames, want %d", len(datums), len(want))
	}
	// Global frames and WGS 84 are one to a few centimetres (EPSG: their transformations).
	for _, name := range []string{"ITRF2008", "ITRF2014", "ITRF2020"} {
		if m := mustDatum(t, name).OffsetM(LonLat{-71.5, 44.1}, 2026); m > 0.05 {
			t.Errorf("%s lies %.2f m from WGS 84", name, m)
		}
	}
}

// No frame claims to be joined better than EPSG holds its transformation to be: the
// accuracies of the EPSG Dataset v10.076, as PROJ 9.1.1 prints them
// (projinfo -k operation -o WKT2:2019 EPSG:15928).
func TestAccuracyIsNoBetterThanEPSG(t *testing.T) {
	published := map[int]float64{1314: 2, 9281: 0.25, 1647: 0.1, 1646: 1.5, 1776: 3, 1622: 1, 1619: 1.5, 15928: 0.2, 1565: 1, 9936: 1}
	seen := 0
	for _, d := range datums {
		for _, s := range d.steps {
			if m, ok := published[s.by.code]; ok {
				seen++
				if d.AccuracyM < m {
					t.Errorf("%s claims %g m, EPSG:%d is good to %g m", d.Name, d.AccuracyM, s.by.code, m)
				}
			}
		}
	}
	if seen != len(published) {
		t.Errorf("%d transformations seen, want %d", seen, len(published))
	}
}
