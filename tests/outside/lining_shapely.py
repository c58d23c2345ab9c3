"""Linings beside shapely: lining and facings together cover the shell, and a bagged lining does not lie under its facings.

Usage: python lining_shapely.py LININGS.jsonl (from the example dump_linings). Needs shapely.
What is expected follows from geometry alone. Left bare may be: a strip along the hem, as deep as the lining is shorter there
(25 mm where it hangs free; a hem of 50 mm less a fold of 20 mm where it is sewn to it), and, where a facing lies, the turn of
cloth by which it is drawn in at the edge (2 mm at the most).
"""

import json
import sys

from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

HEM = {"open": 25.0, "bagged": 30.0}
TURN_OF_CLOTH = 2.0
counts = {True: 0, False: 0}


def check(good, what):
    counts[bool(good)] += 1
    if not good:
        print("FAILED", what)


for row in map(json.loads, open(sys.argv[1])):
    name = f"{row['what']}: {row['piece']}"
    shell = Polygon(row["shell"])
    linings = [Polygon(outline) for outline in row["linings"]]
    facings = [Polygon(outline) for outline in row["facings"]]
    check(all(one.is_valid for one in [shell, *linings, *facings]), f"{name}: valid outlines")
    check(len(linings) == 1, f"{name}: one lining lies behind it")
    bare = shell.difference(unary_union(linings + facings))
    for hem in row["hems"]:
        # Square ends, a little wider than the hem: the strip that is cut away ends at the edges beside it.
        strip = LineString(hem).buffer(HEM[row["way"]] + 0.05, cap_style="square")
        bare = bare.difference(strip)
    if row["way"] == "open":
        check(bare.area < 1.0, f"{name}: {bare.area:.2f} mm² are bare")
        continue
    bare = bare.difference(shell.boundary.buffer(TURN_OF_CLOTH))
    check(bare.area < 1.0, f"{name}: {bare.area:.2f} mm² are bare under lining and facing")
    double = unary_union(linings).intersection(unary_union(facings)) if facings else Polygon()
    check(double.area < 1.0, f"{name}: {double.area:.2f} mm² of the lining lie under a facing")
    beyond = unary_union(linings).difference(shell.buffer(0.05))
    check(beyond.area < 1.0, f"{name}: {beyond.area:.2f} mm² of the lining lie beyond the shell")

print(f"linings beside shapely: {counts[True]} passed, {counts[False]} failed")
sys.exit(counts[False] != 0 or counts[True] == 0)
