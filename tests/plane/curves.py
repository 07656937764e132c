"""Curves with known points and tangents, written from their published equations: what arc fitting is tried on."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geomgen.plane.arcs import Piece

FloatArray = NDArray[np.float64]


def four_digit(code: str, chord_mm: float, count: int) -> tuple[Piece, Piece]:
    """Upper and lower surface of a NACA four-digit section from nose to tail, open tail as published.

    source : Jacobs, Ward, Pinkerton, NACA Report 460, 1933; thickness half-ordinate
             5 t (0.2969 √x - 0.1260 x - 0.3516 x² + 0.2843 x³ - 0.1015 x⁴), camber from two parabolas.
    Sampled at x = u², u evenly spaced in angle, so that points and tangents are finite at the nose.
    """
    m, p, t = int(code[0]) / 100, int(code[1]) / 10, int(code[2:]) / 100
    u = np.sin(np.linspace(0.0, np.pi / 2, count))
    x = u * u
    half = 5 * t * (0.2969 * u - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    half_u = 5 * t * (0.2969 - 0.2520 * u - 1.4064 * u**3 + 1.7058 * u**5 - 0.8120 * u**7)
    camber, slope, bend = np.zeros_like(x), np.zeros_like(x), np.zeros_like(x)
    if m:
        fore = x < p
        k = np.where(fore, m / p**2, m / (1 - p) ** 2)
        camber = k * np.where(fore, 2 * p * x - x * x, 1 - 2 * p + 2 * p * x - x * x)
        slope, bend = k * 2 * (p - x), -2 * k
    angle = np.arctan(slope)
    angle_u = bend / (1 + slope**2) * 2 * u
    pieces = []
    for side in (1, -1):
        xy = np.column_stack((x - side * half * np.sin(angle), camber + side * half * np.cos(angle)))
        way = np.column_stack(
            (
                2 * u - side * (half_u * np.sin(angle) + half * np.cos(angle) * angle_u),
                slope * 2 * u + side * (half_u * np.cos(angle) - half * np.sin(angle) * angle_u),
            )
        )
        pieces.append(Piece(chord_mm * xy, unit(way)))
    return pieces[0], pieces[1]


def round_the_nose(upper: Piece, lower: Piece) -> Piece:
    """One piece from the upper tail round the nose to the lower tail."""
    return Piece(np.vstack((upper.xy[:0:-1], lower.xy)), np.vstack((-upper.tangent[:0:-1], lower.tangent)), upper.path)


def inwards(piece: Piece, by_mm: float) -> Piece:
    """A piece shifted to its right by a distance: the inside of a skin."""
    return Piece(piece.xy + by_mm * np.column_stack((piece.tangent[:, 1], -piece.tangent[:, 0])), piece.tangent)


def ellipse_arc(a: float, b: float, from_deg: float, to_deg: float, count: int) -> Piece:
    """Part of an ellipse about the origin."""
    t = np.radians(np.linspace(from_deg, to_deg, count))
    way = np.column_stack((-a * np.sin(t), b * np.cos(t))) * np.sign(to_deg - from_deg)
    return Piece(np.column_stack((a * np.cos(t), b * np.sin(t))), unit(way))


def clothoid(length_mm: float, end_curvature: float, count: int) -> Piece:
    """Spiral whose curvature runs evenly from 0 to `end_curvature` [1/mm]; points by Gauss quadrature."""
    node, weight = np.polynomial.legendre.leggauss(12)
    s = np.linspace(0.0, length_mm, count)
    angle = 0.5 * end_curvature / length_mm * s**2
    inner = s[:-1, None] + np.diff(s)[:, None] * 0.5 * (node + 1)
    turned = 0.5 * end_curvature / length_mm * inner**2
    steps = 0.5 * np.diff(s)[:, None] * np.column_stack((np.cos(turned) @ weight, np.sin(turned) @ weight))
    return Piece(np.vstack(((0.0, 0.0), np.cumsum(steps, axis=0))), np.column_stack((np.cos(angle), np.sin(angle))))


def unit(way: FloatArray) -> FloatArray:
    """(n, 2) vectors at length 1."""
    return way / np.hypot(way[:, 0], way[:, 1])[:, None]
