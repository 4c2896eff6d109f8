package main

import (
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"loamline.example/export/webtest"
)

// The scripts run the program as users do: one promise a file.
func TestMain(m *testing.M) {
	testscript.Main(withBrowser{m}, map[string]func(){
		"loamline": process,
	})
}

// withBrowser ends the browser of the tests after the last of them.
type withBrowser struct{ *testing.M }

// Run implements testscript.TestingM.
func (m withBrowser) Run() int {
	defer webtest.Close()
	return m.M.Run()
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata"})
}
