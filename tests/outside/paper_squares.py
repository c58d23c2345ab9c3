"""Are the squares to measure true? Poppler draws the first page; the lines are found in the pixels and measured.

Usage: python paper_squares.py FOLDER. Needs pikepdf, numpy, pillow; poppler. 4 in are 101.6 mm.
"""

import sys

import numpy

from paper_reading import check, finish, papers, render

DPI = 600
# Half a hair of what a person reads off a ruler.
ALLOWED_MM = 0.1


def long_runs(row, least):
    """Beginnings and ends of the dark runs of a row of pixels that are at least so long."""
    dark = numpy.concatenate(([0], (row < 128).astype(numpy.int8), [0]))
    edges = numpy.flatnonzero(numpy.diff(dark))
    return [(begin, end) for begin, end in zip(edges[::2], edges[1::2]) if end - begin >= least]


def lines(picture, side_mm):
    """Middles of the pairs of lines, as rows of pixels, that are as long as a side and begin one above the other."""
    scale = DPI / 25.4
    found = []
    for index in range(picture.shape[0]):
        for begin, end in long_runs(picture[index], 90 * scale):
            if abs((end - begin) / scale - side_mm) < 0.6:
                found.append((int(begin), index))
    if not found:
        return []
    found = numpy.array(sorted(found))
    pairs = []
    # Rounded corners shift the ends of a line by a few pixels from row to row: up to half its width, 0.18 mm.
    for together in numpy.split(found, numpy.flatnonzero(numpy.diff(found[:, 0]) > 5) + 1):
        rows = numpy.unique(together[:, 1])
        groups = numpy.split(rows, numpy.flatnonzero(numpy.diff(rows) > 1) + 1)
        if len(groups) == 2:
            pairs.append(tuple(float(numpy.mean(group)) + 0.5 for group in groups))
    return pairs


def measure(picture, side_mm, words):
    found = lines(picture, side_mm)
    check(len(found) == 1, f"{words}: {len(found)} pairs of lines of that length, not 1")
    for upper, lower in found:
        distance = (lower - upper) * 25.4 / DPI
        print(f"  {words}: {distance:.3f} mm")
        check(abs(distance - side_mm) <= ALLOWED_MM, f"{words} measures {distance:.3f} mm")


def main(folder):
    for path, _ in papers(folder):
        print(path.name)
        picture = render(path, 0, DPI, (0, 0, 330, 420))
        for side, name in ((100.0, "100 mm"), (101.6, "4 in")):
            # The 4 in square is 1.6 mm larger, more than the 0.6 mm within which a run counts for a side.
            measure(picture, side, f"{name}, top to bottom")
            measure(picture.T, side, f"{name}, left to right")
    finish("paper_squares")


if __name__ == "__main__":
    main(sys.argv[1])
