"""Does pattern.json say what it promises in docs/pattern-json.md? Every number is computed again from the points.

Usage: python program_json.py FOLDER (papers in it or in its folders). Needs numpy and shapely.
Sources: shapely (GEOS) for outlines, areas, containment and offsets; the law of cosines for the angle of a dart (Euclid,
Elements II 12-13); RFC 8259 by Python's own reader.
"""

import json
import math
import sys
from pathlib import Path

import numpy
from shapely.geometry import LineString, Point, Polygon

import program_materials

failures = []


def check(is_so, words):
    if not is_so:
        failures.append(words)
        print(f"  WRONG: {words}")


def near(one, other, by, words):
    check(abs(one - other) <= by, f"{words}: {one} and {other}")


def no_constants(name):
    raise ValueError(f"{name} is no JSON")


def length(points):
    return float(numpy.linalg.norm(numpy.diff(numpy.array(points), axis=0), axis=1).sum())


def runs(edge):
    return [edge["points_mm"][first : last + 1] for first, last in edge["runs"]]


def numbers_are_short(value, digits=3):
    if isinstance(value, float):
        check(round(value, digits) == value and str(value) != "-0.0", f"{value!r} is not rounded to {digits} digits")
    elif isinstance(value, dict):
        for name, inner in value.items():
            numbers_are_short(inner, 9 if name == "placed" else 3)
    elif isinstance(value, list):
        for inner in value:
            numbers_are_short(inner, digits)


def outlines(piece):
    name = piece["name"]
    seam, cut = Polygon(piece["seam_line_mm"]), Polygon(piece["cut_line_mm"])
    check(seam.is_valid and cut.is_valid, f"{name}: an outline crosses itself")
    # y runs down, so that clockwise on the table is counter-clockwise to shapely, whose y runs up.
    check(seam.exterior.is_ccw and cut.exterior.is_ccw, f"{name}: an outline does not run clockwise")
    near(seam.area, piece["area_mm2"], 1.0, f"{name}: area")
    check(cut.buffer(0.01).contains(seam), f"{name}: the cutting line does not hold the seam line")


def edges(piece):
    name = piece["name"]
    line = LineString(piece["seam_line_mm"] + piece["seam_line_mm"][:1])
    for number, edge in enumerate(piece["edges"]):
        following = piece["edges"][(number + 1) % len(piece["edges"])]
        sewn = sum(length(run) for run in runs(edge))
        near(sewn, edge["length_mm"], 0.05, f"{name}.{edge['name']}: length")
        check(edge["points_mm"][-1] == following["points_mm"][0], f"{name}: open after {edge['name']}")
        darts = [dart for dart in piece["darts"] if dart["edge"] == edge["name"]]
        check(len(edge["runs"]) == len(darts) + 1, f"{name}.{edge['name']}: runs and darts")
        for point in edge["points_mm"]:
            check(line.distance(Point(point)) < 0.003, f"{name}.{edge['name']}: {point} is not on the seam line")


def allowances(piece):
    """Away from its ends the cutting line lies beside the edge, as far out as its allowance says."""
    cut = LineString(piece["cut_line_mm"] + piece["cut_line_mm"][:1])
    inside = Polygon(piece["seam_line_mm"])
    others = [
        (edge["allowance_mm"], LineString(run))
        for edge in piece["edges"]
        for run in runs(edge)
        if length(run) > 0
    ]
    looked_at = 0
    for edge in piece["edges"]:
        allowance = edge["allowance_mm"]
        for run in runs(edge):
            line = LineString(run)
            for share in numpy.linspace(0.05, 0.95, 19):
                place = line.interpolate(share, normalized=True)
                room = min(place.distance(Point(run[0])), place.distance(Point(run[-1])))
                crowded = any(
                    other.distance(place) < allowance + other_allowance + 1
                    for other_allowance, other in others
                    if not other.equals(line)
                )
                if room < 3 * allowance or crowded:
                    continue
                looked_at += 1
                near(cut.distance(place), allowance, 0.03, f"{piece['name']}.{edge['name']}: allowance at {share:.2f}")
    check(inside.area > 0 and looked_at >= len(piece["edges"]), f"{piece['name']}: only {looked_at} places looked at")
    return looked_at


def darts(piece):
    for dart in piece["darts"]:
        name = f"{piece['name']}.{dart['name']}"
        edge = next(edge for edge in piece["edges"] if edge["name"] == dart["edge"])
        before, after = runs(edge)[dart["after_run"]], runs(edge)[dart["after_run"] + 1]
        check([before[-1], after[0]] == dart["legs"], f"{name}: legs do not end at the runs")
        point, (one, other) = dart["point"], dart["legs"]
        a, b, c = math.dist(point, one), math.dist(point, other), math.dist(one, other)
        near(c, dart["intake_mm"], 0.002, f"{name}: intake")
        near(a, b, 0.1, f"{name}: legs")
        angle = math.degrees(math.acos((a * a + b * b - c * c) / (2 * a * b)))
        near(angle, dart["angle_degrees"], 0.01, f"{name}: angle")
        check(Polygon(piece["seam_line_mm"]).contains(Point(point)), f"{name}: ends off the cloth")


def notches(piece):
    inside = Polygon(piece["seam_line_mm"]).buffer(-0.001)
    for notch in piece["notches"]:
        name = f"{piece['name']}.{notch['name']}"
        edge = next(edge for edge in piece["edges"] if edge["name"] == notch["edge"])
        rest = notch["along_mm"]
        *earlier, run = runs(edge)
        for one in earlier:
            if rest <= length(one):
                run = one
                break
            rest -= length(one)
        near(math.dist(LineString(run).interpolate(rest).coords[0], notch["at_mm"]), 0, 0.02, f"{name}: place")
        near(math.hypot(*notch["toward"]), 1, 0.002, f"{name}: direction")
        x, y = (at + 0.5 * toward for at, toward in zip(notch["at_mm"], notch["toward"]))
        check(not inside.contains(Point(x, y)), f"{name}: points into the cloth")


def seams(pattern, by_name, joined):
    for seam in joined:
        sides = []
        for side in ("held", "worked"):
            parts = [by_name[part["piece"]][part["edge"]] for part in seam[side]["edges"]]
            sides.append(sum(length(run) for edge in parts for run in runs(edge)))
            near(sides[-1], seam[side]["length_mm"], 0.1, f"{seam['name']}: {side} side")
        wanted = sides[0] * seam["gathered_times"] + seam["eased_mm"]
        near(sides[1], wanted, 0.5, f"{seam['name']}: worked side against held side and ease")
        near(sides[1] - wanted, seam["off_mm"], 0.1, f"{seam['name']}: off")


def girths(pattern, by_name):
    for girth in pattern["girths_mm"]:
        round_body = 0
        for part in girth["parts"]:
            piece = next(piece for piece in pattern["pieces"] if piece["name"] == part["piece"])
            if "line" in part:
                line = next(line for line in piece["lines"] if line["name"] == part["line"])
                drawn = sum(length(run) for run in line["runs_mm"])
            else:
                drawn = sum(length(run) for run in runs(by_name[part["piece"]][part["edge"]]))
            halves = 1 if piece["cut"]["laid"] == "single" else 2
            check(part["times"] == halves, f"{girth['level']}: {part['piece']} counts {part['times']} times")
            round_body += drawn * halves
        round_body /= girth["gathered_times"]
        near(round_body, girth["closed"], 0.1, f"{girth['level']}: girth")
        near(girth["closed"] - girth["body"], girth["ease"], 0.002, f"{girth['level']}: ease")
        if girth["or_more"]:
            check(girth["ease"] >= girth["ease_asked"] - 0.5, f"{girth['level']}: less ease than asked for")
        else:
            near(girth["ease"], girth["ease_asked"], 0.5, f"{girth['level']}: ease against what was asked for")


def witnesses(pattern):
    """Both joined by their variances: the weights are those of any textbook on least squares."""
    heard = pattern["bust_dart"]
    if heard is None:
        check(not any(piece["name"] == "front" for piece in pattern["pieces"]), "a bodice without witnesses")
        return
    one, other, joined = heard["by_girths"], heard["by_lengths"], heard["joined"]
    weights = [1 / one["spread"] ** 2, 1 / other["spread"] ** 2]
    mean = numpy.average([one["degrees"], other["degrees"]], weights=weights)
    near(joined["spread"], sum(weights) ** -0.5, 0.01, "spread of the bust dart")
    near(joined["degrees"], max(mean, 3.0), 0.01, "angle of the bust dart")
    apart = abs(one["degrees"] - other["degrees"]) / math.hypot(one["spread"], other["spread"])
    near(apart, heard["apart"], 0.01, "how far the witnesses are apart")


def materials(pattern):
    for words in program_materials.wrong(pattern):
        check(False, words)


def main(folder):
    files = sorted(Path(folder).rglob("pattern.json"))
    check(len(files) > 0, f"no pattern.json in {folder}")
    for path in files:
        pattern = json.loads(path.read_text(encoding="utf-8"), parse_constant=no_constants)
        print(f"{path}: {pattern['garment']}")
        check(pattern["format"] == "notchbook-pattern-1", f"format {pattern['format']}")
        numbers_are_short(pattern)
        by_name = {piece["name"]: {edge["name"]: edge for edge in piece["edges"]} for piece in pattern["pieces"]}
        places = 0
        for piece in pattern["pieces"]:
            check(len(by_name[piece["name"]]) == len(piece["edges"]), f"{piece['name']}: an edge's name is there twice")
            outlines(piece)
            edges(piece)
            places += allowances(piece)
            darts(piece)
            notches(piece)
        seams(pattern, by_name, pattern["seams"])
        seams(pattern, by_name, pattern["makeup"]["mates"])
        girths(pattern, by_name)
        witnesses(pattern)
        materials(pattern)
        print(f"  {len(pattern['pieces'])} pieces, {len(pattern['seams'])} seams, allowance looked at in {places} places")
    if failures:
        sys.exit(f"program_json: {len(failures)} wrong")
    print("program_json: all as promised")


if __name__ == "__main__":
    main(sys.argv[1])
