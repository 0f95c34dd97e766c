"""Nested sheets: every part as often as it is needed, inside the sheet, none overlapping."""

from itertools import combinations

from . import plane


def check(kit):
    sheets = kit.data["sheets"]
    if not sheets:
        return []
    troubles, laid = [], {}
    for sheet in sheets:
        if not (kit.folder / sheet["file"]).is_file():
            troubles.append(f"{sheet['file']} is missing")
        for item in sheet["parts"]:
            laid[item["number"]] = laid.get(item["number"], 0) + sheet["copies"]
        troubles += layout(kit, sheet)
    for part in kit.parts:
        if laid.get(part.number, 0) != part.data["quantity"]:
            troubles.append(f"{part.number}: {laid.get(part.number, 0)} on sheets, "
                            f"{part.data['quantity']} needed")
    return troubles + [f"{n} is no part" for n in sorted(set(laid) - set(kit.by_number))]


def layout(kit, sheet):
    """Blanks of the sheet's own material and thickness, within it and clear of each other."""
    troubles, shapes = [], []
    for item in sheet["parts"]:
        part = kit.by_number.get(item["number"])
        if part is None:
            continue
        if (part.data["material"], part.thickness) != (sheet["material"], sheet["thickness"]):
            troubles.append(f"{sheet['file']}: {part.number} is of other sheet")
        shape = plane.turned(part.blank_polygon, item["turn"], item["mirrored"],
                             item["x"], item["y"])
        x0, y0, x1, y1 = shape.bounds
        if min(x0, y0) < -1e-6 or x1 > sheet["width"] + 1e-6 or y1 > sheet["height"] + 1e-6:
            troubles.append(f"{sheet['file']}: {part.number} leaves the sheet")
        shapes.append((part.number, shape))
    for (one, a), (two, b) in combinations(shapes, 2):
        if a.intersects(b):
            troubles.append(f"{sheet['file']}: {one} and {two} overlap")
    return troubles
