package geo

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Datum is a frame that positions can be in, and how to get from there to WGS 84.
//
// WGS 84 means its current realisation, which agrees with ITRF2014 to about a
// centimetre, and the two are taken as one. National frames move with their
// continent and differ from it by 0.5 to 4 m; the transformations here are the
// published ones. They carry a place from the frame to WGS 84 at one epoch; they
// don't know how the ground has moved inside the frame since the frame's own epoch,
// which matters along the Pacific coast of North America (up to 0.05 m a year, from
// memory) and after earthquakes.
type Datum struct {
	Name      string
	Ellipsoid Ellipsoid
	AccuracyM float64 // of the way to WGS 84, 95 %, as far as the frame is what it says
	Note      string  // what was assumed, "" if nothing

	family string
	steps  []step // to WGS 84
}

// step is one transformation on the way, perhaps backwards.
type step struct {
	by       helmert
	backward bool
}

// datums lists the known frames. Accuracy figures: EPSG's for the transformations
// (0 to 0.03 m), raised to what is common practice, without a source, for frames
// whose realisation is left open. For old frames they are the largest differences
// from the agencies' published points and grids, rounded up (OSGB36 4.9 m, DHDN 2.4
// m, CH1903 1.1 m, Amersfoort 0.17 m, S-JTSK in Slovakia 3.9 m; tests remake them),
// or EPSG's figure raised where none were at hand (MGI, BD72).
var datums = []Datum{
	{"WGS84", WGS84Ellipsoid, 0.05, "", "global", nil},
	{"ITRF2008", GRS80Ellipsoid, 0.02, "", "global", []step{{itrf2008ToITRF2014, false}}},
	{"ITRF2014", GRS80Ellipsoid, 0.02, "", "global", nil},
	{"ITRF2020", GRS80Ellipsoid, 0.02, "", "global", []step{{itrf2014ToITRF2020, true}}},
	{"NAD83(2011)", GRS80Ellipsoid, 0.05, "", "NAD83", []step{{itrf2014ToNAD832011, true}}},
	{"NAD83(PA11)", GRS80Ellipsoid, 0.05, "", "NAD83", []step{{itrf2014ToNAD83PA11, true}}},
	{"NAD83(MA11)", GRS80Ellipsoid, 0.05, "", "NAD83", []step{{itrf2014ToNAD83MA11, true}}},
	{"NAD83(NSRS2007)", GRS80Ellipsoid, 0.1, "taken as NAD83(2011), which differs by centimetres", "NAD83", []step{{itrf2014ToNAD832011, true}}},
	{"NAD83(CORS96)", GRS80Ellipsoid, 0.1, "taken as NAD83(2011), which differs by centimetres", "NAD83", []step{{itrf2014ToNAD832011, true}}},
	{"NAD83(HARN)", GRS80Ellipsoid, 0.2, "taken as NAD83(2011), which differs by centimetres to decimetres", "NAD83", []step{{itrf2014ToNAD832011, true}}},
	{"NAD83(CSRS)", GRS80Ellipsoid, 0.1, "taken as its version 7", "NAD83", []step{{itrf2014ToNAD83CSRS, true}}},
	{"NAD83(CSRS)v7", GRS80Ellipsoid, 0.05, "", "NAD83", []step{{itrf2014ToNAD83CSRS, true}}},
	{"NAD83", GRS80Ellipsoid, 1, "the realisation isn't stated: taken as NAD83(2011); older ones differ from it by centimetres to about a metre", "NAD83", []step{{itrf2014ToNAD832011, true}}},
	{"ETRS89", GRS80Ellipsoid, 0.1, "the realisation isn't stated: taken as ETRF2000, from which national ones differ by centimetres", "ETRS89", []step{{itrf2014ToETRF2000, true}}},
	{"ETRF2000", GRS80Ellipsoid, 0.03, "", "ETRS89", []step{{itrf2014ToETRF2000, true}}},
	{"ETRF2014", GRS80Ellipsoid, 0.03, "", "ETRS89", []step{{itrf2014ToETRF2014, true}}},
	{"ETRF2020", GRS80Ellipsoid, 0.03, "", "ETRS89", []step{{itrf2020ToETRF2020, true}, {itrf2014ToITRF2020, true}}},
	{"SWEREF99", GRS80Ellipsoid, 0.1, "taken as ETRF2000, from which it differs by centimetres", "ETRS89", []step{{itrf2014ToETRF2000, true}}},
	{"RGF93", GRS80Ellipsoid, 0.1, "taken as ETRF2000, from which it differs by centimetres", "ETRS89", []step{{itrf2014ToETRF2000, true}}},
	{"IRENET95", GRS80Ellipsoid, 0.1, "taken as ETRF2000, from which it differs by centimetres", "ETRS89", []step{{itrf2014ToETRF2000, true}}},
	{"ETRF2000-PL", GRS80Ellipsoid, 0.1, "taken as ETRF2000, from which it differs by centimetres", "ETRS89", []step{{itrf2014ToETRF2000, true}}},
	{"GDA94", GRS80Ellipsoid, 0.1, "", "GDA94", []step{{gda94ToGDA2020, false}, {itrf2014ToGDA2020, true}}},
	{"GDA2020", GRS80Ellipsoid, 0.05, "", "GDA2020", []step{{itrf2014ToGDA2020, true}}},
	{"NZGD2000", GRS80Ellipsoid, 1.5, "fixed to the ground as it lay in 2000; the ground's movement since, up to 0.05 m a year, is not taken out", "NZGD2000", []step{{nzgd2000ToWGS84, false}}},
	{"JGD2011", GRS80Ellipsoid, 1, "fixed to the ground as it lay in 1997, in the east in 2011; its movement since is not taken out", "JGD2011", []step{{jgd2011ToWGS84, false}}},
	{"OSGB36", Airy1830, 5, "by seven parameters for the whole of Great Britain, without the OSTN15 grid", "OSGB36", old(osgb36ToWGS84)},
	{"Amersfoort", Bessel1841, 0.4, "by seven parameters, without the RDNAPTRANS grid", "Amersfoort", old(amersfoortToETRS89)},
	{"CH1903+", Bessel1841, 0.2, "", "CH1903+", old(ch1903PlusToETRS89)},
	{"CH1903", Bessel1841, 2, "taken as CH1903+, without the grid CHENyx06", "CH1903", old(ch1903ToETRS89)},
	{"DHDN", Bessel1841, 3, "by seven parameters for the whole of western Germany, without the grid BeTA2007", "DHDN", old(dhdnToETRS89)},
	{"S-JTSK", Bessel1841, 4, "by seven parameters made for Czechia, which are good to about 1 m there and to about 4 m in the east of Slovakia, without the national grids", "S-JTSK", old(sjtskToETRS89)},
	{"MGI", Bessel1841, 2, "by seven parameters for the whole of Austria, without the national grid", "MGI", old(mgiToETRS89)},
	{"BD72", International1924, 0.5, "by seven parameters, without the national grid", "BD72", old(bd72ToETRS89)},
}

// old joins a frame of the time before satellites, whose transformation leads to
// ETRS89 as it lay in 1989, to WGS 84 at the job's epoch: Europe has moved by some
// 0.9 m since, which is more than the best of these transformations are off.
func old(toETRS89 helmert) []step {
	return []step{{toETRS89, false}, {itrf2014ToETRF2000, true}}
}

// caution says for every system of an old frame how well it is joined.
func (d Datum) caution() string {
	if !d.Old() {
		return ""
	}
	words := d.Name + " is converted to WGS 84 through ETRS89"
	if d.Note != "" {
		words += ", " + d.Note + ","
	}
	words += fmt.Sprintf(" and is good to about %s m.", strconv.FormatFloat(d.AccuracyM, 'g', -1, 64))
	if d.AccuracyM > 0.2 {
		words += " A tolerance zone reaches about 0.5 m to either side: survey in ETRS89 where you can."
	}
	return words
}

// Old reports whether the frame has an ellipsoid of its own, from before
// satellites: no correction service sends it, and its figures are some 100 m off.
func (d Datum) Old() bool { return d.Ellipsoid != WGS84Ellipsoid && d.Ellipsoid != GRS80Ellipsoid }

// LookupDatum finds a frame by name; case, spaces, hyphens and underscores don't
// count, so that "NAD 83 (2011)" and "nad83_2011" are found.
func LookupDatum(name string) (Datum, error) {
	key := datumKey(name)
	for _, d := range datums {
		if datumKey(d.Name) == key {
			return d, nil
		}
	}
	return Datum{}, fmt.Errorf("datum %q is not known; the known ones are %s", name, strings.Join(DatumNames(), ", "))
}

// datumKey keeps the letters, digits and plus signs; a WGS 84 realisation counts as WGS 84.
func datumKey(name string) string {
	key := strings.Map(func(r rune) rune {
		switch {
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '+': // CH1903+ is not CH1903
			return r
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		}
		return -1
	}, name)
	for _, g := range []string{"G1150", "G1674", "G1762", "G2139", "G2296"} {
		if key == "WGS84"+g {
			return "WGS84"
		}
	}
	return key
}

// DatumNames returns the names of the known frames.
func DatumNames() []string {
	out := make([]string, len(datums))
	for i, d := range datums {
		out[i] = d.Name
	}
	return out
}

// Moves reports whether positions of the frame are moved on the way to WGS 84.
func (d Datum) Moves() bool { return len(d.steps) > 0 }

// Transformations names the published transformations on the way to WGS 84.
func (d Datum) Transformations() []string {
	var out []string
	for _, s := range d.steps {
		t := fmt.Sprintf("EPSG:%d", s.by.code)
		if s.backward {
			t += " reversed"
		}
		out = append(out, t)
	}
	return out
}

// ToWGS84 carries a position at an epoch (decimal year) and its height above the
// ellipsoid in metres from the frame to WGS 84. A height that is unknown may be
// 0: in a frame within 2 m of WGS 84, 3000 m of height move the horizontal result
// by about a millimetre.
func (d Datum) ToWGS84(p LonLat, heightM, epoch float64) (LonLat, float64) {
	if !d.Moves() {
		return p, heightM
	}
	g := d.Ellipsoid.toGeocentric(p, heightM)
	for _, s := range d.steps {
		if s.backward {
			g = s.by.inverse(g, epoch)
		} else {
			g = s.by.forward(g, epoch)
		}
	}
	return WGS84Ellipsoid.fromGeocentric(g)
}

// FromWGS84 is the inverse of ToWGS84.
func (d Datum) FromWGS84(p LonLat, heightM, epoch float64) (LonLat, float64) {
	if !d.Moves() {
		return p, heightM
	}
	g := WGS84Ellipsoid.toGeocentric(p, heightM)
	for i := len(d.steps) - 1; i >= 0; i-- {
		if s := d.steps[i]; s.backward {
			g = s.by.forward(g, epoch)
		} else {
			g = s.by.inverse(g, epoch)
		}
	}
	return d.Ellipsoid.fromGeocentric(g)
}

// OffsetM returns how far apart, horizontally and in metres, the same figures are
// in this frame and in WGS 84 at a place and epoch.
func (d Datum) OffsetM(p LonLat, epoch float64) float64 {
	q, _ := d.ToWGS84(p, 0, epoch)
	xy := NewPlane(p).XY(q)
	return math.Hypot(xy.X, xy.Y)
}
