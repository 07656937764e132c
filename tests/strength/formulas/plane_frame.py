"""A plane frame of straight beams by finite elements, written for these tests: moments at the ends of each beam."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def end_moments(nodes: Floats, beams: NDArray[np.intp], stiff: tuple[float, float], loads: Floats) -> Floats:
    """Bending moments of a frame that floats: loads in balance, any rigid motion left out.

    nodes : (n, 2) places
    beams : (b, 2) rows of their ends
    stiff : EA and EI, of all
    loads : (n, 3) forces and moment on each node
    returns : (b, 2) moments at both ends of each beam, anticlockwise on the beam
    """
    ways = nodes[beams[:, 1]] - nodes[beams[:, 0]]
    long = np.hypot(*ways.T)
    whole = np.zeros((3 * len(nodes), 3 * len(nodes)))
    kept = []
    for (first, last), (cos, sin), length in zip(beams, ways / long[:, None], long, strict=True):
        turn = np.kron(np.eye(2), np.array([[cos, sin, 0.0], [-sin, cos, 0.0], [0.0, 0.0, 1.0]]))
        local = _beam(length, *stiff)
        rows = np.r_[3 * first : 3 * first + 3, 3 * last : 3 * last + 3]
        whole[np.ix_(rows, rows)] += turn.T @ local @ turn
        kept.append((rows, local @ turn))
    rigid = np.zeros((3 * len(nodes), 3))
    rigid[0::3, 0] = rigid[1::3, 1] = rigid[2::3, 2] = 1.0
    rigid[0::3, 2], rigid[1::3, 2] = -nodes[:, 1], nodes[:, 0]
    assert abs(rigid.T @ loads.ravel()).max() < 1e-9 * abs(loads).max() * len(nodes), "loads in balance"
    empty = np.zeros((3, 3))
    moved = np.linalg.solve(np.block([[whole, rigid], [rigid.T, empty]]), np.r_[loads.ravel(), np.zeros(3)])
    return np.array([(local @ moved[rows])[[2, 5]] for rows, local in kept])


def _beam(length: float, ea: float, ei: float) -> Floats:
    """Stiffness of a slender beam in its own axes: along, across, turned, at each end."""
    a, b, c, d = ea / length, 12.0 * ei / length**3, 6.0 * ei / length**2, 2.0 * ei / length
    return np.array(
        [
            [a, 0.0, 0.0, -a, 0.0, 0.0],
            [0.0, b, c, 0.0, -b, c],
            [0.0, c, 2.0 * d, 0.0, -c, d],
            [-a, 0.0, 0.0, a, 0.0, 0.0],
            [0.0, -b, -c, 0.0, b, -c],
            [0.0, c, d, 0.0, -c, 2.0 * d],
        ]
    )
