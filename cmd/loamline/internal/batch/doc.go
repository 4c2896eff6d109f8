// Package batch makes the maps of many jobs: [Find] finds them in folders, and
// [Run] makes them side by side.
//
// What one job's lines are to the next must not depend on which of them was
// through first. So every job is fitted by itself ([Run]'s first pass), the lines
// of all go into one index, and only then is each judged with its neighbours and
// written (the second pass). What both passes made is kept in the folder of
// outputs with the fingerprint of all that it was made from, and made again only
// where that has changed:
//
//	find.go       which files are jobs
//	paths.go      where each job's outputs go, no two in one place
//	fingerprint.go what a job is made from
//	fit.go        the first pass, and what it keeps
//	shard.go      jobs shared out among programs
//	neighbors.go  the index between the passes
//	make.go       the second pass
//	record.go     what is kept of a job that is through
//	workers.go    jobs side by side, in turn where the order matters
//	entry.go      a job's line in the log
//	log.go        the log
//	summary.go    the table at the end
package batch
