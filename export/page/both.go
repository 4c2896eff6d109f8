package page

import (
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// both is one text in the two systems that the page can switch between.
type both struct {
	Metric string `json:"metric"`
	US     string `json:"us"`
	En     *both  `json:"en,omitempty"` // in English, on a page in two languages
	shown  geo.Units
}

// pageUnits is what the page shows for a job's units: feet become feet and
// inches, as a tape shows them.
func pageUnits(u geo.Units) geo.Units {
	if u == geo.US {
		return geo.FeetInches
	}
	return geo.Metric
}

// bothWays words something in both systems; shown is the job's.
func bothWays(job geo.Units, words func(u geo.Units) string) both {
	return both{Metric: words(geo.Metric), US: words(geo.FeetInches), shown: pageUnits(job)}
}

// Shown is the text in the job's system.
func (b both) Shown() string {
	if b.shown == geo.FeetInches {
		return b.US
	}
	return b.Metric
}

// Same reports whether neither the system nor the language makes a difference.
func (b both) Same() bool { return b.Metric == b.US && b.En == nil }

// bothLists pairs two lists of sentences. Where they differ in length, which
// the wording functions do not let happen, each system keeps its own.
func bothLists(job geo.Units, words func(u geo.Units) []string) []both {
	m, us := words(geo.Metric), words(geo.FeetInches)
	out := make([]both, max(len(m), len(us)))
	for i := range out {
		out[i].shown = pageUnits(job)
		if i < len(m) {
			out[i].Metric = m[i]
		}
		if i < len(us) {
			out[i].US = us[i]
		}
	}
	return out
}

// inUnits rewrites sentences that came worded in the job's units.
func inUnits(u, job geo.Units, sentences, names []string) []string {
	out := make([]string, len(sentences))
	for i, s := range sentences {
		out[i] = words.InUnits(u, job, s, names...)
	}
	return out
}

// namesIn are the names of a job, in which no figure is a length.
func namesIn(s *trace.Sheet) []string {
	var out []string
	for i := range s.Lines {
		out = append(out, s.Lines[i].Setup.Name)
	}
	for _, r := range s.Records {
		out = append(out, r.Name)
	}
	for _, f := range s.Features {
		out = append(out, f.Name)
	}
	return out
}

// bothSentences gives the remarks of the job their capital and stop, in both
// systems.
func bothSentences(s *trace.Sheet, rs []trace.Remark) []both {
	return bothTexts(s, words.Remarks(s.Job.Units, rs))
}

// bothTexts is bothSentences of texts in the job's units.
func bothTexts(s *trace.Sheet, texts []string) []both { return asWritten(s, sentences(texts)) }

// asWritten is the same of texts that begin as they are to begin.
func asWritten(s *trace.Sheet, texts []string) []both {
	names := namesIn(s)
	return bothLists(s.Job.Units, func(u geo.Units) []string { return inUnits(u, s.Job.Units, texts, names) })
}
