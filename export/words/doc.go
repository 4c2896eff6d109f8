// Package words makes the sentences and units that people read, so that no
// format sounds surer than another.
//
//	words.go    depths, positions, shifts, ranges: a figure with its band and date
//	line.go     lines, zones, readings, roles
//	finding.go  findings: a title and what it means for whoever digs
//	remark.go   what else was found: each kind of remark is in the remark_*.go of its subject
//	reason.go   why readings were set aside, and how many for what
//	problem.go  problems of the input that have figures
//	doubt.go    what stands before a depth that is not to be trusted
//	text.go     capitals and full stops
//
// It refuses to tell a depth without its band and date.
package words
