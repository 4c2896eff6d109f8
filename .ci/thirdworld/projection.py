"""Transverse Mercator on the ellipsoid of WGS 84: UTM, and a local frame around a job.

The series of Krueger to the fourth power of the third flattening (published: Krueger
1912; Karney, "Transverse Mercator with an accuracy of a few nanometers", Journal of
Geodesy 85, 2011, from which the way back to a latitude is taken too). Within some
kilometres of the meridian it is exact to far less than a micrometre.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
import numpy as np

SEMI_MAJOR_M = 6378137.0
FLATTENING = 1 / 298.257223563
N = FLATTENING / (2 - FLATTENING)
E_SQUARED = FLATTENING * (2 - FLATTENING)
E = np.sqrt(E_SQUARED)
RECTIFYING_M = SEMI_MAJOR_M / (1 + N) * (1 + N**2 / 4 + N**4 / 64)
FORWARD = (
    N / 2 - 2 / 3 * N**2 + 5 / 16 * N**3 + 41 / 180 * N**4,
    13 / 48 * N**2 - 3 / 5 * N**3 + 557 / 1440 * N**4,
    61 / 240 * N**3 - 103 / 140 * N**4,
    49561 / 161280 * N**4,
)
INVERSE = (
    N / 2 - 2 / 3 * N**2 + 37 / 96 * N**3 - 1 / 360 * N**4,
    1 / 48 * N**2 + 1 / 15 * N**3 - 437 / 1440 * N**4,
    17 / 480 * N**3 - 37 / 840 * N**4,
    4397 / 161280 * N**4,
)
UTM = {"scale": 0.9996, "false_east_m": 500000.0}


def to_plane(lat, lon, meridian, scale=1.0, false_east_m=0.0):
    """East and north in metres of degrees of latitude and longitude."""
    phi, lam = np.radians(lat), np.radians(np.asarray(lon) - meridian)
    # The tangent of the conformal latitude, then the sphere's transverse Mercator.
    t = np.sinh(np.arctanh(np.sin(phi)) - E * np.arctanh(E * np.sin(phi)))
    xi = np.arctan2(t, np.cos(lam))
    eta = np.arctanh(np.sin(lam) / np.sqrt(1 + t * t))
    north = xi + sum(c * np.sin(2 * k * xi) * np.cosh(2 * k * eta)
                     for k, c in enumerate(FORWARD, 1))
    east = eta + sum(c * np.cos(2 * k * xi) * np.sinh(2 * k * eta)
                     for k, c in enumerate(FORWARD, 1))
    return false_east_m + scale * RECTIFYING_M * east, scale * RECTIFYING_M * north


def to_degrees(east_m, north_m, meridian, scale=1.0, false_east_m=0.0):
    """Latitude and longitude in degrees of east and north in metres."""
    north = np.asarray(north_m) / (scale * RECTIFYING_M)
    east = (np.asarray(east_m) - false_east_m) / (scale * RECTIFYING_M)
    xi = north - sum(c * np.sin(2 * k * north) * np.cosh(2 * k * east)
                     for k, c in enumerate(INVERSE, 1))
    eta = east - sum(c * np.cos(2 * k * north) * np.sinh(2 * k * east)
                     for k, c in enumerate(INVERSE, 1))
    conformal = np.sin(xi) / np.sqrt(np.sinh(eta)**2 + np.cos(xi)**2)
    lam = np.arctan2(np.sinh(eta), np.cos(xi))
    t = conformal
    for _ in range(6):  # Newton; three steps are enough near the meridian
        sigma = np.sinh(E * np.arctanh(E * t / np.sqrt(1 + t * t)))
        reached = t * np.sqrt(1 + sigma * sigma) - sigma * np.sqrt(1 + t * t)
        t = t + ((conformal - reached) / np.sqrt(1 + reached * reached)
                 * (1 + (1 - E_SQUARED) * t * t) / ((1 - E_SQUARED) * np.sqrt(1 + t * t)))
    return np.degrees(np.arctan(t)), meridian + np.degrees(lam)


class LocalFrame:
    """East and north in true metres around an origin."""

    def __init__(self, lat: float, lon: float):
        self.lat, self.lon = lat, lon
        self._origin_north_m = float(to_plane(lat, lon, lon)[1])

    def to_degrees(self, east_m, north_m):
        north = np.asarray(north_m, float) + self._origin_north_m
        return to_degrees(np.asarray(east_m, float), north, self.lon)

    def to_metres(self, lat, lon):
        east, north = to_plane(np.asarray(lat, float), np.asarray(lon, float), self.lon)
        return east, north - self._origin_north_m
