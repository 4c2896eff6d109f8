"""Errors of satellite positions over a walk, and the accuracy that is stated of them.

An error has three parts: white noise of each reading; a Gauss-Markov process; and a part
that stays for the whole job, as of a base or a frame. That errors are correlated over
minutes is published (Sensors 2020, 20(21), 6050: white noise is the wrong model; carrier
phase residuals over some 20 minutes, J. Surveying Eng., 2003, from memory); times of 20 or
60 to 900 s are judgement. Sizes: fixed solutions 1 to 3 cm and autonomous ones 2 to 5 m at
95 % are common practice, no source; corrected by satellite 0.6 to 1.1 m (WAAS Performance
Report 10, 2004), more by hand; how they divide into the three parts is judgement. The
stated accuracy is right on average, off by a factor whose logarithm has a sigma of 0.3, and
stretches of float solutions and reflections are as long and as often as is drawn below
(judgement).

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
from dataclasses import dataclass

import numpy as np

from ground import log_uniform


@dataclass(frozen=True)
class Grade:
    """Ranges of one sigma an axis, in metres; tau in seconds; fix as in NMEA 0183 GGA."""
    white_m: tuple[float, float]
    drift_m: tuple[float, float]
    constant_m: tuple[float, float]
    tau_s: tuple[float, float]
    fix: int
    decimals: int  # of degrees in a table


GRADES = {
    "rtk": Grade((.005, .012), (.008, .02), (.004, .02), (60, 900), 4, 9),
    "float": Grade((.02, .06), (.1, .45), (.05, .25), (60, 900), 5, 9),
    "dgnss": Grade((.04, .12), (.15, .5), (.15, .5), (60, 900), 2, 8),
    "sbas": Grade((.04, .15), (.3, .8), (.2, .6), (60, 900), 2, 7),
    "auto": Grade((.1, .4), (.8, 2.2), (.5, 1.6), (20, 900), 1, 7),
}
FLOAT_FIX = 5


def gauss_markov(rng, at, tau, sigma) -> np.ndarray:
    """An error that is forgotten over tau, at times (or places) in rising order."""
    x = np.empty(len(at))
    x[0] = rng.normal(0, sigma)
    for i in range(1, len(at)):
        kept = np.exp(-max(at[i] - at[i - 1], 0) / tau)
        x[i] = x[i - 1] * kept + sigma * np.sqrt(1 - kept * kept) * rng.normal()
    return x


class Positions:
    """The errors of a walk's readings: error_m [east, north], stated_m, fix."""

    def __init__(self, rng, family: str, grade: str, times_s: np.ndarray):
        self._rng, self._times_s = rng, times_s
        n, of = len(times_s), GRADES[grade]
        white, drift = rng.uniform(*of.white_m), rng.uniform(*of.drift_m)
        constant = rng.uniform(*of.constant_m)
        tau = log_uniform(rng, *of.tau_s)
        if family == "slow_drift":
            tau = log_uniform(rng, 300, 900)
        self.constant_m = rng.normal(0, constant, 2)
        self.error_m = (np.c_[gauss_markov(rng, times_s, tau, drift),
                              gauss_markov(rng, times_s, tau, drift)]
                        + self.constant_m + rng.normal(0, white, (n, 2)))
        self.sigma_m = np.full(n, np.sqrt(white**2 + drift**2 + constant**2))
        self.fix = np.full(n, of.fix)
        self._seen_m = self.sigma_m.copy()  # what the receiver knows of its error
        self._lose_fix(family, grade)
        self._reflect(family, grade)
        self.factor = float(np.clip(np.exp(rng.normal(0, .3)), .5, 2.))
        self.stated_m = self._seen_m * self.factor * (1 + .08 * rng.normal(size=n))
        # Of the antenna above the tip: on the receiver, or on a pole that leans with it.
        self.pole_m = rng.choice([0., 0., .8, 1.])

    def _lose_fix(self, family, grade):
        """Stretches in which a fixed solution falls back to a float one."""
        rng, t = self._rng, self._times_s
        if family == "float":
            n = int(rng.integers(1, 4))
        else:
            n = 1 if grade == "rtk" and rng.random() < .12 else 0
        for _ in range(n):
            from_s = rng.uniform(0, .85) * t[-1]
            to_s = from_s + rng.uniform(.06, .35) * t[-1]
            m = (t >= from_s) & (t <= to_s)
            if m.sum() < 2:
                continue
            sigma = rng.uniform(.12, .5)
            east = gauss_markov(rng, t[m], log_uniform(rng, 60, 600), sigma)
            north = gauss_markov(rng, t[m], log_uniform(rng, 60, 600), sigma)
            self.error_m[m] += np.c_[east, north] + rng.normal(0, .03, (m.sum(), 2))
            self.sigma_m[m] = np.hypot(self.sigma_m[m], sigma)
            self._seen_m[m] = self.sigma_m[m]
            self.fix[m] = FLOAT_FIX

    def _reflect(self, family, grade):
        """Bursts of errors by signals from walls, of which the receiver sees the most."""
        rng, t = self._rng, self._times_s
        bursts = rng.random() < .25 and grade != "auto"
        if not bursts:
            bursts = family in ("phone", "slow_drift") and rng.random() < .5
        if not bursts:
            return
        for _ in range(rng.integers(1, 4)):
            from_s = rng.uniform(0, t[-1])
            m = (t >= from_s) & (t <= from_s + rng.uniform(15, 70))
            if m.any():
                sigma = rng.uniform(1., 3.) * np.median(self.sigma_m)
                self.error_m[m] += np.c_[gauss_markov(rng, t[m], 12., sigma),
                                         gauss_markov(rng, t[m], 12., sigma)]
                self._seen_m[m] = np.hypot(self._seen_m[m], sigma * .7)
                self.sigma_m[m] = np.hypot(self.sigma_m[m], sigma)
