"""What a kit's files cost when general libraries of Python write the same geometry.

    yardstick.py KIT.JSON [--rounds N]

For each part one DXF with ezdxf, one SVG with svgwrite and one PDF of its shop drawing's pages with
reportlab, and the kit.json again with json; all into a fresh folder, on one thread. When the kit's
own drawn files stand beside KIT.JSON, drawings have the very lines and texts of those; without
them, about as many are made up from the blank. Prints milliseconds for each format and, last, for
the whole kit: the median of the rounds, reading and preparing left out.

The yardstick does less than the program: it works nothing out, writes each page once instead of
twice, and sets text in a built-in typeface that needs no embedding.
"""

import argparse
import json
import math
import re
import statistics
import tempfile
import time
import zlib
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import svgwrite
from reportlab.pdfgen.canvas import Canvas

MM = 72.0 / 25.4
LAYERS = {"CUT_OUTSIDE": 7, "CUT_INSIDE": 1, "BEND_UP": 5, "BEND_DOWN": 3, "ETCH": 6}


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("kit", type=Path)
    parser.add_argument("--rounds", type=int, default=5)
    options = parser.parse_args()
    kit = json.loads(options.kit.read_text(encoding="utf-8"))
    work = [prepare(part, options.kit.parent) for part in kit["parts"]]
    timings = []
    with tempfile.TemporaryDirectory() as place:
        write_kit(kit, work, Path(place))
        for _ in range(options.rounds):
            timings.append(write_kit(kit, work, Path(place)))
    print(f"{len(work)} parts, {sum(len(w['pages']) for w in work)} pages, "
          f"{sum(len(p['steps']) for w in work for p in w['pages'])} steps of lines, "
          f"{sum(len(p['texts']) for w in work for p in w['pages'])} texts, "
          f"{'as drawn' if any(w['drawn'] for w in work) else 'made up'}")
    for name in timings[0]:
        print(f"{name:6} {statistics.median(t[name] for t in timings) * 1000.0:9.2f} ms")


def write_kit(kit, work, place):
    """Writes everything once; seconds by format."""
    marks = [time.perf_counter()]
    for item in work:
        write_dxf(item["part"], item["etch"], place / f"{item['part']['number']}.dxf")
    marks.append(time.perf_counter())
    for item in work:
        write_svg(item["preview"], place / f"{item['part']['number']}.svg")
    marks.append(time.perf_counter())
    for item in work:
        write_pdf(item, place / f"{item['part']['number']}.pdf")
    marks.append(time.perf_counter())
    (place / "kit.json").write_text(json.dumps(kit, indent=1, ensure_ascii=False), encoding="utf-8")
    marks.append(time.perf_counter())
    spans = [b - a for a, b in zip(marks, marks[1:])]
    return {"dxf": spans[0], "svg": spans[1], "pdf": spans[2], "json": spans[3],
            "kit": marks[-1] - marks[0]}


# Writers


def write_dxf(part, etch, path):
    drawing = ezdxf.new("R2000", units=ezdxf.units.MM)
    for name, colour in LAYERS.items():
        drawing.layers.add(name, color=colour)
    space = drawing.modelspace()
    for points, closed in etch:
        space.add_lwpolyline(points, close=closed, dxfattribs={"layer": "ETCH"})
    for bend in part["bends"]:
        layer = "BEND_UP" if bend["direction"] == "up" else "BEND_DOWN"
        space.add_line(*bend["line"], dxfattribs={"layer": layer})
    for hole in part["blank"]["inner"]:
        if "circle" in hole:
            x, y, d = hole["circle"]
            space.add_circle((x, y), d / 2.0, dxfattribs={"layer": "CUT_INSIDE"})
        else:
            space.add_lwpolyline(hole["loop"], format="xyb", close=True,
                                 dxfattribs={"layer": "CUT_INSIDE"})
    space.add_lwpolyline(part["blank"]["outer"], format="xyb", close=True,
                         dxfattribs={"layer": "CUT_OUTSIDE"})
    drawing.saveas(path)


def write_svg(preview, path):
    width, height = preview["size"]
    drawing = svgwrite.Drawing(str(path), size=(f"{width}mm", f"{height}mm"),
                               viewBox=f"0 0 {width} {height}", debug=False)
    for data in preview["paths"]:
        drawing.add(drawing.path(d=data, fill="none", stroke="#000", stroke_width=0.25))
    for x, y, size, content in preview["texts"]:
        drawing.add(drawing.text(content, insert=(x, y), font_size=size))
    drawing.save()


def write_pdf(item, path):
    canvas = Canvas(str(path), invariant=True, pageCompression=1)
    canvas.setTitle(item["part"]["title"])
    for page in item["pages"]:
        width, height = page["size"]
        canvas.setPageSize((width * MM, height * MM))
        canvas.scale(MM, MM)
        draw_lines(canvas, page["steps"])
        draw_texts(canvas, page["texts"])
        canvas.showPage()
    canvas.save()


def draw_lines(canvas, steps):
    line = None
    for operator, numbers in steps:
        if operator == "w":
            canvas.setLineWidth(numbers[0])
        elif operator in ("S", "f*", "B*"):
            if line is not None:
                canvas.drawPath(line, stroke=operator != "f*", fill=operator != "S")
            line = None
        else:
            line = line or canvas.beginPath()
            if operator == "m":
                line.moveTo(*numbers)
            elif operator == "l":
                line.lineTo(*numbers)
            elif operator == "c":
                line.curveTo(*numbers)
            else:
                line.close()


def draw_texts(canvas, texts):
    for matrix, size, content in texts:
        text = canvas.beginText()
        text.setFont("Helvetica", size)
        text.setTextTransform(*matrix)
        text.textOut(content)
        canvas.drawText(text)


# What is to be written


def prepare(part, folder):
    """The part with what its files show: as drawn beside kit.json, or made up."""
    pdf = folder / "parts" / f"{part['number']}.pdf"
    svg, dxf = pdf.with_suffix(".svg"), pdf.with_suffix(".dxf")
    pages = drawn_pages(pdf.read_bytes()) if pdf.exists() else [made_up_page(part)]
    preview = drawn_preview(svg) if svg.exists() else made_up_preview(part)
    etch = drawn_etch(dxf) if dxf.exists() else []
    return {"part": part, "pages": pages, "preview": preview, "etch": etch, "drawn": pdf.exists()}


def drawn_pages(data):
    """Lines and texts of the pages of one of the program's own PDFs: an operator a line."""
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", data)
    pages = []
    for match in re.finditer(rb"stream\n(.*?)\nendstream", data, re.S):
        if len(pages) == len(boxes):
            break
        content = zlib.decompress(match[1]).decode("ascii")
        size = [float(points) / MM for points in boxes[len(pages)]]
        pages.append({"size": size, **operators(content)})
    return pages


def operators(content):
    steps, texts, size, matrix = [], [], 3.5, (1, 0, 0, 1, 0, 0)
    for line in content.splitlines():
        words = line.split(" ")
        operator = words[-1]
        if operator in ("m", "l", "c", "h", "S", "f*", "B*"):
            steps.append((operator, [float(word) for word in words[:-1]]))
        elif operator == "d" and words[1] == "w":
            steps.append(("w", [float(words[0])]))
        elif operator == "Tf":
            size = float(words[1])
        elif operator == "Tm":
            matrix = tuple(float(word) for word in words[:6])
        elif operator == "Tj":
            # Four digits a glyph; which glyph it is does not change the work.
            texts.append((matrix, size, "n" * (len(words[0]) // 4)))
    return {"steps": steps, "texts": texts}


def drawn_preview(path):
    space = "{http://www.w3.org/2000/svg}"
    root = ElementTree.parse(path).getroot()
    size = [float(number) for number in root.get("viewBox").split()[2:]]
    paths = [node.get("d") for node in root.iter(f"{space}path")]
    texts = [(node.get("x", 0), node.get("y", 0), node.get("font-size"), node.text or "")
             for node in root.iter(f"{space}text")]
    return {"size": size, "paths": paths, "texts": texts}


def drawn_etch(path):
    space = ezdxf.readfile(path).modelspace()
    return [([(x, y) for x, y, *_ in line.get_points()], line.closed)
            for line in space.query('LWPOLYLINE[layer=="ETCH"]')]


def made_up_page(part):
    """The blank, a second view with as many edges, and a line and a text for each dimension."""
    steps, texts = [("w", [0.25])], []
    scale = 300.0 / max(part["blank"]["width"], part["blank"]["height"], 1.0)
    for shift in (0.0, 120.0):
        for run in contours(part):
            points = [(20.0 + x * scale, 40.0 + shift + y * scale) for x, y in run]
            steps.append(("m", points[0]))
            steps.extend(("l", point) for point in points[1:])
            steps.append(("h", []))
        steps.append(("S", []))
    count = 60 + 10 * len(part["bends"]) + 6 * len(part["holes"])
    for i in range(count):
        x, y = 20.0 + i % 20 * 18.0, 20.0 + i // 20 * 5.0
        steps.extend([("m", (x, y)), ("l", (x + 12.0, y)), ("S", [])])
        texts.append(((1, 0, 0, 1, x, y), 3.4, "1234.5"))
    return {"size": [420.0, 297.0], "steps": steps, "texts": texts}


def made_up_preview(part):
    paths = ["M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in run) + "z" for run in contours(part)]
    size = [part["blank"]["width"], part["blank"]["height"]]
    return {"size": size, "paths": paths, "texts": [(0, 0, 5, part["number"])]}


def contours(part):
    """The blank's contours as points; circles as 8 corners, no more than the curves of a PDF."""
    runs = [[(x, y) for x, y, _ in part["blank"]["outer"]]]
    for hole in part["blank"]["inner"]:
        if "circle" in hole:
            x, y, d = hole["circle"]
            turns = [2.0 * math.pi * i / 8 for i in range(8)]
            runs.append([(x + d / 2 * math.cos(a), y + d / 2 * math.sin(a)) for a in turns])
        else:
            runs.append([(x, y) for x, y, _ in hole["loop"]])
    return runs


if __name__ == "__main__":
    main()
