package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// Of the garbage that may pile up, in percent of what is in use: much while that is
// little, for a job of some lines is done before it matters, and half the usual beyond
// manyBytes, for a large job holds its readings to the end and beside a million of them
// the usual allowance is half a gigabyte.
const (
	garbageOfFew  = 200
	garbageOfMany = 50
	manyBytes     = 48 << 20
)

// collectSooner keeps garbage within that. A GOGC in the environment stands.
func collectSooner() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbageOfFew)
		afterCollection(garbageOfFew)
	}
}

// afterCollection sets anew, each time that garbage was collected, how much may pile up.
func afterCollection(percent int) {
	runtime.AddCleanup(new([16]byte), func(was int) {
		live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(live)
		next := garbageOfFew
		if live[0].Value.Uint64() > manyBytes {
			next = garbageOfMany
		}
		if next != was {
			debug.SetGCPercent(next)
		}
		afterCollection(next)
	}, percent)
}
