package pdf

import (
	"strings"
	"testing"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/sample"
	"loamline.example/export/tongue"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/tracetest/study"
)

// in gives a job a language and the cautions of every map.
func in(language string, s *trace.Sheet) *trace.Sheet {
	s.Job.Language = language
	if len(s.Cautions) > 0 {
		s.Cautions = trace.Cautions()
	}
	return s
}

// The sheets have the letters of Spanish: none is shown as a box.
func TestFontsHaveTheLettersOfSpanish(t *testing.T) {
	c := paper.New(100, 100, paper.Info{})
	for _, r := range "áéíóúüñÁÉÍÓÚÜÑ¿¡“”×±" {
		if got := c.Clean(string(r)); got != string(r) {
			t.Errorf("%q is shown as %q", r, got)
		}
	}
}

// Words do not run over each other nor out of the frame in Spanish, which takes more
// room than English, and on a crew sheet in both.
func TestSpanishWordsDoNotOverlap(t *testing.T) {
	for language, size := range map[string]Paper{trace.Spanish: A4, trace.EnglishAndSpanish: Letter} {
		f := upright(size).frame
		for name, s := range crewJobs() {
			if language == trace.Spanish && !study.Full() {
				continue // with both languages a sheet has more on it
			}
			noOverlap(t, language+", "+name+" on "+string(size), pdfWords(t, pdfFile(t, crewPDF(t, crewSheetOf{name, language, size}, s))), func(w word) bool {
				return w.x0 >= f.X && w.x1 <= f.Right()+0.1 && w.y0 >= f.Y-0.3 && w.y1 <= f.Bottom()+0.3
			})
		}
	}
	for _, size := range study.Some(1, A4, A3) {
		pages := pdfWords(t, pdfFile(t, pdfBytes(t, in(trace.Spanish, sample.Sheet()), Options{Paper: size, Sheets: trace.SheetsFull})))
		f := layoutOf(size).frame
		for i, p := range pages {
			if len(p) > 1 && p[1].text == "DE" && p[2].text == "REPLANTEO" {
				pages = pages[:i]
				break
			}
		}
		noOverlap(t, "the set on "+string(size), pages, func(w word) bool { return w.x0 >= f.X && w.x1 <= f.Right()+0.1 && w.y1 <= f.Bottom()+0.3 })
	}
}

func noOverlap(t *testing.T, what string, pages [][]word, within func(word) bool) {
	t.Helper()
	for no, page := range pages {
		for i, a := range page {
			if !within(a) {
				t.Errorf("%s, page %d: %q lies outside the frame", what, no+1, a.text)
			}
			for _, b := range page[i+1:] {
				if a.over(b) {
					t.Errorf("%s, page %d: %q runs over %q at %.0f,%.0f mm", what, no+1, a.text, b.text, a.x0, a.y0)
				}
			}
		}
	}
}

// A crew sheet in Spanish is one page and has every item of the check list and every
// caution; in both languages it has each of them twice.
func TestCrewSheetInSpanishLosesNoWarning(t *testing.T) {
	s := in(trace.Spanish, sample.Sheet())
	s.Advice[0].Remark = trace.Verbatim("W-1, 12.0 m to 21.0 m: bleed-over strongly suspected, perhaps from G-1. Expose before digging within 1.20 m of the paint.")
	by := tongue.For(s)
	pages := crewText(t, s, Options{})
	if !strings.Contains(pages[0], "Hoja de cuadrilla, hoja 1 de 3") {
		t.Error("the crew sheet in Spanish is no single page")
	}
	for _, a := range append(words.Advice(s), s.Cautions...) {
		if said := by.Say(a); !strings.Contains(pages[0], said) {
			t.Errorf("the crew sheet does not say %q", said)
		}
	}
	if !strings.Contains(pages[0], by.Say(words.Remark(s.Job.Units, s.Advice[0].Remark))) || by.Say(words.Remark(s.Job.Units, s.Advice[0].Remark)) == words.Remark(s.Job.Units, s.Advice[0].Remark) {
		t.Errorf("%q", by.Say(words.Remark(s.Job.Units, s.Advice[0].Remark)))
	}
	s.Job.Language = trace.EnglishAndSpanish
	all := strings.Join(crewText(t, s, Options{}), " ")
	for _, a := range append(words.Advice(s), s.Cautions...) {
		for _, want := range []string{a, by.Say(a)} {
			if !strings.Contains(all, want) {
				t.Errorf("the crew sheet in both languages does not say %q", want)
			}
		}
	}
}

// A crew sheet that is one page in English is one in Spanish, and in both languages one
// sheet of paper: a page where both have room on it in type of leastBothPt, else a page for
// each language, which says where the other is. No page has type for reading below the
// least of crewTypes.
func TestCrewSheetIsOneSheetInEveryLanguage(t *testing.T) {
	study.Only(t)
	for name, s := range crewJobs() {
		usual, _ := papers(s.Job.Units)
		pages := func(language string) []string {
			var out []string
			for _, p := range pagesOf(t, crewPDF(t, crewSheetOf{name, language, usual}, s)) {
				if strings.Contains(p, "Crew sheet, sheet") || strings.Contains(p, "Hoja de cuadrilla, hoja") {
					out = append(out, p)
				}
			}
			return out
		}
		if len(pages(trace.English)) > 1 {
			continue
		}
		if n := len(pages(trace.Spanish)); n != 1 {
			t.Errorf("%s: %d pages in Spanish", name, n)
		}
		both := pages(trace.EnglishAndSpanish)
		switch len(both) {
		case 1:
		case 2:
			if !strings.Contains(both[0], "In English: sheet 2") && !strings.Contains(both[0], "En inglés: hoja 2") || !strings.Contains(both[1], "En español: hoja 1") {
				t.Errorf("%s: a side does not say where the other language is", name)
			}
			for _, c := range s.Cautions {
				if !strings.Contains(both[1], c) {
					t.Errorf("%s: the English side does not say %q", name, c)
				}
			}
		default:
			t.Errorf("%s: %d pages in both languages", name, len(both))
		}
	}
}

// The head of a page in two languages tells each fact whole in both, on a line each where
// one has no room for both.
func TestCrewHeadInTwoLanguagesIsWhole(t *testing.T) {
	s := in(trace.EnglishAndSpanish, sample.Of(geo.Metric, sample.Straight(40, 0.3, 21)))
	s.Job.Tolerance.HalfWidthM, s.Job.Tolerance.Rule = 18*geo.InchM, s.Lines[0].Tolerance.Rule
	page := crewText(t, s, Options{})[0]
	head, _, found := strings.Cut(page, "CHECK BEFORE DIGGING")
	if !found || !strings.Contains(page, "CREW SHEET") {
		t.Fatalf("no page in both languages: %q", page)
	}
	by := tongue.For(in(trace.Spanish, s))
	for _, want := range []string{"to each side of the drawn line", "a cada lado de la línea dibujada", "write the numbers of the owners here", by.Say("not stated: write the numbers of the owners here")} {
		if !strings.Contains(head, want) {
			t.Errorf("the head does not say %q: %q", want, head)
		}
	}
	if strings.Contains(head, "…") {
		t.Errorf("the head is cut: %q", head)
	}
}

// The points to stake out are told in both languages of a sheet, a table in each that
// says where the other is.
func TestStakeOutTableInBothLanguages(t *testing.T) {
	var other, english string
	for _, p := range crewText(t, in(trace.EnglishAndSpanish, sample.Sheet()), Options{}) {
		switch {
		case strings.Contains(p, "TABLA DE REPLANTEO"):
			other += p
		case strings.Contains(p, "STAKE-OUT TABLE"):
			english += p
		}
	}
	for _, want := range []string{"Dónde", "inicio de la línea rastreada", "Los lugares son los de la línea dibujada", "En inglés: hoja", "PRECAUCIÓN", "no confíe"} {
		if !strings.Contains(other, want) {
			t.Errorf("the table in Spanish does not say %q", want)
		}
	}
	for _, want := range []string{"Where", "start of the line as traced", "Places are those of the drawn line", "En español: hoja", "CAUTION", "do not trust"} {
		if !strings.Contains(english, want) {
			t.Errorf("the table in English does not say %q", want)
		}
	}
}
