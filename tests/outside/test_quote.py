"""The price of every kit worked out again from `kit.json` and the shop's file, with exact fractions.

The rule is the one that the shop's file states: sheet by the mass of the rectangle around each blank and the
nest's gap, the laser's time from the cutting speeds (straight between two rows) and pierces, so much a bend, a fastener (spares too) and an order,
the margin on these, up to the next whole multiple. Quantities and rates are ten-thousandths, amounts cents,
halves rounded up.
"""

import csv
import math
import re
import tomllib
from fractions import Fraction

import pypdf
import pytest

FINE = 10_000


def fine(value):
    """Whole ten-thousandths of a double, halves up."""
    return math.floor(value * FINE + 0.5)


def half_up(fraction):
    return math.floor(fraction + Fraction(1, 2))


def amount(quantity, rate):
    return half_up(Fraction(fine(quantity) * fine(rate), FINE * FINE) * 100)


@pytest.fixture(scope="session")
def shop(root):
    return tomllib.loads((root / "templates/shop/shop.toml").read_text())["shop"]


@pytest.fixture(scope="session")
def materials(root):
    """By title: id and density. The file's inline tables span lines, which `tomllib` does not read."""
    text = (root / "templates/shop/materials.toml").read_text()
    blocks = text.split("[[material]]")[1:]
    found = {}
    for block in blocks:
        said = {key: re.search(rf'^{key} = "?([^"\n#]+)', block, re.M).group(1).strip()
                for key in ("id", "title", "density")}
        found[said["title"]] = (said["id"], float(said["density"]))
    return found


def cutting(shop, material, thickness):
    """Speed and pierce time of the first table that serves the material."""
    tables = [t for t in shop.get("cutting", []) if material in t.get("materials", [material])]
    if not tables:
        return shop["laser"]["speed"], shop["laser"]["pierce"]
    rows = sorted(tables[0]["row"], key=lambda row: row["thickness"])
    if thickness <= rows[0]["thickness"] or thickness > rows[-1]["thickness"]:
        row = rows[0] if thickness <= rows[0]["thickness"] else rows[-1]
        return row["speed"], row["pierce"]
    low, high = next(pair for pair in zip(rows, rows[1:]) if thickness <= pair[1]["thickness"])
    share = (thickness - low["thickness"]) / (high["thickness"] - low["thickness"])
    return tuple(low[key] + (high[key] - low[key]) * share for key in ("speed", "pierce"))


def expected(data, shop, materials):
    """Amounts in cents by kind, without the price."""
    rates, gap = shop["rates"], shop["nest"]["part"]
    per_kg = {row["id"]: row["per_kg"] for row in rates["material"]}
    sums = {"material": 0, "cutting": 0, "bending": 0, "fasteners": 0}
    for part in data["parts"]:
        blank, count = part["blank"], float(part["quantity"])
        material, density = materials[part["material"]]
        area = (blank["width"] + gap) * (blank["height"] + gap)
        kg = area * (part["thickness"] * density * 1e-9) * count
        speed, pierce = cutting(shop, material, part["thickness"])
        seconds = blank["cut_length_mm"] / speed + blank["pierces"] * pierce
        sums["material"] += amount(kg, per_kg[material])
        sums["cutting"] += amount(seconds * count / 3600.0, rates["laser_hour"])
        sums["bending"] += amount(count * len(part["bends"]), rates["bend"])
    for row in data["fasteners"]:
        sums["fasteners"] += amount(row["count"] + row["spare"], rates["fastener"])
    sums["handling"] = amount(1, rates["handling"])
    before = sum(sums.values())
    sums["margin"] = half_up(Fraction(before * fine(rates["margin_percent"]), FINE * 100))
    step = fine(rates["rounding"]) // 100
    sums["rounding"] = -(before + sums["margin"]) % step if step else 0
    return sums


def cents(text):
    whole, part = text.split(".")
    return int(whole) * 100 + int(part)


def test_price_follows_from_kit_and_rates(kit, shop, materials):
    rows = list(csv.DictReader((kit.folder / "quote.csv").open(newline="")))
    found = {}
    for row in rows:
        found[row["kind"]] = found.get(row["kind"], 0) + cents(row["amount"])
    price = found.pop("price")
    wanted = expected(kit.data, shop, materials)
    assert found == {kind: value for kind, value in wanted.items() if kind in found}
    assert all(value == 0 for kind, value in wanted.items() if kind not in found)
    assert price == sum(wanted.values())


def test_customer_sees_one_price_and_the_mark(kit):
    rows = list(csv.DictReader((kit.folder / "quote.csv").open(newline="")))
    pages = [page.extract_text() for page in pypdf.PdfReader(kit.folder / "quote.pdf").pages]
    assert 1 <= len(pages) <= 2
    assert all("NOT FOR FABRICATION" in page for page in pages)
    shown = pages[0].replace(" ", "").replace("\u2009", "")
    assert rows[-1]["amount"] + rows[-1]["currency"] in shown
    words = " ".join(pages)
    assert not any(word in words for word in ("margin", "laser_hour", "handling and"))
    assert {"quote.pdf", "quote.csv"} <= set(kit.data["files"])
