// Command loamline turns the readings of a line locator into a map that can be
// defended. See the README for what goes in and what comes out.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"
	"time"

	"loamline.example/export"
)

func main() { process() }

// process runs the program as the system starts it.
func process() {
	collectSooner()
	ctx, stop := context.WithCancel(context.Background())
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	go func() {
		<-signals
		signal.Stop(signals) // a second one ends the program at once
		stop()
		time.Sleep(patience)
		abandon()
	}()
	os.Exit(run(ctx, argsOf(os.Args, fromDesk()), streams{in: os.Stdin, out: os.Stdout, err: os.Stderr}))
}

// patience is how long a stop waits for the work at hand to end by itself. A
// page being laid out or a curve being fitted may take longer than anybody waits.
const patience = time.Second

// abandon ends the program wherever it is, and takes what is half-written with
// it.
func abandon() {
	export.Abandon()
	fmt.Fprintln(os.Stderr, "loamline: stopped; nothing half-written is left")
	os.Exit(statusFailed)
}
