package geo

import "testing"

// The names are those of the EPSG dataset (epsg.org, extents of the systems).
func TestAreaName(t *testing.T) {
	for code, want := range map[string]string{
		"EPSG:2154":  "France",
		"EPSG:27700": "UK - Britain and UKCS 49°45'N to 61°N, 9°W to 2°E",
		"EPSG:32631": "0° E to 6° E, 0° N to 84° N",
		"EPSG:32719": "72° W to 66° W, 80° S to 0° N",
	} {
		c, err := LookupCRS(code)
		if err != nil {
			t.Fatal(err)
		}
		if got := c.AreaName(); got != want {
			t.Errorf("%s: %q", code, got)
		}
	}
}
