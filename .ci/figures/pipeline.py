"""What somebody would write in an afternoon instead: pandas, scipy and shapely.

    pipeline.py TABLE.csv OUT.geojson
    pipeline.py FOLDER OUT

Reads the table (of a folder each table, one after the other), throws out positions
far from a running median, puts a smoothing spline through each line and its depths,
draws the tolerance strip, and writes GeoJSON. It has no bands, no account of rows, no
gaps and no bleed-over; it is there to compare time, memory and bytes with, and nothing
else.
"""
import json
import sys
from pathlib import Path

import numpy as np
import pandas as pd
from scipy.interpolate import UnivariateSpline
from shapely.geometry import LineString

DEGREE_M = 111_195.0  # of a sphere of 6371 km
HALF_WIDTH_M = 0.4572
JUMP_M = 1.0
NOISE_M = 0.02
STEP_M = 1.0


def features(name, rows):
    lat0, lon0 = rows.lat.median(), rows.lon.median()
    scale = np.cos(np.radians(lat0))
    x, y = (rows.lon - lon0) * DEGREE_M * scale, (rows.lat - lat0) * DEGREE_M
    off = np.hypot(x - x.rolling(5, center=True, min_periods=1).median(), y - y.rolling(5, center=True, min_periods=1).median())
    good = (off < JUMP_M).to_numpy()
    x, y, depth = x.to_numpy()[good], y.to_numpy()[good], rows.depth_m.to_numpy()[good]
    s = np.concatenate([[0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    step = np.concatenate([[True], np.diff(s) > 0])
    s, x, y, depth = s[step], x[step], y[step], depth[step]
    at = np.arange(0, s[-1], STEP_M)
    known = np.isfinite(depth)
    fit = [UnivariateSpline(s, v, s=len(s) * NOISE_M**2)(at) for v in (x, y)]
    deep = UnivariateSpline(s[known], depth[known], s=known.sum() * 0.05**2)(at)

    def degrees(xy):
        return [[round(lon0 + px / DEGREE_M / scale, 9), round(lat0 + py / DEGREE_M, 9)] for px, py in xy]

    line = LineString(np.column_stack(fit))
    zone = line.buffer(HALF_WIDTH_M)
    yield {"role": "centerline", "line": name, "depth_m": [round(d, 3) for d in deep]}, {"type": "LineString", "coordinates": degrees(line.coords)}
    yield {"role": "tolerance_zone", "line": name}, {"type": "Polygon", "coordinates": [degrees(zone.exterior.coords)]}
    for lon, lat, d, ok in zip(rows.lon, rows.lat, rows.depth_m, good):
        yield {"role": "reading", "line": name, "depth_m": None if np.isnan(d) else d, "status": "used" if ok else "set_aside"}, {"type": "Point", "coordinates": [lon, lat]}


def draw(table, to):
    rows = pd.read_csv(table)
    with open(to, "w") as out:
        found = [{"type": "Feature", "properties": p, "geometry": g} for name, of in rows.groupby("line", sort=False) for p, g in features(name, of)]
        json.dump({"type": "FeatureCollection", "features": found}, out)


given, out = map(Path, sys.argv[1:])
if given.is_dir():
    for table in sorted(given.glob("*.csv")):
        draw(table, out / (table.stem + ".geojson"))
else:
    draw(given, out)
