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

// bothWays words something in both systems; shown is the job's.
func bothWays(job geo.Units, words func(u geo.Units) string) both {
	return both{Metric: words(geo.Metric), US: words(geo.US), shown: job}
}

// Shown is the text in the job's system.
func (b both) Shown() string {
	if b.shown == geo.US {
		return b.US
	}
	return b.Metric
}

// Same reports whether neither the system nor the language makes a difference.
func (b both) Same() bool { return b.Metric == b.US && b.En == nil }

// bothLists pairs two lists of sentences. Where they differ in length, which
// the wording functions do not let happen, each system keeps its own.
func bothLists(job geo.Units, words func(u geo.Units) []string) []both {
	m, us := words(geo.Metric), words(geo.US)
	out := make([]both, max(len(m), len(us)))
	for i := range out {
		out[i].shown = job
		if i < len(m) {
			out[i].Metric = m[i]
		}
		if i < len(us) {
			out[i].US = us[i]
		}
	}
	return out
}

// bothSentences words remarks in both systems, each with its capital and stop.
func bothSentences(s *trace.Sheet, rs []trace.Remark) []both {
	return bothLists(s.Job.Units, func(u geo.Units) []string { return sentences(words.Remarks(u, rs)) })
}
