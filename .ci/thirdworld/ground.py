"""What lies in the ground: the courses and depths of lines, and of their neighbours.

A course is a walk of a pen: straights, elbows and arcs one after the other. What is drawn
at random is what streets and yards have (common practice, no source, where nothing else
is said): elbows of the angles that fittings are made in, sweeps that a cable is bent to,
lines under roads that dip, neighbours that leave where a service turns off.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
import numpy as np
from shapely.geometry import LineString, Point

Move = tuple  # ("straight", length_m), ("elbow", angle) or ("arc", radius_m, angle)


class Path:
    """A line in the ground: places and depths of its centre, by stations from its start."""

    def __init__(self, east_m, north_m, depths_m):
        self.east_m, self.north_m, self.depths_m = (
            np.asarray(a, float) for a in (east_m, north_m, depths_m))
        steps = np.hypot(np.diff(self.east_m), np.diff(self.north_m))
        self.stations_m = np.r_[0, np.cumsum(steps)]
        self.length_m = self.stations_m[-1]
        self.course = LineString(np.c_[self.east_m, self.north_m])

    def position(self, station_m) -> np.ndarray:
        return np.array([np.interp(station_m, self.stations_m, self.east_m),
                         np.interp(station_m, self.stations_m, self.north_m)])

    def depth_m(self, station_m) -> float:
        return float(np.interp(station_m, self.stations_m, self.depths_m))

    def tangent(self, station_m, reach_m=0.4) -> np.ndarray:
        """The direction of travel, as somebody sees it who looks reach_m either way."""
        ahead = self.position(min(station_m + reach_m, self.length_m))
        v = ahead - self.position(max(station_m - reach_m, 0))
        length = np.hypot(*v)
        return v / length if length > 0 else np.array([1.0, 0])

    def station_of(self, place_m) -> float:
        return self.course.project(Point(place_m))

    def offset_m(self, place_m) -> float:
        """How far a place is off the line, positive to the right of the way."""
        station_m = self.station_of(place_m)
        t = self.tangent(station_m)
        v = np.asarray(place_m) - self.position(station_m)
        side = float(np.sign(v[0] * t[1] - v[1] * t[0]) or 1)
        return side * float(np.hypot(*v))

    def middles(self) -> list[tuple[float, float]]:
        """The middle of each piece."""
        e, n = self.east_m, self.north_m
        return [((e[i] + e[i + 1]) / 2, (n[i] + n[i + 1]) / 2) for i in range(len(e) - 1)]


def right_of(t: np.ndarray) -> np.ndarray:
    """The unit vector to the right of a direction."""
    return np.array([t[1], -t[0]])


def turned(t: np.ndarray, angle: float) -> np.ndarray:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([t[0] * c - t[1] * s, t[0] * s + t[1] * c])


def either_side(rng) -> int:
    return 1 if rng.random() < .5 else -1


def log_uniform(rng, low, high) -> float:
    return float(np.exp(rng.uniform(np.log(low), np.log(high))))


def _style_moves(rng, style) -> tuple[list[Move], float]:
    """Some metres of a course in a style, and their length. All ranges are judgement;
    the angles are those in which elbows are sold (common practice, no source)."""
    if style == "straight":
        a = rng.uniform(15, 60)
        moves, length_m = [("straight", a)], a
        if rng.random() < .5:
            radius, angle = rng.uniform(40, 200), np.radians(rng.uniform(1, 8))
            moves.append(("arc", radius, either_side(rng) * angle))
            length_m += radius * angle
        return moves, length_m
    if style == "winding":
        radius, angle = rng.uniform(8, 45), np.radians(rng.uniform(10, 60))
        moves, length_m = [("arc", radius, either_side(rng) * angle)], radius * angle
        if rng.random() < .5:
            a = rng.uniform(2, 15)
            moves.append(("straight", a))
            length_m += a
        return moves, length_m
    if style == "elbow":
        a = rng.uniform(5, 35)
        angle = np.radians(rng.choice([22.5, 30, 45, 45, 60, 90, 90]))
        side = either_side(rng)
        moves, length_m = [("straight", a)], a
        if angle > 1.5 and rng.random() < .35:  # a right angle of two fittings
            b = rng.uniform(.4, 2)
            moves += [("elbow", side * angle / 2), ("straight", b), ("elbow", side * angle / 2)]
            length_m += b
        else:
            moves.append(("elbow", side * angle))
        b = rng.uniform(3, 15)
        return moves + [("straight", b)], length_m + b
    if style == "sbend":
        a, b = rng.uniform(6, 25), rng.uniform(.7, 4)
        angle = np.radians(rng.choice([22.5, 45, 90]))
        side = either_side(rng)
        c = rng.uniform(4, 12)
        return [("straight", a), ("elbow", side * angle), ("straight", b),
                ("elbow", -side * angle), ("straight", c)], a + b + c
    a, radius = rng.uniform(5, 25), rng.uniform(.8, 5)  # a sweep
    angle = np.radians(rng.uniform(25, 92))
    c = rng.uniform(3, 10)
    return [("straight", a), ("arc", radius, either_side(rng) * angle),
            ("straight", c)], a + c + radius * angle


def _draw(moves: list[Move], heading: float) -> np.ndarray:
    """Places along the moves, half a metre and less apart."""
    x = y = 0.0
    places = [(x, y)]
    for kind, *size in moves:
        if kind == "straight":
            n = max(1, int(np.ceil(size[0] / 0.5)))
            for i in range(1, n + 1):
                places.append((x + np.cos(heading) * size[0] * i / n,
                               y + np.sin(heading) * size[0] * i / n))
            x, y = places[-1]
        elif kind == "elbow":
            heading += size[0]
        else:
            radius, angle = size
            n = max(2, int(np.ceil(abs(angle) * radius / 0.4)))
            chord = 2 * radius * np.sin(abs(angle) / n / 2)
            for _ in range(n):
                middle = heading + angle / n * 0.5
                x += chord * np.cos(middle)
                y += chord * np.sin(middle)
                heading += angle / n
                places.append((x, y))
    return np.array(places)


def _comes_back(course: LineString) -> bool:
    """Whether a course comes within 6 m of itself more than 20 m on: signal would mix
    with its own, which no family is about."""
    q = np.array([course.interpolate(t).coords[0] for t in np.arange(0, course.length, 3.)])
    apart = np.hypot(q[:, None, 0] - q[None, :, 0], q[:, None, 1] - q[None, :, 1])
    index = np.arange(len(q))
    far_on = np.abs(np.subtract.outer(index, index)) * 3 > 20
    return bool((apart[far_on] < 6).any())


def draw_course(rng, length_m, style, lead_in_m, lead_out_m) -> np.ndarray:
    """A course of some length with a lead at either end, that keeps clear of itself."""
    mixture = ["straight", "straight", "winding", "elbow", "sbend", "sweep"]
    for _ in range(60):
        moves: list[Move] = [("straight", lead_in_m + rng.uniform(1, 4))]
        reached_m = 0.0
        while reached_m < length_m:
            more, more_m = _style_moves(rng, rng.choice(mixture) if style == "mixed" else style)
            moves += more
            reached_m += more_m
        moves.append(("straight", lead_out_m + rng.uniform(1, 4)))
        places = _draw(moves, rng.uniform(0, 2 * np.pi))
        course = LineString(places)
        if course.is_simple and not _comes_back(course):
            return places - places.mean(0)
    return _draw([("straight", lead_in_m + length_m + lead_out_m)], rng.uniform(0, 6.28))


def draw_depths(rng, stations_m, dips: bool, range_m) -> np.ndarray:
    """Depths along a line: a slope, a gentle wave, and dips under roads or steps by
    fittings, more of them and deeper where the family is about dips. Judgement; covers of
    about 0.5 to 2 m are common practice, no source."""
    depths = np.full(len(stations_m), rng.uniform(*range_m))
    length_m = stations_m[-1]
    depths += rng.normal(0, .0025) * (stations_m - length_m / 2)
    for _ in range(2):
        depths += rng.uniform(0, .05) * np.sin(
            2 * np.pi * stations_m / rng.uniform(25, 90) + rng.uniform(0, 6.3))
    if dips:
        n = rng.integers(2, 5)
    else:
        n = rng.integers(0, 2) if rng.random() < .6 else 0
    for _ in range(n):
        centre_m = rng.uniform(.1, .9) * length_m
        if rng.random() < .5:  # under a road
            width_m = rng.uniform(5, 14)
            ramp_m = rng.choice([rng.uniform(.4, 1), rng.uniform(2, 6)])
            by_m = rng.uniform(.4, 1.3 if dips else .8)
            beyond_m = width_m / 2 + ramp_m - np.abs(stations_m - centre_m)
            depths += by_m * np.clip(beyond_m / ramp_m, 0, 1)
        else:
            ramp_m = rng.choice([rng.uniform(.3, .8), rng.uniform(3, 10)])
            depths += (either_side(rng) * rng.uniform(.2, .7)
                       * np.clip((stations_m - centre_m) / ramp_m, 0, 1))
    return np.clip(depths, .4, 3.0 if dips else 2.5)
