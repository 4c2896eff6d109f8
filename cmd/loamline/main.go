// Command loamline turns the readings of a line locator into a map that can be
// defended. See the README for what goes in and what comes out.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
)

func main() {
	collectSooner()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := run(ctx, os.Args, streams{in: os.Stdin, out: os.Stdout, err: os.Stderr})
	stop()
	os.Exit(status)
}

// collectSooner halves the garbage that may pile up. A large job holds its
// readings to the end, and beside a million of them the usual allowance is half
// a gigabyte. A GOGC in the environment stands.
func collectSooner() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(50)
	}
}
