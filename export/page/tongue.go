package page

import (
	"html/template"
	"regexp"
	"strings"

	"loamline.example/export/tongue"
	"loamline.example/trace"
)

// voice is the page's language: nothing goes into the page but through it. In two
// languages each text stands in both, and the scripts show one.
type voice struct{ *tongue.Speaker }

// bare is a page's template as it stands in the file; each page has its own words.
var bare = template.Must(template.New("page.html.tmpl").Funcs(voice{}.funcs()).ParseFS(pageFiles, "page.html.tmpl"))

func (v voice) template() (*template.Template, error) {
	t, err := bare.Clone()
	if err != nil {
		return nil, err
	}
	return t.Funcs(v.funcs()), nil
}

func (v voice) funcs() template.FuncMap {
	return template.FuncMap{
		"language":  v.Code,
		"bilingual": v.Both,
		"say":       func(own string) template.HTML { return v.say(own) },
		"tell":      v.tell,
		"once":      func(s string) string { return v.Say(s) },
		"spoken":    v.spoken,
		"label":     v.label,
		"problem":   v.problem,
	}
}

// say is a text of the template itself, which has no letter that HTML minds.
func (v voice) say(own string) template.HTML {
	if v.Speaker == nil {
		return template.HTML(own)
	}
	return v.inBoth(v.Say(own), own)
}

// tell is a text of the job.
func (v voice) tell(s string) any {
	if said := v.Say(s); said == s || !v.Both() {
		return said
	}
	return v.inBoth(v.Say(s), s)
}

func (v voice) inBoth(said, english string) template.HTML {
	if said == english || !v.Both() {
		return template.HTML(template.HTMLEscapeString(said))
	}
	return template.HTML(`<span data-words="` + template.HTMLEscapeString(said) + `" data-words-en="` + template.HTMLEscapeString(english) + `">` +
		template.HTMLEscapeString(said) + `</span>`)
}

// label is what a screen reader says of an element of the template.
func (v voice) label(own string) template.HTMLAttr {
	said := template.HTMLEscapeString(v.Say(own))
	if v.Speaker == nil {
		said = own
	}
	out := `aria-label="` + said + `"`
	if v.Both() {
		out += ` data-label="` + said + `" data-label-en="` + own + `"`
	}
	return template.HTMLAttr(out)
}

func (v voice) problem(p *trace.Problem) any {
	english := p.Error()
	if said := v.Problem(p); said == english || !v.Both() {
		return said
	}
	return v.inBoth(v.Problem(p), english)
}

// spoken is a text in both units in the page's language.
func (v voice) spoken(b both) both {
	if v.Speaker == nil {
		return b
	}
	out := both{Metric: v.Say(b.Metric), US: v.Say(b.US), shown: b.shown}
	if v.Both() && (out.Metric != b.Metric || out.US != b.US) {
		out.En = &both{Metric: b.Metric, US: b.US}
	}
	return out
}

func (v voice) spokenAll(bs []both) []both {
	for i := range bs {
		bs[i] = v.spoken(bs[i])
	}
	return bs
}

// told finds the sentences of the page's scripts.
var told = regexp.MustCompile(`\btell\('((?:[^'\\]|\\.)*)'`)

// scriptTexts is the table of the scripts' sentences in the page's language.
func (v voice) scriptTexts() map[string]string {
	if v.Speaker == nil {
		return nil
	}
	out := map[string]string{}
	for _, name := range pageScripts {
		for _, m := range told.FindAllStringSubmatch(asset(name), -1) {
			english := strings.ReplaceAll(m[1], `\'`, `'`)
			out[english] = v.Template(english)
		}
	}
	return out
}
