#!/bin/sh
# Makes proj_9.1.1_every_transformation.csv: results of PROJ 9.1.1's cct with the
# transformations of its own EPSG dataset (v10.076), by their codes, at places
# where they are used and at two epochs. Geocentric ones in metres, others as
# latitude and longitude in degrees at height 0.
#   sh proj_9.1.1_every_transformation.sh > proj_9.1.1_every_transformation.csv
echo epsg,kind,epoch,from_1,from_2,from_3,to_1,to_2,to_3
row() { # code, kind, digits, then a place and an epoch
	echo "$4 $5 $6 $7" | cct -d "$3" "urn:ogc:def:coordinateOperation:EPSG::$1" |
		awk -v c="$1" -v k="$2" -v x="$4" -v y="$5" -v z="$6" -v t="$7" '{ printf "%s,%s,%s,%s,%s,%s,%s,%s,%s\n", c, k, t, x, y, z, $1, $2, $3 }'
}
for epoch in 2000 2026; do
	for code in 7790 9991; do
		row $code geocentric 6 -1270647.181 -4745333.174 4056789.425 $epoch
	done
	row 8265 geocentric 6 -2332023 -3541319 4748619 $epoch
	row 8265 geocentric 6 1267458.677 -4294620.216 4526843.210 $epoch
	for code in 8405 8366; do
		row $code geocentric 6 4027894.006 307045.6 4919474.91 $epoch
		row $code geocentric 6 5105518.9 -555189.1 3769804.9 $epoch
	done
	row 8049 geocentric 6 -4052052.6588 4212835.9938 -2545104.6946 $epoch
	row 8049 geocentric 6 -4646000 2554000 -3535000 $epoch
done
geographic() { # code, then places
	code=$1
	shift
	while [ $# -gt 0 ]; do
		row "$code" geographic 11 "$1" "$2" 0 2010
		shift 2
	done
}
geographic 8048 -33.86 151.21 -31.95 115.86 -12.46 130.84
geographic 1314 51.5 -0.12 58.6 -3.5
geographic 9281 52.37 4.9 50.85 5.7 53.2 6.57
geographic 1647 46.95 7.44 46.2 6.15
geographic 1646 46.95 7.44 46.2 6.15
geographic 1776 52.4 9.7 48.1 11.6 53.6 10
geographic 1622 50.08 14.43 49.2 16.6
geographic 1619 48.2 16.4 47.3 11.4
geographic 15928 50.85 4.35 51.2 3.2
geographic 1565 -36.85 174.76 -45.9 170.5
geographic 9936 35.68 139.76 43.06 141.35
