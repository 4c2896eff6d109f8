package geo

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"
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
	for _, s := range searchable() {
		if near.Valid() && !s.area.Holds(near) || !fitAll(asked, s.words) {
			continue
		}
		if c, err := LookupCRS(strconv.Itoa(s.code)); err == nil {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b CRS) int {
		return cmp.Or(cmp.Compare(a.area.sizeDeg2(), b.area.sizeDeg2()), cmp.Compare(len(a.Name), len(b.Name)), cmp.Compare(a.Code, b.Code))
	})
	return out
}

// searched is a system as FindCRS looks at it.
type searched struct {
	code  int
	area  Area
	words []string
}

// searchable lists every system once; the codes of geographic ones with heights
// are words of those without, which are the same to us.
var searchable = sync.OnceValue(func() []searched {
	var out []searched
	add := func(code int, area Area, texts ...string) {
		out = append(out, searched{code, area, append(searchWords(strings.Join(append(texts, area.Name), " ")), "epsg", strconv.Itoa(code))})
	}
	for _, g := range geographic {
		also := ""
		for _, code := range g.codes[1:] {
			also += " " + strconv.Itoa(code)
		}
		add(g.codes[0], g.area, g.name, g.datum, "geographic latitude longitude degrees", also)
	}
	for n := 1; n <= 60; n++ {
		for _, code := range []int{32600 + n, 32700 + n} {
			c, _ := utmWGS84(code)
			add(code, c.area, c.Name, c.Datum, c.Unit)
		}
	}
	if web, err := LookupCRS("3857"); err == nil {
		add(web.Code, web.area, web.Name, web.Datum, web.Unit, "Web Mercator")
	}
	for _, row := range zoneRows() {
		z, err := parseZone(row)
		if err != nil {
			panic(err) // a test reads every row
		}
		base, _ := geographicCRS(z.base)
		add(z.code, z.area, z.name, base.Datum, z.unit, z.words)
	}
	return out
})

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
	words := strings.FieldsFunc(plain.Replace(strings.ToLower(s)), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '.' // 4.5 degrees are no zone 4
	})
	for i, w := range words {
		words[i] = strings.Trim(w, ".")
	}
	return words
}
