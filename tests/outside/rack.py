"""A family of frames, shims and sieves for checks of sheets: small parts lie in the frames' wide
openings, a sieve has many holes close together."""

FAMILY = """
[template]
name = "rack-shims"
title = "Shims and frames of a rack"
about = "Frames with a wide opening, a sieve, and small parts that fit into the openings."

[parameters.frame]
width = { kind = "length", default = 500, min = 100, max = 4000, help = "Outside width of a frame." }
height = { kind = "length", default = 400, min = 100, max = 4000, help = "Outside height of a frame." }
count = { kind = "count", default = 2, min = 0, max = 50, help = "How many frames." }

[parameters.shim]
count = { kind = "count", default = 30, min = 0, max = 500, help = "How many shims." }

[parameters.sieve]
made = { kind = "flag", default = false, help = "Whether a sieve is made." }

[sheets.frame]
thickness = 2
material = "galvanized-dx51d"
help = "Frames."

[sheets.shim]
thickness = 2
material = "galvanized-dx51d"
help = "Shims, washers, sieve."

[[parts]]
name = "frame"
title = "Frame"
sheet = "frame"
plate = { width = "frame.width", height = "frame.height" }
[[parts.holes]]
face = "base"
for = "opening"
size = { rectangle = ["frame.height - 120", "frame.width - 120"] }
holes = { at = [["frame.width / 2", "frame.height / 2"]] }
[[parts.places]]
at = [0, 0, "10 * place.i"]
x = [1, 0, 0]
y = [0, 1, 0]
repeat = { count = "frame.count" }

[[parts]]
name = "shim"
title = "Shim"
sheet = "shim"
plate = { width = 24, height = 16 }
[[parts.places]]
at = [0, -500, "30 * place.i"]
x = [1, 0, 0]
y = [0, 1, 0]
repeat = { count = "shim.count" }

[[parts]]
name = "washer"
title = "Washer plate"
sheet = "shim"
plate = { width = 30, height = 30 }
[[parts.holes]]
face = "base"
for = "bolt"
size = { diameter = 9 }
holes = { at = [[15, 15]] }
[[parts.places]]
at = [0, -900, "30 * place.i"]
x = [1, 0, 0]
y = [0, 1, 0]
repeat = { count = 12 }

[[parts]]
name = "sieve"
title = "Sieve"
sheet = "shim"
when = "sieve.made"
plate = { width = 150, height = 110 }
[[parts.holes]]
face = "base"
for = "water"
size = { diameter = 5 }
holes = { grid = { from = [20, 20], to = [130, 90], pitch = [10, 10] } }
[[parts.places]]
at = [0, -1300, 0]
x = [1, 0, 0]
y = [0, 1, 0]
"""

HEAD = """kit = "{kit}"
template = "rack-shims"
revision = "A"
title = "Rack store, shims"
date = "2026-11-20"
"""


def family(folder):
    """Writes the family; the folder to name with --templates."""
    place = folder / "families"
    place.mkdir(exist_ok=True)
    (place / "rack-shims.toml").write_text(FAMILY, encoding="utf-8")
    return place


def spec(folder, kit, more=""):
    """Writes a spec; its path."""
    path = folder / f"{kit}.toml"
    path.write_text(HEAD.format(kit=kit) + more, encoding="utf-8")
    return path


def shop(root, folder, *changes, more=""):
    """A copy of the shop's files with changes of the shop's own; the folder to name with --shop."""
    place = folder / "shop"
    place.mkdir(exist_ok=True)
    for path in (root / "templates" / "shop").glob("*.toml"):
        text = path.read_text(encoding="utf-8")
        if path.name == "shop.toml":
            for old, new in changes:
                assert old in text, old
                text = text.replace(old, new)
            text += more
        (place / path.name).write_text(text, encoding="utf-8")
    return place


# What the shop may ask for besides, turned on.
EXTRAS = [(f"# {key} = {{", f"{key} = {{") for key in ("lead_in", "tab", "skeleton")]
