"""Do the tiles make the whole sheet? The pages are put together again by the rule of docs/printing.md.

Three ways: the numbers of the content (every path that is on several tiles lies in one place of the joined sheet, and the
pieces are those of the single sheet, turned by quarters), the pixels (what a tile shows of its neighbour is what the
neighbour shows), and the blank tiles (no piece has ink there). Also that curves stayed curves.

Usage: python paper_tiles.py FOLDER with *-a4.pdf and the like, and *-roll-914.pdf. Needs pikepdf, numpy, pillow; poppler.
"""

import sys

import numpy
import pikepdf
from PIL import Image, ImageFilter

from paper_reading import (
    KEPT_MM,
    MARGIN_MM,
    OVERLAP_MM,
    TILED,
    check,
    distinct,
    finish,
    labels,
    on_sheets,
    papers,
    render,
    row_and_column,
    size_mm,
    without_layer,
)

DPI = 300
PIECES = ("cutting-line", "seam-line", "grain", "marks")


def turned_home(points):
    """The same points turned by each quarter, moved to the origin."""
    turns = []
    for _ in range(4):
        points = numpy.stack([-points[:, 1], points[:, 0]], axis=1)
        turns.append(points - points.min(axis=0))
    return turns


def same_pieces(kinds, whole, words):
    """Whether each path of the tiles is one of the single sheet, and none is missing."""
    left = list(whole)
    for layer, operators, points in kinds:
        home = points - points.min(axis=0)
        for index, other in enumerate(left):
            if other[:2] == (layer, operators):
                if any(numpy.abs(home - turn).max() <= 2 * KEPT_MM for turn in turned_home(other[2])):
                    del left[index]
                    break
        else:
            check(False, f"{words}: a {layer} of {len(points)} points is not on the single sheet")
    check(not left, f"{words}: {len(left)} paths of the single sheet are on no tile")


def dark(picture, grow):
    """Where ink is, grown by so many pixels."""
    image = Image.fromarray(((picture < 160) * 255).astype(numpy.uint8))
    return numpy.array(image.filter(ImageFilter.MaxFilter(2 * grow + 1)) if grow else image) > 0


def strips_agree(path, pdf):
    """Whether the strip that a tile shows of its right or lower neighbour is what the neighbour shows there."""
    bare = without_layer(path, "Sheet joins and labels")
    places = {row_and_column(label): index for index, label in enumerate(labels(pdf))}
    scale = DPI / 25.4
    pairs = [(one, (one[0], one[1] + 1)) for one in places if one] + [(one, (one[0] + 1, one[1])) for one in places if one]
    pairs = [pair for pair in pairs if pair[1] in places]
    pictures = {place: render(bare, places[place], DPI) for place in {place for pair in pairs for place in pair}}
    worst = 0
    for one, other in pairs:
        width, height = size_mm(pdf.pages[places[one]])
        beside = one[0] == other[0]
        strip = (OVERLAP_MM, height - 2 * MARGIN_MM) if beside else (width - 2 * MARGIN_MM, OVERLAP_MM)
        start = (width - MARGIN_MM - OVERLAP_MM, MARGIN_MM) if beside else (MARGIN_MM, height - MARGIN_MM - OVERLAP_MM)
        cut = []
        for place, (x, y) in ((one, start), (other, (MARGIN_MM, MARGIN_MM))):
            left, top = round(x * scale), round(y * scale)
            cut.append(pictures[place][top : top + round(strip[1] * scale), left : left + round(strip[0] * scale)])
        # A pixel is 0.085 mm: rounding of the two corners to pixels takes one, the drawing of lines another half.
        for a, b in (cut, reversed(cut)):
            inner = numpy.zeros_like(a, dtype=bool)
            inner[3:-3, 3:-3] = True
            lost = (dark(a, 0) & ~dark(b, 2) & inner).sum()
            worst = max(worst, lost)
            check(lost == 0, f"{one} and {other} differ in {lost} pixels of their strip")
    print(f"  {len(pairs)} joins compared in pixels, {worst} differ")


def blanks_are_blank(pdf, kinds, words):
    """Whether no path runs over the cell of a tile that is not printed."""
    first = next(page for page, label in zip(pdf.pages, labels(pdf)) if row_and_column(label))
    width, height = size_mm(first)
    step = numpy.array([width - 2 * MARGIN_MM - OVERLAP_MM, height - 2 * MARGIN_MM - OVERLAP_MM])
    printed = {place for place in map(row_and_column, labels(pdf)) if place}
    last = numpy.array([max(place[1] for place in printed), max(place[0] for place in printed)])
    for layer, operators, points in kinds:
        at, here = 0, None
        for operator in operators:
            count = {"m": 1, "l": 1, "c": 3, "h": 0}[operator]
            curve = points[at : at + count]
            if operator in "lc":
                t = numpy.linspace(0, 1, 500)[:, None]
                ends = [here, *curve]
                along = (1 - t) * ends[0] + t * ends[1]
                if operator == "c":
                    a, b, c, d = ends
                    along = (1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t**2 * c + t**3 * d
                cells = numpy.minimum(numpy.floor((along - 1e-6) / step).astype(int), last)
                missing = {(int(row), int(column)) for column, row in cells} - printed
                check(not missing, f"{words}: a {layer} runs over {sorted(missing)}, which are not printed")
            at += count
            here = curve[-1] if count else here


def main(folder):
    whole = []
    for path, _ in papers(folder, ("roll-914",)):
        whole += distinct(on_sheets(pikepdf.open(path), PIECES))
    check(any("c" in operators for _, operators, _ in whole), "no curve is left on the single sheet")
    for path, _ in papers(folder, TILED):
        pdf = pikepdf.open(path)
        kinds = distinct(on_sheets(pdf, PIECES))
        tiles = sum(row_and_column(label) is not None for label in labels(pdf))
        print(f"{path.name}: {tiles} tiles, {len(kinds)} paths, {len(whole)} on the single sheet")
        same_pieces(kinds, whole, path.name)
        blanks_are_blank(pdf, kinds, path.name)
        strips_agree(path, pdf)
    finish("paper_tiles")


if __name__ == "__main__":
    main(sys.argv[1])
