package geo

import (
	"math"
	"strings"
	"testing"
)

func codes(found []CRS) []int {
	var out []int
	for _, c := range found {
		out = append(out, c.Code)
	}
	return out
}

// By name, by place, and by both; the nearest area first.
func TestFindCRS(t *testing.T) {
	nowhere := LonLat{math.NaN(), math.NaN()}
	for _, c := range []struct {
		words string
		near  LonLat
		first int
	}{
		{"rd new", nowhere, 28992},
		{"28992", nowhere, 28992},
		{"epsg:2056", nowhere, 2056},
		{"Gauss-Krüger zone 3", LonLat{9.7, 52.4}, 31467},
		{"gauss krueger 4 dhdn", nowhere, 31468},
		{"state plane ftUS nad83(2011)", LonLat{-73.95, 40.65}, 6539},
		{"lambert 93", nowhere, 2154},
		{"MGA 55 gda2020", nowhere, 7855},
		{"japan ix jgd2011", nowhere, 6677},
		{"british grid", nowhere, 27700},
		{"utm", LonLat{36.8, -1.3}, 32737},
		{"Krovak", LonLat{14.4, 50.1}, 5514},
		{"new zealand transverse", nowhere, 2193},
		{"web mercator", nowhere, 3857},
	} {
		found := FindCRS(c.words, c.near)
		if len(found) == 0 || found[0].Code != c.first {
			t.Errorf("%q at %v: %v, want %d first", c.words, c.near, codes(found), c.first)
		}
	}
	if found := FindCRS("", LonLat{4.9, 52.4}); len(found) < 5 {
		t.Errorf("in Amsterdam: %v", codes(found))
	} else {
		for i, c := range found {
			if !c.Holds(LonLat{4.9, 52.4}) {
				t.Errorf("%s doesn't hold Amsterdam", c.ID())
			}
			if i > 0 && found[i-1].Area().sizeDeg2() > c.Area().sizeDeg2() {
				t.Errorf("%s before %s", found[i-1].ID(), c.ID())
			}
		}
	}
	if found := FindCRS("rd new", LonLat{-74, 40.7}); len(found) != 0 {
		t.Errorf("the Dutch grid in New York: %v", codes(found))
	}
	if found := FindCRS("zanzibar 1999", nowhere); len(found) != 0 {
		t.Errorf("%v", codes(found))
	}
	if found := FindCRS("zone 3 gauss dhdn", nowhere); len(found) != 2 { // 31467, and 5677 with axes east and north
		t.Errorf("zone 3: %v", codes(found))
	}
}

// A system whose area does not hold a job can be refused by the area's name.
func TestCRSArea(t *testing.T) {
	for _, c := range []struct {
		code string
		at   LonLat
		want bool
		name string
	}{
		{"28992", LonLat{4.9, 52.4}, true, "Netherlands"},
		{"28992", LonLat{7.6, 51.9}, false, "Netherlands"},
		{"2229", LonLat{-118.2, 34.05}, true, "California"},
		{"2229", LonLat{-122.4, 37.8}, false, "California"},
		{"32618", LonLat{-74, 40.7}, true, "UTM zone 18"},
		{"32618", LonLat{-71, 42.4}, false, "UTM zone 18"},
		{"26940", LonLat{175, 52}, true, "Alaska"}, // over the antimeridian
		{"26940", LonLat{-160, 55}, false, "Alaska"},
		{"4326", LonLat{0, -89}, true, "World"},
		{"3857", LonLat{0, 88}, false, "World"},
	} {
		crs := mustCRS(t, c.code)
		if crs.Holds(c.at) != c.want || !strings.Contains(crs.Area().Name, c.name) {
			t.Errorf("%s (%s) holds %v: %v", crs.ID(), crs.Area().Name, c.at, crs.Holds(c.at))
		}
	}
	for _, row := range zoneRows() {
		z, err := parseZone(row)
		if err != nil || z.area.Name == "" || z.area.sizeDeg2() <= 0 {
			t.Errorf("%d: area %+v, %v", z.code, z.area, err)
		}
	}
}
