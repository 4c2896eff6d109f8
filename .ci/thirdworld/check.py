"""Checks the simulator and the judge themselves against what can be known otherwise.

Each check is a function that raises AssertionError with the figures; what is wanted is
derived beside it, from the field mu0 I / (2 pi r) of a long wire, or a definition. Written
by somebody who had read neither the simulators in Go nor the estimators. Seeds from 1000 on
are for measuring: their jobs are never looked at one by one.
"""
import json
import tempfile
import traceback
from pathlib import Path as File

import numpy as np
from scipy.optimize import brentq, minimize_scalar
from shapely.geometry import LineString, mapping

import projection
from field import Field
from ground import Path
from job import make
from judge import judge
from locator import Receiver

HALF_LENGTH_M = 2000.  # of a wire that is as good as without ends: (r / 2000 m)^2 / 2
STEP_M = .5
GAP_M = .40
SEARCH_M = 1e-3  # what steps of 3 cm and a parabola leave
BASE, RIGHT = np.array([0., 0.]), np.array([1., 0.])


def close(what: str, got, wanted, tolerance):
    assert np.all(np.abs(np.asarray(got) - wanted) <= tolerance), (
        f"{what}: {got} instead of {wanted} (± {tolerance})")


def wires(*lines: tuple[float, float, float]) -> Field:
    """Long straight wires to the north: offset and depth in metres, current in mA."""
    field = Field()
    north = np.arange(-HALF_LENGTH_M, HALF_LENGTH_M + STEP_M, STEP_M)
    for offset_m, depth_m, current_ma in lines:
        path = Path(np.full(len(north), offset_m), north, np.full(len(north), depth_m))
        field.add_path(path, current_ma)
    return field


def check_long_wire():
    """mu0 I / (2 pi r) around a long wire: 200 nT at 1 m from 1 A."""
    field = wires((0., 1., 1000.))
    for x, z in ((0, 0), (1, 0), (-3, 0), (.2, .4), (0, -.9)):
        away = np.array([x, z + 1.])
        r = np.hypot(*away)
        east, north, up = field([[x, 0, z]])[0].real
        close(f"field at {r:.2f} m, nT", np.hypot(east, up), 200 / r, 1e-5 * 200 / r)
        # Around the current that flows north: square to the way from the wire.
        close("field square to the way there", (east * away[0] + up * away[1]) / r, 0, 1e-3)
        close("field along the wire, nT", north, 0, 1e-9)


def check_end():
    """Straight above its end, half a wire has half the field."""
    field = Field()
    north = np.arange(0, HALF_LENGTH_M + STEP_M, STEP_M)
    field.add_path(Path(np.zeros(len(north)), north, np.full(len(north), 1.)), 1000.)
    close("field above an end, nT", np.linalg.norm(field([[0, 0, 0]])[0]), 100, 1e-3)


def check_loop():
    """A loop of 1 A m2 has 0.1 nT at 10 m to its side, and twice that along its axis."""
    field = Field()
    field.add_loop([0, 0, 0], [0, 0, 1])
    close("loop's field to its side, nT", field([[10, 0, 0]])[0].real, [0, 0, -.1], 1e-12)
    close("loop's field along its axis, nT", field([[0, 0, 10]])[0].real, [0, 0, .2], 1e-12)


def check_depth():
    """Two antennas over a long wire: gap x top / (bottom - top) is the depth."""
    for depth_m in (.4, 1., 2.5):
        receiver = Receiver(wires((0., depth_m, 1000.)), 0., GAP_M)
        bottom, top = map(abs, receiver.antennas(BASE, RIGHT, 0., 0.))
        close("depth, m", GAP_M * top / (bottom - top), depth_m, 1e-5)
        close("peak, m", receiver.peak_m(BASE, RIGHT, .3), 0, SEARCH_M)
        close("null, m", receiver.null_m(BASE, RIGHT, 0., depth_m), 0, SEARCH_M)


def check_two_wires():
    """Peak, null and depth of a wire with another 1 m beside it, both 1 m deep.

    By superposition of mu0 I / (2 pi r), a share q of the current in the other:

        horizontal h(x, z) = (1+z)/(x^2 + (1+z)^2) + q (1+z)/((x-1)^2 + (1+z)^2)
        vertical   v(x)    = x/(x^2 + 1) + q (x-1)/((x-1)^2 + 1)

    The peak is where |h(x, 0)| is greatest, the null where v = 0. For q = 0.3 these are
    0.082 and 0.151 m towards the other, and a gap of 0.40 m reads a depth of 1.171 m; for
    q = -0.3, -0.071, -0.152 and 0.831 m.
    """
    for q, figures in ((.3, (.082, .151, 1.171)), (-.3, (-.071, -.152, .831))):
        def h(x, z=0.):
            return (1 + z) / (x**2 + (1 + z)**2) + q * (1 + z) / ((x - 1)**2 + (1 + z)**2)

        def v(x):
            return x / (x**2 + 1) + q * (x - 1) / ((x - 1)**2 + 1)

        peak = minimize_scalar(lambda x: -h(x), bounds=(-.4, .4), method="bounded",
                               options={"xatol": 1e-9}).x
        null = brentq(v, -.4, .4)
        depth = GAP_M * h(peak, GAP_M) / (h(peak) - h(peak, GAP_M))
        close("peak, null and depth by the formulas, m", (peak, null, depth), figures, 6e-4)
        receiver = Receiver(wires((0., 1., 1000.), (1., 1., q * 1000.)), 0., GAP_M)
        found = receiver.peak_m(BASE, RIGHT, 0.)
        bottom, top = map(abs, receiver.antennas(BASE, RIGHT, found, 0.))
        close("peak, m", found, peak, SEARCH_M)
        close("null, m", receiver.null_m(BASE, RIGHT, found, 1.), null, SEARCH_M)
        close("depth, m", GAP_M * top / (bottom - top), depth, 1e-3)


def check_projection():
    """Round trips, and where a zone of UTM ends on the equator."""
    frame = projection.LocalFrame(42.3, -71.1)
    x, y = np.array([0., 150., -80., 400.]), np.array([0., 100., -200., 400.])
    close("local frame there and back, m", frame.to_metres(*frame.to_degrees(x, y)), (x, y), 1e-6)
    east, north = projection.to_plane(42.3, -71.1, -69, **projection.UTM)
    back = projection.to_degrees(east, north, -69, **projection.UTM)
    close("UTM there and back, degrees", back, (42.3, -71.1), 1e-11)
    # Zones begin at 166 021.44 m and end as far on the other side of 500 000 m.
    edge = projection.to_plane(0., 3., 0., **projection.UTM)
    close("edge of a zone, m", edge, (833978.56, 0), .005)


def made_up_map(truth: dict, shift_m: float, band_m: float) -> dict:
    """A map that has the true line, all of it shifted to the east, and one band."""
    frame = projection.LocalFrame(*truth["origin"])
    line, (from_m, to_m) = truth["line"], truth["span"]
    stations = np.arange(from_m, to_m + STEP_M, STEP_M)
    x, y, d = (np.interp(stations, line["s"], line[k]) for k in "xyd")
    course = LineString(np.c_[x + shift_m, y])

    def degrees(places):
        if isinstance(places[0], float):
            return [float(v) for v in reversed(frame.to_degrees(*places))]
        return [degrees(p) for p in places]

    def feature(role, geometry, **properties):
        shaped = mapping(geometry)
        return {"type": "Feature", "properties": {"role": role, **properties}, "geometry": {
            "type": shaped["type"], "coordinates": degrees(shaped["coordinates"])}}

    n = len(stations)
    return {"loamline": {}, "features": [
        feature("centerline", course, stations_m=(stations - from_m).tolist(),
                depth_m=d.tolist(), depth_95_m=[band_m] * n, horizontal_95_m=[band_m] * n),
        feature("caution_zone", course.buffer(.5))]}


def check_judge():
    """A perfect map holds everywhere; 1 m off, with a band of 0.1 m, it is wrong and silent.

    Both are of a quiet straight job with fixed positions.
    """
    with tempfile.TemporaryDirectory(prefix="thirdworld-") as scratch:
        for seed in range(1, 20):
            truth = json.loads((make("quiet_street", seed, File(scratch))
                                / "truth.json").read_text())
            # To the east a shift would be along a line that runs there.
            x, y = truth["line"]["x"], truth["line"]["y"]
            across = abs(y[-1] - y[0]) > abs(x[-1] - x[0])
            if truth["params"]["grade"] == "rtk" and across:
                break
    perfect = judge("perfect", 0, truth, made_up_map(truth, 0., .1))
    n = len(perfect.bands_m)
    close("points of a perfect map that hold", perfect.across_held, n, 0)
    close("depths of a perfect map that hold", perfect.depths_held, n, 0)
    close("metres in the zone of a perfect map", perfect.in_zone_m, perfect.truth_m, 0)
    assert n > 10 and not perfect.silent, f"a perfect map: {n} points, {perfect.silent}"
    assert not perfect.dangers and not perfect.false_points, "a quiet job has no dangers"
    shifted = judge("shifted", 0, truth, made_up_map(truth, 1., .1))
    kinds = {s.kind for s in shifted.silent}
    close("points that hold 1 m off", shifted.across_held, 0, 0)
    assert kinds == {"across", "outside zone"}, f"a map 1 m off: {shifted.silent}"
    across_m = [s.off_m for s in shifted.silent if s.kind == "across"]
    assert all(.6 < off_m <= 1.001 for off_m in across_m), f"1 m off is judged as {across_m}"


CHECKS = (check_long_wire, check_end, check_loop, check_depth, check_two_wires,
          check_projection, check_judge)


def run() -> int:
    """All checks; 1 where one fails."""
    failed = 0
    for check in CHECKS:
        try:
            check()
        except Exception:
            failed += 1
            traceback.print_exc()
            print(f"FAILED  {check.__doc__.splitlines()[0]}")
        else:
            print(f"ok      {check.__doc__.splitlines()[0]}")
    return 1 if failed else 0
