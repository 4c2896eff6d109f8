package geo_test

import (
	"fmt"

	"loamline.example/geo"
)

// Positions in New York's State Plane grid, corrected in NAD83(2011), brought to
// WGS 84 and worded for the map.
func ExampleNewFrame() {
	frame, err := geo.NewFrame("EPSG:2263", "NAD83(2011)", 2026.36)
	if err != nil {
		fmt.Println(err)
		return
	}
	at, err := frame.Unproject(987654.32*geo.USSurveyFootM, 201234.56*geo.USSurveyFootM)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.7f, %.7f\n", at.LonDeg, at.LatDeg)
	fmt.Println(frame.Words(at).In(geo.Metric))
	// Output:
	// -73.9877262, 40.7190283
	// Positions are in NAD83(2011). They were moved by 1.26 m to WGS 84 (ITRF2014) at epoch 2026.36, with EPSG:8970 reversed, good to about 0.05 m; movement of the ground since the frame's own epoch is not taken out.
}

// A zone of 18 inches around a line with one corner.
func ExampleBuffer() {
	zone, err := geo.Buffer([]geo.XY{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 8}}, 18*geo.InchM)
	if err != nil {
		fmt.Println(err)
		return
	}
	bound := zone.Bound()
	fmt.Printf("%d polygon, from %.4f to %.4f m east\n", len(zone), bound.Left(), bound.Right())
	// Output:
	// 1 polygon, from -0.4573 to 10.4573 m east
}

// What can't be done is an error that names the code.
func ExampleLookupCRS() {
	crs, err := geo.LookupCRS("EPSG:2263")
	fmt.Println(crs.Name, crs.Datum, crs.Unit, err)
	_, err = geo.LookupCRS("NAD27")
	fmt.Println(err)
	// Output:
	// NAD83 / New York Long Island (ftUS) NAD83 ftUS <nil>
	// coordinate reference system "NAD27" is not an EPSG code, such as "EPSG:4326"
}

func ExampleParseLength() {
	m, err := geo.ParseLength("18 in")
	fmt.Println(m, err)
	_, err = geo.ParseLength("18")
	fmt.Println(err)
	// Output:
	// 0.4572 <nil>
	// "18" has no unit: write m, cm, mm, ft or in behind the number
}
