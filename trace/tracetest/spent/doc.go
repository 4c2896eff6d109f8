// Package spent measures what a piece of work costs in memory asked for and memory
// needed, in bytes: figures that no other work on the machine makes larger, where
// seconds would be. It is for tests; while one measures, nothing else may run beside it.
//
// [After] says how much is done once a context has ended, [PeakHeap] how much memory is
// needed at once, and [Layer] is what readers are fed with.
package spent
