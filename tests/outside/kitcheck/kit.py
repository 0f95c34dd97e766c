"""A kit folder as read back: kit.json and the files beside it."""

import json
from functools import cached_property
from pathlib import Path

from shapely.ops import unary_union

from . import mesh, plane, space


class Kit:
    """One kit folder; nothing here trusts that the folder is right."""

    def __init__(self, folder):
        self.folder = Path(folder)
        self.text = (self.folder / "kit.json").read_text(encoding="utf-8")
        self.data = json.loads(self.text)
        self.parts = [Part(self, data) for data in self.data["parts"]]
        self.by_number = {part.number: part for part in self.parts}

    @property
    def name(self):
        return self.data["kit"]

    @property
    def shared(self):
        """Whether its parts' files are those of a catalogue."""
        return "catalogue" in self.data

    @property
    def parts_folder(self):
        """Where the files of parts stand: a catalogue's kits share them."""
        return self.folder / self.data.get("catalogue", {}).get("folder", ".") / "parts"

    def instances(self):
        """Each placed part as (part, place index, 3x4 matrix from part to site)."""
        for part in self.parts:
            for index, place in enumerate(part.places):
                yield part, index, place

    def fastener_members(self):
        """Each joint's pairs as (joint, members)."""
        for joint in self.data["joints"]:
            for pair in joint["pairs"]:
                yield joint, pair


class Part:
    """One part of kit.json with its geometry at hand."""

    def __init__(self, kit, data):
        self.kit = kit
        self.data = data
        self.number = data["number"]
        self.thickness = float(data["thickness"])
        self.faces = {face["name"]: face for face in data["faces"]}
        self.bends = data["bends"]
        self.holes = {hole["id"]: hole for hole in data["holes"]}
        self.places = [space.matrix(rows) for rows in data["places"]]
        self.to_part = {f["name"]: space.matrix(f["to_part"]) for f in data["faces"]}

    def file(self, ending):
        return self.kit.parts_folder / f"{self.number}.{ending}"

    @cached_property
    def root(self):
        """Name of the face that no bend leads to."""
        children = {bend["to"] for bend in self.bends}
        roots = [name for name in self.faces if name not in children]
        return roots[0]

    @cached_property
    def face_polygons(self):
        return {name: plane.face_polygon(face) for name, face in self.faces.items()}

    @cached_property
    def blank_polygon(self):
        """Sheet that remains: outline less every inner contour."""
        blank = self.data["blank"]
        return plane.region(blank["outer"], blank["inner"])

    @cached_property
    def outer_polygon(self):
        return plane.region(self.data["blank"]["outer"], [])

    @cached_property
    def flats(self):
        """The faces cut out of the blank itself, with its true arcs; holes left closed."""
        zones = unary_union([plane.bend_zone(bend) for bend in self.bends])
        flats = {}
        for name, polygon in self.face_polygons.items():
            near = polygon.buffer(0.02, join_style="mitre")
            cut = self.outer_polygon.intersection(near).difference(zones)
            flats[name] = max(getattr(cut, "geoms", [cut]), key=lambda piece: piece.area)
        return flats

    @cached_property
    def solids(self):
        """The folded part as closed meshes in its own frame, shrunk a little: {piece: mesh}."""
        return mesh.folded(self)

    def tree(self):
        """Bends ordered so that each parent is met before its child."""
        known, order, waiting = {self.root}, [], list(self.bends)
        while waiting:
            ready = [bend for bend in waiting if bend["from"] in known]
            if not ready:
                raise ValueError(f"{self.number}: bends do not form a tree from {self.root}")
            for bend in ready:
                known.add(bend["to"])
                order.append(bend)
                waiting.remove(bend)
        return order

    def toward(self, bend):
        """In-plane unit vector across the bend, from parent to child."""
        return plane.toward_child(bend, self.face_polygons[bend["to"]])

    def hole_axis(self, hole, place):
        """Two points of a hole's axis in the site frame: where it meets z = 0 and z = thickness."""
        x, y = hole["centre"]
        ends = [[x, y, 0.0], [x, y, self.thickness]]
        pose = space.after(self.places[place], self.to_part[hole["face"]])
        return space.apply(pose, ends)
