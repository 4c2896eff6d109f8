package geo

// geographic lists the geographic systems: EPSG code (2D and 3D), EPSG's name,
// the frame and where it is used (EPSG dataset v10.076).
var geographic = []struct {
	codes []int
	name  string
	datum string
	area  Area
}{
	{[]int{4326, 4979}, "WGS 84", "WGS84", Area{-180, -90, 180, 90, "World"}},
	{[]int{8999, 7911}, "ITRF2008", "ITRF2008", Area{-180, -90, 180, 90, "World"}},
	{[]int{9000, 7912}, "ITRF2014", "ITRF2014", Area{-180, -90, 180, 90, "World"}},
	{[]int{9990, 9989}, "ITRF2020", "ITRF2020", Area{-180, -90, 180, 90, "World"}},
	{[]int{4269}, "NAD83", "NAD83", Area{167.65, 14.92, -40.73, 86.45, "North America - NAD83"}},
	{[]int{4152, 4957}, "NAD83(HARN)", "NAD83(HARN)", Area{144.58, -14.59, -64.51, 71.4, "USA - HARN"}},
	{[]int{4759, 4893}, "NAD83(NSRS2007)", "NAD83(NSRS2007)", Area{167.65, 14.92, -63.88, 74.71, "USA - CONUS and Alaska; PRVI"}},
	{[]int{6783, 6782}, "NAD83(CORS96)", "NAD83(CORS96)", Area{167.65, 14.92, -63.88, 74.71, "USA - CONUS and Alaska; PRVI"}},
	{[]int{6318, 6319}, "NAD83(2011)", "NAD83(2011)", Area{167.65, 14.92, -63.88, 74.71, "USA - CONUS and Alaska; PRVI"}},
	{[]int{6322, 6321}, "NAD83(PA11)", "NAD83(PA11)", Area{157.47, -17.56, -151.27, 31.8, "Pacific - US interests Pacific plate"}},
	{[]int{6325, 6324}, "NAD83(MA11)", "NAD83(MA11)", Area{129.48, 1.64, 149.55, 23.9, "Pacific - US interests Mariana plate"}},
	{[]int{4617, 4955}, "NAD83(CSRS)", "NAD83(CSRS)", Area{-141.01, 38.21, -40.73, 86.46, "Canada"}},
	{[]int{8255, 8254}, "NAD83(CSRS)v7", "NAD83(CSRS)v7", Area{-141.01, 38.21, -40.73, 86.46, "Canada"}},
	{[]int{4258, 4937}, "ETRS89", "ETRS89", Area{-16.1, 32.88, 40.18, 84.73, "Europe - ETRF by country"}},
	{[]int{9067, 7931}, "ETRF2000", "ETRF2000", Area{-16.1, 32.88, 40.18, 84.73, "Europe - ETRF by country"}},
	{[]int{9069, 8403}, "ETRF2014", "ETRF2014", Area{-16.1, 32.88, 40.18, 84.73, "Europe - ETRF by country"}},
	{[]int{4171, 4965}, "RGF93 v1", "RGF93", Area{-9.86, 41.15, 10.38, 51.56, "France"}},
	{[]int{9777, 9776}, "RGF93 v2", "RGF93", Area{-9.86, 41.15, 10.38, 51.56, "France"}},
	{[]int{9782, 9781}, "RGF93 v2b", "RGF93", Area{-9.86, 41.15, 10.38, 51.56, "France"}},
	{[]int{4173, 4943}, "IRENET95", "IRENET95", Area{-10.56, 51.39, -5.34, 55.43, "Europe - Ireland (Republic and Ulster) - onshore"}},
	{[]int{4619, 4977}, "SWEREF99", "SWEREF99", Area{10.03, 54.96, 24.17, 69.07, "Sweden"}},
	{[]int{9702, 9701}, "ETRF2000-PL", "ETRF2000-PL", Area{14.14, 49, 24.15, 55.93, "Poland"}},
	{[]int{4180, 4935}, "EST97", "ETRS89", Area{20.37, 57.52, 28.2, 60, "Estonia"}},
	{[]int{4661, 4949}, "LKS92", "ETRS89", Area{19.06, 55.67, 28.24, 58.09, "Latvia"}},
	{[]int{4669, 4951}, "LKS94", "ETRS89", Area{19.02, 53.89, 26.82, 56.45, "Lithuania"}},
	{[]int{4761, 4889}, "HTRS96", "ETRS89", Area{13, 41.62, 19.43, 46.54, "Croatia"}},
	{[]int{4765, 4883}, "Slovenia 1996", "ETRS89", Area{13.38, 45.42, 16.61, 46.88, "Slovenia"}},
	{[]int{4283, 4939}, "GDA94", "GDA94", Area{93.41, -60.55, 173.34, -8.47, "Australia - GDA"}},
	{[]int{7844, 7843}, "GDA2020", "GDA2020", Area{93.41, -60.55, 173.34, -8.47, "Australia - GDA"}},
	{[]int{4167, 4959}, "NZGD2000", "NZGD2000", Area{160.6, -55.95, -171.2, -25.88, "New Zealand"}},
	{[]int{6668, 6667}, "JGD2011", "JGD2011", Area{122.38, 17.09, 157.65, 46.05, "Japan"}},
	{[]int{4277}, "OSGB36", "OSGB36", Area{-9, 49.75, 2.01, 61.01, "UK - Britain and UKCS 49°45'N to 61°N, 9°W to 2°E"}},
	{[]int{4289}, "Amersfoort", "Amersfoort", Area{3.2, 50.75, 7.22, 53.7, "Netherlands - onshore"}},
	{[]int{4149}, "CH1903", "CH1903", Area{5.96, 45.82, 10.49, 47.81, "Europe - Liechtenstein and Switzerland"}},
	{[]int{4150}, "CH1903+", "CH1903+", Area{5.96, 45.82, 10.49, 47.81, "Europe - Liechtenstein and Switzerland"}},
	{[]int{4314}, "DHDN", "DHDN", Area{5.86, 47.27, 13.84, 55.09, "Germany - West Germany all states"}},
	{[]int{4156}, "S-JTSK", "S-JTSK", Area{12.09, 47.73, 22.56, 51.06, "Europe - Czechoslovakia"}},
	{[]int{4312, 9267}, "MGI", "MGI", Area{9.53, 46.4, 17.17, 49.02, "Austria"}},
	{[]int{4313}, "BD72", "BD72", Area{2.5, 49.5, 6.4, 51.51, "Belgium - onshore"}},
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
