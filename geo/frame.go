package geo

import (
	"fmt"
	"strconv"
	"strings"
)

// Frame is how a job's positions relate to WGS 84: the system of their figures,
// the frame that they are in, the epoch, and whether anybody said so.
type Frame struct {
	CRS    CRS
	Datum  Datum
	Epoch  float64 // decimal year at which the frame is joined to WGS 84
	Stated bool    // the frame was stated, by name or by a system that implies one

	epochStated bool
	named       bool // Datum was stated by its name
	conflict    string
	disbelieved string // why a datum that was stated is not taken
}

// defaultEpoch is taken where none is stated: the reference epoch of NAD83(2011).
const defaultEpoch = 2010.0

// NewFrame resolves a coordinate reference system ("EPSG:2263", "" for
// EPSG:4326), a datum's name ("" where it isn't stated) and an epoch (a decimal
// year, 0 where it isn't stated). A stated datum is more exact than the system's
// own and stands in its place; where both contradict each other it still stands,
// and Words says so.
func NewFrame(crs, datum string, epoch float64) (Frame, error) {
	if strings.TrimSpace(crs) == "" {
		crs = "EPSG:4326"
	}
	c, err := LookupCRS(crs)
	if err != nil {
		return Frame{}, err
	}
	own, err := LookupDatum(c.Datum)
	if err != nil {
		return Frame{}, err
	}
	f := Frame{CRS: c, Datum: own, Epoch: epoch, epochStated: epoch != 0, Stated: own.Name != "WGS84" || c.joined != ""}
	if !f.epochStated {
		f.Epoch = defaultEpoch
	} else if !(epoch >= 1980 && epoch <= 2100) {
		return Frame{}, fmt.Errorf("epoch %g is not a decimal year between 1980 and 2100, such as 2026.36", epoch)
	}
	if strings.TrimSpace(datum) == "" {
		return f, nil
	}
	stated, err := LookupDatum(datum)
	if err != nil {
		return Frame{}, err
	}
	f.Stated = true
	switch {
	case own.family == stated.family && c.joined == "" || own.Name == "WGS84" && c.Geographic():
		f.Datum, f.named = stated, true
	case stated.Old() && !own.Old() && !c.Geographic():
		return Frame{}, fmt.Errorf("the datum is stated as %s, whose ellipsoid is not that of %s (%s): name the system of the %s figures, or the datum of the corrections", stated.Name, c.ID(), c.Name, stated.Name)
	case own.Old() || c.joined != "":
		f.conflict = fmt.Sprintf("The datum is stated as %s, but coordinates of %s are on that system's own frame whatever the corrections were in, and are taken as such.", stated.Name, c.ID())
	default:
		f.Datum, f.named = stated, true
		f.conflict = fmt.Sprintf("The datum is stated as %s, but %s (%s) is defined on %s. The positions are taken as %s figures that were projected without a change of frame. If they were changed to %s first, they lie off as a whole: check with whoever set up the receiver.", stated.Name, c.ID(), c.Name, own.Name, stated.Name, own.Name)
	}
	return f, nil
}

// EpochStated reports whether Epoch was given or is the default.
func (f Frame) EpochStated() bool { return f.epochStated }

// In returns the frame in which positions of f are written in another system: at
// the same epoch, and in the same datum where both belong to one family, so that
// what came in as NAD83(2011) goes out with the same figures.
func (f Frame) In(crs string) (Frame, error) {
	to, err := NewFrame(crs, "", 0)
	if err != nil {
		return Frame{}, err
	}
	if f.Datum.family == to.Datum.family && to.CRS.joined == "" {
		to.Datum, to.Stated = f.Datum, f.Stated
	}
	to.Epoch, to.epochStated = f.Epoch, f.epochStated
	return to, nil
}

// Akin reports whether both frames are of one family, such as two realisations of
// NAD83, so that figures of both lie together as far as that family is known.
func (f Frame) Akin(g Frame) bool {
	return f.CRS.joined == "" && g.CRS.joined == "" && f.Datum.family == g.Datum.family
}

// ToWGS84 carries a geographic position of the frame to WGS 84.
func (f Frame) ToWGS84(p LonLat) LonLat {
	q, _ := f.Datum.ToWGS84(p, 0, f.Epoch)
	return q
}

// Unproject converts easting and northing in metres to WGS 84.
func (f Frame) Unproject(eastM, northM float64) (LonLat, error) {
	p, err := f.CRS.Unproject(eastM, northM)
	if err != nil {
		return LonLat{}, err
	}
	return f.ToWGS84(p), nil
}

// Place is where figures of the frame's system lie in WGS 84: longitude and latitude
// in degrees, or easting and northing in its own unit, metres or feet.
func (f Frame) Place(x, y float64) (LonLat, error) {
	if !f.CRS.Geographic() {
		return f.Unproject(x*f.CRS.UnitM, y*f.CRS.UnitM)
	}
	p := LonLat{LonDeg: x, LatDeg: y}
	if !p.Valid() {
		return p, fmt.Errorf("%.10g, %.10g is not a longitude and latitude: the figures seem to be of a projected system", x, y)
	}
	if !f.Stated {
		return p, nil
	}
	return f.ToWGS84(p), nil
}

// FromWGS84 carries a WGS 84 position to figures of the frame's system, in its
// own unit: longitude and latitude in degrees, or easting and northing in metres or
// feet.
func (f Frame) FromWGS84(p LonLat) (x, y float64, err error) {
	q, _ := f.Datum.FromWGS84(p, 0, f.Epoch)
	if f.CRS.Geographic() {
		return q.LonDeg, q.LatDeg, nil
	}
	eastM, northM, err := f.CRS.Project(q)
	return eastM / f.CRS.UnitM, northM / f.CRS.UnitM, err
}

// MovedM is how far positions at a place were moved to WGS 84.
func (f Frame) MovedM(at LonLat) float64 {
	if f.CRS.joined != "" || !f.Stated || !f.Datum.Moves() {
		return 0
	}
	return f.Datum.OffsetM(at, f.Epoch)
}

// Words says for the map, about a place in it, which frame the positions were in
// and what was done with them.
func (f Frame) Words(at LonLat) Told {
	var out Told
	switch {
	case f.CRS.joined != "":
		out = Plain(f.CRS.joined)
	case !f.Stated && f.disbelieved != "":
		out = Plain(f.disbelieved).and(Plain("The positions are taken as WGS 84 as they stand."), f.doubtWords(at))
	case !f.Stated:
		out = Plain("The datum of the positions is not stated; they are taken as WGS 84 as they stand.").and(f.doubtWords(at))
	case !f.Datum.Moves():
		out = Plain(fmt.Sprintf("Positions are in %s; WGS 84 (ITRF2014) is the same to a few centimetres, and they were not moved.", f.Datum.Name))
	default:
		out = Plain(fmt.Sprintf("Positions are in %s%s.", f.Datum.Name, noted(f.Datum.Note))).and(
			told(fmt.Sprintf("They were moved by "+lengthHere+" to WGS 84 (ITRF2014) at epoch %s, with %s, good to about "+lengthHere+"; movement of the ground since the frame's own epoch is not taken out.",
				f.epochWords(), strings.Join(f.Datum.Transformations(), " and ")), f.MovedM(at), f.Datum.AccuracyM))
	}
	if f.Stated && f.disbelieved != "" {
		out = out.and(Plain(f.disbelieved))
	}
	return out.and(Plain(f.conflict), Plain(f.CRS.Caution))
}

func noted(note string) string {
	if note == "" {
		return ""
	}
	return " (" + note + ")"
}

func (f Frame) epochWords() string {
	s := strconv.FormatFloat(f.Epoch, 'f', 2, 64)
	if !f.epochStated {
		return s + " (assumed, as none is stated: a few centimetres a year)"
	}
	return s
}

// doubtWords says what an unstated datum could mean at a place.
func (f Frame) doubtWords(at LonLat) Told {
	name, offM := f.DoubtM(at)
	if offM == 0 {
		return Told{}
	}
	if name == "" {
		return told("If the corrections came in a national frame, the whole map may lie off by "+lengthHere+" or more, which a tolerance zone does not cover.", offM)
	}
	return told(fmt.Sprintf("If the corrections came in %s, the whole map lies "+lengthHere+" off, which a tolerance zone does not cover.", name), offM)
}

// OutputWords says, about a place in it, what whoever takes a map's files into a GIS
// must know. The zero Frame is WGS 84 degrees; in is the frame that the positions
// came in.
//
// Common tools take WGS 84 and a national frame for the same: the transformations of
// the EPSG dataset that they choose by default between the two (such as 1188 for
// NAD83 and 1149 for ETRS89) have all parameters zero.
func (f Frame) OutputWords(at LonLat, in Frame) Told {
	if f.CRS.Code != 0 && (f.Datum.Moves() || f.Datum.Old()) {
		return Plain(fmt.Sprintf("GeoPackage, PostGIS, tables, drawings and the sheet's grid are in %s (%s), in the frame %s; GeoJSON, KML, GPX and the page are WGS 84.", f.CRS.ID(), f.CRS.Name, f.Datum.Name))
	}
	name, offM := "", 0.0
	if in.Stated && in.Datum.Moves() {
		name, offM = in.Datum.Name, in.Datum.OffsetM(at, in.Epoch)
	} else {
		for _, r := range localFrames {
			if d, err := LookupDatum(r.datum); err == nil && name == "" && r.area.holds(at, 0) {
				name, offM = d.Name, d.OffsetM(at, doubtEpoch)
			}
		}
	}
	if offM < 0.1 {
		return Told{}
	}
	return told(fmt.Sprintf("The files are in WGS 84 (ITRF2014). Common tools take WGS 84 and %s for the same when they reproject: the lines would then lie "+lengthHere+" off. Have the files written in your own system instead (crs under [output] in a job file), or reproject with a time-dependent transformation between ITRF2014 and %s at the epoch of the job.", name, name), offM)
}

// DoubtM returns how far off, in metres, the whole map could lie because the
// datum was not stated, and the local frame behind that figure. It is 0 where the
// datum was stated, and 1 m without a name where no local frame is known.
func (f Frame) DoubtM(at LonLat) (localDatum string, offM float64) {
	if f.Stated {
		return "", 0
	}
	epoch := f.Epoch
	if !f.epochStated {
		epoch = doubtEpoch
	}
	for _, r := range localFrames {
		if r.area.holds(at, 0) {
			d, err := LookupDatum(r.datum)
			if err != nil {
				panic(err) // a test looks every name up
			}
			return d.Name, d.OffsetM(at, epoch)
		}
	}
	return "", 1
}

// CoarseM returns how far off, in metres, the whole map could lie although its
// frame is known, because the frame is joined to WGS 84 no better than that: an old
// national grid without its shift grid, a frame whose realisation is left open, one
// that is held still while the ground moves. It is 0 where the join is good to less
// than 0.2 m, and 1 for systems of PROJ's, of which it isn't known.
func (f Frame) CoarseM() float64 {
	switch {
	case f.CRS.joined != "":
		return 1
	case !f.Stated || f.Datum.AccuracyM < 0.2:
		return 0
	}
	return f.Datum.AccuracyM
}

// doubtEpoch is where the drift of the plates stands for an unstated epoch.
const doubtEpoch = 2026.0

// localFrames are the frames that a national correction service is likely to
// send, by place; of two in use, the one further off. The boxes are coarse.
var localFrames = []struct {
	datum string
	area  Area
}{
	{"NAD83(PA11)", Area{-162, 17, -153, 24, "Hawaii"}},
	{"NAD83(MA11)", Area{142, 11, 147, 22, "Guam and the Northern Marianas"}},
	{"NAD83(2011)", Area{-180, 14, -52, 84, "North America"}},
	{"ETRS89", Area{-25, 34, 42, 82, "Europe"}},
	{"GDA94", Area{110, -45, 156, -9, "Australia"}},
}
