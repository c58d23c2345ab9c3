"""Is the SVG true to size? Read back by svgelements and svgpathtools; lengths against those of the PDF's content.

Usage: python paper_svg.py FOLDER (an .svg, and *-roll-914.pdf beside it). Needs svgelements, svgpathtools, pikepdf, numpy.
Sources: SVG 1.1 (7.2 initial viewport, 7.10 units, 5.11.1 unique ids).
"""

import sys
from pathlib import Path
from xml.etree import ElementTree

import numpy
import pikepdf
import svgelements
import svgpathtools

from paper_reading import check, distinct, finish, on_sheets, papers

SVG = "{http://www.w3.org/2000/svg}"
LAYERS = ("cutting-line", "seam-line")


def length(operators, points):
    """Length of a path by summing 4,000 chords a segment; good to 1e-5 of it for curves as even as these."""
    at, here, start, total = 0, None, None, 0.0
    for operator in operators:
        count = {"m": 1, "l": 1, "c": 3, "h": 0}[operator]
        ends = [here, *points[at : at + count]]
        if operator == "m":
            start = ends[1]
        elif operator == "l":
            total += numpy.linalg.norm(ends[1] - ends[0])
        elif operator == "h":
            total += numpy.linalg.norm(start - here)
        else:
            t = numpy.linspace(0, 1, 4001)[:, None]
            a, b, c, d = ends
            along = (1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t**2 * c + t**3 * d
            total += numpy.linalg.norm(numpy.diff(along, axis=0), axis=1).sum()
        at += count
        here = start if operator == "h" else ends[-1]
    return total


def true_size(root, path):
    width, height = root.get("width"), root.get("height")
    box = root.get("viewBox").split()
    check(width == f"{box[2]}mm" and height == f"{box[3]}mm", "a unit of the drawing is not a millimetre")
    # svgelements turns mm into pixels of 1/96 in by itself.
    parsed = svgelements.SVG.parse(path)
    check(abs(parsed.width / 96 * 25.4 - float(box[2])) < 0.01, "svgelements reads another width")


def names(root):
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    check(len(ids) == len(set(ids)), "an id is given twice")
    check(all(" " not in one for one in ids), "an id with a space")
    pieces = [group for group in root.iter(f"{SVG}g") if group.get("class") == "piece"]
    check(len(pieces) > 0 and all(group.get("id") for group in pieces), "a piece without its name")
    for group in pieces:
        edges = [element for element in group if element.get("id")]
        check(all(edge.get("id").startswith(group.get("id") + ".") for edge in edges), "an edge not named by its piece")
        check(any(element.tag == f"{SVG}text" for element in group), f"no words on {group.get('id')}")


def lengths(root, path, folder):
    by_svgelements = [
        element.length(error=1e-7)
        for element in svgelements.SVG.parse(path, ppi=25.4).elements()
        if isinstance(element, svgelements.Path) and element.values.get("class") in LAYERS
    ]
    data = [element.get("d") for element in root.iter(f"{SVG}path") if element.get("class") in LAYERS]
    by_svgpathtools = [svgpathtools.parse_path(one).length() for one in data]
    on_paper = []
    for paper, _ in papers(folder, ("roll-914",)):
        found = distinct(on_sheets(pikepdf.open(paper), LAYERS))
        on_paper += [length(operators, points) for _, operators, points in found]
    check(len(by_svgelements) == len(on_paper), f"{len(by_svgelements)} lines, {len(on_paper)} on paper")
    worst = 0.0
    for a, b, c in zip(sorted(by_svgelements), sorted(by_svgpathtools), sorted(on_paper)):
        worst = max(worst, abs(a - c), abs(b - c))
    print(f"  {len(on_paper)} lines from {min(on_paper):.1f} to {max(on_paper):.1f} mm, off by {worst:.4f} mm at most")
    check(worst < 0.1, f"a line is {worst:.3f} mm longer or shorter than on paper")


def main(folder):
    files = sorted(Path(folder).glob("*.svg"))
    check(len(files) > 0, f"no SVG in {folder}")
    for path in files:
        print(path.name)
        root = ElementTree.parse(path).getroot()
        true_size(root, path)
        names(root)
        lengths(root, path, folder)
    finish("paper_svg")


if __name__ == "__main__":
    main(sys.argv[1])
