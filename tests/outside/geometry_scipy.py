"""Curves and outlines against other libraries.

The crate's example `dump_random SEED COUNT` prints random curves and what it computes of them; here the same is computed
by scipy (adaptive quadrature QUADPACK, root finding) and by shapely (the GEOS library: buffers, offset curves, crossings,
centroids, largest inscribed circles), and compared. Needs numpy, scipy and shapely.

    cargo run --release -p geometry --example dump_random 1 40 | python3 tests/outside/geometry_scipy.py
"""

import collections
import json
import math
import sys

import numpy as np
import scipy.integrate
import scipy.optimize
import shapely

FINE = 0.0005  # mm that straight lines between dense points stray
TOLERANCE = 0.001  # mm, what the crate was asked for

passed = collections.Counter()
failed = collections.Counter()


def check(name, reference, good, told=""):
    key = f"{name} ({reference})"
    (passed if good else failed)[key] += 1
    if not good and failed[key] <= 5:
        print(f"FAILED {key}: {told}")


def bezier(cubic, t):
    p = np.asarray(cubic)
    t = np.atleast_1d(t)[:, None]
    return (1 - t) ** 3 * p[0] + 3 * (1 - t) ** 2 * t * p[1] + 3 * (1 - t) * t**2 * p[2] + t**3 * p[3]


def slope(cubic, t):
    p = np.asarray(cubic)
    t = np.atleast_1d(t)[:, None]
    d = 3 * np.diff(p, axis=0)
    return (1 - t) ** 2 * d[0] + 2 * (1 - t) * t * d[1] + t**2 * d[2]


def arc(cubic, t=1.0):
    (ax, ay), (bx, by), (cx, cy) = (3 * np.diff(np.asarray(cubic), axis=0)).tolist()

    def speed(u):
        p, q, r = (1 - u) ** 2, 2 * (1 - u) * u, u * u
        return math.hypot(p * ax + q * bx + r * cx, p * ay + q * by + r * cy)

    return scipy.integrate.quad(speed, 0, t, epsabs=1e-10, epsrel=1e-12, limit=200)[0]


def swept(cubic):
    def integrand(t):
        (x, y), (dx, dy) = bezier(cubic, t)[0], slope(cubic, t)[0]
        return (x * dy - y * dx) / 2

    return scipy.integrate.quad(integrand, 0, 1, epsabs=1e-9, epsrel=1e-12)[0]


def place(cubics, lengths, along):
    for cubic, length in zip(cubics, lengths):
        if along <= length:
            t = scipy.optimize.brentq(lambda u: arc(cubic, u) - along, 0, 1, xtol=1e-13)
            return bezier(cubic, t)[0]
        along -= length
    return bezier(cubics[-1], 1.0)[0]


def dense(cubics, count=500):
    """Evenly in the parameter; chords of a 100 mm segment are then 0.2 mm and stray 0.0001 mm at a radius of 50 mm."""
    t = np.linspace(0, 1, count + 1)
    parts = [bezier(cubic, t if k == 0 else t[1:]) for k, cubic in enumerate(cubics)]
    return np.concatenate(parts)


def some(points, most=400):
    """Every so-manieth point, as many as are worth their time."""
    points = np.asarray(points)
    return shapely.points(points[:: len(points) // most + 1])


def check_curve(row):
    cubics = row["cubics"]
    lengths = [arc(cubic) for cubic in cubics]
    off = abs(sum(lengths) - row["length"])
    check("arc length", "scipy quad", off < 1e-6, f"off by {off}")
    off = abs(sum(map(swept, cubics)) - row["area_share"])
    check("swept area", "scipy quad", off < 1e-6, f"off by {off}")
    for along, x, y in row["places"]:
        off = np.hypot(*(place(cubics, lengths, along) - (x, y)))
        check("point at a length", "scipy brentq of quad", off < 1e-6, f"off by {off}")
    points = dense(cubics)
    line = shapely.LineString(points)
    for offset in row["offsets"]:
        check_offset(line, points, offset)


def check_offset(line, points, offset):
    distance = offset["distance"]
    # y points down here and up there: left and right change places.
    beside = line.offset_curve(-distance, join_style="mitre", mitre_limit=10)
    if offset["points"] is None:
        # The region beside the curve lies wholly within the distance of some of it.
        check("offset that vanishes", "shapely offset_curve", beside.length < distance, f"{beside.length} mm left")
        return
    ours = shapely.LineString(offset["points"])
    check("offset is simple", "shapely is_simple", ours.is_simple, f"{distance} beside {points[0]}")
    here = some(offset["points"])
    off = np.max(np.abs(shapely.distance(line, here) - abs(distance)))
    check("offset keeps its distance", "shapely distance", off < 2.1 * TOLERANCE, f"off by {off} at {distance}")
    if beside.geom_type == "LineString":
        # The ends where a curve is hollower than the distance are cut differently; between them the two agree.
        ends = [shapely.Point(points[0]), shapely.Point(points[-1])]
        theirs = some(shapely.get_coordinates(beside))
        free = np.min([shapely.distance(end, theirs) for end in ends], axis=0) > abs(distance) + 0.01
        # GEOS smooths hollows first; only what is really at the distance counts.
        free &= np.abs(shapely.distance(line, theirs) - abs(distance)) < TOLERANCE
        off = np.max(shapely.distance(ours, theirs[free]), initial=0)
        check("offset leaves nothing out", "shapely offset_curve", off < 3 * TOLERANCE, f"off by {off} at {distance}")


def check_crossing(row):
    a, b = (shapely.LineString(dense(row[key])) for key in "ab")
    theirs = shapely.get_coordinates(a.intersection(b))
    ours = np.asarray(row["found"]).reshape(-1, 2)
    # A crossing at a slight angle may be found beside a touch of it.
    near = lambda p, others: len(others) > 0 and np.min(np.hypot(*(others - p).T)) < 0.05
    good = all(near(p, theirs) for p in ours) and all(near(p, ours) for p in theirs) and len(ours) == len(theirs)
    check("crossings", "shapely intersection", good, f"{ours.tolist()} for {theirs.tolist()}")


def check_outline(row):
    points = np.concatenate([dense(side)[:-1] for side in row["sides"]])
    ring = shapely.LinearRing(points)
    check("simple or not", "shapely is_simple", ring.is_simple == row["simple"], f"{row['simple']} at {points[0]}")
    if not ring.is_simple:
        return
    region = shapely.Polygon(ring)
    off = abs(region.area - row["area"])
    check("area", "shapely area", off < FINE * ring.length, f"off by {off}")
    off = np.hypot(*(np.asarray(region.centroid.coords[0]) - row["centroid"]))
    check("centre of gravity", "shapely centroid", off < 0.001, f"off by {off}")
    for x, y, inside, distance in row["probes"]:
        point = shapely.Point(x, y)
        off = abs(ring.distance(point) - distance)
        check("distance to outline", "shapely distance", off < 2 * FINE, f"off by {off}")
        check("inside or out", "shapely contains", region.contains(point) == inside or distance < FINE, f"{x}, {y}")
    circle = shapely.maximum_inscribed_circle(region, tolerance=0.01)
    off = abs(circle.length - row["room"][2])
    check("roomiest place", "shapely maximum_inscribed_circle", off < 0.05, f"off by {off}")
    check_allowance(region, row)


def check_allowance(region, row):
    theirs = region.buffer(row["distance"], join_style="mitre", mitre_limit=2.5)
    if row["cut"] is None:
        # Refused: then the allowances must run into each other somewhere, leaving a hole or a swallowed stretch.
        check("refused allowance", "shapely buffer", bool(theirs.interiors) or swallowed(region, theirs, row), row["why"])
        return
    ours = shapely.Polygon(row["cut"])
    check("cutting outline is valid", "shapely is_valid", ours.is_valid, row["why"])
    # GEOS smooths hollows by 1 % of the distance before it buffers (its BufferInputLineSimplifier), which shows
    # as a little more where two of them meet; the next two checks are exact.
    off = theirs.exterior.hausdorff_distance(ours.exterior)
    check("cutting outline", "shapely buffer, mitred", off < 0.02 * row["distance"], f"off by {off} at {row['distance']}")
    here = some(row["cut"])
    from_seam = shapely.distance(region.exterior, here)
    off = row["distance"] - np.min(from_seam)
    check("cutting outline keeps its distance", "shapely distance", off < 2.1 * TOLERANCE, f"{off} too near")
    # A tip cut off at 2.5 times the distance has its two corners a little farther out.
    wide = here[from_seam > row["distance"] + 2.1 * TOLERANCE]
    corners = shapely.MultiPoint([side[0][0] for side in row["sides"]])
    off = np.max(shapely.distance(corners, wide), initial=0) - 2.7 * row["distance"]
    check("only mitres lie farther out", "shapely distance", off < 0, f"{off} too far from a corner")


def swallowed(region, theirs, row):
    """Whether the allowance of some stretch is filled by another's: places whose offset lies inside."""
    edge = theirs.exterior
    for side in row["sides"]:
        points = dense(side, 200)[1:-1]
        if np.max(shapely.distance(edge, shapely.points(points))) > 1.001 * row["distance"]:
            return True
    return False


CHECKS = {"curve": check_curve, "crossing": check_crossing, "outline": check_outline}

for text in sys.stdin:
    row = json.loads(text)
    CHECKS[row["kind"]](row)

for key in sorted(passed | failed):
    print(f"{key}: {passed[key]} passed, {failed[key]} failed")
print(f"{sum(passed.values())} passed, {sum(failed.values())} failed")
sys.exit(1 if failed or not passed else 0)
