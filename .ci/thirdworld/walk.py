"""Where and when somebody reads: strides, second walks, breaks, and the time between.

Paces of half a metre to four, five to ten where readings are sparse; people who read more
often at bends, who repeat readings, who leave out stretches. Common practice, no source,
for the kinds; judgement for how often.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
from dataclasses import dataclass

import numpy as np

from ground import Path, log_uniform
from scene import Scene

LINE, BRANCH, OTHER = "T", "B", "J"  # the neighbour that is followed instead


@dataclass
class Visit:
    on: str
    station_m: float  # of the path that it is on
    direction: int
    kind: str = "ok"
    time_s: float = 0.


class Walk:
    def __init__(self, scene: Scene, family: str, followed_m: list[float]):
        """followed_m: the stations of the other line that a locator can follow there."""
        self.scene, self.rng = scene, scene.rng
        self.visits: list[Visit] = []
        self.breaks_m: list[tuple[float, float]] = []
        self._draw_pace(family)
        self._draw_course(family, followed_m)
        self._leave_out(family)
        self._repeat()
        self._take_time()

    def path(self, on) -> Path:
        if on == LINE:
            return self.scene.line
        return self.scene.branch if on == BRANCH else self.scene.neighbours[-1].path

    def _draw_pace(self, family):
        rng, walked_m = self.rng, self.scene.layout.walked_m
        if family == "sparse":
            self.habit = rng.choice(["regular", "paced"])
            pace_m = rng.uniform(5, 10)
        else:
            self.habit = rng.choice(["regular", "regular", "paced", "bends", "time"])
            pace_m = log_uniform(rng, .5, 4 if walked_m > 50 else 2.)
        self.speed_m_s = rng.uniform(.3, 1.2)
        self.by_time = self.habit == "time"  # logged on the way, not pinpointed
        if self.by_time:
            pace_m = self.speed_m_s * rng.choice([1., 1., 2.])
        self.pace_m = max(pace_m, walked_m / 330)  # some hundred readings are enough

    def _stride_m(self, path, station_m, direction, pace_m):
        if self.habit == "paced":
            return pace_m * np.clip(1 + self.rng.normal(0, .25), .4, 1.9)
        if self.habit == "regular":
            return pace_m * (1 + self.rng.normal(0, .04))
        if self.habit == "bends":
            here = path.tangent(min(station_m + .1, path.length_m))
            ahead = path.tangent(np.clip(station_m + direction * pace_m * 1.2, 0, path.length_m))
            return pace_m * (.4 if here @ ahead < .96 else 1.)
        return pace_m * np.clip(1 + self.rng.normal(0, .08), .6, 1.4)

    def _add(self, on, from_m, to_m, pace_m, kind="ok"):
        path, direction = self.path(on), 1 if to_m >= from_m else -1
        station_m = from_m
        while (station_m - to_m) * direction <= 1e-6:
            self.visits.append(Visit(on, station_m, direction, kind))
            stride_m = self._stride_m(path, station_m, direction, pace_m)
            station_m += direction * max(stride_m, .25)

    def _draw_course(self, family, followed_m):
        scene, rng, pace_m = self.scene, self.rng, self.pace_m
        start_m, end_m, walked_m = scene.start_m, scene.layout.end_m, scene.layout.walked_m
        if family == "tee":
            self._add_tee()
        elif scene.jump:
            self._add(LINE, start_m, scene.jump[0], pace_m)
            if followed_m:
                self._add(OTHER, followed_m[0] + rng.uniform(0, pace_m), followed_m[-1], pace_m,
                          "jump")
            if scene.jump[1] < end_m - 1:
                self._add(LINE, scene.jump[1] + rng.uniform(.2, pace_m), end_m, pace_m)
        else:
            self._add(LINE, start_m, end_m, pace_m)
        sometimes = family in ("quiet_path", "unknown_parallel", "slow_drift")
        if family == "out_back" or (sometimes and rng.random() < .12):
            back = rng.random() < .65
            if back:
                from_m = end_m - rng.uniform(0, pace_m)
                to_m = start_m + rng.uniform(0, .3) * walked_m
            else:
                from_m, to_m = start_m + rng.uniform(0, .3) * walked_m, end_m
            self._add(LINE, from_m, to_m, pace_m * rng.uniform(.8, 1.6))
            scene.params["second"] = "back" if back else "again"

    def _add_tee(self):
        """The line up to the branch, the branch, perhaps back along it, and the rest."""
        scene, rng, pace_m = self.scene, self.rng, self.pace_m
        out_m = min(rng.uniform(6, 25), scene.branch.length_m - 3)
        variant = rng.choice(["back", "back", "norows", "end"])
        scene.params["tee"].update(variant=str(variant), len=out_m)
        self._add(LINE, scene.start_m, scene.tee_m - .3, pace_m)
        self._add(BRANCH, .8, out_m, pace_m)
        if variant == "back":
            self._add(BRANCH, out_m - pace_m * .6, .5, pace_m)
        if variant != "end":
            self._add(LINE, scene.tee_m + .5, scene.layout.end_m, pace_m)

    def _leave_out(self, family):
        if self.rng.random() < .25 and self.scene.layout.walked_m > 45 and family != "tee":
            for _ in range(self.rng.integers(1, 3)):
                from_m = self.scene.somewhere(.1, .8)
                self.breaks_m.append((from_m, from_m + self.rng.uniform(6, 25)))
            self.visits = [v for v in self.visits if not (
                v.on == LINE and any(a < v.station_m < b for a, b in self.breaks_m))]

    def _repeat(self):
        rng, once = self.rng, self.visits
        repeats = rng.random() < .3
        self.visits = []
        for v in once:
            self.visits.append(v)
            if repeats and rng.random() < .06:
                station_m = v.station_m + rng.normal(0, .02)
                for _ in range(int(rng.integers(1, 3))):
                    self.visits.append(Visit(v.on, station_m, v.direction, "repeat"))

    def _take_time(self):
        """Seconds to pinpoint, now and then a longer stop, minutes to turn back."""
        rng, before, direction, time_s = self.rng, None, 1, 0.
        for v in self.visits:
            place = self.path(v.on).position(v.station_m)
            step_m = 0 if before is None else np.hypot(*(place - before))
            pinpoint_s = 0 if self.by_time else rng.uniform(3, 18)
            stop_s = rng.uniform(20, 90) if rng.random() < .015 else 0
            turns = v.direction != direction and v.on == LINE
            turn_s = rng.uniform(60, 400) if turns else 0
            again_s = 1 if self.by_time and step_m < .1 else 0
            time_s += step_m / self.speed_m_s + pinpoint_s + stop_s + turn_s + again_s
            v.time_s, before, direction = time_s, place, v.direction
