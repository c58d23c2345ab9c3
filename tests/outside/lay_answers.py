"""Answers about cloth proven by other means: every lay that proves one is looked at with shapely (GEOS) and plain numbers.

Reads answers.json of `notchbook lay --savings --length …` and the output of `notchbook most --json`; shares no code with the
program. A proof brings the pieces as they are cut for it, since a seam more makes other pieces.
"""

import json
import math
import sys
from pathlib import Path

from shapely.geometry import Polygon
from shapely.ops import unary_union

from lay_shapes import determinant, thickness

# mm: half a pencil's line.
OVERLAP_MM, EDGE_MM, DEGREES = 0.05, 0.05, 1e-6
STRIPS = "bias-strips"
# Straightening the ends takes 50 mm by common practice, no source.
STRAIGHTENING_MM = 50
problems = []
proofs = 0


def check(fine, what):
    if not fine:
        problems.append(what)


def proven(proof, where, limit=None):
    """Looks at the lay of a proof; returns its length."""
    global proofs
    proofs += 1
    (cloth,) = proof["lays"]["cloths"]
    (lay,) = cloth["lays"]
    pieces = {one["name"]: one for one in proof["pieces"]}
    counts(lay, pieces, where)
    for copy in lay["copies"]:
        if copy["piece"] == STRIPS:
            continue
        piece = pieces[copy["piece"]]
        off_grain(copy, piece, proof["grain_tolerance"], where)
        same_piece(copy, piece, where)
    apart(cloth["as_laid"], lay, where)
    if limit is not None:
        check(lay["length"] <= limit + EDGE_MM, f"{where}: {lay['length']:.1f} mm do not fit {limit:.1f} mm")
    return lay["length"]


def counts(lay, pieces, where):
    """As many as are cut, left and right alike."""
    for name, piece in pieces.items():
        copies = [copy for copy in lay["copies"] if copy["piece"] == name]
        drawn = sum(1 for one in copies if one["part"] == "both" or determinant(one["into"]) > 0)
        mirrored = sum(1 for one in copies if one["part"] == "both" or determinant(one["into"]) < 0)
        made = sum(2 if one["part"] == "both" else 1 for one in copies)
        check(made == piece["cut"]["count"], f"{where}: {made} of {piece['cut']['count']} {name}")
        if piece["cut"]["laid"] == "pair":
            check(drawn == mirrored, f"{where}: {name} has {drawn} as drawn, {mirrored} mirrored")
        if any(one["part"] in ("fold", "whole") for one in copies):
            check(piece["cut"]["laid"] == "fold", f"{where}: {name} has no fold and is laid on one")


def off_grain(copy, piece, tolerance, where):
    angle = math.radians(piece["grain_degrees"])
    a, b, c, d, _, _ = copy["into"]
    x, y = a * math.cos(angle) + c * math.sin(angle), b * math.cos(angle) + d * math.sin(angle)
    off = math.degrees(math.atan2(abs(y), abs(x)))
    check(off <= tolerance + DEGREES, f"{where}: {copy['piece']} lies {off:.2f}° off the grain")


def same_piece(copy, piece, where):
    """The outline that lies there is the cutting line, brought there by a rigid motion."""
    a, b, c, d, e, f = copy["into"]
    check(abs(abs(determinant(copy["into"])) - 1) < 1e-9 and abs(a * c + b * d) < 1e-9, f"{where}: {copy['piece']} was stretched")
    moved = Polygon([(a * x + c * y + e, b * x + d * y + f) for x, y in piece["cut_line_mm"]]).buffer(0)
    lies = Polygon(copy["outlines"][0]).buffer(0)
    check(thickness(moved.symmetric_difference(lies)) < OVERLAP_MM, f"{where}: {copy['piece']} has another outline")


def apart(cloth, lay, where):
    """On the cloth itself, layer by layer: nothing overlaps, nothing leaves the cloth."""
    outline = Polygon(cloth["outline"]) if cloth["outline"] else None
    flat = []
    for number, copy in enumerate(lay["copies"]):
        section = lay["sections"][copy["section"]]
        layers = [lambda p, s=section: (s["from"] + p[0], s["edge"] + p[1])]
        if copy["part"] in ("fold", "both"):
            if section["way"] == "cross":
                layers.append(lambda p, s=section: (s["from"] - p[0], s["edge"] + p[1]))
            else:
                layers.append(lambda p, s=section: (s["from"] + p[0], s["edge"] - p[1]))
        shapes = [
            unary_union([Polygon([layer(p) for p in ring]).buffer(0) for ring in copy["outlines"]]) for layer in layers
        ]
        if copy["part"] == "fold":
            shapes = [unary_union(shapes)]
        flat.extend((number, shape) for shape in shapes)
    for number, shape in flat:
        name = lay["copies"][number]["piece"]
        if outline:
            check(thickness(shape.difference(outline)) < OVERLAP_MM, f"{where}: {name} leaves the left-over")
        else:
            x0, y0, x1, y1 = shape.bounds
            low, high = cloth["selvedge"], cloth["width"] - cloth["selvedge"]
            check(y0 > low - EDGE_MM and y1 < high + EDGE_MM, f"{where}: {name} lies in a selvedge")
            check(x0 > -EDGE_MM and x1 < lay["length"] + EDGE_MM, f"{where}: {name} sticks out along the cloth")
        for flaw in cloth["flaws"]:
            check(thickness(shape.intersection(Polygon(flaw))) < OVERLAP_MM, f"{where}: {name} lies on a flaw")
    for at, (number, one) in enumerate(flat):
        for other_number, other in flat[at + 1 :]:
            if number != other_number:
                depth = thickness(one.intersection(other))
                names = lay["copies"][number]["piece"], lay["copies"][other_number]["piece"]
                check(depth < 2 * OVERLAP_MM, f"{where}: {names[0]} and {names[1]} overlap by {depth:.3f} mm")


def savings(answer, where):
    for begin in answer["from"]:
        for one in begin["savings"]:
            length = proven(one["proof"], f"{where}: {one['words']}")
            check(abs(begin["length"] - length - one["saved"]) < 1e-6, f"{where}: saved is not the difference: {one['words']}")
            check(one["saved"] > max(one["give_or_take"], begin["spread"]), f"{where}: no more than chance: {one['words']}")
            check(f"{int(one['saved'])} mm" in one["words"], f"{where}: the sentence has another figure: {one['words']}")


def fits(answer, where):
    if answer["fits"]:
        proven(answer["proof"], where, answer["room"])
    check(answer["fits"] or answer["proof"] is None, f"{where}: a proof of what does not fit")
    for remedy in answer["remedies"]:
        proven(remedy["proof"], f"{where}: {remedy['doings']}", answer["room"])


def most(answer, where):
    check(answer["most"] is not None, f"{where}: no value was found")
    if answer["most"] is None:
        return
    length = proven(answer["proof"], where, answer["room"])
    (cloth,) = answer["proof"]["lays"]["cloths"]
    known = cloth["as_laid"]["length"]
    if answer["room"] is not None:
        check(abs(known - STRAIGHTENING_MM - answer["room"]) < 1e-6, f"{where}: another length is on hand")
    below = [one for one in answer["tried"] if one["why"] is None]
    check(max(one["value"] for one in below) == answer["most"], f"{where}: more was found than is told")
    check(all(one["length"] <= (answer["room"] or length) + EDGE_MM for one in below), f"{where}: a value does not fit")
    if answer["next"]:
        check(answer["next"]["value"] > answer["most"], f"{where}: the next value is no more")


def main():
    kinds = {"notchbook-savings-1": savings, "notchbook-fits-1": fits, "notchbook-most-1": most}
    for path in map(Path, sys.argv[1:]):
        found = json.loads(path.read_text(encoding="utf-8"))
        for answer in found.get("answers", [found]):
            kinds[answer["format"]](answer, str(path))
    for problem in problems:
        print(problem)
    print(f"{proofs} proofs, {len(problems)} problems")
    sys.exit(1 if problems or not proofs else 0)


main()
