"""What a walk's readings are, and what a locator without error would have marked.

How often somebody slips, lifts the receiver, lays a line bare, or has a position that leaps
is judgement; that the first three happen is common practice, no source. The field that is
read is field.py's, searched as locator.py does.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
from dataclasses import dataclass, field

import numpy as np

from families import SetUp
from ground import log_uniform
from locator import Habits, Mark, Receiver, Shown, find, read
from positions import Positions, gauss_markov
from scene import Scene
from walk import BRANCH, LINE, OTHER, Walk

PROFILE_STEP_M = .5


class Profile:
    """Marks and depths without error every half metre: in the whole field, and in that of
    the line alone. What differs is what another line did, and what agrees is the bends'."""

    def __init__(self, scene: Scene, whole: Receiver, alone: Receiver, by: str):
        line = scene.line
        self.stations_m = np.arange(scene.start_m, scene.layout.end_m + 1e-9, PROFILE_STEP_M)
        # Peaks of the line that is followed instead, by its stations.
        self.other_peaks_m: dict[float, float] = {}
        rows, expected_m, expected_alone_m = [], 0., 0.
        for s in self.stations_m:
            seen = find(whole, line, s, expected_m, by) or Mark(
                expected_m, None, line.position(s), np.nan)
            expected_m = float(np.clip(seen.peak_m, -3, 3))
            own = find(alone, line, s, expected_alone_m, by, with_null=False) or seen
            expected_alone_m = float(own.peak_m) if abs(own.peak_m) < 1 else 0.
            rows.append((
                line.offset_m(seen.place), seen.depth_m / line.depth_m(s) - 1,
                line.offset_m(own.place), own.depth_m / line.depth_m(s) - 1, seen.peak_m,
                np.nan if seen.null_m is None else seen.null_m - seen.peak_m))
        (self.shift_m, self.depth_error, self.own_shift_m, self.own_depth_error, self.peak_m,
         self.null_minus_peak_m) = np.array(rows).T
        if scene.jump:
            self._follow_other(scene, whole, by)

    def _follow_other(self, scene, whole, by):
        line, other, (from_m, to_m) = scene.line, scene.neighbours[-1].path, scene.jump
        first_m, last_m = (other.station_of(line.position(s)) for s in scene.jump)
        expected_m = 0.
        for s in np.arange(first_m, last_m + .01, PROFILE_STEP_M):
            seen = find(whole, other, s, expected_m, by)
            if seen is None or abs(seen.peak_m) > 1.2:
                continue
            expected_m = self.other_peaks_m[round(s, 2)] = seen.peak_m
            k = np.argmin(np.abs(self.stations_m - line.station_of(other.position(s))))
            if from_m <= self.stations_m[k] <= to_m:
                self.shift_m[k] = line.offset_m(seen.place)
                self.depth_error[k] = seen.depth_m / line.depth_m(self.stations_m[k]) - 1

    def expected_m(self, on, station_m) -> float:
        """Where whoever reads there has followed the peak to."""
        if on == LINE:
            return float(np.interp(station_m, self.stations_m, self.peak_m))
        if on == BRANCH:
            return 0.
        known = np.array(sorted(self.other_peaks_m))
        return self.other_peaks_m[known[np.argmin(np.abs(known - station_m))]]


@dataclass
class Reading:
    shown: Shown
    place_m: np.ndarray
    stated_m: float
    fix: int
    time_s: float
    exposed: bool = False


@dataclass
class Readings:
    habits: Habits
    depth_unit: str = "m"
    depth_step_m: float = .01
    blunders: bool = False
    leaps: bool = False
    lifted: set[int] = field(default_factory=set)
    rows: list[Reading] = field(default_factory=list)
    truth: list[dict] = field(default_factory=list)


def _wander(rng, walk: Walk) -> np.ndarray:
    """How far whoever logs while walking strays from the peak."""
    n = len(walk.visits)
    if not walk.by_time:
        return np.zeros(n)
    gone_m = np.cumsum(np.r_[0, np.abs(np.diff([v.station_m for v in walk.visits])) + .3])
    return gauss_markov(rng, gone_m if n > 1 else np.zeros(n), rng.uniform(2, 6),
                        rng.uniform(.04, .12))


def _blunder(rng, shown: Shown) -> str:
    """A slip of the pen, or a display that had not settled."""
    kind = rng.choice(["depth", "depth", "current"])
    if kind == "depth":
        shown.depth_m *= rng.choice([.3, .5, 1.8, 2.5, 3.])
    else:
        shown.current_ma *= rng.choice([.2, 3., 10.])
    return kind


def take(rng, family, scene: Scene, set_up: SetUp, walk: Walk, whole: Receiver,
         profile: Profile, positions: Positions) -> Readings:
    habits = Habits.draw(rng, family)
    wander_m = _wander(rng, walk)
    taken = Readings(habits, rng.choice(["m", "m", "m", "in", "ft", "cm"]))
    # Steps are drawn whichever the unit is.
    taken.depth_step_m = {"m": rng.choice([.01, .01, .05]), "in": .0254 * rng.choice([1., .5]),
                          "ft": .03048, "cm": .01}[taken.depth_unit]
    slips = family != "quiet_street"
    taken.blunders = rng.random() < .25 and slips
    taken.leaps = rng.random() < .15 and slips
    n, exposed = len(walk.visits), set()
    if family == "scale_lift":
        taken.lifted = {int(rng.integers(0, n))}
        if rng.random() < .4:
            exposed = {int(rng.integers(2, max(n - 2, 3)))}
    elif rng.random() < .12:
        taken.lifted = {int(rng.integers(0, n)) for _ in range(2)}
    for i, visit in enumerate(walk.visits):
        path = walk.path(visit.on)
        expected_m = profile.expected_m(visit.on, visit.station_m)
        lifts_m = [0.] + ([rng.choice([.3, .4, .5])] if i in taken.lifted else [])
        for lift_m in lifts_m:
            shown, place = read(rng, whole, habits, path, visit.station_m, visit.direction,
                                expected_m, set_up.mark, wander_m[i], lift_m, positions.pole_m)
            error, slip = positions.error_m[i].copy(), ""
            if taken.blunders and rng.random() < .02:
                slip = _blunder(rng, shown)
            if taken.leaps and rng.random() < .012:
                error = error + rng.normal(0, 1, 2) * log_uniform(rng, .8, 8)
                slip = "leap"
            _note(taken, scene, walk, positions, i, shown, place, error,
                  visit.kind + ("/" + slip if slip else ""), 2. if lift_m else 0)
        if i in exposed and visit.on == LINE:
            shown = Shown(depth_m=path.depth_m(visit.station_m) + rng.normal(0, .01))
            _note(taken, scene, walk, positions, i, shown, path.position(visit.station_m),
                  positions.error_m[i], "exposed", 3., exposed=True)
    return taken


def _note(taken, scene, walk, positions, i, shown, place, error, kind, later_s, exposed=False):
    visit = walk.visits[i]
    taken.rows.append(Reading(shown, place + error, positions.stated_m[i], positions.fix[i],
                              visit.time_s + later_s, exposed))
    from_m = scene.start_m if visit.on == LINE else 0
    taken.truth.append({
        "path": visit.on, "s": visit.station_m - from_m, "dir": visit.direction, "kind": kind,
        "mark": shown.mark_m, "x": shown.offset_m, "ex": float(error[0]), "ey": float(error[1]),
        "d_true": walk.path(visit.on).depth_m(visit.station_m), "lift": shown.lift_m})


def reached_m(scene: Scene, taken: Readings) -> tuple[float, float]:
    """From where to where the line was read, stations from the walk's start."""
    on_line = [t["s"] for t in taken.truth if t["path"] == LINE and "leap" not in t["kind"]]
    if scene.jump:
        other = scene.neighbours[-1].path
        on_line += [float(scene.line.station_of(other.position(t["s"]))) - scene.start_m
                    for t in taken.truth if t["path"] == OTHER]
    return min(on_line), max(on_line)
