"""The courses of lines beside the one that is traced.

A line beside another keeps its distance for a while and then turns off; one that
converges comes nearer, and may cross. Distances of 0.4 to 4 m, at which lines share a trench
or a verge, and lengths are judgement.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString

from ground import Path, either_side, log_uniform, right_of


@dataclass
class Neighbour:
    kind: str
    mapped: bool  # it is on the records that the job has
    path: Path


def _turn_off(rng, place, forward, outward, length_m):
    """Half-metre steps away from a place, at an angle to the line left behind."""
    angle = np.radians(rng.uniform(25, 90))
    direction = forward * np.cos(angle) + outward * np.sin(angle)
    return [place + direction * k for k in np.arange(.5, length_m, .5)]


def parallel_course(rng, line: Path, side, apart_m, from_m, to_m, depth_m) -> Path | None:
    """A line on one side (1 is right), its ends turning away; None where there is no room."""
    base = LineString([line.position(s) for s in np.arange(from_m, to_m + .01, .5)])
    beside = base.parallel_offset(apart_m, "right" if side > 0 else "left",
                                  join_style=2, mitre_limit=3)
    if beside.geom_type != "LineString" or beside.length < 2:
        return None
    places = np.array(beside.coords)
    start = line.position(from_m)
    if np.hypot(*(places[0] - start)) > np.hypot(*(places[-1] - start)):
        places = places[::-1]
    t0, t1 = line.tangent(from_m), line.tangent(to_m)
    before = _turn_off(rng, places[0], -t0, right_of(t0) * side, rng.uniform(8, 30))
    after = _turn_off(rng, places[-1], t1, right_of(t1) * side, rng.uniform(8, 30))
    course = LineString(np.vstack([before[::-1], places, after]))
    steps = np.append(np.arange(0, course.length, .5), course.length)
    places = np.array([course.interpolate(t).coords[0] for t in steps])
    s = np.arange(len(places)) * .5
    wave = rng.uniform(0, .06) * np.sin(s / rng.uniform(5, 20) + rng.uniform(0, 6))
    depths = np.clip(depth_m + wave + rng.normal(0, .002) * (s - s.mean()), .3, 2.6)
    return Path(places[:, 0], places[:, 1], depths)


def draw_parallel(rng, line: Path, span, apart_m) -> tuple[Path, int, float, float, float]:
    """A parallel line with its side, distance, and the stations between which it runs.

    span() gives stations; where a bend leaves no room for a line, another is drawn.
    """
    for _ in range(20):
        from_m, to_m = span()
        from_m, to_m = max(from_m, 2), min(to_m, line.length_m - 1)
        if to_m - from_m < 15:
            to_m = min(from_m + 20, line.length_m - 1)
            from_m = to_m - 20
        distance_m = apart_m or log_uniform(rng, .4, 4.)
        side = either_side(rng)
        path = parallel_course(rng, line, side, distance_m, from_m, to_m,
                               log_uniform(rng, .4, 2.))
        if path is not None:
            return path, side, distance_m, from_m, to_m
    raise ValueError("no room for a line beside this one")


def converging_course(rng, line: Path, from_m, to_m, apart_m, nearest_m, side, run_m, depth_m,
                      crosses: bool) -> Path:
    """A line that comes nearer between two stations, and runs on beside or beyond."""
    ss = np.arange(max(from_m - 15, 0), min(to_m + run_m, line.length_m), .5)
    share = np.clip((ss - from_m) / (to_m - from_m), 0, 1)
    if rng.random() < .5:
        share = share * share * (3 - 2 * share)
    offset = side * (apart_m + (nearest_m * (-1 if crosses else 1) - apart_m) * share)
    if ss[0] < from_m:
        offset = np.where(ss < from_m, offset + side * (from_m - ss) * .4, offset)
    along = np.array([line.tangent(s, 2.) for s in ss])
    places = (np.array([line.position(s) for s in ss])
              + np.c_[along[:, 1], -along[:, 0]] * offset[:, None])
    wave = rng.uniform(0, .05) * np.sin(np.arange(len(places)) / 20.)
    return Path(places[:, 0], places[:, 1], np.clip(depth_m + wave, .3, 2.6))
