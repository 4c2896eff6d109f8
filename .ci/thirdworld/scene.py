"""One job's ground with its currents: the line, the hookup, and its neighbours.

The current along a line falls off exponentially, or as a hyperbolic sine towards an
insulated end: a line with leakage (E. D. Sunde, "Earth Conduction Effects in Transmission
Systems", 1968, from memory; handbooks of cathodic protection have the same forms). Losses
and the ranges of currents are judgement. What couples to neighbours is in couplings.py.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
from dataclasses import dataclass

import numpy as np

from field import Field
from ground import Path, either_side, log_uniform, right_of
from neighbours import Neighbour
from projection import LocalFrame

UTILITIES = ("gas", "water", "electric", "communication", "sewer")
# Tracing frequencies and how often they are met with: about 0.3-1 kHz low, 8-10 medium,
# 30-100 high, to 200 very high (common practice, no source).
FREQUENCIES_HZ = (512, 640, 982, 8192, 8440, 32768, 33000, 83000, 200000)
FREQUENCY_SHARES = (.15, .08, .07, .2, .1, .2, .1, .06, .04)


@dataclass
class Layout:
    """Where the line lies and what of it is walked."""
    line: Path
    length_m: float  # as it was drawn; what is walked can be longer
    style: str
    start_m: float
    end_m: float
    lead_in_m: float
    lead_out_m: float
    ends: bool  # the line ends within a stride or two of the walk's end

    @property
    def walked_m(self) -> float:
        return self.end_m - self.start_m


class Scene:
    def __init__(self, rng, family: str, layout: Layout, params: dict):
        self.rng, self.layout, self.params = rng, layout, params
        self.line, self.start_m = layout.line, layout.start_m
        self.own, self.other = Field(), Field()
        self.neighbours: list[Neighbour] = []
        self.references: list[dict] = []
        self.bonds_m: list[float] = []
        self.jump: tuple[float, float] | None = None  # followed the last neighbour instead
        self.branch: Path | None = None
        self.tee_m = 0.  # where it leaves the line
        self.middles_m = (self.line.stations_m[:-1] + self.line.stations_m[1:]) / 2
        self._hook_up(family)
        self.frame = LocalFrame(rng.uniform(29, 47.5), rng.uniform(-122, -72))
        self.usual_sign = 1 if rng.random() < .62 else -1

    def somewhere(self, low, high) -> float:
        """A station between two shares of what is walked."""
        return self.start_m + self.rng.uniform(low, high) * self.layout.walked_m

    def current_at(self, stations_m):
        return np.interp(stations_m, self.middles_m, self.current_ma.real)

    def _hook_up(self, family):
        rng, layout = self.rng, self.layout
        self.frequency_hz = int(rng.choice(FREQUENCIES_HZ, p=FREQUENCY_SHARES))
        sometimes = family not in ("quiet_street", "short")
        if family == "induction" or (sometimes and rng.random() < .08):
            self.hookup = "induction"
        else:
            self.hookup = rng.choice(["direct", "direct", "direct", "clamp"])
        self.current0_ma = log_uniform(rng, 6, 250)
        most = 1.2e-2 if self.frequency_hz > 5000 else 4e-3
        self.loss_per_m = log_uniform(rng, 3e-4, most)
        self.current_ma = self.current0_ma * np.exp(-self.loss_per_m * self.middles_m + 0j)
        if layout.ends and rng.random() >= .5:  # insulated, with some metres past the end
            loss, end_m = max(self.loss_per_m, 2e-3), self.line.length_m + 6
            self.current_ma = (self.current0_ma * np.sinh(
                np.maximum(end_m - self.middles_m, .01) * loss) / np.sinh(end_m * loss) + 0j)
        self._utilities = list(UTILITIES)
        self.utility = rng.choice(self._utilities)
        self._utilities.remove(self.utility)
        self.transmitter_m: float | None = None
        if self.hookup == "induction":
            self._induce(family)
        elif self.hookup == "direct" and layout.lead_in_m < 13:
            self._lay_lead()

    def _induce(self, family):
        """A loop stands on the ground over the line. Its own field reaches the receiver
        where the walk begins nearer than the 10 to 25 m that are common practice."""
        rng = self.rng
        near = family == "induction" and rng.random() < .6
        before_m = rng.uniform(2.5, 9) if near else rng.uniform(10, 25)
        self.transmitter_m = max(self.start_m - before_m, 1.)
        self.current_ma = self.current0_ma * np.exp(
            -self.loss_per_m * np.abs(self.middles_m - self.transmitter_m)) * (1 + 0j)
        right = right_of(self.line.tangent(self.transmitter_m))
        moment = rng.uniform(.5, 6) * np.exp(1j * rng.choice([0, np.pi]) + 1j * rng.normal(0, .5))
        if family != "induction":
            moment *= .3
        self.other.add_loop(np.r_[self.line.position(self.transmitter_m), .35],
                            moment * np.r_[right, 0])
        self.params["dipole"] = [abs(moment), self.transmitter_m - self.start_m]

    def _lay_lead(self):
        """The riser at the line's start, the lead to the transmitter and the stake."""
        rng, line = self.rng, self.line
        t = line.tangent(0)
        side = right_of(t) * either_side(rng)
        start = line.position(0)
        away_m = rng.uniform(5, 15)
        stake = start + side * away_m - t * rng.uniform(0, 3)
        self.own.add_wire([[*stake, -.3], [*(start + side - t * .5), .02], [*start, .02],
                           [*start, -line.depth_m(0)]], self.current_ma[0])

    def out_of_phase(self, share):
        """Coupled currents are nearly in phase, some of them not (judgement)."""
        degrees = self.rng.normal(0, 8) if self.rng.random() < .7 else self.rng.normal(0, 35)
        return share * np.exp(1j * np.radians(degrees))

    def beside(self, path: Path) -> np.ndarray:
        """The stations of the line that the pieces of another lie beside."""
        return np.array([self.line.station_of(place) for place in path.middles()])

    def add_neighbour(self, kind, mapped, path, current_ma, told: dict):
        self.neighbours.append(Neighbour(kind, bool(mapped), path))
        self.other.add_path(path, current_ma)
        if mapped:
            self._map(path)
        self.params.setdefault("nb", []).append(told)

    def _map(self, path):
        """Records are off as a whole, by 3 to 20 cm (judgement)."""
        shift = self.rng.normal(0, self.rng.choice([.03, .1, .2]), 2)
        places = np.array(path.course.simplify(.04).coords) + shift
        utility = self._utilities[len(self.references) % len(self._utilities)]
        lat, lon = self.frame.to_degrees(places[:, 0], places[:, 1])
        number = len(self.references) + 1
        self.references.append({
            "file": f"ref{number}.geojson", "utility": utility,
            "name": f"{utility[0].upper()}-{number}",
            "coordinates": [[round(float(b), 8), round(float(a), 8)] for a, b in zip(lat, lon)]})
