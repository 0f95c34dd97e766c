"""Faults put into the hand-built kit, each with the check that must find it.

Kinds: `json` changes kit.json alone, `data` changes the kit and writes all its files anew,
`files` changes the written folder.
"""

from typing import Callable, NamedTuple


class Fault(NamedTuple):
    check: str
    title: str
    kind: str
    make: Callable


FAULTS = []


def fault(check, title, kind="json"):
    def keep(make):
        FAULTS.append(Fault(check, title, kind, make))
        return make
    return keep


def left(data):
    return data["parts"][0]


def head(data):
    return data["parts"][2]


def simple(check, title, change, kind="json"):
    FAULTS.append(Fault(check, title, kind, change))


def setter(where, key, value):
    """Changes one value; `value` may be a function of the old one."""
    def make(data):
        table = where(data)
        table[key] = value(table[key]) if callable(value) else value
    return make


def moved(placement, row, by):
    placement[row][3] += by


# schema
simple("schema", "key missing", lambda d: left(d).pop("mass_kg"))
simple("schema", "key renamed", lambda d: d.__setitem__("template_name", d.pop("template")))
simple("schema", "keys out of order", lambda d: d.__setitem__("kit", d.pop("kit")))
simple("schema", "quantity", setter(left, "quantity", 2))
simple("schema", "part number", setter(left, "number", "OTS-0001-1"))
simple("schema", "numbers doubled", setter(lambda d: d["parts"][1], "number", "OTS-0001-01L"))
simple("schema", "minus zero", setter(left, "mass_kg", -0.0))
simple("schema", "not finite", setter(left, "mass_kg", float("nan")))
simple("schema", "text for a number", setter(left, "thickness", "2.0"))
simple("schema", "mirrored placement",
       lambda d: left(d)["places"][0][0].__setitem__(2, -1.0))
simple("schema", "stretched placement", lambda d: left(d)["places"][0][0].__setitem__(2, 1.001))
simple("schema", "unknown face", setter(lambda d: left(d)["holes"][0], "face", "webb"))
simple("schema", "order of bends", setter(lambda d: left(d)["bends"][0], "order", 3))
simple("schema", "released with an error", lambda d: d["findings"].append(
    {"check": "fit.coaxial", "severity": "error", "subject": "j1", "found": 1.0, "limit": 0.05,
     "unit": "mm", "source": "contract", "message": "apart", "accepted": None}))


@fault("schema", "number longer than needed", "files")
def long_number(folder):
    path = folder / "kit.json"
    path.write_text(path.read_text().replace("4.162", "4.1620000000000000000000000001", 1))


# folding
simple("folding", "face shifted by 2e-6 mm",
       lambda d: moved(left(d)["faces"][1]["to_part"], 0, 2e-6))
simple("folding", "allowance",
       setter(lambda d: left(d)["bends"][0], "allowance", lambda a: a + 1e-6))
simple("folding", "K not by DIN 6935", setter(lambda d: left(d)["bends"][0], "k", 0.33))
simple("folding", "direction", setter(lambda d: left(d)["bends"][0], "direction", "up"))
simple("folding", "angle", setter(lambda d: left(d)["bends"][0], "angle", 89.0))
simple("folding", "bend missing", lambda d: left(d)["bends"].pop())
simple("folding", "bend doubled", lambda d: left(d)["bends"].__setitem__(
    2, dict(left(d)["bends"][0], name="again")))

# blank
simple("blank", "area", setter(lambda d: left(d)["blank"], "area_mm2", lambda a: a + 0.001))
simple("blank", "cut length",
       setter(lambda d: left(d)["blank"], "cut_length_mm", lambda a: a + 0.01))
simple("blank", "pierces", setter(lambda d: left(d)["blank"], "pierces", 5))
simple("blank", "width", setter(lambda d: left(d)["blank"], "width", lambda a: a - 0.01))
simple("blank", "mass", setter(left, "mass_kg", lambda m: m * 1.00001))
simple("blank", "unknown material", setter(left, "material", "cheese"))
simple("blank", "hole elsewhere than its contour",
       setter(lambda d: left(d)["holes"][0]["centre"], 0, lambda x: x + 0.01))
simple("blank", "hole of another size", setter(lambda d: left(d)["holes"][0], "size", [5.0]))
simple("blank", "slot turned", setter(lambda d: left(d)["holes"][2], "direction", 0.0))
simple("blank", "hole on another face", setter(lambda d: left(d)["holes"][0], "face", "leg"))
simple("blank", "circle of no hole", lambda d: left(d)["holes"].pop(0))
simple("blank", "outline clockwise", lambda d: left(d)["blank"]["outer"].reverse())
simple("blank", "outline larger than its faces",
       lambda d: [v.__setitem__(1, v[1] + 0.02) for v in left(d)["blank"]["outer"][2:]])
simple("blank", "notch forgotten", lambda d: head(d)["blank"]["outer"].pop(5))
simple("blank", "face wider than the blank",
       lambda d: [p.__setitem__(1, p[1] + 0.02) for p in left(d)["faces"][3]["outline"][2:]])
simple("blank", "bend line shorter than its bend",
       lambda d: left(d)["bends"][0]["line"][0].__setitem__(1, 3.0))
simple("blank", "inner loop counter-clockwise",
       lambda d: left(d)["blank"]["inner"][2].__setitem__("loop", [
           [x, y, -b] for x, y, b in left(d)["blank"]["inner"][2]["loop"]]))

# joints
simple("joints", "part 0.06 mm aside", lambda d: moved(head(d)["places"][0], 2, 0.06))
simple("joints", "part turned a little", lambda d: head(d)["places"].__setitem__(0, tilted(
    head(d)["places"][0])))
simple("joints", "faces 0.06 mm apart", lambda d: moved(left(d)["places"][0], 0, -0.06))
simple("joints", "gap stated, none there", setter(lambda d: d["joints"][0], "gap", 1.0))
simple("joints", "grip", setter(lambda d: d["joints"][0], "grip", 5.0))
simple("joints", "grip into the wall", setter(lambda d: d["joints"][2], "grip", 1.0))
simple("joints", "fastener count", setter(lambda d: d["fasteners"][0], "count", 5))
simple("joints", "fastener of no joint", lambda d: d["fasteners"].append(
    {"id": "bolt-8", "title": "Bolt", "count": 2, "spare": 0}))
simple("joints", "pair missing", lambda d: d["joints"][0]["pairs"].pop())
simple("joints", "hole of another joint", setter(lambda d: left(d)["holes"][0], "joint", "j2"))
simple("joints", "unknown hole", setter(lambda d: d["joints"][0]["pairs"][0][0], "hole", "h99"))
simple("joints", "hole in two pairs",
       lambda d: d["joints"][0]["pairs"].append(d["joints"][0]["pairs"][0]))

simple("joints", "not on the floor", lambda d: d["joints"][2]["pairs"][0].__setitem__(
    1, {"into": "floor"}))
simple("joints", "not on the rail", lambda d: d["joints"][3]["pairs"][0].__setitem__(
    1, {"into": "rail"}))
simple("joints", "not on the wall", lambda d: d["joints"][0]["pairs"][0].append({"into": "wall"}))


def tilted(rows):
    """The same place, turned by a thousandth of a degree about Y: 1.7e-5 from parallel."""
    s = 1.745e-5
    return [[1.0, 0.0, s, rows[0][3]], [0.0, 1.0, 0.0, rows[1][3]], [-s, 0.0, 1.0, rows[2][3]]]


# clash
simple("clash", "header 0.2 mm into the side frame", lambda d: moved(head(d)["places"][0], 0, 0.2))
simple("clash", "two parts in one place", lambda d: left(d)["places"].append(left(d)["places"][0]))
simple("clash", "return folded into the web", lambda d: long_return(left(d)))


def long_return(part):
    """A leg turned onto the web: the return's place equals the web's."""
    part["faces"][3]["to_part"] = part["faces"][0]["to_part"]
    part["faces"][3]["outline"] = part["faces"][0]["outline"]


# wall
simple("wall", "cut beside the flat", setter(lambda d: d["wall"], "cuts", [-235.0, 249.0]))
simple("wall", "lip beyond the flat", setter(
    lambda d: d["wall"], "outer_flat_centres", [278.0 * i + 15.0 for i in range(-3, 4)]))
simple("wall", "frame in the wall", lambda d: moved(left(d)["places"][0], 1, 0.11))
simple("wall", "cut too low", setter(lambda d: d["wall"], "cut_top", 1890.0))
simple("wall", "pitch", setter(lambda d: d["wall"], "pitch", 280.0))
simple("wall", "screw beside the flat", setter(
    lambda d: d["wall"], "outer_flat_centres", [c for c in (-278.0, 278.0)]))

# boxes
simple("boxes", "rail lower", lambda d: d["container"]["members"][0]["low"].__setitem__(2, 1889.0))
simple("boxes", "passage wider", lambda d: d["keep_outs"][0]["high"].__setitem__(0, 244.2))
simple("boxes", "box inside out", lambda d: d["keep_outs"][0]["high"].__setitem__(1, -1.0))

# solid
simple("solid", "corner folds elsewhere", lambda d: moved(left(d)["faces"][2]["to_part"], 1, 2e-4))
simple("solid", "radius beside the allowance",
       lambda d: [b.__setitem__("inside_radius", 2.01) for b in left(d)["bends"]])
simple("solid", "area", setter(lambda d: left(d)["blank"], "area_mm2", lambda a: a * 1.00001))
simple("solid", "face that is not joined", lambda d: [
    p.__setitem__(0, p[0] + 1.0) for p in left(d)["faces"][1]["outline"]])


# stackup
LIMITS = {"laser_class": 1, "hole_position": 0.2, "stretch": 0.2, "hole_size": 0.1,
          "bend_angle": 0.5, "bend_line": 0.2, "give": 0.5, "spread": "normal"}


@fault("stackup", "every chance certain")
def every_chance_certain(data):
    joints = [{"joint": joint["id"], "fasteners": len(joint["pairs"]), "drilled_in_place": False,
               "deviation": 0.0, "gap": 0.0, "chance": 1.0, "widen": None}
              for joint in data["joints"]]
    data["stackup"] = {"limits": LIMITS, "joints": joints}


@fault("stackup", "a joint left out")
def joint_left_out(data):
    data["stackup"] = {"limits": LIMITS, "joints": []}


# together
HERE = [[1.0, 0.0, 0.0, 0.0], [0.0, 1.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0]]


def beside(kit, rows, bolts=()):
    """Says that a kit stands in the same box, at this place."""
    def make(data):
        data["neighbours"] = [{"kit": kit or data["kit"], "title": "", "to_site": rows,
                               "bolts": list(bolts)}]
    return make


simple("together", "neighbour that was not drawn", beside("OTS-0999", HERE))
simple("together", "neighbour in the same place", beside(None, HERE))
simple("together", "neighbour mirrored", beside(None, [[-1.0, 0.0, 0.0, 0.0]] + HERE[1:]))
simple("together", "neighbour far away that does not see it back",
       beside(None, [[1.0, 0.0, 0.0, 9000.0]] + HERE[1:]))
simple("together", "bolts that meet no holes",
       beside(None, [[0.0, -1.0, 0.0, 9000.0], [1.0, 0.0, 0.0, 0.0]] + HERE[2:],
              [{"fastener": "bolt-m8", "count": 3, "grip": 5.0, "ordered_by": "OTS-0999"}]))
