package geo

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// areasCSV holds the names of the areas of use of the systems of zones.csv, as
// the EPSG dataset has them; areas.sql says how it was made.
//
//go:embed areas.csv
var areasCSV string

// AreaName says where the system is meant to be used: by the name that EPSG has
// for it, else by its bounds.
func (c CRS) AreaName() string {
	key := "\n" + strconv.Itoa(c.Code) + ","
	if i := strings.Index("\n"+areasCSV, key); i >= 0 {
		row, _, _ := strings.Cut(areasCSV[i:], "\n")
		if f, err := csv.NewReader(strings.NewReader(row)).Read(); err == nil && len(f) == 2 {
			return f[1]
		}
	}
	if c.area == (area{}) {
		return "the world"
	}
	return fmt.Sprintf("%s to %s, %s to %s", degreesOf(c.area.west, "W", "E"), degreesOf(c.area.east, "W", "E"),
		degreesOf(c.area.south, "S", "N"), degreesOf(c.area.north, "S", "N"))
}

func degreesOf(v float64, below, above string) string {
	if v < 0 {
		return fmt.Sprintf("%.4g° %s", math.Abs(v), below)
	}
	return fmt.Sprintf("%.4g° %s", v, above)
}
