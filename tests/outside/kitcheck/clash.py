"""No two folded parts share volume beyond 0.1 mm, nor does a part run into itself."""

from itertools import combinations

from . import mesh

SHARED = 0.01  # mm3 left between shrunk solids: less than rounding of meshes leaves


def check(kit):
    troubles = [t for part in kit.parts for t in self_troubles(part)]
    placed = []
    for part, index, place in kit.instances():
        solids = [(name, piece.transform(place)) for name, piece in part.solids.items()]
        solids = [(name, solid, mesh.box_of(solid)) for name, solid in solids]
        placed.append((f"{part.number}[{index}]", solids))
    for (one, a), (two, b) in combinations(placed, 2):
        troubles += pair_troubles(one, a, two, b)
    return troubles


def pair_troubles(one, a, two, b):
    troubles = []
    for name_a, solid_a, box_a in a:
        for name_b, solid_b, box_b in b:
            if mesh.apart(box_a, box_b):
                continue
            volume = (solid_a ^ solid_b).volume()
            if volume > SHARED:
                troubles.append(f"{one} {name_a} and {two} {name_b} share {volume:.3f} mm3 "
                                "after 0.05 mm is taken off each surface")
    return troubles


def self_troubles(part):
    """Pieces of one part that are not neighbours must stay clear of each other."""
    beside = set()
    for bend in part.bends:
        for face in (bend["from"], bend["to"]):
            beside.add(frozenset([f"bend {bend['name']}", face]))
    solids = {name: (piece, mesh.box_of(piece)) for name, piece in part.solids.items()}
    troubles = []
    for one, two in combinations(solids, 2):
        if frozenset([one, two]) in beside or mesh.apart(solids[one][1], solids[two][1]):
            continue
        volume = (solids[one][0] ^ solids[two][0]).volume()
        if volume > SHARED:
            troubles.append(f"{part.number}: {one} runs into {two}, {volume:.3f} mm3")
    return troubles
