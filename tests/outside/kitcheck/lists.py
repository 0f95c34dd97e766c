"""parts.csv and fasteners.csv against kit.json."""

import csv
import re

PART_COLUMNS = {
    "number": lambda p: p["number"], "revision": lambda p: p["revision"],
    "title": lambda p: p["title"],
    "quantity": lambda p: p["quantity"], "material": lambda p: p["material"],
    "thickness": lambda p: p["thickness"], "mass": lambda p: p["mass_kg"],
    "blank width": lambda p: p["blank"]["width"], "blank height": lambda p: p["blank"]["height"],
    "bends": lambda p: len(p["bends"]), "holes": lambda p: len(p["blank"]["inner"]),
    "cut length": lambda p: p["blank"]["cut_length_mm"], "pierces": lambda p: p["blank"]["pierces"],
    "file": lambda p: f"parts/{p['number']}.dxf"}
FASTENER_COLUMNS = {
    "id": lambda f: f["id"], "title": lambda f: f["title"], "count": lambda f: f["count"],
    "spare": lambda f: f["spare"], "total": lambda f: f["count"] + f["spare"]}


def check(kit):
    return (agree(kit, "parts.csv", kit.data["parts"], PART_COLUMNS) +
            agree(kit, "fasteners.csv", kit.data["fasteners"], FASTENER_COLUMNS))


def agree(kit, name, items, columns):
    """One row for each item in order, each column as kit.json has it."""
    path = kit.folder / name
    if not path.is_file():
        return [f"{name} is missing"]
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file, strict=True))
    if not rows or any(len(row) != len(rows[0]) for row in rows):
        return [f"{name}: rows of different lengths"]
    head = [re.sub(r"[_ ]+", " ", title.strip().lower()) for title in rows[0]]
    if len(rows) - 1 != len(items):
        return [f"{name}: {len(rows) - 1} rows for {len(items)} items"]
    troubles = [f"{name}: cell {cell!r} would start a formula" for row in rows[1:] for cell in row
                if re.match(r"[=@\t\r]|[+-](?![0-9.])", cell)]
    for column, value in columns.items():
        index = next((i for i, title in enumerate(head) if title.startswith(column)), None)
        if index is None:
            troubles.append(f"{name}: no column {column!r} in {head}")
            continue
        troubles += [f"{name}: {column} is {row[index]!r}, kit.json {value(item)!r}"
                     for row, item in zip(rows[1:], items) if not same(row[index], value(item))]
    return troubles


def same(cell, value):
    """Equal texts, or numbers that agree to the digits that the list gives."""
    if isinstance(value, str):
        return cell == value or cell == "'" + value
    try:
        number = float(cell)
    except ValueError:
        return False
    digits = len(cell.partition(".")[2])
    whole = digits > 0 or number == round(value)
    return whole and abs(number - value) <= 0.5001 * 10.0 ** -digits
