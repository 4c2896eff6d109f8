"""How a job's readings are written down: its columns, units and decimals.

The columns are those that README.md has; which of them a table has, and in which units and
decimals, is judgement.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
import csv
import datetime

import numpy as np

import projection
from families import SetUp
from positions import GRADES
from readings import Reading, Readings
from scene import Scene

IN_METRES = {"m": 1, "in": .0254, "ft": .3048, "cm": .01}
DEPTH_DECIMALS = {"m": 2, "in": 1, "ft": 1, "cm": 0}


def _figure(x, decimals) -> str:
    return "" if x is None or not np.isfinite(x) else f"{x:.{decimals}f}"


def _rounded(x, step):
    return np.round(x / step) * step if np.isfinite(x) else np.nan


class Table:
    def __init__(self, rng, scene: Scene, set_up: SetUp, taken: Readings):
        self.rng, self.scene, self.set_up, self.taken = rng, scene, set_up, taken
        self.crs = "EPSG:4326"
        self.zone = 0  # of UTM, where positions are projected
        if rng.random() < .2:
            self.zone = int((scene.frame.lon + 180) // 6) + 1
            self.crs = f"EPSG:{32600 + self.zone}"
        self.begin = (datetime.datetime(2026, 5, 12, 8, 0, 0)
                      + datetime.timedelta(seconds=float(int(rng.uniform(0, 28000)))))
        self.line = f"{scene.utility[0].upper()}-{rng.integers(1, 9)}"
        self.degree_decimals = GRADES[set_up.grade].decimals
        self.metre_decimals = 3 if set_up.grade == "rtk" else 2
        self.null_in_inches = rng.choice(["m", "cm", "in"]) == "in"
        self.accuracy_in_cm = rng.random() >= .8
        self.in_db = rng.random() >= .5
        self.hdop = rng.uniform(.6, 1.4)
        self.has_point, self.has_line = rng.random() < .7, rng.random() < .5
        self.has_exposed = any(r.exposed for r in taken.rows)
        self.rows = [self._row(k, r) for k, r in enumerate(taken.rows, 1)]

    def write(self, path):
        with open(path, "w", newline="") as file:
            writer = csv.DictWriter(file, list(self.rows[0]), restval="")
            writer.writeheader()
            writer.writerows(self.rows)

    def _row(self, number, r: Reading) -> dict[str, str]:
        has, out = self.set_up.has, {}
        if self.has_point:
            out["point"] = str(number)
        if self.has_line:
            out["line"] = self.line
        if has["time"]:
            time = self.begin + datetime.timedelta(seconds=float(round(r.time_s, 1)))
            out["time"] = time.strftime("%Y-%m-%dT%H:%M:%S.%f")[:-5] + "Z"
        out.update(self._position(r))
        out.update(self._signal(r))
        if has["null"]:
            out.update(self._null(r.shown.null_offset_m))
        if has["phase"]:
            known = r.shown.sign != 0 and np.isfinite(r.shown.current_ma)
            out["phase"] = ("with" if r.shown.sign > 0 else "against") if known else ""
        if has["freq"]:
            out["freq_hz"] = str(self.scene.frequency_hz)
        if has["hookc"]:
            out["hookup"] = self.scene.hookup
        if self.taken.lifted:
            out["lift_m"] = _figure(r.shown.lift_m, 2) if r.shown.lift_m > 0 else ""
        if self.has_exposed:
            out["exposed"] = "yes" if r.exposed else ("no" if self.rng.random() < .5 else "")
        return out

    def _position(self, r: Reading) -> dict[str, str]:
        has, out = self.set_up.has, {}
        lat, lon = self.scene.frame.to_degrees(*r.place_m)
        if self.zone:
            east, north = projection.to_plane(lat, lon, self.zone * 6 - 183, **projection.UTM)
            out["east_m"] = _figure(float(east), self.metre_decimals)
            out["north_m"] = _figure(float(north), self.metre_decimals)
        else:
            out["lat"] = _figure(float(lat), self.degree_decimals)
            out["lon"] = _figure(float(lon), self.degree_decimals)
        if has["fix"]:
            out["fix"] = str(int(r.fix))
        if has["hdop"]:
            out["hdop"] = _figure(self.hdop + .05 * self.rng.normal(), 1)
        if has["hacc"] and self.accuracy_in_cm:
            out["h_acc_cm"] = _figure(r.stated_m * 100, 1)
        elif has["hacc"]:
            out["h_acc_m"] = _figure(r.stated_m, 3 if r.stated_m < .1 else 2)
        return out

    def _signal(self, r: Reading) -> dict[str, str]:
        has, out, shown, unit = self.set_up.has, {}, r.shown, self.taken.depth_unit
        gain = self.taken.habits.gain
        if r.exposed:  # measured with a tape, not read from a display
            depth = _figure(shown.depth_m / IN_METRES[unit], 2)
        else:
            depth = _figure(_rounded(shown.depth_m, self.taken.depth_step_m) / IN_METRES[unit],
                            DEPTH_DECIMALS[unit])
        out["depth_" + unit] = depth
        if has["cur"]:
            out["current_ma"] = _figure(shown.current_ma, 1 if shown.current_ma < 20 else 0)
        if has["sig"] and self.in_db:
            level = 20 * np.log10(max(shown.low_nt, 1e-4)) + gain
            out["signal_db"] = _figure(level + self.rng.normal(0, .3), 1)
        elif has["sig"]:
            out["signal"] = _figure(shown.low_nt * gain, 1)
        if has["ant"]:
            out["signal_low"] = _figure(shown.low_nt * gain, 3)
            out["signal_high"] = _figure(shown.high_nt * gain, 3)
        return out

    def _null(self, offset_m) -> dict[str, str]:
        if abs(offset_m) >= 1.5:  # nobody looks for it there
            offset_m = np.nan
        if self.null_in_inches:
            return {"null_offset_in": _figure(offset_m / .0254, 1)}
        return {"null_offset_m": _figure(_rounded(offset_m, .01), 2)}
