"""Where rays meet turned faces: many rays of one direction at once, points in the face's own axes, shape (n, 3).

And where one line meets the whole surface that a face is part of.
"""

import math

import numpy as np

from builder.body.contour import TINY, Bow, Contour, Straight, upright
from builder.body.vectors import Array, Vector


def round_roots(piece: Contour, points: Array, toward: Vector) -> Array:
    """Return how far along the rays they meet a turned contour piece, shape (n, k); infinite where they do not."""
    if isinstance(piece, Straight):
        return _plane(piece, points, toward) if upright(piece) else _cone(piece, points, toward)
    if abs(piece.cb) < TINY:
        return _ball(piece, points, toward)
    across = math.hypot(toward[1], toward[2])
    if abs(toward[0]) < TINY:
        return _ring_beside(piece, points, toward)
    return _ring_along(piece, points, toward) if across < TINY else _ring_aslant(piece, points, toward)


def flat_root(points: Array, toward: Vector, axis: int, place: float) -> Array:
    """Return how far along the rays they meet the plane where one coordinate has a value, shape (n,)."""
    if abs(toward[axis]) < 1e-12:
        return np.full(len(points), np.inf)
    return (place - points[:, axis]) / toward[axis]


def quadratic(a: float, b: Array, c: Array) -> Array:
    """Return both roots of a t^2 + 2 b t + c, shape (n, 2); infinite where there are none."""
    found = np.full((len(b), 2), np.inf)
    if abs(a) < 1e-12:
        some = np.abs(b) > 1e-12
        found[some, 0] = -c[some] / (2.0 * b[some])
        return found
    square = b * b - a * c
    some = square > 0.0
    half = np.sqrt(square[some])
    found[some, 0], found[some, 1] = (-b[some] - half) / a, (-b[some] + half) / a
    return found


def _within(piece: Contour, points: Array, toward: Vector, roots: Array) -> Array:
    """Leave out roots beyond a piece's ends along the axis."""
    low, high = sorted((piece.a0, piece.a1))
    slack = TINY * (1.0 + abs(low) + abs(high))
    with np.errstate(invalid="ignore"):
        x = points[:, :1] + toward[0] * roots if toward[0] else np.broadcast_to(points[:, :1], roots.shape)
        roots[~((low - slack <= x) & (x <= high + slack))] = np.inf
    return roots


def _plane(piece: Straight, points: Array, toward: Vector) -> Array:
    roots = flat_root(points, toward, 0, piece.a0)[:, None]
    low, high = sorted((piece.b0, piece.b1))
    with np.errstate(invalid="ignore"):
        square = sum((points[:, i : i + 1] + toward[i] * roots) ** 2 for i in (1, 2))
        roots[~((square >= (low * low - TINY)) & (square <= (high * high + TINY * (1.0 + high))))] = np.inf
    return roots


def _cone(piece: Straight, points: Array, toward: Vector) -> Array:
    k = (piece.b1 - piece.b0) / (piece.a1 - piece.a0)
    y, z = points[:, 1], points[:, 2]
    radius = piece.b0 + k * (points[:, 0] - piece.a0)
    a = toward[1] ** 2 + toward[2] ** 2 - (k * toward[0]) ** 2
    b = y * toward[1] + z * toward[2] - k * toward[0] * radius
    return _within(piece, points, toward, quadratic(a, b, y * y + z * z - radius * radius))


def _ball(piece: Bow, points: Array, toward: Vector) -> Array:
    off = points - np.array((piece.ca, 0.0, 0.0))
    b = off @ np.array(toward)
    roots = quadratic(1.0, b, np.einsum("ij,ij->i", off, off) - piece.radius**2)
    return _within(piece, points, toward, roots)


def _ring_beside(piece: Bow, points: Array, toward: Vector) -> Array:
    y, z = points[:, 1], points[:, 2]
    radius = piece.level(points[:, 0])
    roots = quadratic(1.0, y * toward[1] + z * toward[2], y * y + z * z - radius * radius)
    return _within(piece, points, toward, roots)


def _ring_along(piece: Bow, points: Array, toward: Vector) -> Array:
    off = np.sqrt(points[:, 1] ** 2 + points[:, 2] ** 2) - piece.cb
    square = piece.radius**2 - off * off
    roots = np.full((len(points), 1), np.inf)
    some = (square > 0.0) & (off * piece.side_b > -TINY)
    x = piece.ca + piece.side_a * np.sqrt(square[some])
    roots[some, 0] = (x - points[some, 0]) / toward[0]
    return roots


def _ring_aslant(piece: Bow, points: Array, toward: Vector) -> Array:
    """Solve the torus's quartic, (|p|^2 + cb^2 - R^2)^2 = 4 cb^2 (y^2 + z^2), by the companion matrix."""
    off = points - np.array((piece.ca, 0.0, 0.0))
    b, k = off @ np.array(toward), np.einsum("ij,ij->i", off, off) + piece.cb**2 - piece.radius**2
    y, z, ring = off[:, 1], off[:, 2], 4.0 * piece.cb**2
    e, f = y * toward[1] + z * toward[2], y * y + z * z
    square = toward[1] ** 2 + toward[2] ** 2
    rows = np.stack((4.0 * b, 4.0 * b * b + 2.0 * k - ring * square, 4.0 * b * k - 2.0 * ring * e, k * k - ring * f))
    matrix = np.zeros((len(points), 4, 4))
    matrix[:, 0, :] = -rows.T
    matrix[:, (1, 2, 3), (0, 1, 2)] = 1.0
    complex_roots = np.linalg.eigvals(matrix)
    real = np.abs(complex_roots.imag) < 1e-7 * (1.0 + np.abs(complex_roots.real))
    roots = np.where(real, complex_roots.real, np.inf)
    with np.errstate(invalid="ignore"):
        radius = np.sqrt((y[:, None] + toward[1] * roots) ** 2 + (z[:, None] + toward[2] * roots) ** 2)
        roots[~((radius - piece.cb) * piece.side_b > -1e-6 * piece.radius)] = np.inf
    return _within(piece, points, toward, roots)


def line_roots(piece: Contour, point: Vector, way: Vector) -> list[float]:
    """Return in ascending order where a line, point + t way, meets the endless cone, the ball or the whole torus."""
    if isinstance(piece, Bow) and abs(piece.cb) > TINY:
        return _torus_roots(piece, point, way)
    (x, y, z), (dx, dy, dz) = point, way
    if isinstance(piece, Straight):
        k = (piece.b1 - piece.b0) / (piece.a1 - piece.a0)
        radius, rate = piece.b0 + k * (x - piece.a0), k * dx
        a, b, c = dy * dy + dz * dz - rate * rate, y * dy + z * dz - rate * radius, y * y + z * z - radius * radius
    else:
        x -= piece.ca
        a, b, c = dx * dx + dy * dy + dz * dz, x * dx + y * dy + z * dz, x * x + y * y + z * z - piece.radius**2
    if abs(a) < 1e-12 * (dx * dx + dy * dy + dz * dz):
        return [-c / (2.0 * b)] if b else []
    square = b * b - a * c
    if square < -1e-12 * b * b:
        return []
    half = math.sqrt(max(0.0, square))  # a line that touches meets twice
    return sorted(((-b - half) / a, (-b + half) / a))


def _torus_roots(piece: Bow, point: Vector, way: Vector) -> list[float]:
    (x, y, z), size = point, math.sqrt(way[0] ** 2 + way[1] ** 2 + way[2] ** 2)
    x, (dx, dy, dz) = x - piece.ca, (way[0] / size, way[1] / size, way[2] / size)
    b, k, ring = x * dx + y * dy + z * dz, x * x + y * y + z * z + piece.cb**2 - piece.radius**2, 4.0 * piece.cb**2
    quartic = (
        1.0,
        4.0 * b,
        4.0 * b * b + 2.0 * k - ring * (dy * dy + dz * dz),
        4.0 * b * k - 2.0 * ring * (y * dy + z * dz),
        k * k - ring * (y * y + z * z),
    )
    return sorted(float(t.real) / size for t in np.roots(quartic) if abs(t.imag) < 1e-7 * (1.0 + abs(t.real)))
