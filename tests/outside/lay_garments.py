"""Lays of garments proven by other means: shapely (GEOS) for what overlaps, plain numbers for grain, pairs, folds and bars.

Reads lays.json of `notchbook lay` and pattern.json of `notchbook make` of the same garment; shares no code with the program.
Common practice, no source: bars across the cloth meet at notches of seams along the grain, centre lines lie on a main bar.
"""

import json
import math
import re
import sys
from pathlib import Path

from shapely.geometry import Polygon
from shapely.ops import unary_union

from lay_shapes import determinant, thickness

# mm: half a pencil's line; bars: a thread or two.
OVERLAP_MM, EDGE_MM, BARS_MM, DEGREES = 0.05, 0.05, 0.5, 1e-6
STRIPS = "bias-strips"
problems = []


def check(fine, what):
    if not fine:
        problems.append(what)


def apply(into, point):
    a, b, c, d, e, f = into
    return (a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f)


def off(distance, every):
    rest = distance % every
    return min(rest, every - rest)


class Checked:
    """One lay of one cloth."""

    def __init__(self, cloth, lay, pattern, where):
        self.cloth, self.lay, self.where = cloth["as_laid"], lay, where
        self.meetings = cloth["meetings"]
        self.pieces = {one["name"]: one for one in pattern["pieces"] if one["from"] in cloth["layers"]}
        self.shapes = [unary_union([Polygon(ring).buffer(0) for ring in copy["outlines"]]) for copy in lay["copies"]]

    def say(self, fine, what):
        check(fine, f"{self.where} ({self.lay['way']}): {what}")

    def section(self, copy):
        return self.lay["sections"][copy["section"]]

    def run(self):
        self.same_outlines()
        self.counts()
        self.grain()
        self.places()
        self.overlaps()
        self.bars()

    def same_outlines(self):
        """Every copy is congruent to the cutting line of pattern.json; a whole one is twice as large."""
        for copy, shape in zip(self.lay["copies"], self.shapes):
            piece = self.pieces.get(copy["piece"])
            if piece is None:
                self.say(copy["piece"] == STRIPS, f"{copy['piece']} is not cut from this cloth")
                continue
            drawn = Polygon(outline(piece))
            times = 2 if copy["part"] == "whole" else 1
            self.say(abs(shape.area - times * drawn.area) < 1e-3 * drawn.area + 20, f"{copy['piece']} has another area")
            self.say(abs(abs(determinant(copy["into"])) - 1) < 1e-9, f"{copy['piece']} was stretched")

    def counts(self):
        for name, piece in self.pieces.items():
            copies = [copy for copy in self.lay["copies"] if copy["piece"] == name]
            drawn = sum(1 for one in copies if one["part"] == "both" or determinant(one["into"]) > 0)
            mirrored = sum(1 for one in copies if one["part"] == "both" or determinant(one["into"]) < 0)
            made, wanted = sum(2 if one["part"] == "both" else 1 for one in copies), piece["cut"]["count"]
            self.say(made == wanted, f"{name}: {made} of {wanted}")
            if piece["cut"]["laid"] == "pair":
                self.say(drawn == mirrored, f"{name}: {drawn} as drawn, {mirrored} mirrored")

    def grain(self):
        ways = set()
        for copy in self.lay["copies"]:
            piece = self.pieces.get(copy["piece"])
            if piece is None:
                continue
            angle = math.radians(piece["grain_degrees"])
            a, b, c, d, _, _ = copy["into"]
            x, y = a * math.cos(angle) + c * math.sin(angle), b * math.cos(angle) + d * math.sin(angle)
            self.say(math.degrees(math.atan2(abs(y), abs(x))) < DEGREES, f"{copy['piece']} lies off the grain")
            ways.add(x > 0)
        if self.cloth["one_way"]:
            self.say(len(ways) <= 1, "pieces lie both ways on cloth that runs one way")
            self.say(all(one["way"] != "cross" for one in self.lay["sections"]), "folded against the nap")

    def on_cloth(self, copy, shape_or_point):
        """The layers under a copy as functions from the section to the cloth."""
        section = self.section(copy)
        layers = [lambda p: (section["from"] + p[0], section["edge"] + p[1])]
        if copy["part"] in ("fold", "both"):
            if section["way"] == "cross":
                layers.append(lambda p: (section["from"] - p[0], section["edge"] + p[1]))
            else:
                layers.append(lambda p: (section["from"] + p[0], section["edge"] - p[1]))
        return [layer(shape_or_point) for layer in layers] if isinstance(shape_or_point, tuple) else [
            unary_union([Polygon([layer(tuple(p)) for p in ring]).buffer(0) for ring in copy["outlines"]]) for layer in layers
        ]

    def places(self):
        cloth = self.cloth
        outline_of = Polygon(cloth["outline"]) if cloth["outline"] else None
        for copy, shape in zip(self.lay["copies"], self.shapes):
            section = self.section(copy)
            x0, y0, x1, y1 = shape.bounds
            double = copy["part"] in ("fold", "both")
            low, high = 0, section["width"]
            if section["way"] == "partly":
                low, high = (0, section["double"]) if double else (section["double"], section["width"])
            self.say(x0 > -EDGE_MM and x1 < section["length"] + EDGE_MM, f"{copy['piece']} sticks out along the cloth")
            self.say(y0 > low - EDGE_MM and y1 < high + EDGE_MM, f"{copy['piece']} sticks out across the cloth")
            self.say(double == (section["double"] > 0 and not (section["way"] == "partly" and not double)),
                     f"{copy['piece']} lies on the wrong number of layers")
            if copy["part"] == "fold":
                self.say(abs(y0) < EDGE_MM, f"{copy['piece']} lies off the fold")
            width, selvedge = cloth["width"], cloth["selvedge"]
            for layer in self.on_cloth(copy, None):
                a, b, c, d = layer.bounds
                if outline_of:
                    self.say(thickness(layer.difference(outline_of)) < OVERLAP_MM, f"{copy['piece']} leaves the left-over")
                else:
                    self.say(b > selvedge - EDGE_MM and d < width - selvedge + EDGE_MM, f"{copy['piece']} lies in a selvedge")
                for flaw in cloth["flaws"]:
                    self.say(thickness(layer.intersection(Polygon(flaw))) < OVERLAP_MM, f"{copy['piece']} lies on a flaw")

    def overlaps(self):
        """On the cloth itself, layer by layer: so sections and the two layers of a fold are looked at too."""
        layers = []
        for copy in self.lay["copies"]:
            shapes = self.on_cloth(copy, None)
            # A piece on the fold is one piece when it is opened out; its halves meet along the fold.
            layers.append(unary_union(shapes) if copy["part"] == "fold" else shapes)
        flat = [(i, one) for i, many in enumerate(layers) for one in (many if isinstance(many, list) else [many])]
        for k, (i, one) in enumerate(flat):
            for j, other in flat[k + 1:]:
                depth = thickness(one.intersection(other))
                names = self.lay["copies"][i]["piece"], self.lay["copies"][j]["piece"]
                self.say(depth < 2 * OVERLAP_MM, f"{names[0]} and {names[1]} overlap by {depth:.3f} mm")

    def phase(self, copy, point, layer, axis, bars):
        """Where in the repeat a point lies in a layer, along the piece's own grain, towards its own drawn side."""
        at = self.on_cloth(copy, apply(copy["into"], point))[layer][axis]
        piece = self.pieces[copy["piece"]]
        angle = math.radians(piece["grain_degrees"])
        sign = 1 if copy["into"][0] * math.cos(angle) + copy["into"][2] * math.sin(angle) > 0 else -1
        if axis == 1:
            sign *= 1 if determinant(copy["into"]) > 0 else -1
        cross = self.section(copy)["way"] == "cross"
        if layer == 1 and cross == (axis == 0):
            sign = -sign
        return sign * (at - bars["from"])

    def bars(self):
        axes = [(0, self.cloth["along"]), (1, self.cloth["across"])]
        for meeting in self.meetings:
            for axis, bars in axes[: 2 if meeting["across"] else 1]:
                if not bars:
                    continue
                phases = [
                    self.phase(copy, side["point"], layer, axis, bars)
                    for side in meeting["sides"]
                    for copy in self.lay["copies"]
                    if copy["piece"] == side["piece"]
                    for layer in range(2 if copy["part"] in ("fold", "both") else 1)
                ]
                worst = max((off(one - phases[0], bars["every"]) for one in phases), default=0)
                lost = any(one["code"] == "repeat-not-matched" and meeting["name"] in one["message"] for one in self.findings)
                self.say(worst < BARS_MM or lost, f"bars are {worst:.2f} mm off at the {meeting['name']}")
        across = self.cloth["across"]
        if across:
            for copy in self.lay["copies"]:
                piece = self.pieces.get(copy["piece"])
                fold = piece and piece["cut"]["fold_edge"]
                if fold:
                    edge = next(one for one in piece["edges"] if one["name"] == fold)
                    for at in self.on_cloth(copy, apply(copy["into"], edge["points_mm"][0])):
                        self.say(off(at[1] - across["from"], across["every"]) < BARS_MM, f"{copy['piece']}: centre off the bar")


def outline(piece):
    """The cutting line as points."""
    line = piece["cut_line_mm"]
    return line if isinstance(line[0][0], (int, float)) else [point for run in line for point in run]


def drawing(folder, cloth, lay):
    """The drawing shows the same: every cutting line as wide and high as in lays.json, at 1 : 10, and bars a repeat apart."""
    name = re.sub(r"[^a-z0-9]", "-", cloth["name"].lower())
    text = (folder / f"lay-{name}-{lay['way']}.svg").read_text(encoding="utf-8")
    for number, at in enumerate(lay["order"], 1):
        copy = lay["copies"][at]
        name = f"{copy['piece'].replace('/', '-')}-{number}"
        found = re.search(rf'<path[^>]*id="[^"]*{re.escape(name)}"[^>]*>', text)
        check(found, f"{folder}: the drawing has no {name}")
        if not found:
            continue
        numbers = re.search(r'\bd="([^"]*)"', found.group(0)).group(1)
        shown = extent(numbers)
        xs, ys = zip(*(point for ring in copy["outlines"] for point in ring))
        for one, other in zip(shown, (max(xs) - min(xs), max(ys) - min(ys))):
            check(abs(one - other / 10) < 0.08, f"{folder}: {name} is drawn {one:.2f} mm, is {other / 10:.2f} mm")


def extent(path):
    """Width and height of a path of absolute commands."""
    xs, ys, kind, numbers = [], [], "", []
    from svgpathtools import parse_path

    x0, x1, y0, y1 = parse_path(path).bbox()
    return x1 - x0, y1 - y0


def main():
    lays = 0
    for folder, papers in zip(sys.argv[1::2], sys.argv[2::2]):
        folder = Path(folder)
        found = json.loads((folder / "lays.json").read_text(encoding="utf-8"))
        pattern = json.loads((Path(papers) / "pattern.json").read_text(encoding="utf-8"))
        for cloth in found["cloths"]:
            check(cloth["lays"], f"{folder}: no lay of the {cloth['name']}")
            for lay in cloth["lays"]:
                one = Checked(cloth, lay, pattern, f"{folder.name}, {cloth['name']}")
                one.findings = cloth["findings"]
                one.run()
                drawing(folder, cloth, lay)
                bounds = max(lay["bounds"].values())
                check(lay["length"] >= bounds - 0.1, f"{folder}: shorter than can be")
                lays += 1
    for problem in problems:
        print(problem)
    print(f"{lays} lays, {len(problems)} problems")
    sys.exit(1 if problems or not lays else 0)


main()
