#!/bin/sh
# Makes proj_9.1.1_more_zones.csv: two points in each system of geo/zones.csv that
# proj_9.1.1_every_zone.csv does not have, projected by GDAL 3.6.2's gdaltransform,
# which hands them to PROJ 9.1.1, from the system's own base geographic system,
# without a shift of datum.
#   sh proj_9.1.1_more_zones.sh < ../../geo/zones.csv > proj_9.1.1_more_zones.csv
# Needs gdal-bin, and python3 for the quotes of CSV alone.
echo epsg,lon_deg,lat_deg,easting,northing
python3 -c '
import csv, sys
seen = {r["epsg"] for r in csv.DictReader(open("proj_9.1.1_every_zone.csv"))}
for r in csv.DictReader(sys.stdin):
    if r["code"] in seen:
        continue
    w, s, e, n = (float(r[k]) for k in ("west", "south", "east", "north"))
    wide = e - w if e > w else e - w + 360
    at = []
    for x, y in ((0.05, 0.1), (0.7, 0.85)):
        lon = w + x * wide
        at += ["%.3f" % (lon - 360 if lon > 180 else lon), "%.3f" % (s + y * (n - s))]
    print(r["code"], r["base"], *at)
' | while read -r code base lon1 lat1 lon2 lat2; do
	printf '%s %s\n%s %s\n' "$lon1" "$lat1" "$lon2" "$lat2" > /tmp/more_zones.in
	gdaltransform -s_srs "EPSG:$base" -t_srs "EPSG:$code" -output_xy < /tmp/more_zones.in |
		paste -d' ' /tmp/more_zones.in - |
		awk -v c="$code" '{ printf "%s,%s,%s,%.5f,%.5f\n", c, $1, $2, $3, $4 }'
done
