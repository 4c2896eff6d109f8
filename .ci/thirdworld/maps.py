"""What a job's truth and its map say, in one frame of metres.

The names of roles and properties are those of the schema that README.md and
export/schema have. Written by somebody who had read neither the simulators in Go nor the
estimators. Seeds from 1000 on are for measuring: their jobs are never looked at one by one.
"""
from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString, Point, shape
from shapely.ops import unary_union

from ground import Path
from projection import LocalFrame

FRAME_KINDS = ("frame", "datum")  # advice of the frame excuses nothing
ADVICE_REACH_M = 3.  # a stretch of advice is read as that much longer (judgement)
GAP_REACH_M = 1.  # of the strict reading of what a gap declares


class Truth:
    """Where the line is. Stations count from the walk's start; the line begins before."""

    def __init__(self, told: dict):
        self.params, self.readings = told["params"], told["readings"]
        line = told["line"]
        self.path = Path(line["x"], line["y"], line["d"])
        self.stations_m, self.depths_m = np.array(line["s"]), np.array(line["d"])
        self.first_m = self.stations_m[0]
        self.from_m, self.to_m = told["span"]
        self.branch = self.branch_depths_m = None
        if told["branch"]:
            self.branch = LineString(np.c_[told["branch"]["x"], told["branch"]["y"]])
            self.branch_depths_m = told["branch"]["d"]
        self.frame = LocalFrame(*told["origin"])
        self.profile = {k: np.array([np.nan if x is None else x for x in v], float)
                        for k, v in told["profile"].items()}

    def at(self, station_m) -> Point:
        return self.path.course.interpolate(station_m - self.first_m)

    def nearest(self, place: Point) -> tuple[float, float, float, bool]:
        """Distance, depth and station of the true line, or of its branch (True) if nearer."""
        off_m = self.path.course.distance(place)
        station_m = self.path.course.project(place) + self.first_m
        if self.branch is not None and self.branch.distance(place) < off_m:
            shares = np.linspace(0, self.branch.length, len(self.branch_depths_m))
            depth_m = float(np.interp(self.branch.project(place), shares, self.branch_depths_m))
            return self.branch.distance(place), depth_m, station_m, True
        return off_m, np.interp(station_m, self.stations_m, self.depths_m), station_m, False


@dataclass
class Drawn:
    """A drawn line or a gap's dashed one, with the stations of its vertices or its ends."""
    course: LineString
    stations_m: np.ndarray
    properties: dict

    def station_of(self, place: Point) -> float:
        along_m = self.course.project(place)
        if len(self.stations_m) == len(self.course.coords):
            steps = np.diff(np.array(self.course.coords), axis=0)
            return float(np.interp(along_m, np.r_[0, np.cumsum(np.hypot(*steps.T))],
                                   self.stations_m))
        first_m, last_m = self.stations_m[0], self.stations_m[-1]
        return float(first_m + along_m / self.course.length * (last_m - first_m))

    def values(self, name, at_m) -> np.ndarray:
        """A list of one value a vertex, linear between them; nan beside one without."""
        return np.array([self._value(name, x) for x in at_m])

    def _value(self, name, at_m) -> float:
        s, listed = self.stations_m, self.properties[name]
        if not listed:
            return np.nan
        i = min(max(int(np.searchsorted(s, at_m)) - 1, 0), len(s) - 2)
        a, b = (np.nan if v is None else v for v in listed[i:i + 2])
        share = 0 if s[i + 1] == s[i] else (at_m - s[i]) / (s[i + 1] - s[i])
        if share < 1e-9:
            return a
        return b if share > 1 - 1e-9 else a + (b - a) * share


def _in_metres(geometry: dict, frame: LocalFrame):
    def moved(c):
        if isinstance(c[0], (int, float)):
            x, y = frame.to_metres(c[1], c[0])
            return float(x), float(y)
        return [moved(k) for k in c]

    return shape({"type": geometry["type"], "coordinates": moved(geometry["coordinates"])})


class Map:
    def __init__(self, told: dict, frame: LocalFrame):
        self.problems = told["loamline"].get("problems", [])
        self.advice = [(a["kind"], a["from_m"], a["to_m"])
                       for a in told["loamline"].get("advice", [])
                       if not any(w in a["kind"] for w in FRAME_KINDS)]
        roles: dict[str, list] = {}
        for feature in told["features"]:
            place = feature["geometry"] and _in_metres(feature["geometry"], frame)
            roles.setdefault(feature["properties"]["role"], []).append(
                (place, feature["properties"]))
        self.lines = [Drawn(g, np.array(p["stations_m"], float), p)
                      for g, p in roles.get("centerline", [])]
        zones = [g.buffer(0) for g, _ in roles.get("caution_zone", [])]
        self.zone = unary_union(zones) if zones else None
        self.gaps = roles.get("gap", [])
        self.declared = (unary_union([g.buffer(GAP_REACH_M) for g, _ in self.gaps])
                         if self.gaps else None)
        self.bleed_over = [p for _, p in roles.get("bleed_over", [])]
        self.dashed = [Drawn(g, np.array([p["from_m"], p["to_m"]], float), p)
                       for g, p in self.gaps
                       if p.get("from_m") is not None and g.geom_type == "LineString"
                       and g.length > 0]

    def advised(self, station_m, of_depth=False) -> bool:
        """Whether advice speaks of a place: of a stretch with it, or of the whole line's
        positions (accuracy, input) or depths (doubt)."""
        of_whole_line = ("doubt",) if of_depth else ("accuracy", "input")
        for kind, from_m, to_m in self.advice:
            if from_m is None or to_m is None:
                if kind in of_whole_line:
                    return True
            elif from_m - ADVICE_REACH_M <= station_m <= to_m + ADVICE_REACH_M:
                return True
        return False

    def flagged(self, station_m) -> bool:
        """Whether a bleed-over that is more than watched has the place."""
        return any(b["from_m"] <= station_m <= b["to_m"] for b in self.bleed_over
                   if b["grade"] in ("suspect", "strong"))

    def in_gap(self, station_m) -> bool:
        return any((p.get("from_m") or 0) <= station_m <= (p.get("to_m") or -1)
                   for _, p in self.gaps)

    def station_of(self, place: Point) -> float:
        """The station of the drawn or dashed line that is nearest to a place."""
        drawn = self.lines + self.dashed
        if not drawn:
            return 0.
        return min(drawn, key=lambda d: d.course.distance(place)).station_of(place)

    def distance_m(self, place: Point) -> float:
        """How far the nearest drawn or dashed line is."""
        return min((d.course.distance(place) for d in self.lines + self.dashed), default=99)
