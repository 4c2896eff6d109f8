package main

import (
	"context"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// The scripts run the program as users do: one promise a file.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"loamline": func() {
			os.Exit(run(context.Background(), os.Args, streams{in: os.Stdin, out: os.Stdout, err: os.Stderr}))
		},
	})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata"})
}
