#!/bin/sh
# Makes proj_9.1.1_national_grids.csv: DHDN and CH1903 positions carried to ETRS89
# by PROJ 9.1.1 with the grids of the national agencies, BeTA2007 (BKG, through
# Debian's proj-data) and CHENyx06 (swisstopo): what the seven parameters
# are held against.
#   sh proj_9.1.1_national_grids.sh > proj_9.1.1_national_grids.csv
echo datum,lon_deg,lat_deg,etrs89_lon_deg,etrs89_lat_deg
shift_by() {
	while read -r lon lat; do
		echo "$lon $lat 0" | cct -d 10 +proj=pipeline +step +proj=unitconvert +xy_in=deg +xy_out=rad +step +proj=hgridshift "+grids=$2" +step +proj=unitconvert +xy_in=rad +xy_out=deg |
			awk -v d="$1" -v x="$lon" -v y="$lat" '{ printf "%s,%s,%s,%s,%s\n", d, x, y, $1, $2 }'
	done
}
shift_by DHDN BETA2007.gsb <<P
6.96 50.94
7.63 51.96
8.68 50.11
8.81 53.08
9.18 48.78
9.73 52.37
9.99 53.55
10.13 54.32
11.08 49.45
11.58 48.14
12.1 49.02
7.85 47.99
9.43 54.78
13.46 48.57
P
shift_by CH1903 CHENYX06_etrs.gsb <<P
6.15 46.2
7.44 46.95
8.54 47.37
7.59 47.56
9.37 47.42
8.95 46.01
9.53 46.85
7.36 46.23
P
while read -r lon lat; do
	echo "$lat $lon 0 0" | cct -d 10 urn:ogc:def:coordinateOperation:EPSG::4829 |
		awk -v x="$lon" -v y="$lat" '{ printf "S-JTSK,%s,%s,%s,%s\n", x, y, $2, $1 }'
done <<P
17.1 48.15
18.7 49.2
19.15 48.74
21.25 48.7
22.15 48.93
P
