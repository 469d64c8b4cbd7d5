"""Compares the text of a printed sheet with the figures as JSON, and looks whether each page holds something.

Usage: sheets.py PLAN FIGURES.json TEXT PICTURES-PREFIX PAGES
"""
import glob
import json
import re
import sys

SHORT_TON_KG = 2000 * 0.45359237  # NIST SP 811, appendix B.8


def main(plan, figures, text, pictures, pages):
    us_units = "units: UsCustomary" in open(plan, encoding="utf-8").read()
    unit_kg = SHORT_TON_KG if us_units else 1000.0
    states = json.load(open(figures, encoding="utf-8"))["states"][:2]
    printed = open(text, encoding="utf-8").read().split("\f")[: int(pages)]
    assert len(printed) == int(pages), f"{len(printed)} pages of text"

    def mass(kg):
        return f"{kg / unit_kg:.2f}"

    supports = [
        [mass(s["load_kg"]), mass(s["axle_kg"]), mass(s["largest_wheel_kg"]),
         "unlimited" if s["wheel_ratio"] is None else f"{s['wheel_ratio']:.2f}"]
        for state in states for vehicle in state["vehicles"] for s in vehicle["supports"]
    ]
    racks = [mass(rack["total_kg"]) for state in states for rack in state["racks"]]
    told, told_racks = [], []
    for page in printed:
        lines = page.splitlines()
        head = next((line for line in lines if line.strip()), "")
        for line in lines:
            found = re.search(r"(?:front|rear) (bogie|axle)\s+(.*)", line)
            if head.rstrip().endswith("Axle, bogie and wheel loads") and found:
                cells = found[2].replace("%", "").split()
                if len(cells) == 11:
                    bogie = cells[3] if found[1] == "axle" else cells[0]
                    told.append([bogie, cells[3], cells[6], cells[9]])
            found = re.match(r"\s*\S.* rack \d+\s+([\d.]+)\s+([\d.]+)\s", line)
            if head.rstrip().endswith("Rack loads") and found:
                told_racks.append(found[2])
    same(supports, told, "axle, bogie and wheel loads")
    same(racks, told_racks, "rack loads")
    files = sorted(glob.glob(glob.escape(pictures) + "-*.pgm"))
    assert len(files) == int(pages), f"{len(files)} pictures of {pages} pages"
    for file in files:
        share = dark_share(file)
        assert 0.001 < share < 0.6, f"{file}: {share:.4f} of it is dark"


def same(expected, told, what):
    if expected == told:
        return
    for nth, (one, other) in enumerate(zip(expected, told)):
        assert one == other, f"{what}, row {nth + 1}: figures say {one}, the sheet {other}"
    raise AssertionError(f"{what}: {len(expected)} rows in the figures, {len(told)} on the sheet")


def dark_share(file):
    data = open(file, "rb").read()
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+(\d+)\s", data)
    pixels = data[head.end():]
    assert len(pixels) == int(head[1]) * int(head[2]), file
    return sum(1 for pixel in pixels if pixel < 200) / len(pixels)


if __name__ == "__main__":
    main(*sys.argv[1:])
