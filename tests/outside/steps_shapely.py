"""Slash and spread beside shapely: the pattern cutter's own paper, cut and laid apart by another program.

Usage: python steps_shapely.py SPREADS.jsonl (from the example dump_spreads). Needs shapely.
What is expected follows from geometry alone: the outline is cut along the line, one part stays, the other is moved as a
rigid sheet so that the ends of the line open by what was asked, and the gap between the two copies of the line is filled.
"""

import json
import math
import sys

from shapely.affinity import rotate, translate
from shapely.geometry import LineString, Polygon
from shapely.ops import split

counts = {True: 0, False: 0}


def check(good, what):
    counts[bool(good)] += 1
    if not good:
        print("FAILED", what)


def beyond(start, end, share=0.01):
    """The line, a little longer at both ends, so that it cuts right through."""
    (x0, y0), (x1, y1) = start, end
    dx, dy = (x1 - x0) * share, (y1 - y0) * share
    return LineString([(x0 - dx, y0 - dy), (x1 + dx, y1 + dy)])


def moves(part, start, end, by, by_end):
    """Where the moved part can lie: to either side, its end of the line opened by `by_end`, its start by `by`."""
    length = math.dist(start, end)
    normal = ((end[1] - start[1]) / length, -(end[0] - start[0]) / length)
    for side in (1, -1):
        for turn in (1, -1):
            # A line that opens by `by` at one end and `by_end` at the other has turned by about their difference over its
            # length; chord and angle are exact for a hinge.
            angle = turn * 2 * math.degrees(math.asin((by - by_end) / (2 * length)))
            moved = rotate(part, angle, origin=end)
            yield translate(moved, side * normal[0] * by_end, side * normal[1] * by_end)


for row in map(json.loads, open(sys.argv[1])):
    by, by_end = row["by"], row["by_end"]
    name = f"{row['piece']} by {by} and {by_end}"
    before, after = Polygon(row["before"]), Polygon(row["after"])
    start, end = row["line"]
    length = math.dist(start, end)
    check(before.is_valid and after.is_valid, f"{name}: valid outlines")
    parts = list(split(before, beyond(start, end)).geoms)
    check(len(parts) == 2, f"{name}: the line cuts the piece in two")
    if by < 0:
        # A fold takes a band away along the edges; that is never more than a band square to the line.
        lost = before.area - after.area
        check(0.8 * length * -by < lost <= length * -by + 1, f"{name}: {lost:.2f} mm² folded away of {length * -by:.2f}")
        continue
    if by == by_end:
        gap = length * by
        check(abs(after.area - before.area - gap) < 1, f"{name}: gap {after.area - before.area:.2f}, expected {gap:.2f} mm²")
    elif by_end == 0:
        gap = 0.5 * length**2 * math.sin(2 * math.asin(by / (2 * length)))
        check(abs(after.area - before.area - gap) < 1, f"{name}: gap {after.area - before.area:.2f}, expected {gap:.2f} mm²")
    if by == by_end or by_end == 0:
        off = min(
            still.difference(after).area + min(moved.difference(after).area for moved in moves(other, start, end, by, by_end))
            for still, other in (parts, parts[::-1])
        )
        check(off < 1, f"{name}: one part stays and the other lies whole where it was moved ({off:.2f} mm² do not)")

print(f"slash and spread beside shapely: {counts[True]} passed, {counts[False]} failed")
sys.exit(counts[False] != 0 or counts[True] == 0)
