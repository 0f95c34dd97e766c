"""kit.json's form: keys and their order, kinds of values, numbers as short as they can be."""

import json
import re

from . import space

NUMBER, TEXT = (int, float), str

KIT = ["format", "kit", "title", "revision", "template", "spec_sha256", "values", "wall", "parts",
       "joints", "fasteners", "findings", "sheets"]
WALL = ["pitch", "outer_flat", "slope", "inner_flat", "depth", "thickness", "outer_flat_centres",
        "cuts", "cut_top", "cut_bottom"]
PART = {"number": TEXT, "name": TEXT, "title": TEXT, "quantity": int, "material": TEXT,
        "thickness": NUMBER, "mass_kg": NUMBER, "blank": dict, "faces": list, "bends": list,
        "holes": list, "places": list}
BLANK = {"width": NUMBER, "height": NUMBER, "outer": list, "inner": list, "area_mm2": NUMBER,
         "cut_length_mm": NUMBER, "pierces": int}
FACE = {"name": TEXT, "outline": list, "to_part": list}
BEND = {"name": TEXT, "from": TEXT, "to": TEXT, "line": list, "angle": NUMBER, "direction": TEXT,
        "inside_radius": NUMBER, "k": NUMBER, "k_source": TEXT, "allowance": NUMBER,
        "order": (int, type(None))}
HOLE = {"id": TEXT, "face": TEXT, "centre": list, "shape": TEXT, "size": list,
        "direction": NUMBER, "for": TEXT, "joint": (str, type(None))}
JOINT = {"id": TEXT, "name": TEXT, "fastener": TEXT, "grip": NUMBER, "gap": NUMBER, "pairs": list}
FASTENER = {"id": TEXT, "title": TEXT, "count": int, "spare": int}
FINDING = {"check": TEXT, "severity": TEXT, "subject": TEXT,
           "found": object, "limit": object, "unit": object,
           "source": TEXT, "message": TEXT, "accepted": (str, type(None))}
SHEET = {"file": TEXT, "material": TEXT, "thickness": NUMBER, "width": NUMBER, "height": NUMBER,
         "copies": int, "parts": list}


def keys_in_order(value, keys, where):
    """Troubles with the contract's keys: missing, or in another order."""
    missing = [key for key in keys if key not in value]
    if missing:
        return [f"{where}: no {', '.join(missing)}"]
    found = [key for key in value if key in set(keys)]
    return [] if found == list(keys) else [f"{where}: keys out of order: {found}"]


def table(value, form, where):
    """Troubles with keys, order and kinds of one table."""
    troubles = keys_in_order(value, form, where)
    for key, kind in form.items():
        if key in value and not is_kind(value[key], kind):
            troubles.append(f"{where}.{key}: {value[key]!r} is of the wrong kind")
    return troubles


def is_kind(value, kind):
    if isinstance(value, bool):
        return kind is object or kind is bool
    return kind is object or isinstance(value, kind)


def check(kit):
    """Every table of the contract, and what its values may be."""
    data = kit.data
    troubles = keys_in_order(data, KIT, "kit") + shortest_numbers(kit.text)
    if troubles:
        return troubles
    if data["format"] != "blankwright-kit/1":
        troubles.append(f"format is {data['format']!r}")
    if not re.fullmatch(r"[0-9a-f]{64}", data["spec_sha256"]):
        troubles.append(f"spec_sha256 is {data['spec_sha256']!r}")
    if data["kit"] != kit.folder.name:
        troubles.append(f"kit {data['kit']} stands in folder {kit.folder.name}")
    for key, value in data["values"].items():
        if not isinstance(value, (int, float, str, bool)):
            troubles.append(f"values.{key}: {value!r} is no plain value")
    if data["wall"] is not None:
        troubles += keys_in_order(data["wall"], WALL, "wall")
    for part in data["parts"]:
        troubles += part_form(part, data["kit"], numbers_in_kit(data))
    troubles += numbers_are_unique(data)
    troubles += [t for joint in data["joints"] for t in joint_form(joint)]
    troubles += [t for item in data["fasteners"] for t in table(item, FASTENER, "fastener")]
    troubles += [t for item in data["findings"] for t in finding_form(item)]
    troubles += [t for item in data["sheets"] for t in table(item, SHEET, "sheet")]
    return troubles


def numbers_in_kit(data):
    """What each part is called when its kit is drawn alone: a catalogue's kits say it apart."""
    rows = data.get("catalogue", {}).get("parts", [])
    return {row["number"]: row["number_in_kit"] for row in rows}


def part_form(part, kit, in_kit):
    where = part.get("number", "part")
    troubles = table(part, PART, where) or table(part["blank"], BLANK, f"{where}.blank")
    if troubles:
        return troubles
    if not re.fullmatch(re.escape(kit) + r"-\d{2,}[LR]?", in_kit.get(where, where)):
        troubles.append(f"{where}: not {kit}-<nn> and a hand")
    if part["quantity"] != len(part["places"]):
        troubles.append(f"{where}: quantity {part['quantity']}, {len(part['places'])} places")
    for key, form in (("faces", FACE), ("bends", BEND), ("holes", HOLE)):
        for item in part[key]:
            troubles += table(item, form, f"{where}.{key}")
        names = [item.get("id", item.get("name")) for item in part[key]]
        if len(set(names)) != len(names):
            troubles.append(f"{where}.{key}: a name stands twice")
    return troubles or part_values(part, where)


def part_values(part, where):
    """Names that refer to faces, words that may stand, placements that are rigid."""
    troubles, faces = [], {face["name"] for face in part["faces"]}
    for bend in part["bends"]:
        if {bend["from"], bend["to"]} - faces or bend["direction"] not in ("up", "down"):
            troubles.append(f"{where}: bend {bend['name']} names an unknown face or direction")
        if not bend["angle"] > 0 or not bend["inside_radius"] >= 0:
            troubles.append(f"{where}: bend {bend['name']}: angle or radius out of range")
    orders = sorted(b["order"] for b in part["bends"] if b["order"] is not None)
    if orders and orders != list(range(1, len(part["bends"]) + 1)):
        troubles.append(f"{where}: the bends' order is {orders}")
    for hole in part["holes"]:
        sizes = {"round": 1, "slot": 2, "rectangle": 2}.get(hole["shape"])
        if hole["face"] not in faces or sizes != len(hole["size"]) or min(hole["size"]) <= 0:
            troubles.append(f"{where}: hole {hole['id']}: unknown face, shape or size")
    for matrix in [f["to_part"] for f in part["faces"]] + part["places"]:
        trouble = space.rigid_trouble(space.matrix(matrix))
        if trouble:
            troubles.append(f"{where}: a placement: {trouble}")
    if not part["thickness"] > 0 or not part["mass_kg"] > 0:
        troubles.append(f"{where}: thickness or mass not above zero")
    return troubles


def numbers_are_unique(data):
    troubles = []
    for key, name in (("parts", "number"), ("joints", "id"), ("fasteners", "id")):
        names = [item.get(name) for item in data[key]]
        if len(set(names)) != len(names):
            troubles.append(f"{key}: a {name} stands twice")
    return troubles


def joint_form(joint):
    where = joint.get("id", "joint")
    troubles = table(joint, JOINT, where)
    for pair in joint.get("pairs", []):
        if len(pair) < 2:
            troubles.append(f"{where}: a pair of {len(pair)} members")
        for member in pair:
            if "into" in member:
                if member["into"] not in ("floor", "rail", "wall"):
                    troubles.append(f"{where}: into {member['into']!r}")
            else:
                troubles += table(member, {"part": TEXT, "place": int, "hole": TEXT}, where)
    return troubles


def finding_form(finding):
    troubles = table(finding, FINDING, "finding")
    if finding.get("severity") not in ("error", "warning", "note"):
        troubles.append(f"finding: severity {finding.get('severity')!r}")
    if finding.get("severity") == "error" and not finding.get("accepted"):
        troubles.append(f"released with an error: {finding.get('message')}")
    return troubles


def shortest_numbers(text):
    """Numbers that could be written shorter, are not finite, or are minus zero."""
    wrong = []

    def number(token):
        value = float(token)
        digits = re.sub(r"[eE].*|[-.]", "", token).strip("0")
        if token.startswith("-") and value == 0.0:
            wrong.append(token)
        elif len(digits) > len(re.sub(r"[eE].*|[-.]", "", repr(value)).strip("0")):
            wrong.append(token)
        return value

    json.loads(text, parse_float=number, parse_int=number, parse_constant=wrong.append)
    return [f"number written as {token}" for token in wrong[:5]]
