// Package receiver holds what is known of the errors of the two instruments of a
// locate, the positioning receiver and the locating receiver: how far each kind
// of fix may be off, what it can do at best, what rounded figures hide, how a
// depth errs, and how well a peak is found. Every number stands here once, with
// its source: published, 'common practice, no source', 'from memory', or measured
// with a command of this program.
package receiver
