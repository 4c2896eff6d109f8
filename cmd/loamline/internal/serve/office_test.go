package serve

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// A new job begins with what the office has in common; what its job file states
// replaces that, key by key.
func TestOfficeComesFirst(t *testing.T) {
	office := trace.DefaultJob()
	office.Locator, office.Units, office.Tolerance.Rule = "Office crew", geo.US, "the office's rule"
	s := newSite(t, func(o *Options) { o.Office = office })
	settings := func(files ...file) trace.Job {
		t.Helper()
		said, err := s.upload(files, "").Settings.Job()
		if err != nil {
			t.Fatal(err)
		}
		return said
	}
	alone := settings(lanternRow(t)[0])
	if alone.Locator != "Office crew" || alone.Units != geo.US || alone.Tolerance.Rule != "the office's rule" {
		t.Errorf("a table alone: %+v", alone)
	}
	stated := settings(lanternRow(t)[0], file{"job", "own.toml", "locator = \"Field crew 4\"\n"})
	if stated.Locator != "Field crew 4" || stated.Units != geo.US {
		t.Errorf("a job file that states its locator alone: %+v", stated)
	}
}
