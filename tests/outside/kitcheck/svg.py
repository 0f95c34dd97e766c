"""Each part's preview: well-formed, in millimetres, with a title and something drawn."""

import re
from xml.etree import ElementTree

SPACE = "{http://www.w3.org/2000/svg}"
DRAWN = {"path", "line", "polyline", "polygon", "circle", "ellipse", "rect"}


def check(kit):
    troubles = []
    for part in kit.parts:
        path = part.file("svg")
        if not path.is_file():
            troubles.append(f"{path.name} is missing")
            continue
        try:
            root = ElementTree.fromstring(path.read_bytes())
        except ElementTree.ParseError as error:
            troubles.append(f"{path.name}: {error}")
            continue
        troubles += [f"{path.name}: {trouble}" for trouble in picture(root)]
    return troubles


def picture(root):
    if root.tag != SPACE + "svg":
        return [f"root is {root.tag}"]
    troubles = size(root)
    drawn = [e for e in root.iter() if e.tag in {SPACE + name for name in DRAWN}]
    if len(drawn) < 2:
        troubles.append("nothing is drawn")
    title = root.find(f".//{SPACE}title")
    if title is None or not (title.text or "").strip():
        troubles.append("no title")
    for element in root.iter():
        if element.tag in (SPACE + "script", SPACE + "image", SPACE + "foreignObject"):
            troubles.append(f"holds a {element.tag}")
        for key, value in element.attrib.items():
            if re.search(r"(?<![A-Za-z])(NaN|nan|inf)(?![A-Za-z])", value):
                troubles.append(f"{key} is {value[:40]!r}")
    return troubles


def size(root):
    """Width and height in mm that equal the view box, so that it prints true to size."""
    box = re.split(r"[ ,]+", root.get("viewBox", "").strip())
    lengths = [re.fullmatch(r"([0-9.]+)mm", root.get(key, "")) for key in ("width", "height")]
    if len(box) != 4 or None in lengths:
        return [f"size {root.get('width')} x {root.get('height')}, viewBox {root.get('viewBox')}"]
    for length, extent in zip(lengths, box[2:]):
        if abs(float(length[1]) - float(extent)) > 1e-6 * float(extent):
            return [f"width or height {length[0]} beside viewBox extent {extent}"]
    return []
