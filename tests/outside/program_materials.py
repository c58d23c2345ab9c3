"""What a garment takes, counted again from the pieces and seams of pattern.json, without the program.

Sources: areas by shapely (GEOS) over the cutting lines; thread of a lockstitch (ISO 4915, type 301) by the published model
2 + 2 * thickness * stitches per length, never under the published 2.5 times the seam (220 cm: 550 cm), 15 % waste.
"""

import math

from shapely.geometry import Polygon

STITCHES_PER_MM = 1 / 2.5
WASTE = 0.15
HAND, ZIGZAG = 1.5, 7
# Longer hand stitches hold for a while only, and their thread is not counted.
BASTING_MM = 6


def copies(piece):
    return piece["cut"]["count"] * (2 if piece["cut"]["laid"] == "fold" else 1)


def halves(piece):
    return 1 if piece["cut"]["laid"] == "single" else 2


def lockstitch(thickness):
    return max(2.5, 2 + 2 * thickness * STITCHES_PER_MM)


class Counted:
    """The garment as a bench hand would count it: a list of (what, length, thread)."""

    def __init__(self, pattern):
        self.pieces = {piece["name"]: piece for piece in pattern["pieces"]}
        self.edges = {(p["name"], e["name"]): e for p in pattern["pieces"] for e in p["edges"]}
        self.makeup = pattern["makeup"]
        self.seams = pattern["seams"]
        self.thickness = {cloth["layer"]: cloth["thickness_mm"] for cloth in self.makeup["cloths"]}
        self.derived = {lies["piece"] for lies in self.makeup["lies"]}
        self.in_seam = self.named(self.seams)
        self.faced = self.named([one for one in self.makeup["mates"] if "facing" in self.layers(one)])
        self.in_mate = self.named(self.makeup["mates"])
        self.way = (self.makeup["lined"] or {}).get("way")
        self.rows = {}

    @staticmethod
    def named(seams):
        sides = (seam[side] for seam in seams for side in ("held", "worked"))
        return {(part["piece"], part["edge"]) for side in sides for part in side["edges"]}

    def add(self, what, length, ratio):
        old = self.rows.get(what, (0, 0))
        self.rows[what] = (old[0] + length, old[1] + length * ratio)

    def machine(self, what, length, layers):
        self.add(what, length, lockstitch(sum(self.thickness.get(layer, 0) for layer in layers)))

    def side(self, side):
        """Length as drawn, and over both sides of the body."""
        parts = [(part["piece"], part["edge"]) for part in side["edges"]]
        drawn = sum(self.edges[part]["length_mm"] for part in parts)
        return drawn, sum(self.edges[part]["length_mm"] * halves(self.pieces[part[0]]) for part in parts)

    def layers(self, seam):
        sides = [seam["held"]["edges"], seam["worked"]["edges"]]
        return [self.pieces[side[0]["piece"]]["from"] for side in sides if side]

    def times(self, seam):
        sides = [self.side(seam[side]) for side in ("held", "worked")]
        held, worked = (whole / drawn if drawn else 0 for drawn, whole in sides)
        names = [[(part["piece"], part["edge"]) for part in seam[side]["edges"]] for side in ("held", "worked")]
        return held / 2 if sorted(names[0]) == sorted(names[1]) else min(held, worked)

    def count(self):
        for seam in self.seams:
            length = seam["held"]["length_mm"] * self.times(seam)
            self.machine("seams", length, self.layers(seam))
            if seam["gathered_times"] != 1:
                self.machine("gathers", 2 * seam["worked"]["length_mm"] * self.times(seam), self.layers(seam)[-1:])
        for mate in self.makeup["mates"]:
            self.mate(mate)
        for piece in self.pieces.values():
            self.piece(piece)
        for closing in self.makeup["closings"]:
            parted = [(part["piece"], part["edge"]) for part in closing["along"]["edges"]]
            seams = [part for part in parted if self.is_seam(part)]
            open_mm = min(closing["opening_mm"], sum(self.edges[part]["length_mm"] for part in seams))
            self.machine("seams", -open_mm, ["shell", "shell"])
            if closing["by"].endswith("zip"):
                self.machine("zips", 2 * closing["opening_mm"], ["shell", "shell"])
            elif closing["by"] == "buttons":
                self.add("buttonholes", closing["count"] * closing["hole_mm"], 40)
                self.piece_work(500 * closing["count"])
            else:
                self.piece_work(500 * closing["count"])
        for hand in self.makeup["by_hand"]:
            if hand["stitch_mm"] < BASTING_MM:
                self.add("felling", hand["length_mm"], HAND)
        for stayed in self.makeup["stayed"]:
            if stayed["by"] == "staystitching":
                piece = self.pieces[stayed["piece"]]
                self.machine("staystitching", stayed["length_mm"] * copies(piece), [piece["from"]])
        return {what: row for what, row in self.rows.items() if row[1] > 0}

    def is_seam(self, part):
        alone = part not in self.in_mate and self.edges[part]["kind"] in ("seam", "opening")
        return part in self.in_seam or alone

    def piece_work(self, thread):
        old = self.rows.get("fastenings", (0, 0))
        self.rows["fastenings"] = (0, old[1] + thread)

    def mate(self, mate):
        layers = self.layers(mate)
        parts = [(part["piece"], part["edge"]) for side in ("held", "worked") for part in mate[side]["edges"]]
        outer = [part for part in parts if part[0] not in self.derived]
        if "interfacing" in layers or "lining" in layers and self.way in ("mounted", "open"):
            return
        if not self.in_seam.intersection(outer):
            self.machine("layers", mate["held"]["length_mm"] * self.times(mate), layers)

    def hem(self, piece, edge):
        def answers(name, asked):
            return name == asked or name.startswith(asked + "/")

        for hem in self.makeup["hems"]:
            if answers(piece["name"], hem["piece"]) and answers(edge["name"], hem["edge"]):
                return hem["finish"]
        return None

    def is_bound(self, piece, edge):
        key = (piece["name"], edge["name"])
        if key in self.in_seam or key in self.faced:
            return False
        finish = self.hem(piece, edge)
        if finish is not None:
            return finish == "bound"
        return edge["kind"] == "finished" and piece["name"] not in self.derived

    def covered(self, piece):
        over = [lies["piece"] for lies in self.makeup["lies"] if lies["upon"] == piece["name"]]
        return self.way != "mounted" and any(self.pieces[one]["from"] == "lining" for one in over)

    def piece(self, piece):
        layer = piece["from"]
        if layer == "interfacing":
            return
        for dart in piece["darts"]:
            self.machine("darts", math.dist(dart["point"], dart["legs"][0]) * copies(piece), [layer] * 2)
        for edge in piece["edges"]:
            self.edge(piece, edge, layer)

    def edge(self, piece, edge, layer):
        length = edge["length_mm"] * copies(piece)
        key = (piece["name"], edge["name"])
        seam, mate, kind = key in self.in_seam, key in self.in_mate, edge["kind"]
        if kind in ("seam", "opening") and not seam and not mate:
            patch = layer == "shell" and piece["name"] in self.derived
            self.machine("seams", length / 2 if copies(piece) > 1 and not patch else length, [layer] * 2)
        if kind in ("hem", "finished"):
            finish = self.hem(piece, edge)
            if self.is_bound(piece, edge):
                self.machine("hems", length, [layer] * 2)
                self.add("felling", length, HAND)
            elif finish == "narrow":
                self.machine("hems", 2 * length, [layer] * 3)
            elif kind == "hem" and (finish or not mate) and not (layer == "lining" and self.way):
                self.add("felling", length, HAND)
        raw = {"seam": seam or not mate, "opening": seam or not mate, "finished": layer == "facing" and not mate}
        hidden = layer == "lining" or layer == "shell" and self.covered(piece) or layer == "facing" and kind != "finished"
        if raw.get(kind) and edge["allowance_mm"] > 0 and not hidden:
            self.add("neatening", length, ZIGZAG)


def wrong(pattern):
    """Words for everything that differs."""
    found = pattern["materials"]
    yield from wrong_areas(pattern, found)
    counted = Counted(pattern)
    rows = counted.count()
    said = {row["what"]: (row["length_mm"], row["thread_mm"]) for row in found["thread"]["rows"]}
    if set(rows) != set(said):
        yield f"thread: {sorted(said)} is said, {sorted(rows)} is counted"
    for what in set(rows) & set(said):
        for one, other, name in zip(said[what], rows[what], ("length", "thread")):
            if abs(one - other) > max(1.0, 1e-5 * other):
                yield f"{name} of {what}: {one} is said, {other} is counted"
    total = sum(thread for _, thread in rows.values()) * (1 + WASTE)
    if abs(total - found["thread"]["total_mm"]) > 1e-5 * total:
        yield f"thread in all: {found['thread']['total_mm']} is said, {total} is counted"
    if found["thread"]["spools"] != math.ceil(found["thread"]["total_mm"] / 100_000):
        yield f"{found['thread']['spools']} spools for {total} mm"


def wrong_areas(pattern, found):
    strips = sum(strip["count"] * strip["length_mm"] * strip["width_mm"] for strip in found["strips"])
    for cloth in found["cloths"]:
        pieces = [piece for piece in pattern["pieces"] if piece["from"] in cloth["layers"]]
        area = sum(Polygon(piece["cut_line_mm"]).area * copies(piece) for piece in pieces)
        if abs(area - cloth["area_mm2"]) > 2 * sum(map(copies, pieces)):
            yield f"{cloth['name']}: {cloth['area_mm2']} mm² is said, {area} is counted"
        if cloth["pieces"] != sum(piece["cut"]["count"] for piece in pieces):
            yield f"{cloth['name']}: {cloth['pieces']} pieces"
        of_strips = strips if "shell" in cloth["layers"] else 0
        if abs(of_strips - cloth["strips_mm2"]) > 0.01:
            yield f"{cloth['name']}: strips of {cloth['strips_mm2']} mm²"
        if cloth["width_mm"] and abs(cloth["least_length_mm"] * cloth["width_mm"] - area - of_strips) > 1e-5 * area + cloth["width_mm"] / 500:
            yield f"{cloth['name']}: a length of {cloth['least_length_mm']} mm"
    if sum(piece["cut"]["count"] for piece in pattern["pieces"]) != sum(cloth["pieces"] for cloth in found["cloths"]):
        yield "a piece is cut from no cloth"
