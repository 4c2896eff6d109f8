// Package intake reads what goes into a job: readings tables, the job file,
// reference layers and logs of positions.
//
// [Load] reads all of them into a [loamline.example/trace.Source]. [ReadTable],
// [ReadJobFile], [ReadRecords] and [ReadGNSSLog] read one file each, and
// [ReadPreview] shows how a table would be read. Every row becomes a reading or
// a [loamline.example/trace.Problem] with its file, line and column. Units other than
// metres, hertz and milliamperes end here.
//
// The package judges no reading: whether a position or a depth can be meant is for
// loamline.example/trace/placing and loamline.example/trace/clean to say.
package intake
