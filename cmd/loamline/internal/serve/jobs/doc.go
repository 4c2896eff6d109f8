// Package jobs keeps uploaded jobs in a folder and makes their maps.
//
// A job is a folder under a random name: the files as they came, numbered (no
// name of a user's file is ever part of a path), job.json, and one folder a run
// with its settings, result and outputs. Whatever is new is written in tmp/,
// brought to the disk and renamed into place, so that a process that is killed
// at any moment leaves either all of a job or run, or something in tmp/ that
// the next start removes. A run that was asked for and not finished is made
// again at the next start.
//
// Here is what hangs on the folder and on runs going on at the same time: uploads, changes
// of a job, the queue, searches. What can be told without either has a room beside this
// one: settings (jobfile), readings tables (tables), what a run found and how runs differ
// (report), its files (outputs), rough places (whereabouts), what is refused (problem), and
// writing whole or not at all (disk).
//
//	DATA/lock              one process a folder
//	DATA/remembered.json   what was answered, by the header and the place it was answered for
//	DATA/crew.json         links that open one job for looking
//	DATA/audit.jsonl       who did what, when, from where; kept by the server above
//	DATA/tmp/…             uploads and runs under way
//	DATA/jobs/ID/job.json  what was handed in, asked for and answered
//	DATA/jobs/ID/inputs/N  the files, byte for byte
//	DATA/jobs/ID/runs/N/…  settings.toml, result.json, ledger.jsonl, what it was made of, and
//	                       the outputs: the map and its page at once, the others from when they
//	                       are first asked for
package jobs
