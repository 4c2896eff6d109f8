package geo

// geographic lists the geographic systems: EPSG code (2D and 3D), EPSG's name,
// the frame and where it is used.
var geographic = []struct {
	codes []int
	name  string
	datum string
	area  area
}{
	{[]int{4326, 4979}, "WGS 84", "WGS84", area{-180, -90, 180, 90}},
	{[]int{8999, 7911}, "ITRF2008", "ITRF2008", area{-180, -90, 180, 90}},
	{[]int{9000, 7912}, "ITRF2014", "ITRF2014", area{-180, -90, 180, 90}},
	{[]int{9990, 9989}, "ITRF2020", "ITRF2020", area{-180, -90, 180, 90}},
	{[]int{4269}, "NAD83", "NAD83", area{167.65, 14.92, -40.73, 86.45}},
	{[]int{4152}, "NAD83(HARN)", "NAD83(HARN)", area{144.58, -14.59, -64.51, 71.4}},
	{[]int{4759, 4893}, "NAD83(NSRS2007)", "NAD83(NSRS2007)", area{167.65, 14.92, -63.88, 74.71}},
	{[]int{6783, 6782}, "NAD83(CORS96)", "NAD83(CORS96)", area{167.65, 14.92, -63.88, 74.71}},
	{[]int{6318, 6319}, "NAD83(2011)", "NAD83(2011)", area{167.65, 14.92, -63.88, 74.71}},
	{[]int{6322, 6321}, "NAD83(PA11)", "NAD83(PA11)", area{157.47, -17.56, -151.27, 31.8}},
	{[]int{6325, 6324}, "NAD83(MA11)", "NAD83(MA11)", area{129.48, 1.64, 149.55, 23.9}},
	{[]int{4617, 4955}, "NAD83(CSRS)", "NAD83(CSRS)", area{-141.01, 38.21, -40.73, 86.46}},
	{[]int{8255, 8254}, "NAD83(CSRS)v7", "NAD83(CSRS)", area{-141.01, 38.21, -40.73, 86.46}},
	{[]int{4258, 4937}, "ETRS89", "ETRS89", area{-16.1, 32.88, 40.18, 84.73}},
	{[]int{9067, 7931}, "ETRF2000", "ETRF2000", area{-16.1, 32.88, 40.18, 84.73}},
	{[]int{9069, 8403}, "ETRF2014", "ETRF2014", area{-16.1, 32.88, 40.18, 84.73}},
	{[]int{4171, 4965}, "RGF93 v1", "ETRS89", area{-9.86, 41.15, 10.38, 51.56}},
	{[]int{4173, 4943}, "IRENET95", "ETRS89", area{-10.56, 51.39, -5.34, 55.43}},
	{[]int{4283, 4939}, "GDA94", "GDA94", area{93.41, -60.55, 173.34, -8.47}},
	{[]int{7844, 7843}, "GDA2020", "GDA2020", area{93.41, -60.55, 173.34, -8.47}},
	{[]int{4277}, "OSGB36", "OSGB36", area{-9.01, 49.75, 2.01, 61.01}},
}

func geographicCRS(code int) (CRS, bool) {
	for _, g := range geographic {
		for _, c := range g.codes {
			if c == code {
				return CRS{Code: code, Name: g.name, Datum: g.datum, Unit: "deg", area: g.area}, true
			}
		}
	}
	return CRS{}, false
}
