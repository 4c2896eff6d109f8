// Package batch makes the maps of many jobs: [Find] finds them in folders, and
// [Run] makes them side by side.
//
// What one job's lines are to the next must not depend on which of them was
// through first. So it is found out first where every job lies. Those that others
// come near are fitted by themselves, and their lines go into one index; then every
// job is judged with its neighbours and written. A job that lies alone is fitted once.
// What is made on the way is kept in the folder of outputs with the fingerprint of all
// that it was made from, and made again only where that has changed:
//
//	find.go       which files are jobs
//	paths.go      where each job's outputs go, no two in one place
//	fingerprint.go what a job is made from
//	shard.go      jobs shared out among programs
//	look.go       where a job lies
//	beside.go     which jobs' lines may be another's neighbours
//	fit.go        lines for the jobs beside, and what is kept of them
//	neighbors.go  the index
//	make.go       the map
//	record.go     what is kept of a job that is through
//	workers.go    jobs side by side, in turn where the order matters
//	entry.go      a job's line in the log
//	log.go        the log
//	summary.go    the table at the end
package batch
