package geo

import (
	"strconv"
	"strings"
	"testing"
)

// GDAL writes the well-known text of a system in the dialect of Shapefiles' .prj,
// which has no EPSG code; FromWKT finds the system again, or one of the same
// figures.
func TestSystemsFromPRJ(t *testing.T) {
	codes := []int{4326, 4269, 6318, 4258, 7844, 2229, 6424, 2263, 6539, 26911, 6340, 32611, 32733, 25832, 2154, 2180, 3006, 3035, 2193, 28992, 27700, 31370, 7855, 2240, 2056, 6677}
	var systems []string
	for _, code := range codes {
		systems = append(systems, "EPSG:"+strconv.Itoa(code))
	}
	for i, text := range systemsByGDAL(t, `ExportToWkt(["FORMAT=WKT1_ESRI", "MULTILINE=NO"])`, systems) {
		code := codes[i]
		if strings.Contains(text, "AUTHORITY") {
			t.Fatalf("GDAL names the code: %s", text)
		}
		c, err := FromWKT(text)
		if err != nil {
			t.Errorf("EPSG:%d: %v\n%s", code, err, text)
			continue
		}
		if c.Code != code {
			want, err := LookupCRS(strconv.Itoa(code))
			if err != nil {
				t.Fatal(err)
			}
			if c.Datum != want.Datum || c.UnitM != want.UnitM || c.Geographic() != want.Geographic() {
				t.Errorf("EPSG:%d was taken for %s (%s)", code, c.ID(), c.Name)
			} else {
				t.Logf("EPSG:%d was taken for %s (%s)", code, c.ID(), c.Name)
			}
		}
	}
}

// Our own text is read back as the system that it is, also without its code.
func TestOwnWKTIsReadBack(t *testing.T) {
	for _, code := range []string{"4326", "2229", "26911", "32611", "2154", "28992"} {
		c, err := LookupCRS(code)
		if err != nil {
			t.Fatal(err)
		}
		text := c.WKT()
		got, err := FromWKT(text)
		if err != nil || got.Code != c.Code {
			t.Errorf("EPSG:%s: %v, %v", code, got.Code, err)
		}
		i := strings.LastIndex(text, ",AUTHORITY")
		if got, err = FromWKT(text[:i] + "]"); err != nil || got.Code != c.Code {
			t.Errorf("EPSG:%s without its code: %v, %v\n%s", code, got.Code, err, text)
		}
	}
	for _, bad := range []string{"", "PROJCS", `PROJCS["x"`, `PROJCS["x",GEOGCS["y",DATUM["D_Mars"]]]`, `LOCAL_CS["x"]`, strings.Repeat("A[", 100)} {
		if c, err := FromWKT(bad); err == nil {
			t.Errorf("%q was taken for %s", bad, c.ID())
		}
	}
}
