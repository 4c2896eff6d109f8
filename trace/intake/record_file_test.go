package intake

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"loamline.example/trace"
)

// What is called a Shapefile and is none is not said to be bad JSON; GeoJSON under another name
// is read.
func TestLayersUnderAnotherName(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"city.shp", "", "the file is called a Shapefile and is empty"},
		{"CITY.SHP", "hello", "the file is called a Shapefile and does not begin as one"},
		{"city.gpkg", "hello", "the file is called a GeoPackage and does not begin as one"},
		{"city.zip", "lat,lon\n", "the file is called a zip and does not begin as one"},
		{"city.gpkg", "\ufeff " + collection(lineFeature("{}")), ""},
	} {
		path := filepath.Join(t.TempDir(), tt.name)
		if err := os.WriteFile(path, []byte(tt.text), 0o644); err != nil {
			t.Fatal(err)
		}
		s := trace.Source{Job: trace.DefaultJob()}
		err := addRecords(t.Context(), &s, ReferenceFile{File: layerFile(path)})
		var p *trace.Problem
		if tt.want == "" && (err != nil || len(s.Records) != 1) || tt.want != "" && (!errors.As(err, &p) || p.Cause != tt.want || p.Hint == "" || p.File != tt.name) {
			t.Errorf("%s: %d, %v, want %q", tt.name, len(s.Records), err, tt.want)
		}
	}
}
