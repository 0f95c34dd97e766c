"""Writes the hand-built kit as a kit folder, with the general libraries of each format."""

import csv
import json
from pathlib import Path

import ezdxf
import reportlab
from reportlab.lib.pagesizes import A3, landscape
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from kitcheck import lists

LAYERS = ("CUT_OUTSIDE", "CUT_INSIDE", "BEND_UP", "BEND_DOWN", "ETCH", "SHEET", "INFO")


def write_kit(data, parent):
    """Writes every file of the kit under `parent`; returns the kit's folder."""
    folder = Path(parent) / data["kit"]
    (folder / "parts").mkdir(parents=True)
    write_json(data, folder)
    for part in data["parts"]:
        base = folder / "parts" / part["number"]
        write_dxf(part, base.with_suffix(".dxf"))
        write_svg(part, base.with_suffix(".svg"))
        write_pdf([drawing(data, part)], base.with_suffix(".pdf"))
    cover = [data["kit"], data["title"]] + [p["number"] for p in data["parts"]]
    pages = [cover] + [drawing(data, part) for part in data["parts"]]
    write_pdf(pages, folder / "drawings.pdf")
    named = [data["kit"], f"Revision {data['revision']}"]
    told = [f"{finding['check']} {finding['message']}" for finding in data["findings"]]
    write_pdf([named + told], folder / "checks.pdf")
    write_pdf([named + data["cautions"] + site_words(data)], folder / "site.pdf")
    for sheet in data["sheets"]:
        (folder / "sheets").mkdir(exist_ok=True)
        write_nest(data, sheet, folder / sheet["file"])
    write_list(data["parts"], lists.PART_COLUMNS, folder / "parts.csv")
    write_list(data["fasteners"], lists.FASTENER_COLUMNS, folder / "fasteners.csv")
    return folder


def site_words(data):
    return [f"Cut-out {data['site_work']['cut']['panel']['mass_kg']:.2f} kg"]


def write_json(data, folder):
    text = json.dumps(data, indent=1, ensure_ascii=False)
    (folder / "kit.json").write_text(text, encoding="utf-8")


def write_nest(data, sheet, path):
    """Outlines of blanks that are neither turned nor mirrored, inside the sheet's edge."""
    drawing_ = new_drawing()
    space, (w, h) = drawing_.modelspace(), (sheet["width"], sheet["height"])
    loop(space, [[0, 0, 0], [w, 0, 0], [w, h, 0], [0, h, 0]], "SHEET")
    blanks = {part["number"]: part["blank"] for part in data["parts"]}
    shifted = lambda points, item: [[x + item["x"], y + item["y"], b] for x, y, b in points]
    for item in sheet["parts"]:
        for inner in blanks[item["number"]]["inner"]:
            if "circle" in inner:
                x, y, d = inner["circle"]
                space.add_circle((x + item["x"], y + item["y"]), d / 2.0,
                                 dxfattribs={"layer": "CUT_INSIDE"})
            else:
                loop(space, shifted(inner["loop"], item), "CUT_INSIDE")
    for item in sheet["parts"]:
        loop(space, shifted(blanks[item["number"]]["outer"], item), "CUT_OUTSIDE")
    drawing_.saveas(path)


def new_drawing():
    drawing_ = ezdxf.new("R2000", setup=False)
    drawing_.header["$INSUNITS"], drawing_.header["$MEASUREMENT"] = 4, 1
    for layer in LAYERS:
        drawing_.layers.add(layer)
    return drawing_


def write_dxf(part, path):
    drawing_ = new_drawing()
    space = drawing_.modelspace()
    loop(space, part["blank"]["outer"], "CUT_OUTSIDE")
    for inner in part["blank"]["inner"]:
        if "circle" in inner:
            x, y, d = inner["circle"]
            space.add_circle((x, y), d / 2.0, dxfattribs={"layer": "CUT_INSIDE"})
        else:
            loop(space, inner["loop"], "CUT_INSIDE")
    for bend in part["bends"]:
        layer = f"BEND_{bend['direction'].upper()}"
        space.add_line(*bend["line"], dxfattribs={"layer": layer})
    drawing_.saveas(path)


def loop(space, points, layer):
    space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": layer})


def write_svg(part, path):
    w, h = part["blank"]["width"], part["blank"]["height"]
    points = " ".join(f"{x:.3f},{h - y:.3f}" for x, y, _ in part["blank"]["outer"])
    lines = "".join(f'<line x1="{a[0]}" y1="{h - a[1]}" x2="{b[0]}" y2="{h - b[1]}"/>'
                    for a, b in (bend["line"] for bend in part["bends"]))
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" '
                    f'viewBox="0 0 {w} {h}"><title>{part["title"]}</title>'
                    f'<polygon points="{points}"/>{lines}</svg>', encoding="utf-8")


def drawing(data, part):
    return [part["number"], part["title"], part["material"], f"Revision {part['revision']}"]


def write_pdf(pages, path):
    font = Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"
    pdfmetrics.registerFont(TTFont("Vera", str(font)))
    canvas = Canvas(str(path), pagesize=landscape(A3), initialFontName="Vera")
    for lines in pages:
        canvas.setFont("Vera", 10)
        for i, line in enumerate(lines):
            canvas.drawString(60, 700 - 20 * i, line)
        canvas.showPage()
    canvas.save()


def write_list(items, columns, path):
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file)
        out.writerow(columns)
        out.writerows([value(item) for value in columns.values()] for item in items)
