"""Corners of cutting outlines, folded as they are sewn by another program.

Usage: python corners_shapely.py CORNERS.jsonl (from the example dump_corners). Needs numpy and shapely.

fold: the allowance of the edge that is pressed first (or of a hem) is cut out of the outline, turned over its seam line and laid on
the piece. It must cover the cloth there exactly: no place of it may fall short of the other edge's cutting line, nor stick out
beyond it, by more than 0.05 mm. Where the seam line is curved, paper cannot be turned over it; what its bend takes beside its
tangent is allowed on top.

shape: a four-sided piece whose corner is built here from half planes: a mitre is what lies within both cutting lines, cut off at
2.5 allowances; a squared end stops at right angles where the seam line leaves the other allowance; a mirrored one is as above.
"""

import json
import sys
from collections import Counter

import numpy as np
from shapely.affinity import affine_transform
from shapely.geometry import Polygon, box

FALLS_SHORT = 0.05
MITRE_LIMIT = 2.5
FAR = 1e4

passed, failed, skipped = Counter(), Counter(), Counter()


def check(good, what, where):
    (passed if good else failed)[what] += 1
    if not good:
        print("FAILED", what, "-", where)


def bezier(c, t):
    c = np.asarray(c)
    u = 1 - t
    weights = np.array([u**3, 3 * u * u * t, 3 * u * t * t, t**3]).T
    return weights @ c


def frame(origin, way, outside):
    """Takes the table to a corner's own paper: x along the seam line beyond the corner, y outside."""
    a, b = way
    c, d = outside
    x, y = origin
    return [a, b, c, d, -(a * x + b * y), -(c * x + d * y)]


def folded(region):
    return affine_transform(region, [1, 0, 0, -1, 0, 0])


def apart(one, other):
    if one.is_empty or other.is_empty:
        return np.inf
    return one.hausdorff_distance(other)


def polygons(region):
    """The largest part of a region; slivers of rounding fall away."""
    parts = getattr(region, "geoms", [region])
    parts = [part for part in parts if part.geom_type == "Polygon"]
    return max(parts, key=lambda part: part.area, default=Polygon())


def fold(row):
    kind = "hem" if row["name"].split()[1].find("hem") >= 0 else "seam"
    distance = row["lead_distance"]
    last = np.asarray(row["lead"][-1])
    handle = next((last[3] - last[k] for k in (2, 1, 0) if np.hypot(*(last[3] - last[k])) > 1e-9))
    way = handle / np.hypot(*handle)
    # Outlines run clockwise on a table with y down: outside is on their left.
    outside = np.array([way[1], -way[0]]) * (1 if row["clockwise"] else -1)
    cut = affine_transform(Polygon(row["cut"]), frame(last[3], way, outside))
    window = 3.0
    seam = np.concatenate([bezier(c, np.linspace(0, 1, 400)) for c in row["lead"]]) - last[3]
    along, off = seam @ way, seam @ outside
    strip = lambda low, high: polygons(cut.intersection(box(-window, low, FAR, high)))
    out, inner = strip(0, distance), strip(-distance, 0)
    reach = max(out.bounds[2], inner.bounds[2], 0) if not out.is_empty else 0
    if distance == 0 or row["other_length"] < distance + window or reach > 4 * (distance + row["other_distance"] + window):
        skipped[kind] += 1
        return
    bend = np.max(np.abs(off[along > -(window + reach)]), initial=0)
    if bend > 1.0 or turns_in(cut, distance):
        skipped[kind] += 1
        return
    lies = folded(out)
    allowed = FALLS_SHORT + 2 * bend
    short = max_distance(inner, lies)
    check(short <= allowed, f"{kind}: folded, it falls short nowhere", f"{row['name']}: {short:.3f} mm, {allowed:.3f} allowed")
    beyond = max_distance(lies, inner)
    check(beyond <= allowed, f"{kind}: folded, it sticks out nowhere", f"{row['name']}: {beyond:.3f} mm, {allowed:.3f} allowed")


def turns_in(cut, distance):
    """Whether the corner is hollow: beyond it, the seam line runs in the piece."""
    return cut.buffer(-1e-6).contains(box(2.6 * distance + 1, -1e-3, 2.6 * distance + 2, 1e-3))


def max_distance(one, other):
    """How far the farthest place of one region lies from another."""
    points = np.asarray(one.exterior.coords) if not one.is_empty else np.empty((0, 2))
    from shapely import distance, points as as_points

    return float(np.max(distance(other, as_points(points)), initial=0)) if len(points) else np.inf


def half_plane(start, end, distance):
    """All that lies no farther outside a side than its allowance."""
    start, end = np.asarray(start, float), np.asarray(end, float)
    way = (end - start) / np.hypot(*(end - start))
    outside = np.array([way[1], -way[0]])
    a, b = start - FAR * way + distance * outside, end + FAR * way + distance * outside
    return Polygon([a, b, b - 2 * FAR * outside, a - 2 * FAR * outside])


def shape(row):
    points, distances = row["points"], row["distances"]
    corner = np.asarray(points[1])
    ours = Polygon(row["cut"])
    sides = [half_plane(points[k], points[(k + 1) % 4], distances[k % 2]) for k in range(4)]
    without = sides[1].intersection(sides[2]).intersection(sides[3])
    mitred = without.intersection(sides[0])
    way, outside = np.array([1.0, 0.0]), np.array([0.0, -1.0])
    to_frame = lambda region: affine_transform(region, frame(corner, way, outside))
    inner = to_frame(without).intersection(box(-FAR, -FAR, FAR, 0))
    depth = distances[0]
    # Only the corner in question is looked at.
    near = box(-60, -60, FAR, FAR)
    if row["corner"] == "mitre":
        limit = MITRE_LIMIT * max(distances)
        into = np.asarray(points[2]) - corner
        into = into / np.hypot(*into)
        middle = way - into
        middle = middle / np.hypot(*middle)
        whole = mitred.intersection(half_plane_at(corner + middle * limit, middle))
        theirs = to_frame(whole)
    else:
        leaves = inner.intersection(box(-FAR, -1e-7, FAR, 0)).bounds[2]
        if row["corner"] == "squared":
            outer = box(-FAR, 0, leaves, depth)
        else:
            outer = folded(inner.intersection(box(-FAR, -depth, FAR, 0)))
        theirs = inner.union(outer)
    theirs, ours = polygons(theirs.buffer(1e-7).intersection(near)), polygons(to_frame(ours).intersection(near))
    off = apart(theirs.exterior, ours.exterior)
    check(off < 0.002, f"{row['corner']} corner from half planes", f"{row['tip']}° {distances}: off by {off}")


def half_plane_at(point, outward):
    along = np.array([outward[1], -outward[0]])
    a, b = point - FAR * along, point + FAR * along
    return Polygon([a, b, b - 2 * FAR * outward, a - 2 * FAR * outward])


for text in open(sys.argv[1]):
    row = json.loads(text)
    {"fold": fold, "shape": shape}[row["kind"]](row)

for key in sorted(passed | failed):
    print(f"{key}: {passed[key]} passed, {failed[key]} failed")
for key in sorted(skipped):
    print(f"{key}: {skipped[key]} corners hollow, on folds, bent or too short to be folded by themselves")
enough = passed["hem: folded, it falls short nowhere"] > 100 and passed["seam: folded, it falls short nowhere"] > 200
print(f"corners folded beside shapely: {sum(passed.values())} passed, {sum(failed.values())} failed")
sys.exit(1 if failed or not enough else 0)
