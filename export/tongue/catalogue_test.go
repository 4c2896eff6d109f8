package tongue

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// A pair says the same thing twice: each place, each figure and each warning in
// capitals stands in both, and only one pair has an English template.
func TestPairsKeepPlacesAndFigures(t *testing.T) {
	figures := regexp.MustCompile(`\d+(?:[.,]\d+)*`)
	seen := map[string]string{}
	for _, tm := range spanish().all {
		p := tm.pair
		if other, twice := seen[p.english]; twice {
			t.Errorf("%q is there twice: %q, %q", p.english, p.other, other)
		}
		seen[p.english] = p.other
		places, others := placePattern.FindAllString(p.english, -1), placePattern.FindAllString(p.other, -1)
		if len(slices.Compact(slices.Sorted(slices.Values(places)))) != len(places) {
			t.Errorf("%q has a place twice: number them", p.english)
		}
		slices.Sort(places)
		slices.Sort(others)
		if !slices.Equal(places, others) {
			t.Errorf("%q has the places %v, %q has %v", p.english, places, p.other, others)
		}
		en, es := figures.FindAllString(placePattern.ReplaceAllString(p.english, ""), -1), figures.FindAllString(placePattern.ReplaceAllString(p.other, ""), -1)
		if !slices.Equal(en, es) {
			t.Errorf("%q has the figures %v, %q has %v", p.english, en, p.other, es)
		}
		for _, stop := range []string{"DO NOT TRUST", "NOT TRACED", "CAUTION", "SIMULATOR DATA", "IN DOUBT"} {
			if strings.Contains(p.english, stop) && !regexp.MustCompile(`[A-ZÁÉÍÓÚÑ]{2,}`).MatchString(p.other) {
				t.Errorf("%q says %s aloud, %q does not", p.english, stop, p.other)
			}
		}
		for _, sign := range []string{"±", "%", "×", "“", "[[", "SHA-256"} {
			if strings.Count(p.english, sign) != strings.Count(p.other, sign) {
				t.Errorf("%q and %q differ in %q", p.english, p.other, sign)
			}
		}
		if strings.HasSuffix(p.english, ".") != strings.HasSuffix(p.other, ".") || strings.HasSuffix(p.english, ". ") != strings.HasSuffix(p.other, ". ") {
			t.Errorf("%q and %q do not end alike", p.english, p.other)
		}
		for k := 1; k < len(tm.kinds); k++ {
			if tm.literals[k] == "" {
				t.Errorf("%q has two places without a word between them", p.english)
			}
		}
	}
}

// No warning becomes softer: what a crew must or must not do is an order in both.
func TestOrdersStayOrders(t *testing.T) {
	for english, want := range map[string]string{
		"Expose to verify": "escubra", "expose to verify": "escubra", "xpose both": "escubra ambas", "xpose it": "escúbrala", "before digging": "antes de excavar",
		"Do not ": "No ", "do not trust": "no conf", "Never ": "unca ", "Locate it again": "ocalícela de nuevo", "Measure from the paint, not": "ida desde las marcas", "Measure from the paint on": "ida desde la pintura",
	} {
		for _, tm := range spanish().all {
			if strings.Contains(tm.english, english) && !strings.Contains(tm.other, want) && !strings.Contains(tm.other, strings.ToLower(want)) {
				t.Errorf("%q has no %q in %q", tm.english, want, tm.other)
			}
		}
	}
}

func speaker() *Speaker {
	return For(&trace.Sheet{Job: trace.Job{Language: trace.Spanish, Lines: []trace.LineSetup{{Name: "W-1"}, {Name: "not traced"}, {Name: "No. 4 Main St"}}}})
}

func TestSay(t *testing.T) {
	by := speaker()
	for english, want := range map[string]string{
		"W-1, 14.2 m to 40.7 m: bleed-over suspected, no known line there. Expose before digging within 2.40 m of the paint.": "W-1, 14.2 m a 40.7 m: sospecha de señal de línea vecina, sin línea conocida ahí. Descubra la línea antes de excavar a menos de 2.40 m de la marca de pintura.",
		"Null lies 6 in right of peak over 9 readings; one line alone gives 0 ± 2 in.":                                        "El nulo está a 6 in a la derecha del pico en 9 lecturas; una línea sola da 0 ± 2 in.",
		"Depth not read; expose to verify": "Profundidad no leída; descubra para verificar",
		"Not traced, 12.0 to 34.5 m":       "Sin rastrear, 12.0 a 34.5 m",
		"No known line near; fits a current of +0.5 (90 %: +0.4 to +0.6) times the line's own in a line on either side, roughly 0.40 m away.": "No hay línea conocida cerca; cuadra con una corriente de +0.5 (90 %: +0.4 a +0.6) veces la de la línea en una línea a uno u otro lado, más o menos a 0.40 m.",
		"The record 'O'Neil's main' may lie 1.20 m off, because its frame is not stated: no distance from it is evidence by itself.":          "La línea según registros 'O'Neil's main' puede estar desplazada 1.20 m, porque no se indicó su marco de referencia: ninguna distancia a ella es prueba por sí misma.",
		"3 ft 5 in": "3 ft 5 in",
		"Positions are in NAD83(2011). They were moved by 1.34 m to WGS 84 (ITRF2014) at epoch 2026.36, with EPSG:8970 reversed, good to about 0.05 m; movement of the ground since the frame's own epoch is not taken out.":                                                                                                  "Las posiciones están en NAD83(2011). Se movieron 1.34 m a WGS 84 (ITRF2014) en la época 2026.36, con EPSG:8970 reversed, buena hasta unos 0.05 m; el movimiento del terreno desde la época propia del marco no se descuenta.",
		"Positions are in NAD83(CSRS) (taken as its version 7). They were moved by 1.34 m to WGS 84 (ITRF2014) at epoch 2026.36, with EPSG:8970 reversed, good to about 0.1 m; movement of the ground since the frame's own epoch is not taken out.":                                                                          "Las posiciones están en NAD83(CSRS) (tomado como su versión 7). Se movieron 1.34 m a WGS 84 (ITRF2014) en la época 2026.36, con EPSG:8970 reversed, buena hasta unos 0.1 m; el movimiento del terreno desde la época propia del marco no se descuenta.",
		"walk.csv: the column \"depht_m\" is not known (did you mean depth_m?), so no depths were read. Rename it, or name it in the job file under [columns], and make the map again.":                                                                                                                                       "walk.csv: la columna \"depht_m\" no se conoce (¿quiso decir depth_m?), así que no se leyó ninguna profundidad. Cámbiele el nombre, o nómbrela en el archivo del trabajo bajo [columns], y haga el mapa de nuevo.",
		"The datum is stated as GDA2020, which is used in another part of the world (Australia - GDA): it was not used. Or the positions are wrong: the sign of the latitude may be lost, and the map would lie on another continent. Ask which frame the corrections were in, and measure from the paint, not from the map.": "El datum indicado es GDA2020, que se usa en otra parte del mundo (Australia - GDA): no se usó. O las posiciones están mal: puede haberse perdido el signo de la latitud, y el mapa quedaría en otro continente. Pregunte en qué marco venían las correcciones, y mida desde las marcas de pintura, no desde el mapa.",
		"No. 4 Main St: not traced. Find the line there before digging.": "No. 4 Main St: sin rastrear. Localice la línea ahí antes de excavar.",
		"Something nobody has words for. Expose to verify.":              "Something nobody has words for. Expose to verify.",
		"": "",
	} {
		if got := by.Say(english); got != want {
			t.Errorf("%q\ngot  %q\nwant %q", english, got, want)
		}
	}
	var missed []string
	stop := Listen(func(s string) { missed = append(missed, s) })
	by.Say("Something nobody has words for. Depth not read; expose to verify")
	stop()
	if len(missed) != 1 || missed[0] != "Something nobody has words for." {
		t.Errorf("missed %q", missed)
	}
	if english := For(&trace.Sheet{Job: trace.Job{Language: trace.English, Units: geo.Metric}}); english.Say("Lines") != "Lines" || english.Code() != "en" || english.Both() {
		t.Error("English does not stay English")
	}
}

// Every caution is there, whole.
func TestCautionsAreWhole(t *testing.T) {
	by := speaker()
	for _, c := range trace.Cautions() {
		said, ok := by.single(c)
		if !ok || strings.Count(said, ".") < strings.Count(c, ".") {
			t.Errorf("%q: %q", c, said)
		}
	}
}

// A text that could be made of the templates in a thousand ways is given up in time.
func TestTheSearchEnds(t *testing.T) {
	for _, part := range []string{"a: ", "ab; ", "left; ", "used, ", "3 × used, ", "W-1: ", "W-1, ", "left, at ", "left (watch) ", "Gas. ", "x is in y, and ", "not traced. "} {
		speaker().Say(strings.Repeat(part, 400))
	}
}

// A hostile text neither hangs nor blows up the search.
func FuzzSay(f *testing.F) {
	f.Add("W-1, W-1, W-1: W-1; W-1. W-1 crosses W-1 at 3.0 m. 3 × W-1 (row 1, 2).")
	f.Add(strings.Repeat("used, ", 40) + "; : . ")
	f.Fuzz(func(t *testing.T, s string) {
		if len(s) < 500 {
			speaker().Say(s)
		}
	})
}

// One thing has one word wherever a person reads it: a paint mark is on the ground, the
// drawn line is on the map, and neither is a bare 'mark'. The cautions speak of whoever's
// marks, flags among them.
func TestMarksArePaintAndLinesAreDrawn(t *testing.T) {
	bare := regexp.MustCompile(`(?i)\bmarks?\b`)
	for _, tm := range spanish().all {
		english := tm.pair.english
		rest := regexp.MustCompile(`(?i)paint marks?\b`).ReplaceAllString(english, "")
		if bare.MatchString(rest) && !slices.ContainsFunc(trace.Cautions(), func(c string) bool { return strings.Contains(c, english) }) {
			t.Errorf("%q says neither paint mark nor drawn line", english)
		}
	}
}

// An item of many places is said whole, in the time that a sentence may take.
func TestManyPlacesAreSaid(t *testing.T) {
	english := "W-1, 40 places, at worst: only 2 readings over 30.0 m: between them the line may run elsewhere. Find the line there before digging: "
	want := "W-1, 40 lugares, en el peor: solo 2 lecturas a lo largo de 30.0 m: entre ellas la línea puede ir por otro lado. Localice la línea ahí antes de excavar: "
	for i := range 40 {
		from, to := strconv.Itoa(100*i)+".0", strconv.Itoa(100*i+20)+".0 m"
		english += "from " + from + " to " + to + "; "
		want += "de " + from + " a " + to + "; "
	}
	english, want = strings.TrimSuffix(english, "; ")+".", strings.TrimSuffix(want, "; ")+"."
	if got := speaker().Say(english); got != want {
		t.Errorf("%q", got)
	}
}
