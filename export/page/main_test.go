package page

import (
	"os"
	"testing"

	"loamline.example/export/webtest"
)

func TestMain(m *testing.M) {
	code := m.Run()
	webtest.Close()
	os.Exit(code)
}
