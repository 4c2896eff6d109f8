#!/usr/bin/env python3
"""Fields of long and of finite conductors, apart from the program and from its
simulators: superposition of Ampere's law on a fine grid, and the law of Biot and
Savart summed numerically. Checks itself against formulas of the textbook, then
writes pairs.csv and wires.csv beside itself. Standard library only."""
import csv
import math
import os

K = 2e-7  # mu0 / 2 pi, T m / A, as the SI defined it until 2019
GAP = 0.4
STEP = 0.0002


def field(lines, x, z):
    """Across and up, in tesla, over lines (x, depth, current) at a height z."""
    bh = bv = 0.0
    for at, depth, current in lines:
        r2 = (x - at) ** 2 + (depth + z) ** 2
        bh += K * current * (depth + z) / r2
        bv += K * current * (x - at) / r2
    return bh, bv


def climb(f, x):
    """The place on the grid from which no step leads higher."""
    k = round(x / STEP)
    while True:
        here = f(k * STEP)
        up, down = f((k + 1) * STEP), f((k - 1) * STEP)
        if max(up, down) <= here:
            return k * STEP
        k += 1 if up > down else -1


def depth_of(low, high):
    return GAP * high / (low - high)


def pair(d, a, d2, share):
    lines = [(0.0, d, 1.0), (a, d2, share)]
    peak = climb(lambda x: abs(field(lines, x, 0)[0]), 0.0)
    null = climb(lambda x: -abs(field(lines, x, 0)[1]), peak)
    low, high = abs(field(lines, peak, 0)[0]), abs(field(lines, peak, GAP)[0])
    depth = depth_of(low, high)
    difference = climb(lambda x: abs(field(lines, x, 0)[0] - field(lines, x, GAP)[0]), 0.0)
    return peak, null - peak, depth, depth * low / K, difference


def wire(a, b, current, at, n=4000):
    """Field in tesla of a straight piece from a to b by Simpson's rule, the length
    stretched by sinh about the foot of the place, where the field comes from."""
    way = [q - p for p, q in zip(a, b)]
    length = math.sqrt(sum(w * w for w in way))
    u = [w / length for w in way]
    foot = sum((p - q) * w for p, q, w in zip(at, a, u))
    lo, hi = math.asinh(-foot), math.asinh(length - foot)
    total = [0.0, 0.0, 0.0]
    for i in range(n + 1):
        t = lo + (hi - lo) * i / n
        s = foot + math.sinh(t)
        r = [p - (q + w * s) for p, q, w in zip(at, a, u)]
        r3 = math.sqrt(sum(c * c for c in r)) ** 3
        weight = (1 if i in (0, n) else 4 if i % 2 else 2) * (hi - lo) / n / 3 * math.cosh(t) / r3
        total[0] += weight * (u[1] * r[2] - u[2] * r[1])
        total[1] += weight * (u[2] * r[0] - u[0] * r[2])
        total[2] += weight * (u[0] * r[1] - u[1] * r[0])
    return [K / 2 * current * c for c in total]


FAR = 1e4


def course(shape, y):
    """Points of a wire 1 m deep that ends, turns right, or comes back beside itself
    1 m to the right, y before the place of the receiver."""
    if shape == "end":
        return [(0, -FAR, -1), (0, y, -1)]
    if shape == "bend":
        return [(0, -FAR, -1), (0, y, -1), (FAR, y, -1)]
    return [(0, -FAR, -1), (0, y, -1), (1, y, -1), (1, -FAR, -1)]


def fields(points, at):
    total = [0.0, 0.0, 0.0]
    for a, b in zip(points, points[1:]):
        total = [p + q for p, q in zip(total, wire(a, b, 1.0, at))]
    return total


def wires(shape, y):
    points = course(shape, y)
    low, high = abs(fields(points, (0, 0, 0))[0]), abs(fields(points, (0, 0, GAP))[0])
    return low * 1e9, depth_of(low, high)


def check():
    """The single line (Ampere), the finite wire (K I / d times the sine of the angle
    that half of it spans: Griffiths, Introduction to Electrodynamics, 4th edition,
    eq. 5.37, from memory), half of the endless field at an end, and a go-and-return
    pair 1 m apart: K I (1/d - d/(d2+1))."""
    def near(got, want):
        assert abs(got - want) < 1e-6 * abs(want), (got, want)
    near(field([(0, 1, 1)], 0, 0)[0], 200e-9)
    near(field([(0, 1, 1)], 1, 0)[0], 100e-9)
    near(depth_of(200, 200 / 1.4), 1)
    for half in (1.0, 3.0, 20.0):
        near(abs(wire((0, -half, -1), (0, half, -1), 1, (0, 0, 0))[0]), 200e-9 * half / math.hypot(half, 1))
    near(abs(wire((0, 0, -1), (0, FAR, -1), 1, (0, 0, 0))[0]), 100e-9)
    near(abs(fields([(0, -FAR, -1), (0, FAR, -1), (1, FAR, -1), (1, -FAR, -1)], (0, 0, 0))[0]), 200e-9 * (1 - 0.5))


PAIRS = [(1.0, 1.0, 1.0, 0.3), (1.0, 1.0, 1.0, -0.3), (1.0, 1.0, 1.0, 0.5), (1.0, 1.0, 1.0, -0.5),
         (1.0, 0.5, 1.0, 0.5), (1.0, 0.5, 1.0, -0.5), (1.0, 1.5, 1.0, 0.8), (1.2, 1.8, 0.9, -0.6),
         (0.8, 0.6, 1.2, 0.8), (1.0, 0.75, 0.7, 0.3), (1.5, 1.0, 1.0, 0.2), (1.0, 3.0, 1.0, 0.5)]


def write(name, header, rows):
    with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), name), "w", newline="") as f:
        out = csv.writer(f, lineterminator="\n")
        out.writerow(header)
        for row in rows:
            out.writerow([v if isinstance(v, str) else "%.6g" % (v + 0.0) for v in row])


if __name__ == "__main__":
    check()
    write("pairs.csv", ["depth_m", "aside_m", "depth2_m", "share", "peak_m", "null_offset_m", "shown_m", "shown_a", "difference_peak_m"],
          [p + pair(*p) for p in PAIRS])
    write("wires.csv", ["shape", "before_m", "field_nt", "shown_m"],
          [(s, y) + wires(s, y) for s in ("end", "bend", "return") for y in (0.5, 1.0, 2.0, 3.0, 5.0)])
