"""kit.step: opened by a general B-rep kernel, and its solids measured as an engineer would measure
them: whole, with the volume of blank and bends, true cylinders at every bend and every round hole,
each part standing where kit.json says."""

import math
from collections import Counter, defaultdict

import numpy as np
import pytest
from build123d import GeomType, import_step
from conftest import kit_folders
from kitcheck import plane, solid, space
from kitcheck.kit import Kit

LENGTH = 1e-6  # mm
VOLUME = 1e-6  # of the volume


@pytest.fixture(scope="module", params=kit_folders(), ids=lambda folder: folder.name)
def opened(request):
    """A kit and its solids in the site frame, by the number of their part."""
    kit = Kit(request.param)
    assembly = import_step(kit.folder / "kit.step")
    assert assembly.label == kit.name
    solids = defaultdict(list)
    for child in assembly.children:
        solids[child.label].append(child)
    return kit, solids


def pose(child):
    """The 3x4 matrix by which the kernel placed a solid."""
    move = child.location.wrapped.Transformation()
    return np.array([[move.Value(row, column) for column in range(1, 5)] for row in range(1, 4)])


def standing(part, solids):
    """Each solid of a part with the place in kit.json at which it stands."""
    free = list(range(len(part.places)))
    for child in solids[part.number]:
        near = [i for i in free if np.allclose(part.places[i], pose(child), rtol=0, atol=LENGTH)]
        assert near, f"{part.number}: no place at {pose(child).tolist()}"
        free.remove(near[0])
        yield child, near[0]
    assert not free, f"{part.number}: nothing stands at {free}"


def round_faces(child, kind=GeomType.CYLINDER):
    """Every cylinder's (or cone's) radius, a point of its axis, the axis' direction, itself."""
    for face in child.faces().filter_by(kind):
        axis = face.axis_of_rotation
        yield face.radius, np.array([*axis.position]), np.array([*axis.direction]), face


def about(start, end, point, direction):
    """Whether an axis runs through two points."""
    along = (end - start) / np.linalg.norm(end - start)
    return (np.linalg.norm(np.cross(along, direction)) < 1e-9
            and np.linalg.norm(np.cross(start - point, direction)) < 1e-5)


def between(start, end, face):
    """Whether all corners of a face lie between two points along the line through them."""
    along = (end - start) / np.linalg.norm(end - start) ** 2
    shares = [np.dot(np.array([*corner.center()]) - start, along) for corner in face.vertices()]
    return all(-1e-6 < share < 1 + 1e-6 for share in shares)


def test_every_part_stands_in_its_place(opened):
    kit, solids = opened
    assert Counter({n: len(s) for n, s in solids.items()}) == \
        Counter({part.number: part.data["quantity"] for part in kit.parts})
    for part in kit.parts:
        assert len(list(standing(part, solids))) == part.data["quantity"]


def test_solids_are_whole_and_weigh_what_blank_and_bends_give(opened):
    """One valid, closed solid each, of planes, cylinders and cones alone. Its volume is that of the
    flats and the bends' rings, less the countersinks, which kit.json does not count."""
    kit, solids = opened
    known = {GeomType.PLANE, GeomType.CYLINDER, GeomType.CONE}
    for part in kit.parts:
        child = solids[part.number][0]
        assert len(child.solids()) == 1 and child.is_valid and child.is_manifold, part.number
        assert {face.geom_type for face in child.faces()} <= known, part.number
        assert {edge.geom_type for edge in child.edges()} <= {GeomType.LINE, GeomType.CIRCLE}
        expected = solid.expected_volume(part) - solid.sunk_away(part)
        assert child.volume == pytest.approx(expected, rel=VOLUME), part.number


def test_round_holes_are_cylinders_on_their_axes(opened):
    """Each round hole is one cylinder of its diameter, as deep as the sheet or as its countersink
    leaves, about the axis that kit.json gives; each countersink a cone on that axis."""
    kit, solids = opened
    for part in kit.parts:
        child, place = next(standing(part, solids))
        found = list(round_faces(child))
        cones = list(round_faces(child, GeomType.CONE))
        for hole in (hole for hole in part.holes.values() if hole["shape"] == "round"):
            axis = part.hole_axis(hole, place)
            mine = [face for radius, point, direction, face in found
                    if abs(radius - hole["size"][0] / 2) < LENGTH
                    and about(*axis, point, direction) and between(*axis, face)]
            assert len(mine) == 1, (part.number, hole["id"])
            sunk, radius = hole.get("countersink"), hole["size"][0] / 2
            depth = 0.0
            if sunk:
                half = math.radians(sunk["angle"] / 2)
                depth = (sunk["diameter"] / 2 - radius) / math.tan(half)
                slant = math.pi * (sunk["diameter"] / 2 + radius) * depth / math.cos(half)
                assert any(cone.area == pytest.approx(slant, rel=1e-6)
                           and about(*axis, point, direction)
                           for _, point, direction, cone in cones), (part.number, hole["id"])
            wall = 2 * math.pi * radius * (part.thickness - depth)
            assert mine[0].area == pytest.approx(wall, rel=1e-6), (part.number, hole["id"])


def bend_arcs(part, bend):
    """The axis of a bend as two points in the part's frame, and points of its outer arcs."""
    middle, along, _ = plane.bend_axes(bend)
    toward, reach = part.toward(bend), along * plane.bend_length(bend) / 2
    up, radius = bend["direction"] == "up", bend["inside_radius"]
    height = part.thickness + radius if up else -radius
    outer, arcs, axis = radius + part.thickness, [], []
    for end in (middle - reach, middle + reach):
        edge = end - toward * bend["allowance"] / 2
        axis.append([*edge, height])
        for angle in np.radians(np.linspace(0, bend["angle"], 181)):
            rise = -math.cos(angle) if up else math.cos(angle)
            arcs.append([*(edge + toward * outer * math.sin(angle)), height + outer * rise])
    to_part = part.to_part[bend["from"]]
    return space.apply(to_part, axis), space.apply(to_part, arcs)


def test_bends_are_cylinders_of_their_radius(opened):
    """Inside radius, and that and the thickness, about the bend's own axis."""
    kit, solids = opened
    for part in kit.parts:
        child, place = next(standing(part, solids))
        found = list(round_faces(child))
        for bend in part.bends:
            axis = space.apply(part.places[place], bend_arcs(part, bend)[0])
            radii = sorted(radius for radius, point, direction, face in found
                           if about(*axis, point, direction))
            inside = bend["inside_radius"]
            wanted = [inside, inside + part.thickness]
            # Bends of one part may share an axis.
            assert all(any(abs(r - w) < LENGTH for r in radii) for w in wanted), \
                (part.number, bend["name"], radii)


def test_bounding_boxes_agree(opened):
    """The kernel's box around each solid is that around the corners of its faces and the outer arcs
    of its bends, as placed by kit.json."""
    kit, solids = opened
    for part in kit.parts:
        arcs = [bend_arcs(part, bend)[1] for bend in part.bends]
        for child, place in list(standing(part, solids))[:4]:
            points = [np.array(part.data["extents"][place])]
            points += [space.apply(part.places[place], arc) for arc in arcs]
            points = np.vstack(points)
            box = child.bounding_box()
            for mine, theirs in ((box.min, points.min(axis=0)), (box.max, points.max(axis=0))):
                assert np.allclose([*mine], theirs, rtol=0, atol=2e-3), (part.number, place)
