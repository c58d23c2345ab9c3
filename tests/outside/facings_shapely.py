"""Facings beside shapely: bands measured and buffered by another program.

Usage: python facings_shapely.py FACINGS.jsonl (from the example dump_facings). Needs shapely.
What is expected follows from geometry alone: every place of the free edge lies at the width from the shell's edge as it is sewn
(mirrored at the fold); the band is what the buffer of that edge covers; the sewn edge is drawn in by the turn of cloth, here twice
the thickness of shell and facing, 2 x (0.57 + 0.32) mm. Wider places are allowed only where two sides of the garment meet at a
curved seam, and within the hollow of a facing for neck and armhole in one.
"""

import json
import sys

from shapely import affinity
from shapely.geometry import MultiLineString, Point, Polygon
from shapely.ops import unary_union

UNDER_CUT = 1.78
counts = {True: 0, False: 0}


def check(good, what):
    counts[bool(good)] += 1
    if not good:
        print("FAILED", what)


def mirrored(lines, fold):
    """The lines and their mirror images in the fold, which is straight."""
    (x0, y0), (x1, y1) = fold[0][0], fold[0][-1]
    length2 = (x1 - x0) ** 2 + (y1 - y0) ** 2
    c = ((x1 - x0) ** 2 - (y1 - y0) ** 2) / length2
    s = 2 * (x1 - x0) * (y1 - y0) / length2
    image = [c, s, s, -c, x0 - c * x0 - s * y0, y0 - s * x0 + c * y0]
    return unary_union([lines, affinity.affine_transform(lines, image)])


def places(line, count=200):
    return [line.interpolate(k / count, normalized=True) for k in range(count + 1)]


for row in map(json.loads, open(sys.argv[1])):
    name, width = row["name"], row["width"]
    outline = Polygon(row["outline"])
    check(outline.is_valid and outline.area > 0, f"{name}: a simple outline")
    sewn = MultiLineString(row["inner"])
    free = MultiLineString(row["outer"])
    around = mirrored(sewn, row["fold"]) if row["fold"] else sewn
    wanted = width - UNDER_CUT
    away = [around.distance(place) for line in free.geoms for place in places(line)]
    check(min(away) > wanted - 0.1, f"{name}: {min(away):.3f} mm wide at least, asked {wanted:.2f}")
    if not row["in_one"]:
        most = 0.3 if row["joined"] or "waist" in name else 0.1
        check(max(away) < wanted + most, f"{name}: {max(away):.3f} mm wide at most, asked {wanted:.2f}")
        band = around.buffer(wanted + most, quad_segs=256)
        check(outline.difference(band).area < 0.5, f"{name}: {outline.difference(band).area:.2f} mm² beyond the band")
    if row["shell"]:
        shell = MultiLineString(row["shell"])
        whole = mirrored(shell, row["fold"]) if row["fold"] else shell
        off = [whole.distance(place) for line in sewn.geoms for place in places(line)]
        check(max(abs(one - UNDER_CUT) for one in off) < 0.05, f"{name}: drawn in by {min(off):.3f} to {max(off):.3f} mm")
        nearest = min(whole.distance(Point(place)) for line in row["outer"] for place in line)
        check(abs(nearest - width) < 0.1, f"{name}: {nearest:.3f} mm from the shell's edge, asked {width}")

print(f"facings beside shapely: {counts[True]} passed, {counts[False]} failed")
sys.exit(counts[False] != 0 or counts[True] == 0)
