"""kit.glb and index.html: opened by a general library for meshes and by a real browser."""

import re
import shutil
from collections import Counter

import numpy as np
import pytest
import trimesh
from conftest import kit_folders
from kitcheck import solid
from kitcheck.kit import Kit
from playwright.sync_api import sync_playwright

# What the canvas shows when nothing is drawn has one colour.
COLOURS = """() => {
  const view = document.getElementById("view"), copy = document.createElement("canvas");
  copy.width = view.width; copy.height = view.height;
  const pen = copy.getContext("2d");
  pen.drawImage(view, 0, 0);
  const data = pen.getImageData(0, 0, copy.width, copy.height).data;
  const seen = new Set();
  for (let i = 0; i < data.length; i += 4) seen.add(data[i] << 16 | data[i + 1] << 8 | data[i + 2]);
  return seen.size;
}"""
PICTURE = "() => document.getElementById('view').toDataURL()"
# How many dots of the canvas are blue-green rather than grey: a part that a step brings.
TINTED = """() => {
  const view = document.getElementById("view"), copy = document.createElement("canvas");
  copy.width = view.width; copy.height = view.height;
  const pen = copy.getContext("2d");
  pen.drawImage(view, 0, 0);
  const data = pen.getImageData(0, 0, copy.width, copy.height).data;
  let count = 0;
  for (let i = 0; i < data.length; i += 4) count += data[i + 2] - data[i] > 50;
  return count;
}"""


@pytest.fixture(scope="module")
def browser():
    with sync_playwright() as tools:
        browser = tools.chromium.launch(
            executable_path=shutil.which("chromium"),
            args=["--no-sandbox", "--disable-quic", "--disable-background-networking",
                  "--use-angle=swiftshader", "--enable-unsafe-swiftshader"])
        yield browser
        browser.close()


@pytest.fixture(params=sorted({*kit_folders()[::5], *kit_folders()[-2:]}),
                ids=lambda folder: folder.name)
def shown(request):
    """Every fifth kit and the last two: a browser takes seconds for each."""
    return Kit(request.param)


@pytest.fixture
def page(browser, shown):
    """The kit's page, with everything that goes wrong in it and every request it makes."""
    page = browser.new_page(viewport={"width": 1200, "height": 900}, color_scheme="light")
    page.faults, page.asked = [], []
    page.on("pageerror", lambda error: page.faults.append(str(error)))
    page.on("console", lambda line: line.type == "error" and page.faults.append(line.text))
    page.on("request", lambda request: page.asked.append(request.url))
    page.goto(f"file://{shown.folder}/index.html")
    page.wait_for_selector("#view[data-ready]")
    yield page
    page.close()


def meshes(scene):
    """The surfaces of the scene by the number of their part."""
    return {name.split("_")[0]: mesh for name, mesh in scene.geometry.items()
            if isinstance(mesh, trimesh.Trimesh)}


def test_solids_are_closed_and_weigh_what_the_list_says(kit):
    """Each part is one closed mesh, and the volume inside is the folded blank's less what its
    countersinks take."""
    scene = trimesh.load(kit.folder / "kit.glb")
    assert scene.units == "meters"
    solids = meshes(scene)
    for part in kit.parts:
        mesh = solids[part.number].copy()
        mesh.merge_vertices(merge_norm=True)
        assert mesh.is_watertight and mesh.is_winding_consistent, part.number
        volume = solid.expected_volume(part) - solid.sunk_away(part)
        # Chords of 11.25 degrees in the bends, of 0.05 mm in the holes.
        assert mesh.volume == pytest.approx(volume, rel=1e-3), part.number


def test_every_instance_stands_in_its_place(kit):
    """Corners of the solids, in metres with y up, against the faces of kit.json in their places:
    x, z and -y of the site in millimetres. Bends and cut-away corners may reach a little less."""
    scene = trimesh.load(kit.folder / "kit.glb")
    boxes = Counter()
    for node in scene.graph.nodes_geometry:
        pose, name = scene.graph[node]
        if isinstance(scene.geometry[name], trimesh.Trimesh) and not name.startswith("container"):
            corners = trimesh.transform_points(scene.geometry[name].vertices, pose) * 1000
            low, high = corners.min(axis=0), corners.max(axis=0)
            box = [low[0], -high[2], low[1], high[0], -low[2], high[1]]
            boxes[name.split("_")[0], tuple(np.round(box))] += 1
    wanted = Counter()
    for part in kit.data["parts"]:
        for place in part["places"]:
            points = []
            for face in part["faces"]:
                flat = np.array(face["outline"])
                for z in (0, part["thickness"]):
                    lifted = np.column_stack([flat, np.full(len(flat), z), np.ones(len(flat))])
                    folded = lifted @ np.array(face["to_part"]).T
                    points.append(np.column_stack([folded, np.ones(len(flat))])
                                  @ np.array(place).T)
            points = np.vstack(points)
            wanted[part["number"], tuple([*points.min(axis=0), *points.max(axis=0)])] += 1
    assert sum(boxes.values()) == sum(wanted.values())
    for (number, box), count in wanted.items():
        near = [other for (name, other) in boxes if name == number
                and all(abs(a - b) < 6 for a, b in zip(box, other))]
        assert len(near) >= 1, (number, box)


def test_page_asks_for_nothing_and_names_only_files_that_are_there(page, shown):
    assert page.faults == []
    assert page.asked == [f"file://{shown.folder}/index.html"]
    links = page.eval_on_selector_all("a[href]", "all => all.map(a => a.getAttribute('href'))")
    here = [link for link in links if not link.startswith("#")]
    assert here and all((shown.folder / link).is_file() for link in here)
    anchors = [link[1:] for link in links if link.startswith("#")]
    assert all(page.query_selector(f"[id='{anchor}']") for anchor in anchors)
    # Everything in the folder, but for what the price is made of.
    made = {path.relative_to(shown.folder).as_posix() for path in shown.folder.rglob("*")
            if path.is_file()}
    assert made - set(here) <= {"index.html", "quote.csv"}
    assert "quote.csv" not in here


def test_page_shows_every_part_with_its_figures(page, shown):
    cards = page.eval_on_selector_all("#parts .card", "all => all.map(c => c.innerText)")
    assert len(cards) == len(shown.data["parts"])
    for card, part in zip(cards, shown.data["parts"]):
        assert part["number"] in card and part["title"] in card
        assert re.search(rf"Quantity\s+{part['quantity']}\b", card)
        shown_mass = float(re.search(r"Mass\s.*?([\d.]+) kg", card)[1])
        assert shown_mass == pytest.approx(part["mass_kg"], abs=0.0051), part["number"]
    pictures = page.eval_on_selector_all("#parts .picture svg", "all => all.length")
    assert pictures == len(shown.data["parts"])
    told = page.inner_text("#findings")
    for finding in shown.data["findings"]:
        assert finding["check"] in told and finding["message"] in told
    rows = page.eval_on_selector_all("#findings tbody tr", "all => all.map(r => r.innerText)")
    for row in rows:
        assert not re.search(r"(\S+): \1 ", row), f"says twice what it is about: {row}"


def test_view_turns_by_keyboard_and_shows_single_parts(page, shown):
    assert page.evaluate(COLOURS) > 5
    first = page.evaluate(PICTURE)
    assert page.evaluate(TINTED) == 0, "no part is new before a step is chosen"
    page.focus("#view")
    page.keyboard.press("ArrowLeft")
    page.wait_for_function(f"first => ({PICTURE})() !== first", arg=first)
    page.keyboard.press("Home")
    page.wait_for_function(f"first => ({PICTURE})() === first", arg=first)
    number = shown.data["parts"][-1]["number"]
    page.select_option("#which", number)
    page.wait_for_function(f"first => ({PICTURE})() !== first", arg=first)
    assert page.evaluate("() => window.kitView.state.which") == number
    # Every control can be reached with the tab key alone.
    page.focus(".skip")
    reached = set()
    for _ in range(400):
        reached.add(page.evaluate("() => document.activeElement.id"))
        page.keyboard.press("Tab")
    assert {"shade", "view", "which", "apart"} <= reached


def test_page_follows_light_and_dark_and_prints(page):
    ground = "() => getComputedStyle(document.body).backgroundColor"
    light = page.evaluate(ground)
    page.click("#shade")
    assert page.evaluate(ground) != light
    page.emulate_media(media="print")
    assert page.evaluate(ground) == "rgb(255, 255, 255)"
    assert not page.is_visible("nav") and page.is_visible("#parts")


def test_printed_view_is_light_and_keeps_its_proportions(page):
    page.click("#shade")
    page.evaluate("() => window.dispatchEvent(new Event('beforeprint'))")
    corner = "() => new Promise(done => { const i = new Image(); i.onload = () => {" \
             " const c = document.createElement('canvas').getContext('2d');" \
             " c.drawImage(i, 0, 0); done([...c.getImageData(0, 0, 1, 1).data]) };" \
             " i.src = document.getElementById('view').toDataURL() })"
    assert page.evaluate(corner) == [255, 255, 255, 255]
    # Paper is narrower than the window in which the picture was drawn.
    page.emulate_media(media="print")
    page.evaluate("() => { document.querySelector('.stage').style.width = '620px' }")
    drawn, shown = page.evaluate("() => { const v = document.getElementById('view');"
                                 " return [v.width / v.height, v.clientWidth / v.clientHeight] }")
    assert shown == pytest.approx(drawn, rel=0.01)
