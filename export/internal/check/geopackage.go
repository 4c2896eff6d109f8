package check

import (
	"os/exec"
	"testing"
)

// ConformsToGeoPackage runs the conformance script of GDAL (validate_gpkg.py, which checks
// the requirements of OGC 12-128).
func ConformsToGeoPackage(t *testing.T, path string) {
	t.Helper()
	python := ""
	for _, p := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(p, "-c", "import osgeo_utils.samples.validate_gpkg").Run() == nil {
			python = p
			break
		}
	}
	if python == "" {
		t.Skip("GDAL's conformance script is not installed (Debian: python3-gdal): the GeoPackage is not validated")
	}
	out, err := exec.Command(python, "-m", "osgeo_utils.samples.validate_gpkg", "-k", "--warning-as-error", path).CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
