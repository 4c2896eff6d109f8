package tongue

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Speaker says the sentences of one sheet in the crew's language. Its nil value
// speaks English: it gives every text back as it came.
type Speaker struct {
	*catalogue
	both  bool
	names map[string]bool
	memo  map[string]said
	tries int // places that may still be filled for the text at hand
}

type said struct {
	text string
	ok   bool
}

// memoMost bounds what a Speaker remembers: a job of a million readings has as many
// sentences.
const memoMost = 1 << 16

// mostTries bounds the search for what a text could be made of: a sentence of the
// program takes some hundreds, an item of several places some ten thousands, and a name
// made to be searched for ever gets no more.
const mostTries = 100000

// triesOfASentence is what one full stop counts for in the search for where sentences
// end.
const triesOfASentence = 20

var spanish = sync.OnceValue(func() *catalogue { return newCatalogue(spanishGroups...) })

// For returns who speaks for a sheet by its job's language, nil for English.
func For(s *trace.Sheet) *Speaker {
	if s.Job.Language != trace.Spanish && s.Job.Language != trace.EnglishAndSpanish {
		return nil
	}
	return &Speaker{catalogue: spanish(), both: s.Job.Language == trace.EnglishAndSpanish, names: namesIn(s), memo: map[string]said{}}
}

// Both reports that the map speaks English beside the other language.
func (t *Speaker) Both() bool { return t != nil && t.both }

// Alone speaks the other language without English beside it.
func (t *Speaker) Alone() *Speaker {
	alone := *t
	alone.both = false
	return &alone
}

// Code is the language's code in HTML and PDF.
func (t *Speaker) Code() string {
	if t == nil {
		return "en"
	}
	return "es"
}

// Say is a text in the crew's language. What the catalogue does not know stays as
// it is, sentence by sentence.
func (t *Speaker) Say(english string) string {
	if t == nil || english == "" {
		return english
	}
	t.tries = mostTries
	if s, ok := t.phrase(english); ok {
		return s
	}
	pieces := sentencesOf(english)
	t.tries = mostTries
	for i, p := range pieces {
		s, ok := t.phrase(p)
		if ok {
			pieces[i] = s
		} else {
			missed(p)
		}
	}
	return strings.Join(pieces, " ")
}

// phrase translates a text whole, or not at all.
func (t *Speaker) phrase(s string) (string, bool) {
	if m, ok := t.memo[s]; ok {
		return m.text, m.ok
	}
	t.memo[s] = said{} // it cannot be a part of itself
	text, ok := t.look(s)
	if len(t.memo) > memoMost {
		clear(t.memo)
	}
	if ok || t.tries > 0 {
		t.memo[s] = said{text, ok}
	} else {
		delete(t.memo, s) // it was not looked through
	}
	return text, ok
}

func (t *Speaker) look(s string) (string, bool) {
	if out, ok := t.single(s); ok {
		return out, true
	}
	if t.names[s] || wordless(s) {
		return s, true
	}
	return t.series(s)
}

// single finds one template for the whole text, whatever the case of its first
// letter and with or without its full stop.
func (t *Speaker) single(s string) (string, bool) {
	core, stop := s, ""
	if strings.HasSuffix(s, ".") {
		core, stop = s[:len(s)-1], "."
	}
	for _, form := range []string{core, turned(core)} {
		for _, i := range t.candidates(form) {
			tm := t.all[i]
			out, ok := tm.say(t, form)
			if !ok {
				continue
			}
			if form != core && tm.out[0].text != "" {
				out = turned(out)
			}
			return out + stop, true
		}
	}
	return "", false
}

// series is several sentences on end, the longest that are known first.
func (t *Speaker) series(s string) (string, bool) {
	for end := strings.LastIndex(s, ". "); end > 0; end = strings.LastIndex(s[:end], ". ") {
		if t.tries -= triesOfASentence; t.tries < 0 {
			break
		}
		first, ok := t.single(s[:end+1])
		if !ok {
			continue
		}
		if rest, ok := t.phrase(s[end+2:]); ok {
			return first + " " + rest, true
		}
	}
	return "", false
}

// turned changes the case of the first letter.
func turned(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	switch {
	case unicode.IsUpper(r):
		return string(unicode.ToLower(r)) + s[n:]
	case unicode.IsLower(r):
		return string(unicode.ToUpper(r)) + s[n:]
	}
	return s
}

// sentencesOf parts a text at its full stops.
func sentencesOf(s string) []string {
	var out []string
	for {
		i := strings.Index(s, ". ")
		if i < 0 {
			return append(out, s)
		}
		out, s = append(out, s[:i+1]), s[i+2:]
	}
}

// namesIn are the texts of a job that are its own: names of lines, records and
// features, files, and what was written into the job file.
func namesIn(s *trace.Sheet) map[string]bool {
	names := map[string]bool{}
	add := func(all ...string) {
		for _, n := range all {
			if n != "" {
				names[n] = true
			}
		}
	}
	j := &s.Job
	add(s.Name, j.Ticket, j.Locator, j.Area, j.Date, j.ValidUntil, j.Tolerance.Rule, j.VerticalDatum, s.Version, j.Contact.Owner, j.Contact.OwnerPhone, j.Contact.Emergency)
	for _, in := range s.Inputs {
		add(in.Name)
	}
	for _, l := range j.Lines {
		add(l.Name)
	}
	for i := range s.Lines {
		l := &s.Lines[i]
		add(l.Setup.Name, l.Setup.Material)
		for _, f := range l.Findings {
			add(f.OnLine())
			namesOfFinding.Of(f)(add)
		}
		for _, c := range l.Compared {
			add(c.Record, c.Source)
		}
	}
	for _, r := range s.Records {
		add(r.Name, r.Source)
	}
	for _, b := range s.Background {
		add(b.Name, b.Source)
	}
	for _, f := range s.Features {
		add(f.Name, f.Source)
	}
	delete(names, trace.UnknownNeighbor) // a neighbour that is not known has no name
	return names
}

type adder = func(...string)

// namesOfFinding are the names that a finding brings along.
var namesOfFinding = finding.PerKind[func(adder)]{
	BleedOver:        func(f finding.BleedOver) func(adder) { return func(add adder) { add(f.Neighbor) } },
	Crossing:         func(f finding.Crossing) func(adder) { return func(add adder) { add(f.Other, f.Source) } },
	RecordDifference: func(f finding.RecordDifference) func(adder) { return func(add adder) { add(f.Record) } },
	Else:             func(trace.Finding) func(adder) { return func(adder) {} },
}

// Template is what the catalogue says for a template of a page's script, places and
// all; English where it has none.
func (t *Speaker) Template(english string) string {
	core, stop := english, ""
	if strings.HasSuffix(english, ".") {
		core, stop = english[:len(english)-1], "."
	}
	for _, form := range []string{core, turned(core)} {
		for _, tm := range t.all {
			if tm.english == form && form == core {
				return tm.other + stop
			} else if tm.english == form {
				return turned(tm.other) + stop
			}
		}
	}
	missed(english)
	return english
}

// Problem is a problem of the input as the map tells it: where it is stays as the
// message has it.
func (t *Speaker) Problem(p *trace.Problem) string {
	if t == nil {
		return p.Error()
	}
	said := *p
	said.Cause, said.Hint = t.Say(p.Cause), t.Say(p.Hint)
	return said.Error()
}
