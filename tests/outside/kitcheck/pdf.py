"""Drawings: strict reading, paper sizes, embedded fonts, and the texts a reader looks for."""

import logging
import re
from functools import lru_cache

from pypdf import PdfReader
from pypdf.errors import PyPdfError

MM = 72.0 / 25.4
ISO = {(420.0, 297.0), (210.0, 297.0)}  # A3 landscape, A4 portrait (ISO 216)
ANSI = {(431.8, 279.4), (215.9, 279.4)}  # ANSI B landscape and A portrait
logging.getLogger("pypdf").setLevel(logging.ERROR)


def check(kit):
    troubles = []
    for part in kit.parts:
        pages, found = read(part.file("pdf"))
        troubles += found or shop_drawing(part, pages)
    pages, found = read(kit.folder / "drawings.pdf")
    troubles += found or drawing_set(kit, pages)
    for path in kit_papers(kit):
        pages, found = read(path)
        troubles += found or kit_paper(kit, path, pages)
    return troubles + one_system(kit)


def one_system(kit):
    """Papers of one kit are all ISO or all ANSI."""
    sizes = {page[0] for path in papers(kit) for page in read(path)[0]}
    mixed = sizes & ISO and sizes & ANSI
    return [f"ISO and ANSI papers in one kit: {sorted(sizes)}"] if mixed else []


def papers(kit):
    return [part.file("pdf") for part in kit.parts] + kit_papers(kit) + [kit.folder / "drawings.pdf"]


def kit_papers(kit):
    """Papers about the whole kit besides the drawing set; the check sheet is always one."""
    others = {p for p in kit.folder.glob("*.pdf") if p.name != "drawings.pdf"}
    return sorted(others | {kit.folder / "checks.pdf"})


def kit_paper(kit, path, pages):
    """Every page names kit and revision; the check sheet tells every finding."""
    troubles = []
    for at, (_, text) in enumerate(pages, 1):
        named = re.search(rf"\bRev\w*\.? {re.escape(kit.data['revision'])}\b", text)
        if kit.data["kit"] not in text or not named:
            troubles.append(f"{path.name}: page {at} does not name the kit and its revision")
    if path.name == "checks.pdf":
        text = squeezed(" ".join(text for _, text in pages))
        for finding in kit.data["findings"]:
            if squeezed(finding["message"]) not in text or finding["check"] not in text:
                troubles.append(f"checks.pdf does not tell: {finding['message']}")
    return troubles


@lru_cache(maxsize=None)
def read(path):
    """Pages as (size in mm, text), and troubles with the file itself."""
    if not path.is_file():
        return [], [f"{path.name} is missing"]
    try:
        reader = PdfReader(path, strict=True)
        pages = [((round(float(p.mediabox.width) / MM, 1), round(float(p.mediabox.height) / MM, 1)),
                  plain(p.extract_text())) for p in reader.pages]
        troubles = [f"{path.name}: {t}" for p in reader.pages for t in font_troubles(p)]
    except (PyPdfError, ValueError, KeyError, OSError) as error:
        return [], [f"{path.name}: cannot be read: {error}"]
    for size, text in pages:
        if size not in ISO | ANSI:
            troubles.append(f"{path.name}: page of {size[0]} x {size[1]} mm")
        if not text:
            troubles.append(f"{path.name}: a page without text")
    return pages, sorted(set(troubles))


def plain(text):
    return re.sub(r"\s+", " ", text).strip()


def squeezed(text):
    """Without spaces: a PDF's text does not tell where words end."""
    return re.sub(r"\s+", "", text)


def font_troubles(page):
    """Fonts whose outlines are not in the file."""
    troubles = []
    fonts = page.get("/Resources", {}).get("/Font", {})
    for font in (f.get_object() for f in fonts.values()):
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        descriptor = inner.get("/FontDescriptor", {})
        descriptor = descriptor.get_object() if descriptor else {}
        if not {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor):
            troubles.append(f"font {font.get('/BaseFont')} is not embedded")
    return troubles


def shop_drawing(part, pages):
    """One part's own drawing names what the shop needs to know."""
    text = " ".join(t for _, t in pages)
    data = part.data
    wanted = {"number": part.number, "material": data["material"], "title": data["title"]}
    missing = [what for what, words in wanted.items() if squeezed(words) not in squeezed(text)]
    if not re.search(rf"\bRev\w*\.? {re.escape(data['revision'])}\b", text):
        missing.append("revision")
    return [f"{part.number}.pdf does not say its {what}" for what in missing]


def drawing_set(kit, pages):
    """A cover with the parts list, then every part's drawing."""
    troubles = []
    cover = cover_text(kit, pages)
    for part in kit.parts:
        if squeezed(part.number) not in cover:
            troubles.append(f"drawings.pdf: the cover does not list {part.number}")
        own = [text for _, text in read(part.file("pdf"))[0]]
        title = squeezed(part.data["title"])
        if not any(squeezed(part.number) in squeezed(t) and title in squeezed(t)
                   for _, t in pages[1:]):
            troubles.append(f"drawings.pdf: no page for {part.number}")
        if len(own) < 1:
            troubles.append(f"{part.number}.pdf has no page")
    if squeezed(kit.data["kit"]) not in cover or squeezed(kit.data["title"]) not in cover:
        troubles.append("drawings.pdf: the cover does not name the kit")
    own = sum(len(read(part.file("pdf"))[0]) for part in kit.parts)
    if len(pages) < own + 1:
        troubles.append(f"drawings.pdf: {len(pages)} pages for {own} of parts and a cover")
    return troubles


def cover_text(kit, pages):
    """The pages before the first part's drawing."""
    own = sum(len(read(part.file("pdf"))[0]) for part in kit.parts)
    return squeezed(" ".join(text for _, text in pages[:max(1, len(pages) - own)]))
