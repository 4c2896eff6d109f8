"""The magnetic field of currents in straight filaments, and of small loops.

Physics: the law of Biot and Savart for straight pieces of wire, and the field of a
magnetic dipole, as any textbook of electromagnetism has them. The ground is taken for
air: at the frequencies and depths of these jobs its own currents change a depth by a
few per cent, which the scale error of the locator covers (judgement).

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.

Frame: local east, north and up in metres, the ground at up = 0. Currents are in mA and
complex, so that a phase can differ from that of the transmitter; fields are in nT.
"""
import numpy as np

# mu0 / (4 pi) = 1e-7 T m/A, in the units at hand.
NT_M_PER_MA = 0.1
NT_M3_PER_AM2 = 100.0


class Field:
    """The sum of the fields of wires and loops."""

    def __init__(self):
        # All wires are one chain of nodes; from the end of one to the start of the next
        # the chain goes on and carries nothing. So each distance is computed once.
        self._nodes: list[np.ndarray] = []
        self._currents: list[np.ndarray] = []
        self._loops: list[tuple[np.ndarray, np.ndarray]] = []
        self._chain = None

    def add_wire(self, nodes_m, current_ma):
        """A wire through nodes [east, north, up]; one current, or one for each piece."""
        nodes = np.asarray(nodes_m, float)
        self._nodes.append(nodes)
        self._currents.append(np.asarray(current_ma, complex) * np.ones(len(nodes) - 1))
        self._chain = None

    def add_path(self, path, current_ma):
        """A buried line (a ground.Path): currents count along the way of its stations."""
        self.add_wire(np.c_[path.east_m, path.north_m, -path.depths_m], current_ma)

    def add_loop(self, place_m, moment_am2):
        """A transmitter's loop, small against its distance from the receiver."""
        self._loops.append((np.asarray(place_m, float), np.asarray(moment_am2, complex)))

    def __call__(self, points_m: np.ndarray) -> np.ndarray:
        """The field at points [east, north, up]: a row [east, north, up] of each."""
        points = np.atleast_2d(np.asarray(points_m, float))
        field = self._of_wires(points) if self._nodes else np.zeros(points.shape, complex)
        for place, moment in self._loops:
            away = points - place
            distance = np.linalg.norm(away, axis=1)[:, None]
            unit = away / distance
            along = (unit @ moment)[:, None]
            field = field + NT_M3_PER_AM2 * (3 * unit * along - moment) / distance**3
        return field

    def _link(self):
        nodes = np.vstack(self._nodes)
        currents = [self._currents[0]]
        for more in self._currents[1:]:
            currents += [np.zeros(1, complex), more]
        self._chain = (nodes, np.diff(nodes, axis=0),
                       NT_M_PER_MA * np.concatenate(currents))

    def _of_wires(self, points):
        """Of a piece l seen from a behind it and b = a - l: mu0 I/(4 pi) times

            (l x a) (|a| + |b|) / (|a| |b| (|a| |b| + a.b))

        which, unlike the form with the square of l x a below the line, stays exact for
        points in the direction of a piece. l x a = l x p - l x start is linear in the
        point p: what is the same for all points is summed as a product of matrices.
        """
        if self._chain is None:
            self._link()
        nodes, pieces, currents = self._chain
        origin = points.mean(axis=0)  # near the points, so that nothing cancels
        near, nodes = points - origin, nodes - origin
        starts = nodes[:-1]
        # Most of the time of a simulation goes into these tables of points by pieces, so
        # they are filled in place.
        squared = near @ (-2 * nodes.T)
        squared += (near**2).sum(1)[:, None]
        squared += (nodes**2).sum(1)
        np.maximum(squared, 0, out=squared)
        distance = np.sqrt(squared)
        both = distance[:, :-1] * distance[:, 1:]
        below = near @ -pieces.T
        below += (pieces * starts).sum(1)  # -l.a
        below += squared[:, :-1]  # a.b
        below += both
        below *= both
        # On a wire itself the field has no value; it is left out there.
        np.maximum(below, 1e-12, out=below)
        weight = distance[:, :-1] + distance[:, 1:]
        weight /= below
        # Real and imaginary parts side by side: the weights are real.
        terms = np.c_[pieces, np.cross(pieces, starts)]
        summed = weight @ np.c_[terms * currents.real[:, None], terms * currents.imag[:, None]]
        summed = summed[:, :6] + 1j * summed[:, 6:]
        return np.cross(summed[:, :3], near) - summed[:, 3:]


class Sum:
    """Fields that lie over each other."""

    def __init__(self, *fields: Field):
        self._fields = fields

    def __call__(self, points_m):
        return sum(field(points_m) for field in self._fields)
