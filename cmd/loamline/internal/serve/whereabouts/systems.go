package whereabouts

import (
	"math"
	"strings"

	"loamline.example/geo"
)

// System is a coordinate reference system to choose from.
type System struct {
	ID   string `json:"id"` // as settings have it: "EPSG:2263"
	Name string `json:"name"`
	Area string `json:"area"` // where it may be used
	Unit string `json:"unit"`
}

// mostSystems is how many systems are offered at once.
const mostSystems = 30

// FindSystems finds systems by words of their name, place or number; near is
// roughly where the readings lie, nil where nobody knows. More reports whether
// there are others than those that it returns.
func FindSystems(text string, near *Place) (found []System, more bool) {
	if strings.TrimSpace(text) == "" && near == nil {
		return nil, false
	}
	at := geo.LonLat{LonDeg: math.NaN(), LatDeg: math.NaN()}
	if near != nil && !near.Grid {
		at = geo.LonLat{LonDeg: near.X, LatDeg: near.Y}
	}
	for _, c := range geo.FindCRS(text, at) {
		if len(found) == mostSystems {
			return found, true
		}
		found = append(found, System{c.ID(), c.Name, c.Area().Name, crsUnit(c.Unit)})
	}
	return found, false
}

// SystemNamed is the system that settings name, nil where there is none such.
func SystemNamed(id string) *System {
	c, err := geo.LookupCRS(id)
	if err != nil {
		return nil
	}
	return &System{c.ID(), c.Name, c.Area().Name, crsUnit(c.Unit)}
}

func crsUnit(unit string) string {
	switch unit {
	case "deg":
		return "degrees"
	case "m":
		return "metres"
	case "ft":
		return "international feet"
	case "ftUS":
		return "US survey feet"
	}
	return unit
}
