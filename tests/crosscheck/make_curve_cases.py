"""Strings bent sideways in curves, solved by general-purpose minimisation, to check the program's curves against.

    python make_curve_cases.py            solve all cases and write curve_cases.json beside this script
    python make_curve_cases.py --verify   solve them again and compare with curve_cases.json

Nothing is taken from the program. The track's offset is the curvature integrated twice by a piecewise polynomial
(scipy.interpolate.PPoly). A string's bending energy over its racks is that of the natural cubic spline through its
places there (scipy.interpolate.CubicSpline, whose second derivative gives the moments), a quadratic form of the
places; it is made least within the pockets' play by bounded linear least squares (scipy.optimize.lsq_linear, BVLS).
Lengths in m (mm where the key says so), moments in N m, forces in N.
"""

import argparse
import json
import pathlib
import random
import sys

import numpy as np
from scipy.interpolate import CubicSpline, PPoly
from scipy.optimize import lsq_linear

SEED = 7_411
CASES = 120
EI = 210e9 * 512.3e-8
FILE = pathlib.Path(__file__).with_name("curve_cases.json")


def path(rng, length):
    """Places (x, curvature) of a steady curve, an entry, a clothoid or a reverse curve."""
    k = rng.choice([-1, 1]) / rng.uniform(60, 600)
    at = round(rng.uniform(0.1, 0.9) * length, 3)
    kind = rng.randrange(4)
    if kind == 0:
        return [(0.0, k)]
    if kind == 1:
        return [(at, k), (at, 0.0)]
    if kind == 2:
        return [(at, 0.0), (at + round(rng.uniform(5, 60), 3), k)]
    return [(at, k), (at, 0.0), (at + 6.0, 0.0), (at + 6.0, -k)]


def offsets(places):
    """The track's offset as a function: the curvature, linear between places, integrated twice."""
    xs = [places[0][0] - 1000.0]
    coefficients = []
    for (x0, k0), (x1, k1) in zip([(xs[0], places[0][1])] + places, places + [(places[-1][0] + 1000.0, places[-1][1])]):
        if x1 > x0:
            coefficients.append([(k1 - k0) / (x1 - x0), k0])
            xs.append(x1)
    return PPoly(np.array(coefficients).T, np.array(xs)).antiderivative(2)


def least(x, middles, play):
    """Places of least bending energy within the pockets, by bounded least squares on moments."""
    unit = np.eye(len(x))
    # Moments at the racks for a unit place at each: second derivatives of natural splines.
    moments = np.array([EI * CubicSpline(x, e, bc_type="natural")(x, 2) for e in unit]).T
    spans = np.diff(x)
    gram = np.zeros((len(x), len(x)))
    for i, l in enumerate(spans):
        gram[i, i] += l / 3
        gram[i + 1, i + 1] += l / 3
        gram[i, i + 1] += l / 6
        gram[i + 1, i] += l / 6
    root = np.linalg.cholesky(gram).T @ moments / EI
    # Only bending counts: take the line through the ends off, which leaves small numbers.
    line = middles[0] + (middles[-1] - middles[0]) * (x - x[0]) / (x[-1] - x[0])
    bent = middles - line
    if play == 0.0:
        return moments @ bent
    solution = lsq_linear(root, -(root @ bent), (-play, play), method="bvls", tol=1e-15, max_iter=10_000)
    return moments @ (bent + solution.x)


def forces(x, moments):
    shear = np.diff(moments) / np.diff(x)
    return np.concatenate([shear, [0.0]]) - np.concatenate([[0.0], shear])


def case(rng):
    length = rng.randrange(14_000, 22_000)
    pivots = rng.randrange(length // 2, length - 3_000)
    wheelbase = 2 * rng.randrange(750, 1_250)
    pivots -= pivots % 2
    length -= length % 2
    racks = sorted(rng.sample(range(-length // 2 + 500, length // 2 - 500, 700), rng.randrange(1, 5)))
    wagons = rng.randrange(3, 9)
    play = rng.choice([0, 0, 5, 15, 30, 60])
    places = path(rng, wagons * length / 1000)
    track = offsets(places)
    x, middles = [], []
    for wagon in range(wagons):
        middle = (wagon + 0.5) * length / 1000
        pivot = lambda end: np.mean([track(middle + end * pivots / 2000 + w * wheelbase / 2000) for w in (-1, 1)])
        front, rear = pivot(-1), pivot(1)
        for rack in racks:
            x.append(middle + rack / 1000)
            middles.append((front + rear) / 2 + (rear - front) * rack / pivots)
    x, middles = np.array(x), np.array(middles)
    moments = least(x, middles, play / 1000)
    return {
        "length_mm": length,
        "pivots_mm": pivots,
        "bogie_wheelbase_mm": wheelbase,
        "racks_mm": racks,
        "wagons": wagons,
        "play_mm": play,
        "places": places,
        "moments_nm": moments.tolist(),
        "forces_n": forces(x, moments).tolist(),
    }


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--verify", action="store_true")
    rng = random.Random(SEED)
    cases = [case(rng) for _ in range(CASES)]
    if parser.parse_args().verify:
        kept = json.loads(FILE.read_text())
        worst = max(
            max(abs(a - b) for a, b in zip(one["moments_nm"], two["moments_nm"])) / (1.0 + max(map(abs, one["moments_nm"])))
            for one, two in zip(cases, kept)
        )
        sys.exit(0 if len(kept) == len(cases) and worst < 1e-6 else 1)
    FILE.write_text(json.dumps(cases, indent=1) + "\n")


if __name__ == "__main__":
    main()
