"""Makes one job of a family and a seed: its table, its job file, its records, the truth.

The same family and seed give the same job. The truth is for the judge alone.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
import json
import zlib
from pathlib import Path as File

import numpy as np

from families import SetUp, draw_layout, draw_set_up, furnish
from field import Sum
from locator import Receiver
from positions import Positions
from readings import Profile, Readings, reached_m, take
from scene import Scene
from table import Table
from walk import Walk


def make(family: str, seed: int, parent: File) -> File:
    """Makes the job's folder in another, and says which it is."""
    rng = np.random.default_rng([zlib.crc32(family.encode()), seed])
    params = {"family": family, "seed": seed}
    scene = Scene(rng, family, draw_layout(rng, family), params)
    furnish(scene, family)
    height_m, gap_m = rng.uniform(.02, .07), round(rng.uniform(.3, .6), 2)
    whole = Receiver(Sum(scene.own, scene.other), height_m, gap_m)
    set_up = draw_set_up(rng, family)
    profile = Profile(scene, whole, Receiver(scene.own, height_m, gap_m), set_up.mark)
    walk = Walk(scene, family, sorted(profile.other_peaks_m))
    times_s = np.array([v.time_s for v in walk.visits])
    positions = Positions(rng, family, set_up.grade, times_s)
    taken = take(rng, family, scene, set_up, walk, whole, profile, positions)
    table = Table(rng, scene, set_up, taken)

    folder = parent / f"{family}-{seed:02d}"
    folder.mkdir(parents=True, exist_ok=True)
    table.write(folder / "trace.csv")
    (folder / "job.toml").write_text(job_file(rng, scene, set_up, table, gap_m))
    for reference in scene.references:
        (folder / reference["file"]).write_text(json.dumps(reference_file(reference)))
    params.update(drawn(scene, set_up, walk, positions, taken, gap_m))
    (folder / "truth.json").write_text(
        json.dumps(truth(scene, profile, taken, params), default=float))
    return folder


def job_file(rng, scene: Scene, set_up: SetUp, table: Table, gap_m) -> str:
    family, seed = scene.params["family"], scene.params["seed"]
    lines = [f'ticket = "W3-{family}-{seed}"', "date = 2026-05-12", f'crs = "{table.crs}"']
    if rng.random() < .7:
        lines.append('datum = "WGS84"')
    if set_up.has["ant"] or rng.random() < .3:
        lines.append(f"antenna_gap_m = {gap_m:.2f}")
    if rng.random() < .5:
        half_width = rng.choice(["18 in", "24 in", "0.5 m"])
        lines += ["[tolerance]", f'half_width = "{half_width}"',
                  f'measured_from = "{rng.choice(["edge", "centerline"])}"']
    diameter = rng.choice(["2 in", "4 in", "6 in", "8 in"])
    lines += ["[[line]]", f'name = "{table.line if table.has_line else "trace"}"',
              f'utility = "{scene.utility}"']
    if rng.random() < .6:
        lines.append(f'diameter = "{diameter}"')
    if rng.random() < .75 or scene.hookup == "induction":
        lines += [f'hookup = "{scene.hookup}"', f"freq_hz = {scene.frequency_hz}"]
    if scene.transmitter_m is not None and rng.random() < .7:
        lat, lon = scene.frame.to_degrees(*scene.line.position(scene.transmitter_m))
        lines.append(f"transmitter = [ {float(lon):.7f}, {float(lat):.7f} ]")
    for reference in scene.references:
        lines += ["[[reference]]", f'file = "{reference["file"]}"',
                  f'utility = "{reference["utility"]}"']
    return "\n".join(lines) + "\n"


def reference_file(reference: dict) -> dict:
    geometry = {"type": "LineString", "coordinates": reference["coordinates"]}
    return {"type": "FeatureCollection", "features": [
        {"type": "Feature", "properties": {"name": reference["name"]}, "geometry": geometry}]}


def drawn(scene: Scene, set_up: SetUp, walk: Walk, positions: Positions, taken: Readings,
          gap_m) -> dict:
    """What was drawn, for whoever asks why a job came out as it did."""
    layout, habits, start_m = scene.layout, taken.habits, scene.start_m
    return {
        "grade": set_up.grade, "colset": set_up.columns,
        "has": {k: bool(v) for k, v in set_up.has.items()}, "mark": set_up.mark,
        "habit": str(walk.habit), "spacing": float(walk.pace_m), "n": len(taken.rows),
        "L": layout.walked_m, "style": str(layout.style), "scale": habits.depth_scale,
        "hacc_factor": positions.factor, "sigma_xy": float(np.median(positions.sigma_m)),
        "const": positions.constant_m.tolist(), "I0": scene.current0_ma,
        "alpha": scene.loss_per_m, "floor": habits.floor_nt, "rnoise": habits.loudness_noise,
        "tilt0": float(np.degrees(habits.lean)), "wander": bool(walk.by_time),
        "freq": scene.frequency_hz, "hook": str(scene.hookup), "gap": gap_m,
        "gaps": [(a - start_m, b - start_m) for a, b in walk.breaks_m],
        "bonds": [b - start_m for b in scene.bonds_m],
        "jump": scene.jump and tuple(s - start_m for s in scene.jump),
        "blunders": bool(taken.blunders), "leaps": bool(taken.leaps),
        "endline": layout.ends, "ext": (float(layout.lead_in_m), float(layout.lead_out_m)),
        "ant_h": float(positions.pole_m),
    }


def truth(scene: Scene, profile: Profile, taken: Readings, params: dict) -> dict:
    """What the judge is given. Stations count from the walk's start.

    Of a reading: path T (the line), B (its branch) or J (the neighbour that was followed),
    what a locator without error would have marked there, x where the tip was across the
    line, and ex, ey the error of its position. Of the profile: see readings.Profile.
    """
    def figures(a):
        return [round(float(x), 4) if np.isfinite(x) else None for x in a]

    line, branch = scene.line, scene.branch
    return {
        "params": params, "origin": [scene.frame.lat, scene.frame.lon], "s0": scene.start_m,
        "span": list(reached_m(scene, taken)),
        "line": {"x": figures(line.east_m), "y": figures(line.north_m),
                 "d": figures(line.depths_m), "s": figures(line.stations_m - scene.start_m)},
        "branch": branch and {"x": figures(branch.east_m), "y": figures(branch.north_m),
                              "d": figures(branch.depths_m)},
        "neighbours": [{"kind": n.kind, "mapped": n.mapped, "x": figures(n.path.east_m),
                        "y": figures(n.path.north_m)} for n in scene.neighbours],
        "profile": {"s": figures(profile.stations_m - scene.start_m),
                    "disp": figures(profile.shift_m), "derr": figures(profile.depth_error),
                    "own_disp": figures(profile.own_shift_m),
                    "own_derr": figures(profile.own_depth_error),
                    "null_minus_peak": figures(profile.null_minus_peak_m)},
        "readings": taken.truth,
    }
