// Package intake reads what goes into a job: readings tables, the job file,
// reference layers and logs of positions.
//
// [Load] reads all of them into a [loamline.example/trace.Source]. [ReadTable],
// [ReadJobFile], [ReadRecords] and [ReadGNSSLog] read one file each, and
// [ReadPreview] shows how a table would be read. Every row becomes a reading or
// a [loamline.example/trace.Problem] with its file, line and column. Units other than
// metres, hertz and milliamperes end here.
//
// The job file is decoded by go-toml into a tree that setters then walk. Its strict mode
// was tried in their place (v2.4.3, into structs): it names unknown keys with their line, but
// takes Ticket for ticket and [line] for a [[line]], names no table for a key of an inline
// one, takes 3 for a length whose text must have a unit, and gives no place to what is found
// later, such as two settings that contradict each other; its parser gives all places
// (keyplaces.go).
//
// The package judges no reading: whether a position or a depth can be meant is for
// loamline.example/trace/placing and loamline.example/trace/clean to say.
package intake
