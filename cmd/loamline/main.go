// Command loamline maps buried lines from the readings of a locator.
package main

import (
	"fmt"
	"os"

	"github.com/urfave/cli/v2"
)

func main() {
	app := &cli.App{
		Name:     "loamline",
		Usage:    "map buried lines from the readings of a locator",
		Commands: []*cli.Command{simulateCommand()},
	}
	if err := app.Run(os.Args); err != nil {
		fmt.Fprintln(os.Stderr, "loamline:", err)
		os.Exit(1)
	}
}
