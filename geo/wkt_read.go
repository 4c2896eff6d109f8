package geo

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// FromWKT finds the system that a well-known text of OGC 01-009 describes, in the
// dialects of OGC and of Shapefiles' .prj: by its EPSG code where it names one,
// else the known system of the same frame, unit, method and parameters. A text
// without a code is never taken for a system that differs from it by more than a
// millimetre.
func FromWKT(text string) (CRS, error) {
	p := wktParser{text: text}
	root, err := p.node()
	if err != nil {
		return CRS{}, fmt.Errorf("this is not the well-known text of a reference system: %w", err)
	}
	if a := root.child("AUTHORITY"); a != nil && len(a.texts) == 2 && strings.EqualFold(a.texts[0], "EPSG") {
		return LookupCRS(a.texts[1])
	}
	switch root.name {
	case "GEOGCS":
		return root.geographic()
	case "PROJCS":
		return root.projected()
	}
	return CRS{}, fmt.Errorf("a reference system of the kind %s is not known here", root.name)
}

// wktNode is one element: NAME["text", 1.5, CHILD[…]].
type wktNode struct {
	name     string
	texts    []string // quoted texts and bare numbers, in order
	children []*wktNode
}

func (n *wktNode) child(name string) *wktNode {
	for _, c := range n.children {
		if c.name == name {
			return c
		}
	}
	return nil
}

func (n *wktNode) label() string {
	if n == nil || len(n.texts) == 0 {
		return ""
	}
	return n.texts[0]
}

func (n *wktNode) number(i int) float64 {
	if n == nil || len(n.texts) <= i {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(n.texts[i], 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

type wktParser struct {
	text  string
	depth int
}

var errWKT = errors.New("it does not have the form NAME[\"…\", …]")

func (p *wktParser) skip() { p.text = strings.TrimLeft(p.text, " \t\r\n,") }

func (p *wktParser) node() (*wktNode, error) {
	const deepest = 16
	p.skip()
	i := strings.IndexAny(p.text, "[(")
	if p.depth++; i <= 0 || p.depth > deepest {
		return nil, errWKT
	}
	n := &wktNode{name: strings.ToUpper(strings.TrimSpace(p.text[:i]))}
	p.text = p.text[i+1:]
	for {
		p.skip()
		switch {
		case p.text == "":
			return nil, errWKT
		case p.text[0] == ']' || p.text[0] == ')':
			p.text = p.text[1:]
			p.depth--
			return n, nil
		case p.text[0] == '"':
			end := strings.IndexByte(p.text[1:], '"')
			if end < 0 {
				return nil, errWKT
			}
			n.texts = append(n.texts, p.text[1:1+end])
			p.text = p.text[end+2:]
		default:
			i := strings.IndexAny(p.text, "[(,])")
			if i < 0 {
				return nil, errWKT
			}
			if p.text[i] == '[' || p.text[i] == '(' {
				c, err := p.node()
				if err != nil {
					return nil, err
				}
				n.children = append(n.children, c)
				continue
			}
			n.texts = append(n.texts, strings.TrimSpace(p.text[:i]))
			p.text = p.text[i:]
		}
	}
}

// wktKey keeps the letters and digits of a name, and a plus sign.
func wktKey(name string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '+':
			return r
		}
		return -1
	}, name)
}

// wktDatums are the names of frames in well-known texts: those of the EPSG dataset
// and of Shapefiles, without D_ and punctuation.
var wktDatums = map[string]string{
	"WGS1984": "WGS84", "WORLDGEODETICSYSTEM1984": "WGS84", "WGS84": "WGS84",
	"ITRF2008": "ITRF2008", "ITRF2014": "ITRF2014", "ITRF2020": "ITRF2020",
	"NORTHAMERICAN1983": "NAD83", "NORTHAMERICANDATUM1983": "NAD83",
	"NAD19832011": "NAD83(2011)", "NAD83NATIONALSPATIALREFERENCESYSTEM2011": "NAD83(2011)",
	"NAD1983PA11": "NAD83(PA11)", "NAD83NATIONALSPATIALREFERENCESYSTEMPA11": "NAD83(PA11)",
	"NAD1983MA11": "NAD83(MA11)", "NAD83NATIONALSPATIALREFERENCESYSTEMMA11": "NAD83(MA11)",
	"NAD1983NSRS2007": "NAD83(NSRS2007)", "NAD83NATIONALSPATIALREFERENCESYSTEM2007": "NAD83(NSRS2007)",
	"NAD1983CORS96": "NAD83(CORS96)", "NAD83CONTINUOUSLYOPERATINGREFERENCESTATION1996": "NAD83(CORS96)",
	"NORTHAMERICAN1983HARN": "NAD83(HARN)", "NAD1983HARN": "NAD83(HARN)", "NAD83HIGHACCURACYREFERENCENETWORK": "NAD83(HARN)",
	"NORTHAMERICAN1983CSRS": "NAD83(CSRS)", "NAD1983CSRS": "NAD83(CSRS)", "NAD83CANADIANSPATIALREFERENCESYSTEM": "NAD83(CSRS)",
	"NORTHAMERICANOF1983CSRSVERSION7": "NAD83(CSRS)v7",
	"ETRS1989":                        "ETRS89", "EUROPEANTERRESTRIALREFERENCESYSTEM1989": "ETRS89", "EUROPEANTERRESTRIALREFERENCESYSTEM1989ENSEMBLE": "ETRS89",
	"GDA1994": "GDA94", "GEOCENTRICDATUMOFAUSTRALIA1994": "GDA94", "GDA2020": "GDA2020", "GEOCENTRICDATUMOFAUSTRALIA2020": "GDA2020",
	"NZGD2000": "NZGD2000", "NEWZEALANDGEODETICDATUM2000": "NZGD2000", "JGD2011": "JGD2011", "JAPANESEGEODETICDATUM2011": "JGD2011",
	"RGF1993": "RGF93", "RESEAUGEODESIQUEFRANCAIS1993": "RGF93", "RESEAUGEODESIQUEFRANCAIS1993V1": "RGF93", "RGF1993V1": "RGF93", "RGF93V1": "RGF93",
	"SWEREF99": "SWEREF99", "IRENET95": "IRENET95", "ETRF2000POLAND": "ETRF2000-PL",
	"OSGB1936": "OSGB36", "ORDNANCESURVEYOFGREATBRITAIN1936": "OSGB36", "AMERSFOORT": "Amersfoort",
	"CH1903": "CH1903", "CH1903+": "CH1903+", "DEUTSCHESHAUPTDREIECKSNETZ": "DHDN", "MGI": "MGI", "MILITARGEOGRAPHISCHEINSTITUT": "MGI",
	"BELGE1972": "BD72", "RESEAUNATIONALBELGE1972": "BD72", "BELGIUM1972": "BD72",
}

// datum is the frame that a GEOGCS names.
func (n *wktNode) datum() (Datum, error) {
	name := n.child("DATUM").label()
	key := wktKey(strings.TrimPrefix(name, "D_"))
	if known, ok := wktDatums[key]; ok {
		return LookupDatum(known)
	}
	if d, err := LookupDatum(name); err == nil {
		return d, nil // as our own texts have it
	}
	return Datum{}, fmt.Errorf("its frame, %q, is not known here", name)
}

func (n *wktNode) geographic() (CRS, error) {
	d, err := n.datum()
	if err != nil {
		return CRS{}, err
	}
	if unit := n.child("UNIT").number(1); math.Abs(unit-math.Pi/180) > 1e-12 {
		return CRS{}, errors.New("its angles are not in degrees")
	}
	if m := n.child("PRIMEM").number(1); m != 0 {
		return CRS{}, errors.New("its longitudes do not count from Greenwich")
	}
	for _, g := range geographic {
		if g.datum == d.Name {
			return LookupCRS(strconv.Itoa(g.codes[0]))
		}
	}
	return CRS{}, fmt.Errorf("there is no geographic system of %s here", d.Name)
}

// wktMethodKeys are the methods' names in both dialects.
var wktMethodKeys = map[int][]string{
	9801: {"LAMBERTCONFORMALCONIC", "LAMBERTCONFORMALCONIC1SP"},
	9802: {"LAMBERTCONFORMALCONIC", "LAMBERTCONFORMALCONIC2SP"},
	9807: {"TRANSVERSEMERCATOR", "GAUSSKRUGER"},
	9809: {"OBLIQUESTEREOGRAPHIC", "DOUBLESTEREOGRAPHIC"},
	9812: {"HOTINEOBLIQUEMERCATOR", "RECTIFIEDSKEWORTHOMORPHICNATURALORIGIN", "HOTINEOBLIQUEMERCATORAZIMUTHNATURALORIGIN"},
	9815: {"HOTINEOBLIQUEMERCATORAZIMUTHCENTER", "RECTIFIEDSKEWORTHOMORPHICCENTER"},
	9820: {"LAMBERTAZIMUTHALEQUALAREA"},
}

// wktSynonyms are other names of the parameters.
var wktSynonyms = map[string]string{"latitude_of_center": "latitude_of_origin", "longitude_of_center": "central_meridian",
	"xy_plane_rotation": "rectified_grid_angle"}

func (n *wktNode) projected() (CRS, error) {
	base := n.child("GEOGCS")
	if base == nil {
		return CRS{}, errors.New("it names no geographic system")
	}
	d, err := base.datum()
	if err != nil {
		return CRS{}, err
	}
	unitM, method := n.child("UNIT").number(1), wktKey(n.child("PROJECTION").label())
	have := map[string]float64{"scale_factor": 1, "latitude_of_origin": 0, "rectified_grid_angle": math.NaN()}
	for _, c := range n.children {
		if c.name == "PARAMETER" {
			have[wktParameter(c.label())] = c.number(1)
		}
	}
	best, found := CRS{}, math.Inf(1)
	for _, z := range wktZones() {
		if !slices.Contains(wktMethodKeys[z.method], method) {
			continue
		}
		if g, ok := geographicCRS(z.base); !ok || g.Datum != d.Name {
			continue
		}
		if off := z.differsM(have, unitM); off < 0.001 && off < found {
			if c, err := LookupCRS(strconv.Itoa(z.code)); err == nil {
				best, found = c, off
			}
		}
	}
	if best.Code == 0 {
		return CRS{}, fmt.Errorf("no system that is known here has the frame %s, the method and the parameters of %q", d.Name, n.label())
	}
	return best, nil
}

func wktParameter(name string) string {
	name = strings.ToLower(name)
	if s, ok := wktSynonyms[name]; ok {
		return s
	}
	return name
}

// wktZones are all projected systems in the form of zones.csv.
func wktZones() []zone {
	var out []zone
	for _, row := range zoneRows() {
		if z, err := parseZone(row); err == nil {
			out = append(out, z)
		}
	}
	for n := 1; n <= 60; n++ {
		for _, code := range []int{32600 + n, 32700 + n} {
			if z, ok := utmZone(CRS{Code: code}); ok {
				z.unit = "m"
				out = append(out, z)
			}
		}
	}
	return out
}

// differsM is by how many metres, roughly, a system with the parameters of a text
// differs from the zone; infinite where it has others.
func (z zone) differsM(have map[string]float64, textUnitM float64) float64 {
	const degreeM = 111_000
	own := unitM[z.unit]
	if math.Abs(textUnitM-own) > 1e-10 {
		return math.Inf(1)
	}
	off := 0.0
	parallels := [2][]float64{}
	for i, name := range wktMethods[z.method].parameters {
		v, w := z.parameters[i], have[wktParameter(name)]
		switch name {
		case "false_easting", "false_northing":
			off += math.Abs(v - w*textUnitM)
			continue
		case "scale_factor":
			off += math.Abs(v-w) * 1e6
			continue
		case "standard_parallel_1", "standard_parallel_2":
			parallels[0], parallels[1] = append(parallels[0], v), append(parallels[1], w)
			continue
		case "rectified_grid_angle":
			if math.IsNaN(w) {
				w = have["azimuth"]
			}
		}
		off += math.Abs(v-w) * degreeM
	}
	for k := range parallels {
		slices.Sort(parallels[k])
	}
	for i := range parallels[0] {
		off += math.Abs(parallels[0][i]-parallels[1][i]) * degreeM
	}
	// One parallel says what a scale says: a text with both is another system.
	if _, two := have["standard_parallel_2"]; z.method == 9801 && two {
		return math.Inf(1)
	}
	if math.IsNaN(off) {
		return math.Inf(1)
	}
	return off
}
