package locate

import (
	"io"
	"strings"
	"testing"

	"loamline.example/trace/intake"
)

// textFile is a file that has a text in it.
func textFile(name, text string) intake.File {
	return intake.File{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(text)), nil }}
}

// readText reads a table from a text.
func readText(t testing.TB, text string, opt intake.TableOptions) intake.Table {
	t.Helper()
	table, err := intake.ReadTable(strings.NewReader(text), "walk.csv", 0, opt)
	if err != nil {
		t.Fatal(err)
	}
	return table
}
