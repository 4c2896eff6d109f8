package geo

import (
	"fmt"
	"strings"
	"testing"
)

// A frame may be where its own systems are used: in the middle of each zone of the EPSG
// dataset that is defined on it.
func TestDatumMayBeWhereItsZonesAre(t *testing.T) {
	zones := 0
	for _, z := range wktZones() {
		c, err := LookupCRS(fmt.Sprint(z.code))
		if err != nil {
			t.Fatal(z.code, err)
		}
		d, err := LookupDatum(c.Datum)
		if err != nil {
			t.Fatal(err)
		}
		a := c.Area()
		east := a.EastDeg
		if east < a.WestDeg {
			east += 360
		}
		mid := LonLat{LonDeg: (a.WestDeg + east) / 2, LatDeg: (a.SouthDeg + a.NorthDeg) / 2}
		if mid.LonDeg > 180 {
			mid.LonDeg -= 360
		}
		if !d.MayBeAt(mid) {
			t.Errorf("%s is for %s, and %s could not be there", c.ID(), a.Name, d.Name)
		}
		zones++
	}
	if zones < 1000 {
		t.Errorf("%d zones", zones)
	}
}

// Places by any atlas (from memory), and frames that are of their continent or of none.
func TestDatumOfAnotherContinent(t *testing.T) {
	honolulu, boston, toronto := LonLat{LonDeg: -157.86, LatDeg: 21.31}, LonLat{LonDeg: -71.06, LatDeg: 42.36}, LonLat{LonDeg: -79.38, LatDeg: 43.65}
	bologna, sydney, tokyo := LonLat{LonDeg: 11.34, LatDeg: 44.49}, LonLat{LonDeg: 151.21, LatDeg: -33.87}, LonLat{LonDeg: 139.69, LatDeg: 35.69}
	auckland, guam, samoa := LonLat{LonDeg: 174.76, LatDeg: -36.85}, LonLat{LonDeg: 144.79, LatDeg: 13.44}, LonLat{LonDeg: -170.7, LatDeg: -14.27}
	for _, c := range []struct {
		datum string
		at    LonLat
		may   bool
	}{
		{"WGS84", sydney, true}, {"ITRF2014", honolulu, true}, {"ITRF2020", bologna, true},
		{"NAD83(2011)", boston, true}, {"NAD83(2011)", toronto, true}, {"NAD83(CSRS)", toronto, true}, {"NAD83(PA11)", honolulu, true},
		{"NAD83(2011)", honolulu, true}, {"NAD83(MA11)", guam, true}, {"NAD83(PA11)", samoa, true},
		{"ETRS89", bologna, true}, {"GDA2020", sydney, true}, {"JGD2011", tokyo, true}, {"NZGD2000", auckland, true},
		{"ETRS89", honolulu, false}, {"ETRS89", boston, false}, {"GDA2020", bologna, false}, {"GDA94", boston, false}, {"JGD2011", boston, false},
		{"JGD2011", sydney, false}, {"NAD83(2011)", bologna, false}, {"NAD83(2011)", sydney, false}, {"NZGD2000", tokyo, false}, {"OSGB36", boston, false},
	} {
		f, err := NewFrame("", c.datum, 2026)
		if err != nil {
			t.Fatal(err)
		}
		g, why := f.Believed(c.at)
		if c.may && (why != "" || g.Datum.Name != f.Datum.Name || !g.Stated) || !c.may && (why == "" || g.Datum.Name != "WGS84" || g.Stated) {
			t.Errorf("%s at %v: %q, taken as %s", c.datum, c.at, why, g.Datum.Name)
		}
		if words := g.Words(c.at).In(Metric); !c.may && (!strings.Contains(words, why) || strings.Contains(words, "moved by")) {
			t.Errorf("%s at %v: %q", c.datum, c.at, words)
		}
	}
}

// A grid keeps its own frame where the datum that was stated for its corrections is of
// another continent.
func TestGridKeepsItsFrame(t *testing.T) {
	f, err := NewFrame("EPSG:26919", "GDA2020", 2026)
	if err != nil {
		t.Fatal(err)
	}
	g, why := f.Believed(LonLat{LonDeg: -71.5, LatDeg: 44.1})
	if why == "" || g.Datum.Name != "NAD83" || !g.Stated {
		t.Errorf("%q, taken as %s", why, g.Datum.Name)
	}
}
