//go:build proj

package geo

import (
	"fmt"
	"math"
	"strings"

	"github.com/twpayne/go-proj/v11"
)

// otherCRS hands a code that loamline doesn't know to the PROJ library, which
// converts straight to WGS 84 with the transformation that it thinks best.
func otherCRS(code int) (CRS, error) {
	id := fmt.Sprintf("EPSG:%d", code)
	pj, err := proj.NewCRSToCRS("EPSG:4326", id, nil)
	if err == nil {
		pj, err = pj.NormalizeForVisualization()
	}
	if err != nil {
		return CRS{}, fmt.Errorf("%s is known neither to loamline nor to PROJ: %w", id, err)
	}
	c := CRS{Code: code, Name: id, Datum: "WGS84", Unit: projUnit(pj), area: Area{-180, -90, 180, 90, "not known here"}, projection: projGrid{pj, 1}}
	if c.UnitM = unitM[c.Unit]; c.UnitM == 0 {
		return CRS{}, &notConverted{fmt.Sprintf("%s is converted by PROJ, but not between metres or feet and WGS 84", id), "give the positions in EPSG:4326 or in a projected system"}
	}
	c.projection = projGrid{pj, c.UnitM}
	c.joined = "Coordinates of " + id + " were converted to WGS 84 by the PROJ library with the transformation that it thinks best; how good that is depends on the grids installed with it, and is not known here."
	return c, nil
}

// projUnit reads the unit of the eastings from the last conversion of the pipeline.
func projUnit(pj *proj.PJ) string {
	for _, p := range []proj.Coord{proj.NewCoord(0, 0, 0, 0), proj.NewCoord(10, 50, 0, 0), proj.NewCoord(-100, 40, 0, 0)} {
		if _, err := pj.Forward(p); err != nil {
			continue
		}
		op, err := pj.GetLastUsedOperation()
		if err != nil {
			continue
		}
		definition := op.Info().Definition
		i := strings.LastIndex(definition, "xy_out=")
		if i < 0 {
			return "m" // no conversion of units at the end: PROJ's own metres
		}
		unit, _, _ := strings.Cut(definition[i+len("xy_out="):], " ")
		switch unit {
		case "us-ft":
			return "ftUS"
		case "ft", "m":
			return unit
		case "rad":
			return "m" // the only conversion is that of the degrees that go in
		}
		return ""
	}
	return ""
}

// projGrid is a projection done by PROJ, which guards itself against concurrent
// use.
type projGrid struct {
	pj    *proj.PJ
	unitM float64
}

func (g projGrid) forward(p LonLat) (eastM, northM float64) {
	c, err := g.pj.Forward(proj.NewCoord(p.LonDeg, p.LatDeg, 0, 0))
	if err != nil {
		return math.NaN(), math.NaN()
	}
	return c.X() * g.unitM, c.Y() * g.unitM
}

func (g projGrid) inverse(eastM, northM float64) LonLat {
	c, err := g.pj.Inverse(proj.NewCoord(eastM/g.unitM, northM/g.unitM, 0, 0))
	if err != nil {
		return LonLat{math.NaN(), math.NaN()}
	}
	return LonLat{c.X(), c.Y()}
}
