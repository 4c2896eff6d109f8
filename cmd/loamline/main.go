// Command loamline turns the readings of a line locator into a map that can be
// defended. See the README for what goes in and what comes out.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := run(ctx, os.Args, streams{in: os.Stdin, out: os.Stdout, err: os.Stderr})
	stop()
	os.Exit(status)
}
