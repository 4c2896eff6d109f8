"""The receiver and whoever holds it: peak, null, depth, and what the display shows.

Two antennas lie across the line, the lower a few centimetres above the ground; a third
stands upright. Where the first is loudest is the peak, where the third is silent the null,
and depth is gap x top / (bottom - top) less the height of the lower one (Ampere's law).
How well people find a peak is judgement, near what is common practice, no source: 5 to
10 % of depth, of which 1.5 to 4.5 % are taken for one sigma. Leans of some degrees and a
depth that is off by some per cent throughout are judgement too.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
from dataclasses import dataclass

import numpy as np

from ground import Path, either_side, log_uniform, right_of

# Half-widths in which a peak is looked for, one after the other, and the step.
SWEEP = (1.2, 3.5), .1
PINPOINT = (.6, 1.2, 3.5), .05
# What a receiver takes for the height of its lower antenna; it is held 2 to 7 cm high.
USUAL_HEIGHT_M = .045


def _local_maxima(v):
    return np.flatnonzero((v[1:-1] >= v[:-2]) & (v[1:-1] > v[2:])) + 1


def _vertex(x, v, i) -> float:
    """The top of the parabola through a value and those beside it."""
    i = min(max(int(i), 1), len(x) - 2)
    bend = v[i - 1] - 2 * v[i] + v[i + 1]
    return x[i] if bend == 0 else x[i] + .5 * (v[i - 1] - v[i + 1]) / bend * (x[1] - x[0])


class Receiver:
    """A receiver over a field. Offsets are to the right of the line, in metres."""

    def __init__(self, field, height_m: float, gap_m: float):
        self.field, self.height_m, self.gap_m = field, height_m, gap_m

    def _across(self, base, right, offsets_m):
        return self.field(np.c_[base[0] + offsets_m * right[0], base[1] + offsets_m * right[1],
                                np.full(len(offsets_m), self.height_m)])

    def _nearest_maximum(self, loudness, centre_m, reach_m, step_m, near_m) -> float | None:
        x = centre_m + np.arange(-reach_m, reach_m + .001, step_m)
        found = _local_maxima(loudness(x))
        if not len(found):
            return None
        x = x[found[np.argmin(np.abs(x[found] - near_m))]] + np.arange(-.12, .121, .03)
        fine = loudness(x)
        return _vertex(x, fine, np.argmax(fine))

    def peak_m(self, base, right, expected_m, search=SWEEP) -> float | None:
        """The peak nearest to where it is expected."""
        axis = np.r_[right, 0]
        reaches_m, step_m = search
        for reach_m in reaches_m:
            peak = self._nearest_maximum(
                lambda x: np.abs(self._across(base, right, x) @ axis),
                expected_m, reach_m, step_m, expected_m)
            if peak is not None:
                return peak
        return None

    def null_m(self, base, right, peak_m, depth_m) -> float | None:
        """The null nearest to the peak, if there is one about as far off as the depth."""
        return self._nearest_maximum(
            lambda x: -np.abs(self._across(base, right, x)[:, 2])**2,
            peak_m, 1.6 * depth_m + .3, .1, peak_m)

    def antennas(self, base, right, offset_m, height_m, tilt=0., yaw=0.):
        """What the lower and the upper antenna hear: tilted about the line's direction,
        turned off square to it."""
        along = np.array([-right[1], right[0]])
        across = right * np.cos(yaw) + along * np.sin(yaw)
        axis = np.r_[across * np.cos(tilt), -np.sin(tilt)]
        lower = np.r_[base + offset_m * right, height_m]
        up = np.r_[right * np.sin(tilt), np.cos(tilt)]
        heard = self.field(np.vstack([lower, lower + self.gap_m * up])) @ axis
        return heard[0], heard[1]


@dataclass
class Mark:
    """What a locator without error finds across a line."""
    peak_m: float
    null_m: float | None
    place: np.ndarray
    depth_m: float


def find(receiver: Receiver, path: Path, station_m, expected_m, by: str,
         with_null=True) -> Mark | None:
    """What there is to be found across a line at a station; None where no peak is. The
    null may be left out where nothing is marked by it."""
    base = path.position(station_m)
    right = right_of(path.tangent(station_m))
    peak = receiver.peak_m(base, right, expected_m)
    if peak is None:
        return None
    null = None
    if with_null or by == "null":
        null = receiver.null_m(base, right, peak, path.depth_m(station_m))
    at = null if by == "null" and null is not None else peak
    bottom, top = map(abs, receiver.antennas(base, right, at, receiver.height_m))
    depth_m = np.nan
    if bottom > top * 1.005:
        depth_m = receiver.gap_m * top / (bottom - top) - receiver.height_m
    return Mark(peak, null, base + right * at, depth_m)


@dataclass
class Habits:
    """One person with one receiver, on one day."""
    depth_scale: float
    pin_share: float  # one sigma of a peak, by depth
    pin_m: float      # and what is left of it over a shallow line
    null_share: float  # of the same, where a null is found
    loudness_noise: float
    floor_nt: float
    lean: float
    lean_sigma: float
    grass_m: float
    current_scale: float
    gain: float

    @classmethod
    def draw(cls, rng, family):
        if family == "scale_lift":
            scale = float(either_side(rng) * rng.uniform(.03, .08))
        else:
            scale = float(np.clip(rng.normal(0, .03), -.08, .08))
        return cls(
            depth_scale=scale, pin_share=rng.uniform(.015, .045), pin_m=rng.uniform(.012, .03),
            null_share=rng.uniform(.35, .9), loudness_noise=log_uniform(rng, .001, .005),
            floor_nt=log_uniform(rng, .003, .04), lean=rng.normal(0, np.radians(1.5)),
            lean_sigma=np.radians(rng.uniform(1, 4)),
            grass_m=abs(rng.normal(0, .03)) if rng.random() < .4 else 0.,
            current_scale=1 + rng.normal(0, .04), gain=rng.uniform(20, 60))


@dataclass
class Shown:
    """What the display has at a reading, before it is rounded."""
    depth_m: float
    current_ma: float = np.nan
    low_nt: float = np.nan
    high_nt: float = np.nan
    null_offset_m: float = np.nan
    sign: float = 0
    lift_m: float = 0.
    offset_m: float = 0.  # of the tip from the line
    mark_m: float = 0.    # of what a locator without error would have marked


def read(rng, receiver: Receiver, habits: Habits, path: Path, station_m, direction, expected_m,
         by, wander_m, lift_m, pole_m) -> tuple[Shown, np.ndarray]:
    """One reading, and where the positioning antenna was, pole_m above the tip."""
    base, t = path.position(station_m), path.tangent(station_m)
    right, depth_m = right_of(t), path.depth_m(station_m)
    peak = receiver.peak_m(base, right, expected_m, PINPOINT)
    peak = expected_m if peak is None else peak
    null = receiver.null_m(base, right, peak, depth_m)
    sigma_m = np.hypot(habits.pin_share * depth_m, habits.pin_m)
    peak_error = rng.normal(0, sigma_m)
    null_error = rng.normal(0, sigma_m * habits.null_share)
    mark = null if by == "null" and null is not None else peak
    offset = mark + (peak_error if by == "peak" else null_error) + wander_m
    tilt = rng.normal(habits.lean, habits.lean_sigma)
    yaw = rng.normal(0, np.radians(5))
    height_m = receiver.height_m + habits.grass_m * rng.uniform(.3, 1.7) + lift_m
    bottom, top = receiver.antennas(base, right, offset, height_m, tilt, yaw)

    def heard(b):
        return abs(abs(b) * (1 + rng.normal(0, habits.loudness_noise))
                   + rng.normal(0, habits.floor_nt) * .3)

    low, high = heard(bottom), heard(top)
    shown = Shown(depth_m=np.nan, low_nt=low, high_nt=high, sign=np.sign(bottom.real),
                  lift_m=lift_m, offset_m=offset, mark_m=mark)
    if low > high * 1.03 and low > 3 * habits.floor_nt:
        raw_m = receiver.gap_m * high / (low - high)
        shown.depth_m = (raw_m - USUAL_HEIGHT_M) * (1 + habits.depth_scale)
        shown.current_ma = raw_m * low / .2 * habits.current_scale  # 0.2 nT m/mA: mu0/(2 pi)
        if shown.depth_m > 7 or shown.depth_m < 0.05:
            shown.depth_m = np.nan
    if null is not None:
        shown.null_offset_m = (null + null_error - (peak + peak_error)) * direction
    place = base + right * offset + t * rng.normal(0, .03)
    sway = right * np.sin(tilt) + t * rng.normal(0, np.sin(habits.lean_sigma))
    return shown, place + sway * pole_m
