"""Does layers.svg show every derived piece where pattern.json says it lies? Read back by Python's own XML reader and svgpathtools.

Usage: python program_layers.py FOLDER (papers in it or in its folders). Needs numpy, svgpathtools.
Where a piece lies is worked out again from its points and the matrix beside it, and compared with the drawn outline from the
corner of the shell piece, since the picture sets its panels side by side.
"""

import json
import sys
from pathlib import Path
from xml.etree import ElementTree

import numpy
import svgpathtools

SVG = "{http://www.w3.org/2000/svg}"
NEAR_MM = 0.1
failures = []


def check(is_so, words):
    if not is_so:
        failures.append(words)
        print(f"  WRONG: {words}")


def box(points):
    points = numpy.array(points)
    return numpy.concatenate([points.min(axis=0), points.max(axis=0)])


def drawn_box(element):
    x0, x1, y0, y1 = svgpathtools.parse_path(element.get("d")).bbox()
    return numpy.array([x0, y0, x1, y1])


def open_points(piece):
    """Points of the edges and of the darts, which the picture leaves open."""
    points = [point for edge in piece["edges"] for point in edge["points_mm"]]
    return points + [dart["point"] for dart in piece["darts"]]


def matrix(placed):
    a, b, c, d, e, f = placed
    return numpy.array([[a, c, e], [b, d, f], [0, 0, 1]])


def placements(lies, upon, depth=4):
    """Everything that lies on a piece, or on what lies on it: name and matrix to its coordinates."""
    for one in lies:
        if one["upon"] == upon and depth > 0:
            here = matrix(one["placed"])
            yield one["piece"], here
            for name, above in placements(lies, one["piece"], depth - 1):
                yield name, here @ above


def look(pattern, picture):
    paths = {path.get("id"): path for path in picture.iter(f"{SVG}path") if path.get("id")}
    pieces = {piece["name"]: piece for piece in pattern["pieces"]}
    lies = pattern["makeup"]["lies"]
    derived = {one["piece"] for one in lies}
    shown = set()
    for outer in [piece for piece in pieces if piece not in derived]:
        behind = list(placements(lies, outer))
        if not behind:
            continue
        check(f"{outer}.{outer}" in paths, f"{outer} is not drawn")
        corner = drawn_box(paths[f"{outer}.{outer}"])[:2] - box(open_points(pieces[outer]))[:2]
        first = {}
        for name, placed in behind:
            first.setdefault(name, placed)
        for name, placed in first.items():
            path = paths.get(f"{outer}.{name}")
            check(path is not None, f"{name} is not drawn on {outer}")
            if path is None:
                continue
            points = numpy.array(open_points(pieces[name]))
            meant = (placed @ numpy.column_stack([points, numpy.ones(len(points))]).T).T[:, :2] + corner
            off = abs(drawn_box(path) - box(meant)).max()
            check(off < NEAR_MM, f"{name} on {outer} lies {off:.2f} mm off")
            shown.add(name)
    check(shown == derived, f"not shown anywhere: {sorted(derived - shown)}")
    groups = [group for group in picture.iter(f"{SVG}g") if "cloth" in (group.get("class") or "").split()]
    check(all(group.get("id") for group in groups) and groups, "a layer's group has no name")
    return len(shown)


def main(folder):
    files = sorted(Path(folder).rglob("layers.svg"))
    for path in files:
        pattern = json.loads((path.parent / "pattern.json").read_text(encoding="utf-8"))
        print(f"{path}: {look(pattern, ElementTree.parse(path).getroot())} derived pieces")
    for path in sorted(Path(folder).rglob("pattern.json")):
        lies = json.loads(path.read_text(encoding="utf-8"))["makeup"]["lies"]
        check(not lies or (path.parent / "layers.svg").exists(), f"{path.parent}: layers without a picture of them")
    if failures:
        sys.exit(f"program_layers: {len(failures)} wrong")
    print("program_layers: all as promised")


if __name__ == "__main__":
    main(sys.argv[1])
