// Package summary tells on the terminal what came of a job: [Short] in a screen, [Whole]
// all that is known of it.
package summary
