"""Faults in the files beside kit.json: DXF, SVG, PDF, lists and nests."""

import math

import ezdxf
from faults import fault, head, left, setter, simple
from pypdf import PdfReader, PdfWriter


def on_dxf(change, number="OTS-0001-02"):
    """A fault in one DXF file."""
    def make(folder):
        path = folder / "parts" / f"{number}.dxf"
        drawing = ezdxf.readfile(path)
        change(drawing, drawing.modelspace())
        drawing.saveas(path)
    return make


# dxf
simple("dxf", "file missing", lambda f: (f / "parts" / "OTS-0001-02.dxf").unlink(), "files")
simple("dxf", "file of no part", lambda f: (f / "parts" / "old.dxf").write_bytes(
    (f / "parts" / "OTS-0001-02.dxf").read_bytes()), "files")
simple("dxf", "unit", on_dxf(lambda d, m: d.header.__setitem__("$INSUNITS", 1)), "files")
simple("dxf", "measurement", on_dxf(lambda d, m: d.header.__setitem__("$MEASUREMENT", 0)), "files")
simple("dxf", "layer", on_dxf(lambda d, m: d.layers.add("NOTES")), "files")
simple("dxf", "text in a cut layer", on_dxf(lambda d, m: m.add_text(
    "A", dxfattribs={"layer": "CUT_INSIDE"})), "files")
simple("dxf", "spline", on_dxf(lambda d, m: m.add_spline(
    [(0, 0), (1, 1), (2, 0)], dxfattribs={"layer": "ETCH"})), "files")
simple("dxf", "contour open", on_dxf(lambda d, m: m.query("LWPOLYLINE")[0].close(False)), "files")
simple("dxf", "circle doubled", on_dxf(lambda d, m: m.add_circle(
    m.query("CIRCLE")[0].dxf.center, m.query("CIRCLE")[0].dxf.radius,
    dxfattribs={"layer": "CUT_INSIDE"})), "files")
simple("dxf", "line of no length", on_dxf(lambda d, m: m.add_line(
    (5, 5), (5, 5), dxfattribs={"layer": "BEND_UP"})), "files")
simple("dxf", "two outlines", on_dxf(lambda d, m: m.add_lwpolyline(
    [(0, 0), (1, 0), (1, 1)], close=True, dxfattribs={"layer": "CUT_OUTSIDE"})), "files")
simple("dxf", "hole missing", on_dxf(lambda d, m: m.query("CIRCLE")[0].destroy()), "files")
simple("dxf", "hole 0.0002 mm aside", on_dxf(lambda d, m: m.query("CIRCLE")[0].translate(
    2e-4, 0, 0)), "files")
simple("dxf", "outline shifted", on_dxf(lambda d, m: m.query("LWPOLYLINE")[0].translate(
    2e-4, 0, 0)), "files")
simple("dxf", "arc straightened", on_dxf(lambda d, m: m.query("LWPOLYLINE")[0].set_points(
    [(x, y, 0) for x, y in m.query("LWPOLYLINE")[0].get_points("xy")], "xyb")), "files")
simple("dxf", "polygon for a circle", on_dxf(lambda d, m: polygon_hole(m)), "files")
simple("dxf", "bend line missing", on_dxf(lambda d, m: m.query("LINE")[0].destroy()), "files")
simple("dxf", "bend on the wrong layer", on_dxf(lambda d, m: m.query("LINE")[0].dxf.set(
    "layer", "BEND_DOWN")), "files")
simple("dxf", "area in kit.json", setter(lambda d: head(d)["blank"], "area_mm2", lambda a: a + 1.0))


def polygon_hole(space):
    """A hole drawn as a twelve-sided polygon."""
    circle = space.query("CIRCLE")[0]
    x, y, r = circle.dxf.center.x, circle.dxf.center.y, circle.dxf.radius
    corners = [(x + r * math.cos(i * math.pi / 6), y + r * math.sin(i * math.pi / 6))
               for i in range(12)]
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "CUT_INSIDE"})
    circle.destroy()


# refold
simple("refold", "hole 0.06 mm aside in the DXF", on_dxf(
    lambda d, m: m.query("CIRCLE")[0].translate(0.06, 0, 0)), "files")
simple("refold", "hole missing in the DXF", on_dxf(
    lambda d, m: m.query("CIRCLE")[0].destroy()), "files")
simple("refold", "bend line 0.06 mm aside in the DXF", on_dxf(
    lambda d, m: [line.translate(0.06, 0, 0) for line in m.query("LINE")]), "files")
simple("refold", "bend the other way in the DXF", on_dxf(
    lambda d, m: [line.dxf.set("layer", "BEND_DOWN") for line in m.query("LINE")]), "files")
simple("refold", "bend line missing in the DXF", on_dxf(
    lambda d, m: [line.destroy() for line in list(m.query("LINE"))]), "files")

# svg, pdf, lists, sheets


def in_file(name, old, new):
    """A fault in one text file."""
    def make(folder):
        path = folder / name
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return make


SVG = "parts/OTS-0001-02.svg"
simple("svg", "file missing", lambda f: (f / SVG).unlink(), "files")
simple("svg", "not well-formed", in_file(SVG, "</title>", ""), "files")
simple("svg", "no unit", in_file(SVG, 'mm"', '"'), "files")
simple("svg", "not true to size", in_file(SVG, 'viewBox="0 0 ', 'viewBox="0 0 1'), "files")
simple("svg", "no title", in_file(SVG, "Header", ""), "files")
simple("svg", "not a number", in_file(SVG, 'x1="', 'x1="NaN'), "files")
simple("pdf", "file missing", lambda f: (f / "drawings.pdf").unlink(), "files")
simple("pdf", "broken", lambda f: (f / "drawings.pdf").write_bytes(
    (f / "drawings.pdf").read_bytes()[:-200]), "files")
simple("pdf", "check sheet missing", lambda f: (f / "checks.pdf").unlink(), "files")
simple("pdf", "finding not told", lambda d: d["findings"].append(
    {"check": "fit.contact", "message": "stand apart 3.00 mm"}))
simple("pdf", "another revision", setter(lambda d: d, "revision", "Z9"))
simple("pdf", "revision that is only somewhere", setter(lambda d: d, "revision", "H"))
simple("pdf", "another material", setter(left, "material", "Stainless steel 1.4301"))
simple("pdf", "part not in the set",
       lambda d: d["parts"].append(dict(head(d), number="OTS-0001-03")))
simple("pdf", "cover missing", lambda f: (f / "drawings.pdf").write_bytes(
    (f / "parts/OTS-0001-02.pdf").read_bytes()), "files")


# site


def cut(data):
    return data["site_work"]["cut"]


simple("site", "no site work", lambda d: d.pop("site_work"))
simple("site", "cut missing", lambda d: d["site_work"].__setitem__("cut", None))
simple("site", "left line 0.1 mm aside", setter(
    lambda d: cut(d)["lines"], "from_left_post", [651.1, 1149.0]))
simple("site", "height from the floor", setter(lambda d: cut(d)["lines"], "z", [1.0, 1896.0]))
simple("site", "diagonal", setter(lambda d: cut(d)["lines"], "diagonal", 1960.0))
simple("site", "sheet not developed", setter(lambda d: cut(d)["panel"], "developed", 498.0))
simple("site", "mass without paint", setter(
    lambda d: cut(d)["panel"], "mass_kg", lambda m: m - 0.3))
simple("site", "thinner sheet", setter(lambda d: cut(d)["sheets"][0], "thickness", 1.5))
simple("site", "centre of mass outside", setter(
    lambda d: cut(d)["panel"], "centre", [300.0, 19.0, 948.0]))
simple("site", "tab off its cut", setter(lambda d: cut(d)["holding"]["tabs"][0], "z", 20.0))
simple("site", "upper tab cut first", lambda d: cut(d)["holding"]["tabs"].insert(
    0, cut(d)["holding"]["tabs"].pop(3)))
simple("site", "tab weaker than said", setter(lambda d: cut(d)["holding"], "tab_width", 20.0))
simple("site", "lip past its flat", setter(lambda d: cut(d)["lips"][0], "reach", 70.0))
simple("site", "another flat", setter(lambda d: cut(d)["lips"][1], "flat_from_left", 4))
simple("site", "a fastener short", setter(
    lambda d: d["site_work"]["settings"][0], "count", lambda n: n - 1))
simple("site", "a part that no step builds in", lambda d: d["site_work"]["steps"][0][
    "parts"].pop())
simple("site", "a joint that no step sets", lambda d: d["site_work"]["steps"][0]["joints"].pop())
simple("site", "a joint set before its parts stand", lambda d: d["site_work"]["steps"].insert(
    0, d["site_work"]["steps"][0] | {"parts": []}))
simple("site", "a disc short", setter(
    lambda d: d["site_work"]["tools"][0], "amount", lambda n: n - 1))
simple("site", "too little primer", setter(lambda d: d["site_work"]["tools"][1], "amount", 0.05))
simple("site", "a unit without an amount", setter(
    lambda d: d["site_work"]["tools"][2], "unit", "pairs"))
simple("site", "caution not on the paper", lambda d: d["cautions"].append("Keep clear."))
simple("site", "paper missing", lambda f: (f / "site.pdf").unlink(), "files")


def rewritten_pdf(change):
    """The header's drawing with its first page changed."""
    def make(folder):
        path = folder / "parts/OTS-0001-02.pdf"
        out = PdfWriter(clone_from=PdfReader(path))
        change(out.pages[0])
        out.write(path)
    return make


def wide(page):
    page.mediabox.upper_right = (1000, 800)


def bare_font(page):
    for font in page["/Resources"]["/Font"].values():
        font.get_object()["/FontDescriptor"].get_object().pop("/FontFile2")


simple("pdf", "odd paper", rewritten_pdf(wide), "files")
simple("pdf", "font not embedded", rewritten_pdf(bare_font), "files")
simple("lists", "file missing", lambda f: (f / "parts.csv").unlink(), "files")
simple("lists", "quantity", setter(left, "quantity", 2))
simple("lists", "another revision", setter(left, "revision", "A"))
simple("pdf", "another revision of a part", setter(left, "revision", "A"))
simple("lists", "part missing", lambda d: d["parts"].pop())
simple("lists", "fastener total", setter(lambda d: d["fasteners"][0], "spare", 9))
simple("lists", "formula", setter(left, "title", "=1+1"), "data")
simple("lists", "column missing", in_file("parts.csv", "pierces", "holes2"), "files")


def nested(change=lambda sheet: None):
    """A kit with one sheet on which all its blanks lie; `change` spoils it."""
    def make(data):
        x, items = 10.0, []
        for part in data["parts"]:
            items.append({"number": part["number"], "x": x, "y": 10.0, "turn": 0,
                          "mirrored": False})
            x += part["blank"]["width"] + 10.0
        data["sheets"] = [{"file": "sheets/sheet-01.dxf", "material": left(data)["material"],
                           "thickness": 2.0, "width": 1500.0, "height": 3000.0, "copies": 1,
                           "parts": items}]
        change(data["sheets"][0])
    return make


simple("sheets", "overlap", nested(lambda s: s["parts"][1].__setitem__("x", 20.0)), "data")
simple("sheets", "nearer than the gap", nested(lambda s: s["parts"][1].__setitem__(
    "x", s["parts"][1]["x"] - 6.0)), "data")
simple("sheets", "outside the margin", nested(lambda s: s["parts"][0].__setitem__("y", 8.0)), "data")
simple("sheets", "face down", nested(lambda s: s["parts"][0].__setitem__("mirrored", True)), "data")
simple("sheets", "clamp under a part", nested(lambda s: s.__setitem__(
    "blocked", [[0.0, 0.0, 30.0, 30.0]])), "data")
simple("sheets", "off the sheet", nested(lambda s: s["parts"][0].__setitem__("y", 1200.0)), "data")
simple("sheets", "part forgotten", nested(lambda s: s["parts"].pop()), "data")
simple("sheets", "other material", nested(lambda s: s.__setitem__("material", "Aluminium")), "data")
simple("sheets", "file missing", nested())


@fault("sheets", "blank elsewhere in the file", "data")
def shifted_nest(data):
    nested()(data)
    data["sheets"][0]["parts"][0]["turn"] = 180
