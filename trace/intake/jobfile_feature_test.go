package intake

import (
	"math"
	"strings"
	"testing"

	"loamline.example/geo"
)

func TestFixedFeatures(t *testing.T) {
	const text = `crs = "EPSG:26919"
[[feature]]
name = "hydrant"
position = [ -71.50231, 44 ]
[[feature]]
name = "pole 4"
position = [ 299912.25, 4886012 ]
[[feature]]
name = "kerb corner"
position = [ "983964.09 ft", "16030223.1 usft" ]
[output]
sheets = "crew"
page_url = "https://maps.example/t.html"
`
	j, err := ReadJobFile(strings.NewReader(text), "job.toml")
	if err != nil {
		t.Fatal(err)
	}
	if len(j.Features) != 3 || j.Sheets != "crew" || j.PageURL != "https://maps.example/t.html" {
		t.Fatalf("read %+v", j)
	}
	if f := j.Features[0]; f.Grid || f.X != -71.50231 || f.Y != 44 {
		t.Errorf("degrees: %+v", f)
	}
	if f := j.Features[1]; !f.Grid || f.X != 299912.25 || f.Y != 4886012 {
		t.Errorf("metres: %+v", f)
	}
	if f := j.Features[2]; !f.Grid || math.Abs(f.X-983964.09*geo.FootM) > 1e-6 || math.Abs(f.Y-16030223.1*geo.USSurveyFootM) > 1e-6 {
		t.Errorf("feet: %+v", f)
	}
}
