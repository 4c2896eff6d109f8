package siteplan

import (
	"errors"
	"fmt"
	"strings"

	"loamline.example/geo"
)

// Tags and keys of OGC GeoTIFF 1.1 (OGC 19-008r4, clause 7 and annex B).
const (
	tagPixelScale     = 33550
	tagTiepoint       = 33922
	tagTransformation = 34264
	tagKeys           = 34735
	tagASCIIParams    = 34737

	keyModelType    = 1024
	keyRasterType   = 1025
	keyCitation     = 1026
	keyGeodetic     = 2048
	keyGeodeticText = 2049
	keyAngularUnits = 2054
	keyProjected    = 3072
	keyProjText     = 3073
	keyLinearUnits  = 3076

	modelProjected  = 1
	modelGeographic = 2
	modelGeocentric = 3
	pixelIsPoint    = 2
	unitDegree      = 9102
	userDefined     = 32767
)

// linearUnits are EPSG's units of length as geo calls them.
var linearUnits = map[int]string{9001: "m", 9002: "ft", 9003: "ftUS"}

// geoTags is what a TIFF or a PDF says of its place.
type geoTags struct {
	placed    bool
	by        string     // what placed it, as in trace.GeoPicture
	figures   geo.Affine // as in trace.GeoPicture
	points    int        // control points, where they are all that there is
	code      int        // of its system, 0 where it is not named
	described string     // what is said of a system that is not named
	units     int        // EPSG's, 0 where not said
	refuse    string     // why its figures cannot be used, if so
}

// system is "EPSG:2263", or empty.
func (t geoTags) system() string {
	if t.code == 0 {
		return ""
	}
	return fmt.Sprintf("EPSG:%d", t.code)
}

// unit is the unit of its figures as geo calls it, or empty where it says none.
func (t geoTags) unit() string { return linearUnits[t.units] }

// readGeoTags reads the tags of a TIFF that say where it lies; none is no error.
func readGeoTags(file []byte) (geoTags, error) {
	var out geoTags
	d, err := readDirectory(file)
	if err != nil {
		return out, err
	}
	keys, err := geoKeys(d)
	if err != nil {
		return out, err
	}
	out.readSystem(keys)
	if err := out.readPlace(d, keys.number(keyRasterType) == pixelIsPoint); err != nil {
		return out, err
	}
	return out, nil
}

// readPlace reads the tiepoint and scale or the transformation (clause 7.4). Where a
// pixel stands for a point, raster space counts from the first pixel's centre, and
// half a pixel is taken off for what counts from the outer corner.
func (t *geoTags) readPlace(d directory, point bool) error {
	scale, tie, matrix := d.doubles(tagPixelScale), d.doubles(tagTiepoint), d.doubles(tagTransformation)
	switch {
	case len(matrix) > 0:
		if len(matrix) != 16 {
			return fmt.Errorf("the transformation has %d figures, not 16", len(matrix))
		}
		t.figures = geo.Affine{A: matrix[0], B: matrix[1], C: matrix[3], D: matrix[4], E: matrix[5], F: matrix[7]}
	case len(scale) > 0 && len(tie) >= 6:
		if len(scale) < 2 {
			return errors.New("the scale of its pixels is cut short")
		}
		t.figures = geo.Affine{A: scale[0], C: tie[3] - tie[0]*scale[0], E: -scale[1], F: tie[4] + tie[1]*scale[1]}
	default:
		t.points = len(tie) / 6
		return nil
	}
	t.placed, t.by = true, "its GeoTIFF tags"
	if point {
		t.figures = t.figures.After(geo.Affine{A: 1, E: 1, C: -0.5, F: -0.5})
	}
	return nil
}

// readSystem reads which reference system the figures are in.
func (t *geoTags) readSystem(k keys) {
	t.described = firstText(k.text(keyProjText), k.text(keyCitation), k.text(keyGeodeticText))
	switch model := k.number(keyModelType); {
	case model == modelGeocentric:
		t.refuse = "its figures are geocentric (X, Y, Z)"
	case model == modelGeographic:
		t.code = k.number(keyGeodetic)
		if u := k.number(keyAngularUnits); u != 0 && u != unitDegree {
			t.refuse = fmt.Sprintf("its longitudes and latitudes are not in degrees (unit EPSG:%d)", u)
		}
	default:
		t.code = k.number(keyProjected)
		if t.units = k.number(keyLinearUnits); t.units != 0 && linearUnits[t.units] == "" {
			t.refuse = fmt.Sprintf("its figures are neither in metres nor in feet (unit EPSG:%d)", t.units)
		}
	}
	if t.code == userDefined {
		t.code = 0
		t.described = firstText(t.described, "by its parameters")
	}
}

func firstText(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}

// keys are the GeoKeys of a file (clause 7.1): numbers, and texts that lie in a tag
// of their own. Keys of doubles are not asked for.
type keys struct {
	numbers map[int]int
	texts   map[int]string
}

func (k keys) number(key int) int  { return k.numbers[key] }
func (k keys) text(key int) string { return k.texts[key] }

func geoKeys(d directory) (keys, error) {
	out := keys{map[int]int{}, map[int]string{}}
	v := d.shorts(tagKeys)
	if len(v) == 0 {
		return out, nil
	}
	if len(v) < 4 || len(v) < 4+4*v[3] {
		return out, errors.New("its list of keys is cut short")
	}
	ascii := d.text(tagASCIIParams)
	for i := range v[3] {
		key, at, n, value := v[4+4*i], v[5+4*i], v[6+4*i], v[7+4*i]
		switch at {
		case 0:
			out.numbers[key] = value
		case tagASCIIParams:
			if value+n <= len(ascii) {
				out.texts[key] = strings.TrimRight(ascii[value:value+n], "|\x00 ")
			}
		}
	}
	return out, nil
}
