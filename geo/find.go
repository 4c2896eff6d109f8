package geo

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// FindCRS returns the systems that all of the words fit, and that may be used at a
// place, those of the smallest area first. Words are compared without case and
// accents with EPSG's names of the system and of its area, with its code, its
// frame and its unit, and may be cut short: "rd new", "gauss 3", "state plane
// long island ftus", "28992". With a place that isn't valid, such as LonLat{NaN,
// NaN}, the place doesn't count; without words, all systems of the place are
// found.
func FindCRS(words string, near LonLat) []CRS {
	asked := searchWords(words)
	var out []CRS
	take := func(code int, area Area, texts ...string) {
		if near.Valid() && !area.Holds(near) || !fitAll(asked, append(searchWords(strings.Join(texts, " ")), "epsg", strconv.Itoa(code))) {
			return
		}
		if c, err := LookupCRS(strconv.Itoa(code)); err == nil {
			out = append(out, c)
		}
	}
	for _, g := range geographic {
		for i, code := range g.codes {
			if i == 0 || slices.Contains(asked, strconv.Itoa(code)) { // the 3D codes are the same to us
				take(code, g.area, g.name, g.datum, g.area.Name, "geographic latitude longitude degrees")
			}
		}
	}
	for n := 1; n <= 60; n++ {
		for _, code := range []int{32600 + n, 32700 + n} {
			c, _ := utmWGS84(code)
			take(code, c.area, c.Name, c.area.Name, c.Datum, c.Unit)
		}
	}
	if web, err := LookupCRS("3857"); err == nil {
		take(web.Code, web.area, web.Name, web.area.Name, web.Datum, web.Unit, "Web Mercator")
	}
	for _, row := range zoneRows() {
		z, err := parseZone(row)
		if err != nil {
			panic(err) // a test reads every row
		}
		base, _ := geographicCRS(z.base)
		take(z.code, z.area, z.name, z.area.Name, base.Datum, z.unit, z.words)
	}
	slices.SortStableFunc(out, func(a, b CRS) int {
		return cmp.Or(cmp.Compare(a.area.sizeDeg2(), b.area.sizeDeg2()), cmp.Compare(len(a.Name), len(b.Name)), cmp.Compare(a.Code, b.Code))
	})
	return out
}

// fitAll reports whether each asked word begins one of the words that are there;
// numbers must be the same, lest zone 3 find zone 31.
func fitAll(asked, there []string) bool {
	for _, a := range asked {
		_, err := strconv.Atoi(a)
		if !slices.ContainsFunc(there, func(w string) bool { return w == a || err != nil && strings.HasPrefix(w, a) }) {
			return false
		}
	}
	return true
}

// plain writes letters with accents as names in the EPSG dataset have them.
var plain = strings.NewReplacer("ä", "a", "ö", "o", "ü", "u", "ß", "ss", "é", "e", "è", "e", "á", "a", "à", "a",
	"í", "i", "ó", "o", "ú", "u", "ñ", "n", "ç", "c", "å", "a", "ø", "o", "ř", "r", "š", "s", "ž", "z", "č", "c", "ý", "y", "ě", "e", "ł", "l",
	"krueger", "kruger", "-degree", "degree", " degree", "degree") // "3-degree" is no zone 3

func searchWords(s string) []string {
	return strings.FieldsFunc(plain.Replace(strings.ToLower(s)), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
}
