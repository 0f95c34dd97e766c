"""The container's members and the kit's keep-outs, where kit.json lists them, stay free."""

from manifold3d import Manifold

from . import mesh

SHARED = 0.01  # mm3 left after each part is shrunk by 0.05 mm


def check(kit):
    boxes = kit.data.get("keep_outs", []) + kit.data.get("container", {}).get("members", [])
    troubles = [f"box {box['name']} has no size" for box in boxes
                if any(high <= low for low, high in zip(box["low"], box["high"]))]
    if troubles:
        return troubles
    solids = [(box["name"], solid(box)) for box in boxes]
    solids = [(name, body, mesh.box_of(body)) for name, body in solids]
    for part, index, place in kit.instances():
        for name, piece in part.solids.items():
            placed = piece.transform(place)
            around = mesh.box_of(placed)
            for title, body, extent in solids:
                if mesh.apart(around, extent):
                    continue
                volume = (placed ^ body).volume()
                if volume > SHARED:
                    troubles.append(f"{part.number}[{index}] {name} enters {title}, "
                                    f"{volume:.2f} mm3")
    return troubles


def solid(box):
    low, high = box["low"], box["high"]
    size = [b - a for a, b in zip(low, high)]
    return Manifold.cube(size).translate(low)
