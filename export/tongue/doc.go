// Package tongue says in the crew's language what the exporters word in English.
//
// Every sentence is made once, in English, where it belongs (export/words, the
// formats, and what trace/... words of problems of the input). At a format's door, just
// before a text is drawn or written, a [Speaker] looks it up in the catalogue of
// its language: pairs of templates, English and the other, with typed places for
// what differs from job to job.
//
//	tongue.go   who asks: a Speaker for a sheet, what it says, what it had no words for
//	template.go a pair of templates, and how a sentence is held against one
//	place.go    the kinds of places in a template, and what fits each
//	index.go    which templates a sentence could be, by its rarest word
//	es_*.go     the Spanish catalogue, by what it speaks of
//
// A sentence that nobody translated stays English and whole: a warning is never
// lost. Tests name each such sentence of the sources and of the maps of all small
// cases. A third language is another catalogue.
package tongue
