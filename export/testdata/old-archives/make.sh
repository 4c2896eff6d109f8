#!/usr/bin/env bash
# Makes the archives of this folder with a program of their time:
#
#   make.sh PROGRAM VERSION [DATABASE]
#
# PROGRAM is loamline, built with `go build ./cmd/loamline` from a commit of that
# version of the archive: 1 from 55d6814 to the one before 6a820d7, 2 from there
# to 26e4555. DATABASE is an empty one with PostGIS, such as
# postgres://postgres@127.0.0.1/old; without it the file alone is made.
#
# The jobs are invented: straight walks over open ocean, whose readings are told
# in Universal Time, in a zone of the place, and without a time.
set -euo pipefail
program=$(realpath "$1") version=$2 database=${3-}
here=$(cd "$(dirname "$0")" && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cd "$scratch"

walk() { # name, time of the first reading up to the minute or nothing, zone, latitude
  awk -v line="$1" -v from="$2" -v zone="$3" -v lat="$4" 'BEGIN {
    print "line,point,time,lat,lon,fix,h_acc_m,depth_m"
    for (i = 0; i < 12; i++) {
      time = from == "" ? "" : sprintf("%s:%02d.25%s", from, 4 * i, zone)
      printf "%s,%d,%s,%.8f,%.8f,4,0.010,1.1%d\n", line, i + 1, time, lat + (i % 3 - 1) * 1e-7, -30.5 + i * 4e-5, i % 4
    }
  }' >"$1.csv"
}
walk quay 2026-05-12T07:31 Z 44.1
walk mole 2026-03-02T00:10 +02:00 44.2
walk pier '' '' 44.3

for where in archive.gpkg $database; do
  map() { "$program" map "$1.csv" --out out --archive "$where" "${@:2}" >/dev/null; }
  map quay --ticket T-1 --date 2026-05-12
  map mole
  map pier
  if [ "$version" -ge 2 ]; then
    # Two of them get a history.
    map quay --ticket T-1 --date 2026-05-13
    "$program" archive remove "$where" mole --yes >/dev/null
  fi
done
gzip -9n <archive.gpkg >"$here/version-$version.gpkg.gz"
if [ -n "$database" ]; then
  # Statements alone, without what only psql understands.
  pg_dump --no-owner --no-privileges --no-comments --inserts --schema=loamline "$database" | grep -v '^\\' | gzip -9n >"$here/version-$version.sql.gz"
fi
