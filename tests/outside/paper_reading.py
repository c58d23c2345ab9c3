"""Reading papers back with tools that are none of ours: pikepdf for the content, poppler for the picture.

The rules by which tiles lie on the joined sheet are those that docs/printing.md tells a person, written down here once
more: a tile "B3" lies one row down and two columns to the right; neighbours overlap by 10 mm; margins are 8 mm.
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy
import pikepdf
from PIL import Image

Image.MAX_IMAGE_PIXELS = None

# An inch is 25.4 mm (international yard and pound agreement, 1959), a unit of PDF 1/72 in (ISO 32000-1, 8.3.2.3).
UNITS_PER_MM = 72 / 25.4
# Coordinates are kept to 0.01 mm; two of them may differ by that, and a hair for single precision.
KEPT_MM = 0.011
MARGIN_MM = 8.0
OVERLAP_MM = 10.0

# Width and height in mm: ISO 216 (A sizes), ANSI/ASME Y14.1 (Letter, 8.5 x 11 in), 8.5 x 14 in (Legal). None is a length
# cut to what is used.
PAPERS = {
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "a0": (841.0, 1189.0),
    "letter": (215.9, 279.4),
    "legal": (215.9, 355.6),
    "roll-841": (841.0, None),
    "roll-914": (914.4, None),
}
TILED = ("a4", "letter", "a3", "legal")

FAILURES = []


def check(holds, words):
    """Notes a check that does not hold."""
    if not holds:
        FAILURES.append(words)
        print(f"  FAILED: {words}")


def finish(name):
    """Ends the script: 0 where every check held."""
    print(f"{name}: {'every check holds' if not FAILURES else f'{len(FAILURES)} checks failed'}")
    sys.exit(1 if FAILURES else 0)


def papers(folder, among=tuple(PAPERS)):
    """Files of the folder by the paper that their name ends with, such as sample-a4.pdf."""
    found = []
    for path in sorted(Path(folder).glob("*.pdf")):
        for paper in among:
            if path.stem == paper or path.stem.endswith(f"-{paper}"):
                found.append((path, paper))
    if not found:
        sys.exit(f"no PDF of {', '.join(among)} in {folder}")
    return found


def labels(pdf):
    """The label of each page, from the number tree of page labels (ISO 32000-1, 12.4.2)."""
    numbers = pdf.Root.PageLabels.Nums
    by_index = {int(numbers[i]): str(numbers[i + 1].P) for i in range(0, len(numbers), 2)}
    return [by_index[index] for index in range(len(pdf.pages))]


def row_and_column(label):
    """Row and column of a tile, from 0; None for a page that is no tile."""
    found = re.fullmatch(r"([A-Z]+)(\d+)", label)
    if not found:
        return None
    row = 0
    for letter in found[1]:
        row = row * 26 + ord(letter) - ord("A") + 1
    return row - 1, int(found[2]) - 1


def size_mm(page):
    """Width and height of a page."""
    box = [float(value) for value in page.MediaBox]
    return (box[2] - box[0]) / UNITS_PER_MM, (box[3] - box[1]) / UNITS_PER_MM


def corner_on_sheet(page, place):
    """Where the upper left corner of a tile's paper lies on the joined sheet, mm."""
    width, height = size_mm(page)
    row, column = place
    step_x = width - 2 * MARGIN_MM - OVERLAP_MM
    step_y = height - 2 * MARGIN_MM - OVERLAP_MM
    return column * step_x - MARGIN_MM, row * step_y - MARGIN_MM


def multiply(m, n):
    """Matrix m, then n, as PDF has them."""
    a, b, c, d, e, f = m
    g, h, i, j, k, l = n
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + l)


def paths(page):
    """All painted paths of a page as (layer, operators, points in mm from the paper's upper left corner)."""
    matrix, stack, layers = (1, 0, 0, 1, 0, 0), [], []
    _, height = size_mm(page)
    found, operators, points = [], "", []
    for operands, operator in pikepdf.parse_content_stream(page):
        name = str(operator)
        numbers = [float(value) for value in operands] if name in {"cm", "m", "l", "c", "re"} else []
        if name == "q":
            stack.append(matrix)
        elif name == "Q":
            matrix = stack.pop()
        elif name == "cm":
            matrix = multiply(numbers, matrix)
        elif name == "BDC":
            layers.append(str(operands[1]).lstrip("/"))
        elif name == "EMC":
            layers.pop()
        elif name in {"m", "l", "c"}:
            operators += name
            for x, y in zip(numbers[::2], numbers[1::2]):
                a, b, c, d, e, f = matrix
                points.append(((a * x + c * y + e) / UNITS_PER_MM, height - (b * x + d * y + f) / UNITS_PER_MM))
        elif name == "h":
            operators += name
        elif name in {"S", "s", "f", "f*", "B", "b", "n"}:
            if name != "n":
                found.append((layers[-1] if layers else "", operators, numpy.array(points)))
            operators, points = "", []
    return found


def on_sheets(pdf, layers):
    """The paths of some layers where they lie: on the joined sheet for tiles, on its page for the rest but covers."""
    found = []
    for page, label in zip(pdf.pages, labels(pdf)):
        place = row_and_column(label)
        if place is None and label.startswith("cover"):
            continue
        corner = numpy.array(corner_on_sheet(page, place) if place else (0, 0))
        found += [(layer, operators, points + corner) for layer, operators, points in paths(page) if layer in layers]
    return found


def distinct(found):
    """The same paths, each once; two are one where they lie within 2 mm of each other all along."""
    kinds = []
    for layer, operators, points in found:
        for other in kinds:
            if other[:2] == (layer, operators) and numpy.abs(other[2] - points).max() < 2.0:
                off = numpy.abs(other[2] - points).max()
                check(off <= KEPT_MM, f"a {layer} lies {off:.3f} mm apart on two tiles")
                break
        else:
            kinds.append((layer, operators, points))
    return kinds


def without_layer(path, title):
    """The file with one layer switched off, as a reader switches it off."""
    pdf = pikepdf.open(path)
    config = pdf.Root.OCProperties.D
    off = [group for group in pdf.Root.OCProperties.OCGs if str(group.Name) == title]
    config.OFF = pikepdf.Array(off)
    config.ON = pikepdf.Array([group for group in config.ON if str(group.Name) != title])
    target = Path(tempfile.mkdtemp()) / path.name
    pdf.save(target)
    return target


def render(path, page, dpi, crop_mm=None):
    """A page drawn by poppler, as an array of greys."""
    command = ["pdftoppm", "-gray", "-r", str(dpi), "-f", str(page + 1), "-l", str(page + 1)]
    if crop_mm:
        x, y, width, height = (round(value / 25.4 * dpi) for value in crop_mm)
        command += ["-x", str(x), "-y", str(y), "-W", str(width), "-H", str(height)]
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([*command, str(path), f"{folder}/page"], check=True)
        (picture,) = Path(folder).iterdir()
        return numpy.array(Image.open(picture))
