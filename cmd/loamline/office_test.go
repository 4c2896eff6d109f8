package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/geo"
)

func TestOffice(t *testing.T) {
	path := filepath.Join(t.TempDir(), "office.toml")
	write := func(text string) {
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write("locator = \"Field crew 4\"\nunits = \"us\"\nantenna_gap_m = 0.5\n[tolerance]\nhalf_width = \"24 in\"\nrule = \"the state's rule\"\n")
	job, err := readOffice(path)
	if err != nil || job.Locator != "Field crew 4" || job.Units != geo.US || job.AntennaGap != 0.5 || job.Tolerance.Rule != "the state's rule" {
		t.Errorf("%+v, %v", job, err)
	}
	for _, text := range []string{"ticket = \"T-1\"", "date = 2026-05-12", "crs = \"EPSG:32618\"", "datum = \"NAD83(2011)\"\nepoch = 2026.1", "vertical_datum = \"NAVD88\"", "[[line]]\nname = \"W-1\"",
		"[[reference]]\nfile = \"a.geojson\"", "[underlay]\nfile = \"a.tif\"", "[columns]\ndepth_m = \"Depth\"", "[output]\npage_url = \"https://maps.example/a\""} {
		write(text + "\n")
		if _, err := readOffice(path); err == nil || !strings.Contains(err.Error(), "belongs to one job") {
			t.Errorf("%s: %v", text, err)
		}
	}
	write("units = \"miles\"\n")
	if _, err := readOffice(path); err == nil || !strings.Contains(err.Error(), ":1:1: units") {
		t.Errorf("a wrong unit: %v", err)
	}
}
