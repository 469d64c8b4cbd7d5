"""Random trains solved by a general-purpose frame library, to check the program's statics against.

    python make_cases.py            solve all cases and write cases.json beside this script
    python make_cases.py --verify   solve them again and compare with cases.json; exit code 1 where they differ

The library (see requirements.txt) does all the mechanics here; nothing is taken from the program.

* A string is a frame member over point supports. Its supports can only push: the library's own one-way
  support springs find which of them carry; those are then made rigid and the string is solved again. The
  library's reactions and deflections must then show no pulling and no sinking, else the set is mended by them.
* A wagon with a stiff body is a bar of very large torsional stiffness on two equal springs against roll. With a soft body every lane is a beam of its own over
  the two pivots, and hands its two reactions to the bogies at its own place across.
* A bogie is a stiff frame on one equal spring per wheel.

All lengths in m, forces in N, except inputs in the file (mm, kg). x runs rearward, z to the right, y up.
"""

import argparse
import json
import pathlib
import random
import sys
import warnings

from Pynite import FEModel3D

warnings.filterwarnings("ignore")

SEED = 20_250
CASES = 252
WANTED_LIFT_OFF = 126
GRAVITY = 9.80665
MODULUS = 210e9
ROLL_SPRING = 1.0e6  # N m/rad: any value that is small beside the body's torsional stiffness
WHEEL_SPRING = 1.0e6  # N/m: any value that is small beside the bogie frame's stiffness
COMBO = "Combo 1"
FILE = pathlib.Path(__file__).with_name("cases.json")
SECTIONS = [(60.21, 3038.3), (54.77, 2337.9), (46.18, 1641.1), (65.31, 3659.0)]  # kg/m, cm4


def model(second_moment, torsion=1.0e-2, modulus=MODULUS):
    frame = FEModel3D()
    frame.add_material("steel", modulus, modulus, 0.3, 0.0)
    frame.add_section("bar", 1.0e-2, second_moment, second_moment, torsion)
    return frame


def analyse(frame):
    frame.analyze_linear(check_statics=False, check_stability=False)
    return frame


# ---- strings -------------------------------------------------------------------------------------------


def string_frame(string, supports, carrying, one_way):
    """The string with nodes at its tips and at all supports; those in `carrying` push, or may pull as well."""
    front, rear = string["front_mm"] / 1000, (string["front_mm"] + string["length_mm"]) / 1000
    frame = model(string["ix_cm4"] * 1e-8)
    places = sorted({front, rear, *supports})
    names = {x: f"N{i}" for i, x in enumerate(places)}
    for x, name in names.items():
        frame.add_node(name, x, 0, 0)
        rigid = x in carrying and not one_way
        # Bending in the upright plane only; one node holds it lengthwise.
        frame.def_support(name, x == places[0], rigid, True, True, True, False)
        if x in carrying and one_way:
            frame.def_support_spring(name, "DY", 1.0e9, "-")
    load = string["kg_per_m"] * GRAVITY
    for i, (a, b) in enumerate(zip(places, places[1:])):
        frame.add_member(f"M{i}", names[a], names[b], "steel", "bar")
        frame.add_member_dist_load(f"M{i}", "FY", -load, -load)
    return frame, names


def solve_string(string, supports):
    """Reaction of each support in N, none pulling, by the library."""
    weight = string["kg_per_m"] * string["length_mm"] / 1000 * GRAVITY
    carrying = set(supports)
    frame, names = string_frame(string, supports, carrying, one_way=True)
    try:
        frame.analyze(check_statics=False, check_stability=False)
        pushed = {x for x in supports if frame.nodes[names[x]].DY[COMBO] < 0}
        carrying = pushed if len(pushed) >= 2 else carrying
    except Exception as error:  # The library's own iteration may not settle: the loop below does it then.
        if "did not converge" not in str(error) and "diverged" not in str(error).lower():
            raise
    for _ in range(100):
        frame, names = string_frame(string, supports, carrying, one_way=False)
        analyse(frame)
        reaction = {x: frame.nodes[names[x]].RxnFY[COMBO] for x in carrying}
        height = {x: frame.nodes[names[x]].DY[COMBO] for x in supports if x not in carrying}
        pulling = min(carrying, key=reaction.get)
        sinking = min(height, key=height.get, default=None)
        if reaction[pulling] < -1e-9 * weight:
            carrying = carrying - {pulling}
        elif sinking is not None and height[sinking] < -1e-12:
            carrying = carrying | {sinking}
        else:
            return [max(reaction.get(x, 0.0), 0.0) for x in supports]
    raise SystemExit("no contact set found")


# ---- wagons --------------------------------------------------------------------------------------------


def bar(frame, places, along):
    """Nodes at the growing places along an axis ("x" or "z") with members between; its load function.

    Loads go onto the members, not onto nodes of their own, so that no member is so short that rounding shows.
    """
    for i, place in enumerate(places):
        frame.add_node(f"{along}{i}", *((place, 0, 0) if along == "x" else (0, 0, place)))
    for i in range(len(places) - 1):
        frame.add_member(f"{along}{i}", f"{along}{i}", f"{along}{i + 1}", "steel", "bar")

    def load(direction, force, at):
        i = max(0, min(sum(place <= at for place in places), len(places) - 1) - 1)
        frame.add_member_pt_load(f"{along}{i}", direction, force, at - places[i])

    return load


def stiff_body(vehicle, loads):
    """Force and side moment that a stiff body puts on each support; loads are (x from middle, z, N)."""
    half, reach = vehicle["support_mm"] / 2000, vehicle["length_mm"] / 2000
    frame = model(1.0e-3, torsion=1.0e2)
    load = bar(frame, [-reach, -half, half, reach], "x")
    for x, z, force in loads:
        load("FY", -force, x)
        load("MX", force * z, x)
    for name, fixed in (("x1", True), ("x2", False)):
        frame.def_support(name, fixed, True, True, False, True, False)
        frame.def_support_spring(name, "RX", ROLL_SPRING)
    analyse(frame)
    nodes = [frame.nodes["x1"], frame.nodes["x2"]]
    return [(node.RxnFY[COMBO], ROLL_SPRING * node.RX[COMBO]) for node in nodes]


def lever_beam(vehicle, loads):
    """Reactions over the two pivots of a beam with loads (x from middle, N)."""
    half, reach = vehicle["support_mm"] / 2000, vehicle["length_mm"] / 2000
    frame = model(1.0e-3)
    load = bar(frame, [-reach, -half, half, reach], "x")
    for x, force in loads:
        load("FY", -force, x)
    frame.def_support("x1", True, True, True, True, True, False)
    frame.def_support("x2", False, True, True, True, True, False)
    analyse(frame)
    return [frame.nodes[name].RxnFY[COMBO] for name in ("x1", "x2")]


def wheels(vehicle, forces, moment):
    """Wheel loads [left, right] of every axle of a bogie; forces are (z, N), moment in N m at its centre."""
    half, axles = vehicle["contact_mm"] / 2000, vehicle["axles"]
    frame = model(1.0e1, torsion=1.0e1)
    load = bar(frame, [-1.6, -half, 0.0, half, 1.6], "z")
    for z, force in forces:
        load("FY", -force, z)
    frame.add_node_load("z2", "MX", moment)
    spread = vehicle["bogie_wheelbase_mm"] / 1000
    stands = [[], []]
    for stand, middle, side in zip(stands, ("z1", "z3"), (-half, half)):
        for k in range(axles):
            x = spread * (k / (axles - 1) - 0.5) if axles > 1 else 0.0
            name = middle
            if abs(x) > 1e-9:
                name = f"{middle} wheel {k}"
                frame.add_node(name, x, 0, side)
                frame.add_member(name, middle, name, "steel", "bar")
            frame.def_support_spring(name, "DY", WHEEL_SPRING)
            stand.append(name)
    frame.def_support("z2", True, False, True, False, True, axles == 1)
    analyse(frame)
    return [[-WHEEL_SPRING * frame.nodes[stand[k]].DY[COMBO] for stand in stands] for k in range(axles)]


def solve_vehicle(vehicle, loads):
    """Support, axle and wheel loads under both assumptions; loads are (x from middle as it stands, z, N)."""
    turn = -1 if vehicle["turned"] else 1
    tare, pivots = vehicle["tare_kg"], vehicle["support_mm"] / 1000
    front = vehicle["tare_front_kg"] if vehicle["tare_front_kg"] is not None else tare / 2
    centre = (turn * (tare / 2 - front) / tare * pivots, turn * vehicle["tare_y_mm"] / 1000)
    loads = [*loads, (*centre, tare * GRAVITY)]
    stiff = [wheels(vehicle, [(0.0, force)], moment) for force, moment in stiff_body(vehicle, loads)]
    ends = ([], [])
    for z in sorted({z for _, z, _ in loads}):
        for end, force in zip(ends, lever_beam(vehicle, [(x, f) for x, at, f in loads if at == z])):
            end.append((z, force))
    soft = [wheels(vehicle, forces, 0.0) for forces in ends]
    return {"support_n": [sum(map(sum, bogie)) for bogie in stiff], "stiff_n": stiff, "soft_n": soft}


# ---- cases ---------------------------------------------------------------------------------------------


def racks_of(case):
    """(vehicle, x in the train mm, x from its middle mm, lanes mm) of every rack as it stands."""
    racks, start = [], 0
    for index, vehicle in enumerate(case["vehicles"]):
        turn = -1 if vehicle["turned"] else 1
        lanes = sorted(turn * y for y in case["lanes_mm"])
        for at in sorted(turn * at for at in vehicle["racks_mm"]):
            racks.append((index, start + vehicle["length_mm"] // 2 + at, at, lanes))
        start += vehicle["length_mm"]
    return racks


def random_vehicle(rng, plain):
    axles = 2 if plain else rng.choice([1, 2, 2, 3])
    length = {1: rng.randrange(9000, 14001, 2), 2: rng.randrange(14000, 21001, 2), 3: rng.randrange(16000, 23001, 2)}[axles]
    half = length // 2 - 300
    count = rng.choice([2, 3, 3, 4])
    while True:
        racks = sorted(rng.randrange(-half, half + 1) for _ in range(count))
        if rng.random() < 0.3:
            step = rng.randrange(1500, 2 * half // (count - 1) + 1)
            racks = [round(step * (k - (count - 1) / 2)) for k in range(count)]
        if all(b - a >= 500 for a, b in zip(racks, racks[1:])):
            break
    tare = rng.randrange(9000, 30001)
    uneven = not plain and rng.random() < 0.5
    return {
        "length_mm": length,
        "axles": axles,
        "support_mm": 2 * rng.randrange(length * 28 // 100, length * 37 // 100),
        "bogie_wheelbase_mm": {1: 0, 2: rng.randrange(1700, 2101), 3: rng.randrange(3000, 4001)}[axles],
        "contact_mm": rng.choice([1500, 1500, 1120, 1740]),
        "tare_kg": tare,
        "tare_front_kg": round(tare * rng.uniform(0.4, 0.6)) if uneven else None,
        "tare_y_mm": rng.randrange(-60, 61) if uneven else 0,
        "racks_mm": racks,
        "turned": not plain and rng.random() < 0.4,
    }


def random_string(rng, case, racks):
    length = sum(vehicle["length_mm"] for vehicle in case["vehicles"])
    while True:
        front, rear = sorted(rng.randrange(0, length + 1) for _ in range(2))
        if rng.random() < 0.15:
            front = rng.choice(racks)[1]  # An end exactly at a rack.
        crossed = [x for _, x, _, _ in racks if front <= x <= rear]
        centre = (front + rear) / 2
        if rear - front > 4000 and len(crossed) >= 2 and crossed[0] + 50 < centre < crossed[-1] - 50:
            break
    kg_per_m, ix_cm4 = rng.choice(SECTIONS)
    lane = rng.randrange(1, len(case["lanes_mm"]) + 1)
    return {"front_mm": front, "length_mm": rear - front, "lane": lane, "kg_per_m": kg_per_m, "ix_cm4": ix_cm4}


def random_case(rng):
    plain = rng.random() < 0.35
    case = {
        "lanes_mm": sorted(rng.sample(range(-1300, 1301, 50), rng.randrange(2, 7))),
        "vehicles": [random_vehicle(rng, plain) for _ in range(rng.randrange(2, 5))],
    }
    racks = racks_of(case)
    case["strings"] = [random_string(rng, case, racks) for _ in range(rng.randrange(1, 4))]
    for string in case["strings"]:
        crossed = [x / 1000 for _, x, _, _ in racks if string["front_mm"] <= x <= string["front_mm"] + string["length_mm"]]
        string["racks_n"] = solve_string(string, crossed)
    return case


def solve_vehicles(case):
    racks = racks_of(case)
    loads = [[] for _ in case["vehicles"]]
    for string in case["strings"]:
        crossed = [r for r in racks if string["front_mm"] <= r[1] <= string["front_mm"] + string["length_mm"]]
        for (vehicle, _, at, lanes), force in zip(crossed, string["racks_n"]):
            loads[vehicle].append((at / 1000, lanes[string["lane"] - 1] / 1000, force))
    for vehicle, load in zip(case["vehicles"], loads):
        vehicle.update(solve_vehicle(vehicle, load))


def lifts_off(case):
    return any(force == 0.0 for string in case["strings"] for force in string["racks_n"])


def all_cases():
    rng, cases, lifted = random.Random(SEED), [], 0
    while len(cases) < CASES:
        case = random_case(rng)
        # Keep room for the lift-off cases, which are rarer.
        if not lifts_off(case) and len(cases) - lifted >= CASES - WANTED_LIFT_OFF:
            continue
        lifted += lifts_off(case)
        solve_vehicles(case)
        cases.append(case)
    return cases


def rounded(value):
    """Floats to 11 significant digits: far finer than the comparison, and short."""
    if isinstance(value, float):
        return float(f"{value:.11g}")
    if isinstance(value, list):
        return [rounded(item) for item in value]
    if isinstance(value, dict):
        return {key: rounded(item) for key, item in value.items()}
    return value


def differences(path, live, recorded):
    if isinstance(live, float) and isinstance(recorded, (int, float)):
        if abs(live - recorded) > 1e-7 * max(abs(live), 1e3):
            yield f"{path}: {live} now, {recorded} recorded"
    elif isinstance(live, dict) and isinstance(recorded, dict) and live.keys() == recorded.keys():
        for key in live:
            yield from differences(f"{path}.{key}", live[key], recorded[key])
    elif isinstance(live, list) and isinstance(recorded, list) and len(live) == len(recorded):
        for index, pair in enumerate(zip(live, recorded)):
            yield from differences(f"{path}[{index}]", *pair)
    elif live != recorded:
        yield f"{path}: {live} now, {recorded} recorded"


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--verify", action="store_true", help="compare with the recorded results")
    options = parser.parse_args()
    cases = [rounded(case) for case in all_cases()]
    if options.verify:
        found = list(differences("cases", cases, json.loads(FILE.read_text())))
        print("\n".join(found[:20]) or f"{len(cases)} cases agree with the recorded results")
        return 1 if found else 0
    lines = (json.dumps(case, separators=(",", ":")) for case in cases)
    FILE.write_text("[\n" + ",\n".join(lines) + "\n]\n")
    print(f"{len(cases)} cases, {sum(map(lifts_off, cases))} with lift-off")
    return 0


if __name__ == "__main__":
    sys.exit(main())
