"""The families of jobs: what lies in the ground, and what the table of each has.

How often which is met with is judgement throughout, and so are the lengths. Each family
has one thing in it that a map can get wrong; the quiet ones have none.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
from dataclasses import dataclass

import numpy as np

import couplings
from ground import Path, draw_course, draw_depths, log_uniform
from scene import Layout, Scene

FAMILIES = {
    "quiet_street": "a straight line, nothing beside it",
    "quiet_path": "a winding line, nothing beside it",
    "elbows": "bends of 22.5 to 90 degrees, sharp ones among them",
    "deep_dip": "dips under roads",
    "short": "15 to 40 m",
    "slow_drift": "positions by corrections of metres, that drift over minutes",
    "phone": "positions without corrections",
    "float": "fixed positions that fall back to a float solution for a while",
    "known_parallel": "a neighbour on the records takes 10 to 80 % of the current",
    "unknown_parallel": "one that is on no records does",
    "converge": "a neighbour comes nearer",
    "bond_cross": "a line that crosses is bonded and leads current away",
    "return_neighbour": "current comes back on a neighbour",
    "jump_mapped": "the locator follows a neighbour on the records for a while",
    "jump_unmapped": "the locator follows one that is on no records",
    "induction": "the transmitter's own field reaches the receiver",
    "sparse": "readings 5 to 10 m apart",
    "out_back": "walked there and back, or twice",
    "tee": "a branch, walked in the same trace",
    "scale_lift": "depths off by a few per cent, a lifted reading, perhaps an exposure",
}
WITH_NEIGHBOUR = ("known_parallel", "unknown_parallel", "converge", "jump_mapped",
                  "jump_unmapped", "bond_cross", "return_neighbour", "tee")
# Something harmless may lie beside: on the records, and with next to no current.
INNOCENT = ("quiet_street", "quiet_path", "elbows", "deep_dip", "short", "sparse", "out_back",
            "scale_lift", "float")


def draw_layout(rng, family) -> Layout:
    length_m = rng.uniform(15, 40) if family == "short" else log_uniform(rng, 60, 300)
    if family not in ("short", "quiet_street", "sparse", "phone") and rng.random() < .12:
        length_m = rng.uniform(20, 45)
    if family in WITH_NEIGHBOUR:
        length_m = max(length_m, 50)
    # A style is drawn for each of these whichever the family is.
    style = {
        "quiet_street": "straight", "quiet_path": "winding",
        "elbows": rng.choice(["elbow", "elbow", "mixed", "sbend"]),
        "sparse": rng.choice(["straight", "mixed", "winding"]),
    }.get(family, rng.choice(["straight", "winding", "mixed", "mixed"]))
    ends = rng.random() < .3 and family != "quiet_street"
    lead_in_m = rng.uniform(6, 12) if rng.random() < .35 else rng.uniform(20, 70)
    lead_out_m = rng.uniform(.3, 3) if ends else rng.uniform(20, 70)
    places = draw_course(rng, length_m, style, lead_in_m, lead_out_m)
    stations = Path(places[:, 0], places[:, 1], np.zeros(len(places))).stations_m
    range_m = {"deep_dip": (.7, 1.5), "induction": (.4, 1.5)}.get(family, (.5, 1.8))
    if rng.random() < .15:
        range_m = (1.5, 2.4)
    depths = draw_depths(rng, stations, family == "deep_dip", range_m)
    line = Path(places[:, 0], places[:, 1], depths)
    start_m, end_m = lead_in_m, line.length_m - lead_out_m
    if family != "tee" and end_m - start_m > length_m + 40:
        end_m = start_m + length_m
    return Layout(line, length_m, style, start_m, end_m, lead_in_m, lead_out_m, ends)


def furnish(scene: Scene, family):
    """Neighbours and branches, as the family has them."""
    rng = scene.rng
    if family == "known_parallel":
        couplings.add_parallel(scene, True, (.1, .8))
        if rng.random() < .3:
            couplings.add_parallel(scene, True, (.05, .4))
    if family == "unknown_parallel":
        couplings.add_parallel(scene, False, (.1, .8))
        if rng.random() < .3:  # an innocent one on the records
            couplings.add_parallel(scene, True, (.001, .002))
    if family == "return_neighbour":
        couplings.add_parallel(scene, rng.random() < .5, (.25, .9), sign=-1)
    if family == "converge":
        couplings.add_converging(scene)
    if family == "bond_cross":
        couplings.add_bonded_crossing(scene)
    if family in ("jump_mapped", "jump_unmapped"):
        couplings.add_jump(scene, family == "jump_mapped")
    if family == "induction" and rng.random() < .4:
        couplings.add_induced(scene)
    if family in INNOCENT and rng.random() < .35 and scene.layout.length_m > 45:
        couplings.add_parallel(scene, True, (.0005, .01))
    if family == "tee":
        couplings.add_tee(scene)
    scene.own.add_path(scene.line, scene.current_ma)


@dataclass
class SetUp:
    """What the table has, by what its positions came, and what was marked."""
    columns: str
    has: dict[str, bool]
    grade: str
    mark: str  # "peak" or "null"


def draw_set_up(rng, family) -> SetUp:
    columns = rng.choice(["all", "all", "no_null", "no_null", "no_null", "no_current",
                          "no_antennas", "pos_depth", "fix_only", "all_but_null_ant"])
    if family == "quiet_street" and rng.random() < .5:
        columns = "all"
    corrected = rng.choice(["dgnss", "sbas"])  # drawn whichever the family is
    grade = {"slow_drift": corrected, "phone": "auto", "float": "rtk"}.get(family) or rng.choice(
        ["rtk", "rtk", "rtk", "rtk", "rtk", "float", "dgnss"])
    if family in ("quiet_street", "quiet_path", "elbows", "deep_dip", "short"):
        grade = "rtk" if rng.random() < .85 else rng.choice(["dgnss", "sbas"])
    # Metres must be told of by something.
    if grade != "rtk" and columns == "pos_depth":
        columns = "no_null"
    if family == "float" and columns == "pos_depth":
        columns = "fix_only"
    bare = columns == "pos_depth"
    has = {
        "null": columns in ("all", "no_current", "no_antennas", "fix_only"),
        "cur": columns not in ("no_current", "pos_depth"),
        "sig": columns not in ("no_current", "pos_depth"),
        "ant": columns in ("all", "no_null") and rng.random() < .5,
        "hacc": columns not in ("pos_depth", "fix_only"),
        "fix": (not bare and rng.random() < .8) or columns == "fix_only",
        "time": rng.random() < .87,
        "phase": rng.random() < .35 and not bare,
        "freq": rng.random() < .4,
        "hookc": rng.random() < .3,
        "hdop": rng.random() < .3 and not bare,
        "depth": True,
    }
    if family == "phone":
        has["fix"] = rng.random() < .4
    if columns == "fix_only" and grade == "auto":
        has["hacc"] = True
    mark = "null" if not has["null"] and rng.random() < .2 else "peak"
    return SetUp(columns, has, grade, mark)
