"""Judges a map by the truth: do its bands hold, is the line where it says, are dangers told.

What is judged are the promises of the schema: horizontal_95_m and depth_95_m hold the true
line 95 times in 100; the caution zone or a gap has it; bleed-over that moves the mark by
more than 0.10 m or the depth by more than 25 % is flagged. Worst is what is wrong and
silent: off by more than 1.3 bands and 0.15 m, with no advice there (both judgement).

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
from dataclasses import dataclass, field

import numpy as np
from shapely.geometry import Point
from shapely.prepared import prep

from ground import right_of
from maps import Map, Truth

DRAWN_STEP_M = 1.
TRUTH_STEP_M = .25
PROFILE_STEP_M = .5
WRONG_BANDS, WRONG_M = 1.3, .15
DANGEROUS_M, DANGEROUS_DEPTH = .10, .25  # of the schema's bleed_over.score
FOREIGN_M, FOREIGN_DEPTH = .05, .10  # what is less is put down to the line's own bends
CLEAN_M, CLEAN_DEPTH = .03, .08
DANGEROUS_STRETCH_M = 3.  # a shorter one is passed over
OUTSIDE_STRETCH_M = 2.


@dataclass
class Silent:
    """A stretch that is wrong without a word: drawn stations, how far off, and the band;
    of truth outside the zone, how long it is and how far from anything drawn."""
    kind: str
    from_m: float
    to_m: float
    off_m: float
    band_m: float


@dataclass
class Danger:
    """A stretch on which another line moves the mark or the depth dangerously."""
    flagged: bool
    gap: bool
    advised: bool


@dataclass
class Verdict:
    job: str
    params: dict
    exit_status: int
    mapped: bool = False
    problems: bool = False
    across_held: int = 0
    bands_m: list[float] = field(default_factory=list)
    across_shares: list[float] = field(default_factory=list)  # off by, in bands
    depths_held: int = 0
    depths_wrong: int = 0
    depth_bands_m: list[float] = field(default_factory=list)
    truth_m: float = 0.
    in_zone_m: float = 0.
    in_gap_m: float = 0.
    undeclared_m: float = 0.
    dangers: list[Danger] = field(default_factory=list)
    clean_points: int = 0
    false_points: int = 0
    silent: list[Silent] = field(default_factory=list)


@dataclass
class Points:
    """Places every metre along the drawn lines, beside the truth there."""
    station_m: np.ndarray
    off_m: np.ndarray
    band_m: np.ndarray
    depth_error_m: np.ndarray
    depth_band_m: np.ndarray
    true_station_m: np.ndarray
    on_branch: np.ndarray


def judge(job: str, exit_status: int, truth: dict, told: dict | None) -> Verdict:
    """The verdict on a map, or on there being none."""
    verdict = Verdict(job, truth["params"], exit_status)
    if told is None:
        return verdict
    true = Truth(truth)
    drawn = Map(told, true.frame)
    verdict.mapped, verdict.problems = True, bool(drawn.problems)
    points = along(true, drawn)
    bands(verdict, points)
    wrong_and_silent(verdict, points, drawn)
    coverage(verdict, true, drawn)
    dangers(verdict, true, drawn)
    false_alarms(verdict, points, true, drawn)
    return verdict


def along(true: Truth, drawn: Map) -> Points:
    """What is drawn every metre, and the truth that is nearest."""
    rows = []
    for line in drawn.lines:
        s, places = line.stations_m, np.array(line.course.coords)
        at = np.append(np.arange(s[0], s[-1], DRAWN_STEP_M), s[-1])
        east, north = np.interp(at, s, places[:, 0]), np.interp(at, s, places[:, 1])
        band, depth, depth_band = (line.values(name, at) for name in (
            "horizontal_95_m", "depth_m", "depth_95_m"))
        for k, station_m in enumerate(at):
            off_m, true_depth_m, true_m, branch = true.nearest(Point(east[k], north[k]))
            rows.append((station_m, off_m, band[k], depth[k] - true_depth_m, depth_band[k],
                         true_m, branch))
    columns = np.array(rows, float).reshape(-1, 7).T
    return Points(*columns[:6], columns[6].astype(bool))


def bands(verdict: Verdict, points: Points):
    """How many points have the true line within their band across, and in depth."""
    known = np.isfinite(points.band_m)
    off_m, band_m = points.off_m[known], points.band_m[known]
    verdict.across_held = int((off_m <= band_m).sum())
    verdict.bands_m = band_m.tolist()
    verdict.across_shares = (off_m / band_m).tolist()
    known = np.isfinite(points.depth_error_m) & np.isfinite(points.depth_band_m)
    error_m, band_m = np.abs(points.depth_error_m[known]), points.depth_band_m[known]
    verdict.depths_held = int((error_m <= band_m).sum())
    verdict.depths_wrong = int(_wrong(error_m, band_m).sum())
    verdict.depth_bands_m = band_m.tolist()


def _wrong(off_m, band_m) -> np.ndarray:
    """Off by more than a rounding of the band would explain; never where none is known."""
    return (off_m > WRONG_BANDS * band_m) & (off_m > WRONG_M)


def wrong_and_silent(verdict: Verdict, points: Points, drawn: Map):
    """Stretches that are wrong with no advice there. Up to three metres of a map, and up
    to 3 % of a short one, are what a band of 95 % leaves (judgement)."""
    allowed = min(3., max(2., .03 * len(points.station_m)))
    for kind, error_m, band_m in (
            ("across", points.off_m, points.band_m),
            ("depth", points.depth_error_m, points.depth_band_m)):
        silent = np.array([w and not drawn.advised(s, kind == "depth") for w, s in zip(
            _wrong(np.abs(error_m), band_m), points.station_m)], bool)
        if silent.sum() <= allowed:
            continue
        for first, last in runs(silent, points.station_m, 2.5):
            of = slice(first, last + 1)
            verdict.silent.append(Silent(
                kind, float(points.station_m[first]), float(points.station_m[last]),
                float(np.median(error_m[of])), float(np.median(band_m[of]))))


def coverage(verdict: Verdict, true: Truth, drawn: Map):
    """How much of the line that was walked lies in the caution zone, how much is declared
    a gap, and how much is neither.

    A gap declares what lies within 1 m of it, and what is nearer to its dashed line than
    to any drawn one: the line may run anywhere between its ends, as the map says itself.
    """
    stations_m = np.arange(true.from_m, true.to_m, TRUTH_STEP_M)
    places = [true.at(s) for s in stations_m]
    zone, declared = (g and prep(g) for g in (drawn.zone, drawn.declared))
    in_zone = np.array([bool(zone and zone.intersects(p)) for p in places], bool)
    in_gap = np.array([bool(declared and declared.intersects(p)) for p in places],
                      bool) & ~in_zone
    for i in np.flatnonzero(~in_zone & ~in_gap):
        to_gap_m = min((g.distance(places[i]) for g, _ in drawn.gaps), default=np.inf)
        to_line_m = min((d.course.distance(places[i]) for d in drawn.lines), default=np.inf)
        in_gap[i] = to_gap_m < to_line_m
    outside = ~in_zone & ~in_gap
    verdict.truth_m = len(stations_m) * TRUTH_STEP_M
    verdict.in_zone_m, verdict.in_gap_m, verdict.undeclared_m = (
        float(m.sum() * TRUTH_STEP_M) for m in (in_zone, in_gap, outside))
    for first, last in runs(outside, stations_m, .6):
        length_m = stations_m[last] - stations_m[first] + TRUTH_STEP_M
        if length_m <= OUTSIDE_STRETCH_M:
            continue
        seen_m = [drawn.station_of(p) for p in places[first:last + 1:4]]
        silent_m = [s for s in seen_m if not drawn.advised(s)]
        if len(silent_m) >= 2:
            farthest_m = max(drawn.distance_m(p) for p in places[first:last + 1])
            verdict.silent.append(Silent("outside zone", min(silent_m), max(silent_m),
                                         float(length_m), float(farthest_m)))


def _effects(true: Truth):
    """What other lines do to mark and depth along the line, and what of it is foreign: not
    there in the field of the line alone."""
    shift, own_shift = true.profile["disp"], true.profile["own_disp"]
    # No depth at all is as bad as any.
    depth, own_depth = np.nan_to_num(true.profile["derr"], nan=9.), np.nan_to_num(
        true.profile["own_derr"])
    foreign = (np.abs(shift - own_shift) > FOREIGN_M) | (np.abs(depth - own_depth)
                                                         > FOREIGN_DEPTH)
    return shift, depth, foreign


def dangers(verdict: Verdict, true: Truth, drawn: Map):
    """Stretches on which another line moved what was marked dangerously, and whether they
    are flagged over a quarter of their length, in a gap, or at least advised."""
    stations_m = true.profile["s"]
    shift_m, depth, foreign = _effects(true)
    read_m = np.array([r["s"] for r in true.readings if r["path"] == "T"])
    jump, reach_m = true.params.get("jump"), max(2., .75 * true.params["spacing"])

    def was_read(s):
        if len(read_m) > 0 and np.min(np.abs(read_m - s)) <= reach_m:
            return True
        return jump is not None and jump[0] <= s <= jump[1]

    read = np.array([was_read(s) and true.from_m <= s <= true.to_m for s in stations_m], bool)
    bad = read & foreign & ((np.abs(shift_m) > DANGEROUS_M) | (np.abs(depth) > DANGEROUS_DEPTH))
    for first, last in runs(bad, stations_m, 1.1):
        if stations_m[last] - stations_m[first] + PROFILE_STEP_M <= DANGEROUS_STRETCH_M:
            continue
        seen_m = []
        for i in range(first, last + 1):
            s = stations_m[i] - true.first_m
            mark = true.path.position(s) + right_of(true.path.tangent(s)) * shift_m[i]
            seen_m.append(drawn.station_of(Point(mark)))
        verdict.dangers.append(Danger(
            flagged=bool(np.mean([drawn.flagged(s) for s in seen_m]) >= .25),
            gap=bool(np.mean([drawn.in_gap(s) for s in seen_m]) >= .5),
            advised=bool(np.mean([drawn.advised(s) for s in seen_m]) >= .25)))


def false_alarms(verdict: Verdict, points: Points, true: Truth, drawn: Map):
    """Points at which nothing is the matter, and how many of them are flagged."""
    shift_m, depth, _ = _effects(true)
    clean = (np.abs(shift_m) <= CLEAN_M) & (np.abs(depth) <= CLEAN_DEPTH)
    for s, true_m, branch in zip(points.station_m, points.true_station_m, points.on_branch):
        if not branch and clean[np.argmin(np.abs(true.profile["s"] - true_m))]:
            verdict.clean_points += 1
            verdict.false_points += drawn.flagged(s)


def runs(mask, stations_m, join_m) -> list[list[int]]:
    """First and last indices of stretches, those that are no more than join_m apart one."""
    found: list[list[int]] = []
    for k in np.flatnonzero(mask):
        if found and stations_m[k] - stations_m[found[-1][1]] <= join_m:
            found[-1][1] = k
        else:
            found.append([k, k])
    return found
