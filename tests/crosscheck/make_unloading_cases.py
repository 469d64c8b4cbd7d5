"""Random strings drawn off a train, solved by minimising their energy, to check the program's leads against.

    python make_unloading_cases.py            solve all cases and write unloading_cases.json beside this script
    python make_unloading_cases.py --verify   solve them again and compare; exit code 1 where they differ

Nothing is taken from the program: the string is a row of cubic beam elements (deflection and slope at each node)
from its end on the train to far out on the seat. Its energy is least under two kinds of one-sided bounds: it is
nowhere below the seat, and at no rack or roller below that support. The bounds that hold are found by a
primal-dual active set on the nodes (Hintermueller, Ito, Kunisch 2002). Mesh refinement: the nodes are 50 mm apart,
so that the place where the string comes to lie is known to that much, and its moment to about 0.3 %.

All lengths in m, forces in N. x runs toward the seat, from 0 at the last deck rack; numpy only.
"""

import argparse
import json
import pathlib
import random
import sys

import numpy as np

SEED = 61_803
CASES = 60
GRAVITY = 9.80665
MODULUS = 210e9
MESH = 0.05
BEYOND = 45.0  # how far out the string is followed; every lead is shorter
FILE = pathlib.Path(__file__).with_name("unloading_cases.json")
SECTIONS = [(60.21, 3038.3), (54.77, 2337.9), (46.18, 1641.1), (65.31, 3659.0)]  # kg/m, cm4


def draw(dice):
    """One case: section, height, spacing and number of racks, roller or none, length behind the last rack."""
    mass, inertia = dice.choice(SECTIONS)
    racks = dice.randint(2, 9)
    spacing = MESH * dice.randint(60, 180)
    height = round(dice.uniform(0.5, 1.5), 2)
    roller = None
    if dice.random() < 0.5:
        roller = [MESH * dice.randint(40, 140), round(dice.uniform(0.05, 0.45) * height, 3)]
    places = [-spacing * k for k in range(racks)]
    tail = -places[-1] + MESH * dice.randint(1, 60)
    return {"kg_per_m": mass, "ix_cm4": inertia, "height_m": height, "racks_m": places, "roller": roller, "tail_m": tail}


def banded(nodes, stiffness, weight):
    """Stiffness matrix in banded form (half-width 3) and load vector of equal beam elements."""
    size = 2 * nodes
    band = np.zeros((4, size))
    load = np.zeros(size)
    h = MESH
    element = stiffness / h**3 * np.array(
        [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h], [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]]
    )
    force = -weight * h * np.array([0.5, h / 12, 0.5, -h / 12])
    for node in range(nodes - 1):
        at = 2 * node
        load[at : at + 4] += force
        for i in range(4):
            for j in range(i + 1):
                band[i - j, at + j] += element[i, j]
    return band, load


def solve_banded(band, load):
    """Cholesky of a symmetric matrix of half-width 3, lower band; plain loops, numpy rows."""
    size = band.shape[1]
    low = band.copy()
    x = load.copy()
    for j in range(size):
        pivot = low[0, j] = np.sqrt(low[0, j])
        last = min(3, size - 1 - j)
        low[1 : last + 1, j] /= pivot
        for i in range(1, last + 1):
            low[0 : last - i + 1, j + i] -= low[i, j] * low[i : last + 1, j]
        x[j] /= pivot
        x[j + 1 : j + last + 1] -= low[1 : last + 1, j] * x[j]
    for j in range(size - 1, -1, -1):
        last = min(3, size - 1 - j)
        x[j] = (x[j] - low[1 : last + 1, j] @ x[j + 1 : j + last + 1]) / low[0, j]
    return x


def solve(case):
    """Largest hogging moment, largest sagging moment beyond the last support, and the length of the lead."""
    stiffness = MODULUS * case["ix_cm4"] * 1e-8
    weight = case["kg_per_m"] * GRAVITY
    front = -case["tail_m"]
    nodes = round((BEYOND - front) / MESH) + 1
    x = front + MESH * np.arange(nodes)
    supports = [(place, case["height_m"]) for place in case["racks_m"]]
    if case["roller"]:
        supports.append((case["roller"][0], case["height_m"] - case["roller"][1]))
    last = max(place for place, _ in supports)
    bound = np.full(nodes, -np.inf)
    # The seat begins beyond the last support: under the train nothing is in the way.
    bound[x > last + MESH / 2] = 0.0
    for place, level in supports:
        bound[np.argmin(abs(x - place))] = level
    band, load = banded(nodes, stiffness, weight)
    active = np.isfinite(bound) & ((bound > 0) | (x > last + 25.0))
    # The steps of the active set can be long: the multiplier is weighed by a spring of a fitting size.
    spring = 12 * stiffness / MESH**3 * 1e-6
    for _ in range(400):
        fixed, forced = band.copy(), load.copy()
        for node in np.flatnonzero(active):
            k = 2 * node
            for off in range(1, 4):
                if k + off < 2 * nodes:
                    forced[k + off] -= band[off, k] * bound[node]
                    fixed[off, k] = 0.0
                if k - off >= 0:
                    forced[k - off] -= band[off, k - off] * bound[node]
                    fixed[off, k - off] = 0.0
        for node in np.flatnonzero(active):
            fixed[0, 2 * node] = 1.0
            forced[2 * node] = bound[node]
        state = solve_banded(fixed, forced)
        push = multiply(band, state) - load
        wanted = np.isfinite(bound) & (push[0::2] + spring * (np.where(np.isfinite(bound), bound, 0) - state[0::2]) > 0)
        if (wanted == active).all():
            break
        active = wanted
    else:
        return None
    return figures(case, (x, state, active), (stiffness, last))


def multiply(band, state):
    out = band[0] * state
    for off in range(1, 4):
        out[off:] += band[off, :-off] * state[:-off]
        out[:-off] += band[off, :-off] * state[off:]
    return out


def figures(case, solved, known):
    x, state, active = solved
    stiffness, last = known
    w, slope = state[0::2], state[1::2]
    h = MESH
    # Moments at the ends of each element from its own shape, less what its own load adds: exact at the nodes.
    weight = case["kg_per_m"] * GRAVITY
    left = stiffness / h**2 * (6 * (w[1:] - w[:-1]) - h * (4 * slope[:-1] + 2 * slope[1:])) - weight * h * h / 12
    lies = np.flatnonzero(active & (x > last + h / 2))
    carrying = np.flatnonzero(active & (x < last + h / 2))
    if len(lies) == 0 or len(carrying) == 0:
        return None
    outer = carrying[-1]
    beyond = left[outer : lies[0]]
    return {
        "lead_m": float(x[lies[0]] - x[outer]),
        "support_moment_nm": float(left[outer]),
        "sagging_moment_nm": float(max(beyond.max(), 0.0)),
        "carries": [bool(active[np.argmin(abs(x - place))]) for place in case["racks_m"]],
    }


def cases():
    dice = random.Random(SEED)
    found = []
    while len(found) < CASES:
        case = draw(dice)
        solved = solve(case)
        if solved is not None:
            found.append({**case, **solved})
    return found


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--verify", action="store_true")
    if not parser.parse_args().verify:
        FILE.write_text(json.dumps(cases(), indent=1) + "\n")
        return 0
    kept = json.loads(FILE.read_text())
    for old, new in zip(kept, cases(), strict=True):
        for name in ("lead_m", "support_moment_nm", "sagging_moment_nm"):
            if abs(old[name] - new[name]) > 1e-6 * max(1.0, abs(old[name])):
                print(name, old, new)
                return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
