// Package remark has the kinds of what the map tells beyond where its lines lie: a type
// for each, with the figures that it was found by and no words. Estimators and checks
// make remarks, export/words says them in the reader's units, and export/tongue in the
// crew's language.
//
//	reason.go    why a reading was set aside, or its depth left out
//	line.go      how a line was drawn, how good it is, and where it was not traced
//	bleed.go     what speaks for another line's signal
//	check.go     checks made, those that were not possible, what to try next
//	guard.go     what the readings hold against the finished line
//	advice.go    what to check before digging
//	item.go      of that, what is about one place
//	input.go     and what columns, frames and dates ask
//
// Lengths are in metres, stations are those of the line. A kind without words, and words
// without a kind, fail a test of export/words.
package remark
