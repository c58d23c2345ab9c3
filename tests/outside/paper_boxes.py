"""Is the PDF what a printer must be told? Boxes, scaling, layers, fonts, words, language, no clock.

Usage: python paper_boxes.py FOLDER (files such as sample-a4.pdf). Needs pypdf, pikepdf, numpy, pillow; qpdf and poppler.
Sources: ISO 32000-1:2008 (14.11.2 page boundaries, 12.2 viewer preferences, 8.11 optional content, 9.7 and 9.9 fonts).
"""

import re
import subprocess
import sys

import pikepdf
import pypdf

from paper_reading import PAPERS, TILED, check, finish, labels, papers, row_and_column, size_mm


def sound(path):
    found = subprocess.run(["qpdf", "--check", str(path)], capture_output=True, text=True)
    check(found.returncode == 0, f"qpdf --check: {found.stdout}{found.stderr}")


def boxes(pdf, paper):
    for index, (page, label) in enumerate(zip(pdf.pages, labels(pdf))):
        # Where pieces are larger than large paper, the cover before the joined sheets is an A3 page.
        width, height = PAPERS[paper if paper in TILED or not label.startswith("cover") else "a3"]
        media = [float(value) for value in page.MediaBox]
        for name in ("/CropBox", "/TrimBox", "/BleedBox"):
            check([float(value) for value in page[name]] == media, f"page {index + 1}: {name} is not the paper")
        found = size_mm(page)
        if height is None:
            check(abs(found[0] - width) < 0.01, f"page {index + 1} is {found[0]:.2f} mm wide, not {width}")
            # Annex C.2: a side of a page is at most 14,400 units.
            check(media[3] <= 14400, f"page {index + 1} is longer than readers take")
        else:
            upright = max(abs(found[0] - width), abs(found[1] - height))
            on_its_side = max(abs(found[0] - height), abs(found[1] - width))
            check(min(upright, on_its_side) < 0.01, f"page {index + 1} is {found[0]:.2f} x {found[1]:.2f} mm")
        check("/UserUnit" not in page and "/Rotate" not in page, f"page {index + 1} is scaled or turned")


def preferences(pdf):
    wanted = {"/PrintScaling": "/None", "/Duplex": "/Simplex", "/PickTrayByPDFSize": True, "/DisplayDocTitle": True}
    for key, value in wanted.items():
        check(pdf.Root.ViewerPreferences.get(key) == value, f"viewer preference {key} is not {value}")
    check(re.fullmatch(r"[a-z]{2}(-[A-Za-z]+)?", str(pdf.Root.Lang)) is not None, "no language")
    check(len(str(pdf.docinfo["/Title"])) > 0, "no title")
    check("/ModDate" not in pdf.docinfo, "a date of the clock")


def layers(pdf):
    names = [str(group.Name) for group in pdf.Root.OCProperties.OCGs]
    for name in ("Cutting line", "Words", "Sheet joins and labels"):
        check(name in names, f"no layer called {name}")
    config = pdf.Root.OCProperties.D
    check(len(config.ON) == len(names) and len(config.Order) == len(names), "a layer is hidden or not listed")
    for index, page in enumerate(pdf.pages):
        resources = page.Resources.Properties
        for operands, operator in pikepdf.parse_content_stream(page):
            if str(operator) == "BDC":
                check(operands[1] in resources, f"page {index + 1} names a layer {operands[1]} that is not there")


def fonts(path):
    listed = subprocess.run(["pdffonts", str(path)], capture_output=True, text=True, check=True).stdout.splitlines()[2:]
    check(len(listed) > 0, "no fonts")
    for line in listed:
        emb, sub, uni = line.split()[-5:-2]
        check((emb, sub, uni) == ("yes", "yes", "yes"), f"not embedded, cut down and searchable: {line}")


def words(path, pdf, paper):
    reader = pypdf.PdfReader(path)
    by_pypdf = [page.extract_text() for page in reader.pages]
    by_poppler = subprocess.run(["pdftotext", str(path), "-"], capture_output=True, text=True, check=True).stdout
    title = str(pdf.docinfo["/Title"])
    for text, who in ((by_pypdf[0], "pypdf"), (by_poppler, "poppler")):
        check(title in text, f"{who} does not find the title {title!r} on the first page")
        check("Measure me: 100 mm" in text and "Measure me: 4 in" in text, f"{who} does not find the squares")
    if paper not in TILED:
        return
    for label, text in zip(labels(pdf), by_pypdf):
        if row_and_column(label):
            check(label in text, f"page {label} does not bear its label")
            check(label in by_pypdf[0], f"the map does not show {label}")


def main(folder):
    for path, paper in papers(folder):
        print(path.name)
        pdf = pikepdf.open(path)
        sound(path)
        boxes(pdf, paper)
        preferences(pdf)
        layers(pdf)
        fonts(path)
        words(path, pdf, paper)
    finish("paper_boxes")


if __name__ == "__main__":
    main(sys.argv[1])
