"""Joints in space: axes that agree, faces that touch, grips, and fasteners counted."""

import numpy as np

COAXIAL = 0.05  # mm, contract
CONTACT = 0.05  # mm, contract
PARALLEL = 1e-6  # sine of the angle between two axes


def check(kit):
    troubles = members_exist(kit)
    if troubles:
        return troubles
    for joint, pair in kit.fastener_members():
        troubles += pair_troubles(kit, joint, pair)
    return troubles + every_hole_used(kit) + fasteners(kit)


def members_exist(kit):
    troubles = []
    for joint, pair in kit.fastener_members():
        for member in pair:
            if "into" in member:
                continue
            part = kit.by_number.get(member["part"])
            if part is None or member["hole"] not in part.holes or (
                    not 0 <= member["place"] < len(part.places)):
                troubles.append(f"{joint['id']}: unknown member {member}")
            elif part.holes[member["hole"]]["joint"] != joint["id"]:
                troubles.append(f"{joint['id']}: hole {member} says it belongs to another joint")
    return troubles


def axis(kit, member):
    part = kit.by_number[member["part"]]
    return part.hole_axis(part.holes[member["hole"]], member["place"])


def pair_troubles(kit, joint, pair):
    """One fastener: its holes' axes, the stack it clamps, and sheet all around each hole."""
    members = [member for member in pair if "into" not in member]
    axes = [axis(kit, member) for member in members]
    first = axes[0]
    direction = (first[1] - first[0]) / np.linalg.norm(first[1] - first[0])
    troubles = []
    for member, ends in zip(members[1:], axes[1:]):
        off = coaxial_trouble(first[0], direction, ends)
        if off:
            troubles.append(f"{joint['id']} {joint['name']}: {member}: {off}")
    troubles += stack(kit, joint, pair, axes, direction)
    into = next((member["into"] for member in pair if "into" in member), None)
    if into and not anchored(kit, joint, into, np.vstack(axes)):
        troubles.append(f"{joint['id']} {joint['name']}: {members} does not lie on the {into}")
    return troubles


def anchored(kit, joint, into, ends):
    """Whether one end of the stack lies on what the fastener goes into, or the gap off it."""
    limit = abs(joint["gap"]) + CONTACT
    if into == "floor":
        return abs(ends[:, 2].min()) <= limit
    if into == "wall":
        wall = kit.data["wall"] or kit.data["container"]["uncut_wall"]
        sides = [0.0, wall["thickness"], wall["depth"], wall["depth"] + wall["thickness"]]
        return min(abs(y - side) for y in ends[:, 1] for side in sides) <= limit
    boxes = [(np.array(box["low"]), np.array(box["high"]))
             for box in kit.data.get("container", {}).get("members", [])]
    return any(from_surface(point, *box) <= limit for point in ends for box in boxes)


def from_surface(point, low, high):
    """Distance from a point to the surface of an upright box, from inside or outside."""
    outside = np.maximum(np.maximum(low - point, point - high), 0.0)
    if np.any(outside > 0.0):
        return float(np.linalg.norm(outside))
    return float(np.min(np.minimum(point - low, high - point)))


def coaxial_trouble(origin, direction, ends):
    other = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
    if np.linalg.norm(np.cross(direction, other)) > PARALLEL:
        return "axis is not parallel"
    away = ends - origin
    off = np.max(np.linalg.norm(away - np.outer(away @ direction, direction), axis=1))
    return f"axis stands {off:.4f} mm aside" if off > COAXIAL else None


def stack(kit, joint, pair, axes, direction):
    """The sheets along the axis touch or stand the gap apart, and make up the grip."""
    spans = sorted(sorted((ends @ direction).tolist()) for ends in axes)
    where = f"{joint['id']} {joint['name']}"
    gaps = [start - end for (_, end), (start, _) in zip(spans, spans[1:])]
    troubles = [f"{where}: faces stand {gap:.4f} mm apart, stated {joint['gap']}" for gap in gaps
                if min(abs(gap), abs(gap - joint["gap"])) > CONTACT]
    if gaps and min(abs(gap - joint["gap"]) for gap in gaps) > CONTACT:
        troubles.append(f"{where}: no faces stand {joint['gap']} mm apart as stated")
    total = spans[-1][1] - spans[0][0]
    if any(member.get("into") for member in pair):
        if joint["grip"] < total - CONTACT:
            troubles.append(f"{where}: grip {joint['grip']} is less than its sheets, {total:.4f}")
    elif abs(joint["grip"] - total) > CONTACT:
        troubles.append(f"{where}: grip {joint['grip']}, the stack measures {total:.4f}")
    thickness = sum(kit.by_number[m["part"]].thickness for m in pair if "part" in m)
    if abs(total - thickness - sum(gaps)) > 1e-6:
        troubles.append(f"{where}: stack {total:.4f} is not its sheets {thickness} and gaps")
    return troubles


def every_hole_used(kit):
    """Each placed hole that belongs to a joint is in exactly one of its pairs."""
    used = [(m["part"], m["place"], m["hole"]) for _, pair in kit.fastener_members()
            for m in pair if "into" not in m]
    declared = {(part.number, index, hole["id"]) for part, index, _ in kit.instances()
                for hole in part.holes.values() if hole["joint"] is not None}
    troubles = [f"hole {hole} is in no pair of its joint" for hole in sorted(declared - set(used))]
    if len(set(used)) != len(used):
        troubles.append("a hole is in two pairs")
    return troubles


def fasteners(kit):
    """Counts from the pairs and from the bolts to neighbours; none listed that nothing needs."""
    counts = {}
    for joint, _ in kit.fastener_members():
        counts[joint["fastener"]] = counts.get(joint["fastener"], 0) + 1
    for neighbour in kit.data.get("neighbours", []):
        for bolt in neighbour["bolts"]:
            if bolt["ordered_by"] == kit.name:
                counts[bolt["fastener"]] = counts.get(bolt["fastener"], 0) + bolt["count"]
    listed = {item["id"]: item for item in kit.data["fasteners"]}
    troubles = [f"fastener {name}: {count} pairs, listed {listed.get(name, {}).get('count')}"
                for name, count in sorted(counts.items())
                if listed.get(name, {}).get("count") != count]
    for name, item in listed.items():
        if name not in counts and item["count"]:
            troubles.append(f"fastener {name}: listed {item['count']}, in no joint")
        if item["spare"] < 0:
            troubles.append(f"fastener {name}: spare {item['spare']}")
    return troubles
