package main

import (
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// The scripts run the program as users do: one promise a file.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"loamline": process,
	})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata"})
}
