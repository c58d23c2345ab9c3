"""The verifier of lays beside shapely: thousands of random lays, legal and not.

Usage: python lays_shapely.py LAYS.jsonl (from the example dump_lays). Needs shapely.
What is expected is computed here from outlines, turns and places alone: every piece is put down by shapely's affinities,
every two are intersected, and the thickness of each part (twice its area over its girth) is compared with the tolerance.
Where a thickness lies within a thousandth of the tolerance of it, either answer is right.
"""

import json
import sys

from shapely.affinity import rotate, scale, translate
from shapely.geometry import Polygon

counts = {True: 0, False: 0}
lays = {"legal": 0, "illegal": 0}


def check(good, what):
    counts[bool(good)] += 1
    if not good:
        print("FAILED", what)


def put(piece):
    outline = Polygon(piece["outline"])
    if piece["mirrored"]:
        outline = scale(outline, -1, 1, origin=(0, 0))
    return translate(rotate(outline, piece["degrees"], origin=(0, 0)), *piece["place"])


def thickness(one, other):
    """The greatest thickness of what two outlines have in common, and its area."""
    common = one.intersection(other)
    parts = [part for part in getattr(common, "geoms", [common]) if part.geom_type == "Polygon" and part.length > 0]
    return max((2 * part.area / part.length for part in parts), default=0), sum(part.area for part in parts)


for number, lay in enumerate(map(json.loads, open(sys.argv[1]))):
    near = lay["tolerance"] * 1e-3
    wrong = lay["wrong"]
    check(not any("other" in one for one in wrong), f"lay {number}: {wrong}")
    lays["illegal" if wrong else "legal"] += 1
    pieces = [put(piece) for piece in lay["pieces"]]
    said = {tuple(one["overlap"]): one for one in wrong if "overlap" in one}
    flawed = {tuple(one["on_flaw"]): one for one in wrong if "on_flaw" in one}
    outside = {one["outside"]: one["by"] for one in wrong if "outside" in one}
    off_fold = {one["off_fold"] for one in wrong if "off_fold" in one}
    for at, piece in enumerate(pieces):
        for other in range(at + 1, len(pieces)):
            depth, area = thickness(piece, pieces[other])
            told = said.get((at, other))
            if abs(depth - lay["tolerance"]) > near:
                check((told is not None) == (depth > lay["tolerance"]), f"lay {number}: {at} and {other}, {depth} thick, {told}")
            if told is not None:
                check(abs(told["area"] - area) <= 1e-6 * max(1, area), f"lay {number}: {told['area']} instead of {area}")
        for flaw, outline in enumerate(lay["flaws"]):
            depth, _ = thickness(piece, Polygon(outline))
            if abs(depth - lay["tolerance"]) > near:
                check(((at, flaw) in flawed) == (depth > lay["tolerance"]), f"lay {number}: {at} on flaw {flaw}, {depth} thick")
        x0, y0, x1, y1 = piece.bounds
        by = max(-x0, -y0, x1 - lay["length"], y1 - lay["width"])
        if abs(by - lay["tolerance"]) > near:
            check((at in outside) == (by > lay["tolerance"]), f"lay {number}: {at} sticks out by {by}")
        if at in outside:
            check(abs(outside[at] - by) < 1e-9, f"lay {number}: {at} sticks out by {by}, not {outside[at]}")
        if lay["pieces"][at]["pinned"] and abs(abs(y0) - lay["tolerance"]) > near:
            check((at in off_fold) == (abs(y0) > lay["tolerance"]), f"lay {number}: {at} lies {y0} off the fold")

check(lays["legal"] > 300 and lays["illegal"] > 300, f"too few of a kind: {lays}")
print(f"lays beside shapely: {lays}, {counts[True]} passed, {counts[False]} failed")
sys.exit(counts[False] != 0 or counts[True] == 0)
