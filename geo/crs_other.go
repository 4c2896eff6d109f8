//go:build !proj

package geo

import "fmt"

// otherCRS says that a code is not among those that loamline converts itself.
func otherCRS(code int) (CRS, error) {
	return CRS{}, &notConverted{fmt.Sprintf("EPSG:%d is not among the systems that loamline converts by itself (UTM, State Plane, the national grids of Europe, Australia, New Zealand and Japan, and more)", code),
		"convert the positions to EPSG:4326 first, or build loamline with -tags proj, which needs the PROJ library"}
}
