"""What lies beside a line and how it comes to carry some of the line's current.

A bond moves current from one line to another and takes it from where it came (Kirchhoff).
Shares, phases and where bonds lie are judgement; that coupled current mostly runs along
with that of the target and sometimes back is common practice, no source.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
import numpy as np

from ground import Path, either_side, log_uniform, turned
from neighbours import converging_course, draw_parallel, parallel_course
from scene import Scene


def add_parallel(scene: Scene, mapped, shares, sign=None, span=None, apart_m=None):
    """A line beside for a while, which takes current all the way, from a bond on, up
    to one, between two, or more and more."""
    rng, line = scene.rng, scene.line

    def drawn_span():
        if rng.random() < .4:
            return scene.start_m - 12, scene.layout.end_m + 12
        return scene.somewhere(0, .5), scene.somewhere(.5, 1.05)

    path, side, apart_m, from_m, to_m = draw_parallel(
        rng, line, (lambda: span) if span else drawn_span, apart_m)
    beside_m = scene.beside(path)
    share = log_uniform(rng, *shares) * (sign or scene.usual_sign)
    mode = rng.choice(["all", "bond_on", "bond_off", "grow", "window"])
    current = scene.current_at(beside_m) * scene.out_of_phase(share)
    bond_m = rng.uniform(from_m + 2, to_m - 2)
    if mode == "bond_on":
        current = current * (beside_m >= bond_m)
        scene.bonds_m.append(bond_m)
    elif mode == "bond_off":
        current = current * (beside_m < bond_m)
        scene.bonds_m.append(bond_m)
    elif mode == "grow":
        over_m = rng.uniform(8, 60)
        current = current * (1 - np.exp(-np.maximum(beside_m - from_m, 0) / over_m))
    elif mode == "window":
        half_m = rng.uniform(.25, .6) * (to_m - from_m) / 2
        scene.bonds_m += [bond_m - half_m, bond_m + half_m]
        current = current * (np.abs(beside_m - bond_m) < half_m)
    _bond(scene, path, current, share)
    scene.add_neighbour("parallel", mapped, path, current, {
        "mode": mode, "D": apart_m, "side": side, "q": share, "mapped": bool(mapped),
        "a": from_m - scene.start_m, "b": to_m - scene.start_m, "sb": bond_m - scene.start_m,
        "dn": float(path.depths_m.mean())})


def _bond(scene: Scene, path, current, share):
    """Where a neighbour's current steps, a wire joins the lines and the target loses
    the step: half of it where so much was taken that the rest would turn."""
    size = np.abs(current)
    for i in np.flatnonzero(np.abs(np.diff(size)) > .5 * np.max(size)):
        place = (path.east_m[i + 1], path.north_m[i + 1])
        bond_m = scene.line.station_of(place)
        step = current[i + 1] - current[i]
        scene.current_ma = scene.current_ma - (
            np.where(scene.middles_m >= bond_m, step, 0) * (1 if share < .55 else .5))
        scene.other.add_wire([[*scene.line.position(bond_m), -scene.line.depth_m(bond_m)],
                             [*place, -path.depths_m[i + 1]]], step)


def add_converging(scene: Scene):
    rng, line = scene.rng, scene.line
    mapped = rng.random() < .5
    from_m = scene.somewhere(0, .45)
    to_m = from_m + rng.uniform(12, 45)
    path = converging_course(
        rng, line, from_m, min(to_m, line.length_m - 3), rng.uniform(3, 6),
        rng.uniform(.4, 1.2), either_side(rng), rng.uniform(10, 60),
        log_uniform(rng, .4, 1.9), rng.random() < .4)
    share = log_uniform(rng, .12, .8) * scene.usual_sign
    current = scene.current_at(scene.beside(path)) * scene.out_of_phase(share)
    scene.add_neighbour("converge", mapped, path, current, {
        "mode": "converge", "q": share, "mapped": bool(mapped), "a": from_m - scene.start_m,
        "b": to_m - scene.start_m, "dn": float(path.depths_m.mean())})


def add_bonded_crossing(scene: Scene):
    """A line that crosses, touches, and leads current away to both sides."""
    rng, line = scene.rng, scene.line
    at_m = scene.somewhere(.2, .8)
    angle = np.radians(rng.uniform(30, 150))
    direction = turned(line.tangent(at_m), angle)
    place, depth_m = line.position(at_m), line.depth_m(at_m)
    along = np.arange(-30, 30.1, .5)
    its_depth_m = np.clip(depth_m + rng.choice([-1, 1]) * rng.uniform(.2, .8), .35, 2.6)
    path = Path(place[0] + direction[0] * along, place[1] + direction[1] * along,
                np.full(len(along), its_depth_m))
    mapped = rng.random() < .5
    ahead, behind = rng.uniform(.05, .45, 2)
    if rng.random() < .3:
        ahead, behind = -ahead, -behind
    here_ma = scene.current_at(at_m)
    middle = (along[:-1] + along[1:]) / 2
    current = (np.where(middle > 0, ahead * here_ma, -behind * here_ma)
               * np.exp(-np.abs(middle) * .005))
    taken = (ahead + behind) * here_ma
    scene.current_ma = scene.current_ma - np.where(scene.middles_m >= at_m, taken, 0)
    scene.other.add_wire([[*place, -depth_m], [*place, -its_depth_m]], taken)
    scene.bonds_m.append(at_m)
    scene.add_neighbour("cross", mapped, path, current, {
        "mode": "cross", "q": ahead + behind, "sc": at_m - scene.start_m,
        "an": float(np.degrees(angle)), "mapped": bool(mapped)})


def add_jump(scene: Scene, mapped: bool):
    """A neighbour so strong that the locator follows it for a while."""
    rng, line, end_m = scene.rng, scene.line, scene.layout.end_m
    for_m = rng.uniform(8, 40)
    from_m = scene.somewhere(.12, .8)
    to_m = min(from_m + for_m, end_m - 4) if rng.random() < .75 else end_m
    from_m = min(from_m, to_m - 8)
    if rng.random() < .5:
        sign = either_side(rng)
        span = (max(from_m - rng.uniform(3, 40), 2),
                min(to_m + rng.uniform(3, 40), line.length_m - 1))
        add_parallel(scene, mapped, (.5, 1.3), sign, span, rng.uniform(.9, 4))
    else:
        start_m = from_m - rng.uniform(10, 25)
        nearest_m = rng.uniform(.9, 2.5)
        path = converging_course(
            rng, line, max(start_m, 2), min(from_m + 2, line.length_m - 2),
            rng.uniform(3, 5), nearest_m, either_side(rng),
            to_m - from_m + rng.uniform(2, 20), log_uniform(rng, .4, 1.6), False)
        share = rng.uniform(.5, 1.2) * scene.usual_sign
        current = scene.current_at(scene.beside(path)) * scene.out_of_phase(share)
        scene.add_neighbour("converge", mapped, path, current, {
            "mode": "conv-jump", "q": share, "D1": nearest_m, "mapped": mapped,
            "dn": float(path.depths_m.mean())})
    scene.jump = from_m, to_m


def add_induced(scene: Scene):
    """A line beside that the transmitter's loop energises too."""
    rng, line = scene.rng, scene.line
    path = parallel_course(rng, line, either_side(rng), log_uniform(rng, .7, 4),
                           max(scene.start_m - 12, 2),
                           min(scene.layout.end_m + 12, line.length_m - 1),
                           log_uniform(rng, .4, 1.8))
    if path is None:
        return
    share = rng.uniform(.1, .7)
    mapped = rng.random() < .5
    scene.add_neighbour("ind-par", mapped, path, scene.current_at(scene.beside(path)) * share,
                       {"mode": "ind-par", "q": share, "mapped": bool(mapped)})


def add_tee(scene: Scene):
    """A branch that takes a part of the current."""
    rng, line = scene.rng, scene.line
    scene.tee_m = scene.somewhere(.25, .75)
    angle = np.radians(rng.choice([45, 90, 90, 90])) * either_side(rng)
    direction = turned(line.tangent(scene.tee_m, 1.), angle)
    along = np.arange(0, rng.uniform(25, 70), .5)
    place = line.position(scene.tee_m)
    scene.branch = Path(place[0] + direction[0] * along, place[1] + direction[1] * along,
                       line.depth_m(scene.tee_m) + .001 * along)
    share = rng.uniform(.25, .7)
    here_ma = scene.current_at(scene.tee_m)
    scene.current_ma = scene.current_ma * np.where(scene.middles_m >= scene.tee_m, 1 - share, 1)
    scene.own.add_path(scene.branch, share * here_ma * np.exp(-.004 * along[:-1]))
    scene.params["tee"] = {"s": scene.tee_m - scene.start_m, "angle": float(np.degrees(angle)),
                          "q": share}
