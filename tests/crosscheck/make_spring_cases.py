"""Random trains on springs solved by minimising their energy, to check the program's model of them.

    python make_spring_cases.py            solve all cases and write spring_cases.json beside this script
    python make_spring_cases.py --verify   solve them again and compare; exit code 1 where they differ

Nothing is taken from the program, and the way is another one. A string is a chain of cubic beam elements from
node to node (racks and tips), each node with a height and a slope. A wagon is the heights of its two supports,
its roll and, where its frame bends, the rise of its middle. The energy of all beams, springs and weights
together is minimised under the conditions that no string lies lower than a rack under it: a quadratic programme,
solved by pivoting on the conditions that hold with equality. Each solution is then tested by what makes it the
only one: no rack pulls, no string sinks into a rack, a rack with a gap carries nothing.

Lengths in m, forces in N, except inputs in the file (mm, kg). x runs rearward, y to the right, heights up.
"""

import json
import math
import pathlib
import random
import sys

import numpy as np

SEED = 31_415
CASES = 120
GRAVITY = 9.80665
MODULUS = 210e9
FILE = pathlib.Path(__file__).with_name("spring_cases.json")
SECTIONS = [(60.21, 3038.3), (54.77, 2337.9), (46.18, 1641.1)]  # kg/m, cm4


def random_case(rng):
    lanes = sorted(rng.sample(range(-1200, 1201, 50), 6))
    vehicles = []
    for _ in range(rng.randint(2, 6)):
        length = rng.randint(15_000, 21_000)
        support = rng.randint(length * 6 // 10, length * 8 // 10)
        count = rng.randint(2, 4)
        racks = [round((i / (count - 1) - 0.5) * length * 0.72) + rng.randint(-400, 400) for i in range(count)]
        vehicles.append({
            "length_mm": 2 * (length // 2),
            "support_mm": 2 * (support // 2),
            "racks_mm": racks,
            "offsets_mm": [round(rng.uniform(-12, 12), 1) if rng.random() < 0.5 else 0.0 for _ in racks],
            "height_mm": round(rng.uniform(-15, 15), 1),
            "turned": rng.random() < 0.4,
            "front_n_per_m": round(rng.uniform(1e6, 8e6)),
            "rear_n_per_m": round(rng.uniform(1e6, 8e6)),
            "roll_nm_per_rad": round(rng.uniform(1e6, 8e6)),
            "frame_n_per_m": round(rng.uniform(3e6, 4e7)) if rng.random() < 0.5 else None,
        })
    total = sum(vehicle["length_mm"] for vehicle in vehicles)
    racks = places(vehicles)
    strings = []
    for tier in range(rng.randint(2, 8)):
        length = rng.randint(min(14_000, total * 2 // 3), total - 1_000)
        front = rng.randint(200, total - length - 200)
        inside = [rack["x"] for rack in racks if front / 1000 <= rack["x"] <= (front + length) / 1000]
        centre = (front + length / 2) / 1000
        if len(inside) < 2 or not inside[0] < centre - 0.5 < centre + 0.5 < inside[-1]:
            continue
        mass, inertia = rng.choice(SECTIONS)
        strings.append({"front_mm": front, "length_mm": length, "lane": rng.randint(1, 6),
                        "kg_per_m": mass, "ix_cm4": inertia})
    return {"lanes_mm": lanes, "vehicles": vehicles, "strings": strings}


def places(vehicles):
    """All racks from the front: x, vehicle, place from its middle, height when empty."""
    found, front = [], 0.0
    for number, vehicle in enumerate(vehicles):
        middle = front + vehicle["length_mm"] / 2000
        sign = -1 if vehicle["turned"] else 1
        own = sorted((sign * at / 1000, offset / 1000)
                     for at, offset in zip(vehicle["racks_mm"], vehicle["offsets_mm"]))
        for at, offset in own:
            found.append({"x": middle + at, "vehicle": number, "at": at,
                          "height": offset + vehicle["height_mm"] / 1000})
        front += vehicle["length_mm"] / 1000
    return found


def wagon_parts(vehicle):
    """Half the support distance, and the rates as the vehicle stands."""
    rates = [vehicle["front_n_per_m"], vehicle["rear_n_per_m"]]
    return vehicle["support_mm"] / 2000, rates[::-1] if vehicle["turned"] else rates


def rise_row(vehicle, at, y):
    """How a rack follows front support, rear support, roll, and middle of the frame."""
    half, _ = wagon_parts(vehicle)
    if abs(at) <= half:
        bend = math.sin(math.pi * (at + half) / (2 * half))
    else:
        bend = -math.pi / (2 * half) * (abs(at) - half)
    return [0.5 - at / (2 * half), 0.5 + at / (2 * half), y, bend]


def solve(case):
    vehicles, racks = case["vehicles"], places(case["vehicles"])
    size = 4 * len(vehicles)
    blocks, rows, heights, owners = [], [], [], []
    for number, string in enumerate(case["strings"]):
        front, rear = string["front_mm"] / 1000, (string["front_mm"] + string["length_mm"]) / 1000
        crossed = [i for i, rack in enumerate(racks) if front <= rack["x"] <= rear]
        nodes = sorted({front, rear, *(racks[i]["x"] for i in crossed)})
        blocks.append((number, nodes, size))
        for i in crossed:
            vehicle = vehicles[racks[i]["vehicle"]]
            lanes = sorted(-y for y in case["lanes_mm"]) if vehicle["turned"] else case["lanes_mm"]
            y = lanes[string["lane"] - 1] / 1000
            row = {size + 2 * nodes.index(racks[i]["x"]): 1.0}
            for k, part in enumerate(rise_row(vehicle, racks[i]["at"], y)):
                row[4 * racks[i]["vehicle"] + k] = -part
            rows.append(row)
            heights.append(racks[i]["height"])
            owners.append((number, i))
        size += 2 * len(nodes)
    stiffness, load = np.zeros((size, size)), np.zeros(size)
    for number, vehicle in enumerate(vehicles):
        _, (front_rate, rear_rate) = wagon_parts(vehicle)
        frame = vehicle["frame_n_per_m"]
        rates = [front_rate, rear_rate, 2 * vehicle["roll_nm_per_rad"], frame if frame else 1e30]
        for k, rate in enumerate(rates):
            stiffness[4 * number + k, 4 * number + k] = rate
    for number, nodes, first in blocks:
        string = case["strings"][number]
        bending, weight = MODULUS * string["ix_cm4"] * 1e-8, string["kg_per_m"] * GRAVITY
        for k, (a, b) in enumerate(zip(nodes, nodes[1:])):
            l, at = b - a, slice(first + 2 * k, first + 2 * k + 4)
            stiffness[at, at] += bending / l**3 * np.array([
                [12, 6 * l, -12, 6 * l], [6 * l, 4 * l * l, -6 * l, 2 * l * l],
                [-12, -6 * l, 12, -6 * l], [6 * l, 2 * l * l, -6 * l, 4 * l * l]])
            load[at] -= weight * l / 12 * np.array([6, l, 6, -l])
    conditions = np.zeros((len(rows), size))
    for i, row in enumerate(rows):
        for column, value in row.items():
            conditions[i, column] = value
    forces = minimise(stiffness, load, conditions, np.array(heights))
    return forces, owners, racks


def minimise(stiffness, load, conditions, heights):
    """Forces of the conditions `conditions @ v >= heights` at the least energy."""
    held = np.ones(len(heights), dtype=bool)
    scale = np.sqrt(np.abs(np.diag(stiffness)))
    for attempt in range(2_000):
        active = conditions[held]
        count, size = len(active), len(load)
        # Scaled, so that the rigid frames' large stiffness does not spoil the digits.
        matrix = np.zeros((size + count, size + count))
        matrix[:size, :size] = stiffness / scale[:, None] / scale[None, :]
        matrix[:size, size:] = -(active / scale[None, :]).T
        matrix[size:, :size] = active / scale[None, :]
        right = np.concatenate([load / scale, heights[held]])
        solution, *_ = np.linalg.lstsq(matrix, right, rcond=1e-15)
        moved, forces = solution[:size] / scale, np.zeros(len(heights))
        forces[held] = solution[size:]
        gaps = conditions @ moved - heights
        balanced = np.abs(matrix @ solution - right).max() < 1e-7 * np.abs(right).max()
        pulling = [i for i in range(len(heights)) if held[i] and forces[i] < -1e-7]
        sinking = [i for i in range(len(heights)) if not held[i] and gaps[i] < -1e-11]
        if balanced and not pulling and not sinking:
            return forces
        wrong = pulling + sinking
        if not wrong:
            raise ArithmeticError("no balance")
        # All at once at first, then one by one, which ends for certain.
        for i in wrong if attempt < 15 and balanced else [max(wrong)]:
            held[i] = not held[i]
    raise ArithmeticError("no contact found")


def solved(case):
    forces, owners, racks = solve(case)
    for string in case["strings"]:
        string["racks_n"] = []
    supports = [[0.0, 0.0] for _ in case["vehicles"]]
    for force, (number, rack) in zip(forces, owners):
        case["strings"][number]["racks_n"].append(round(float(force), 5))
        half, _ = wagon_parts(case["vehicles"][racks[rack]["vehicle"]])
        part = racks[rack]["at"] / (2 * half)
        supports[racks[rack]["vehicle"]][0] += force * (0.5 - part)
        supports[racks[rack]["vehicle"]][1] += force * (0.5 + part)
    for vehicle, own in zip(case["vehicles"], supports):
        vehicle["support_n"] = [round(float(force), 5) for force in own]
    return case


def cases():
    rng, found = random.Random(SEED), []
    while len(found) < CASES:
        case = random_case(rng)
        if not case["strings"]:
            continue
        try:
            found.append(solved(case))
        except ArithmeticError as error:
            print("left out:", error, file=sys.stderr)
    return found


def numbers(value):
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        return [number for item in value for number in numbers(item)]
    return [float(value or 0)]


def main():
    found = cases()
    lifted = sum(0.0 in string["racks_n"] for case in found for string in case["strings"])
    print(f"{len(found)} trains, {sum(len(c['strings']) for c in found)} strings, {lifted} that lift off somewhere")
    if "--verify" in sys.argv:
        kept = json.loads(FILE.read_text())
        worst = max(abs(a - b) for a, b in zip(numbers(kept), numbers(found), strict=True))
        print(f"largest difference {worst:.2e}")
        sys.exit(worst > 1e-2)
    lines = ",\n".join(json.dumps(case, separators=(",", ":")) for case in found)
    FILE.write_text(f"[\n{lines}\n]\n")


if __name__ == "__main__":
    main()
