"""The stack-up worked out another way: parts folded with one error at a time, and the fitter's least
squares solved whole.

From kit.json come the blanks' bends and holes, the joints, the places and the limits; sensitivities
are differences of this checker's own fold in the blank, and chances are sums over a fine grid.
"""

import math

import numpy as np

from . import space

GAP = 0.1  # an offset across the joint counts a tenth
GIVE = 0.1  # mm: what pressing a bend by its whole give counts like
ANCHOR = 1e-6
CLASS_1 = [(3, 0.1), (10, 0.15), (35, 0.2)]  # mm, ISO 9013:2017 for sheets over 1 to 3.15 mm
CLASS_2 = [(3, 0.6), (10, 0.6), (35, 0.7)]


def check(kit):
    told = kit.data.get("stackup")
    if told is None:
        return []
    if [j["joint"] for j in told["joints"]] != [j["id"] for j in kit.data["joints"]]:
        return ["stackup: the joints are not those of the kit"]
    stack = Stack(kit, told["limits"])
    troubles = []
    for joint, row in zip(kit.data["joints"], told["joints"]):
        troubles += joint_troubles(stack, joint, row)
    return troubles


def joint_troubles(stack, joint, row):
    pins = [i for i, pin in enumerate(stack.pins) if pin["joint"] == joint["id"]]
    if row["drilled_in_place"] != (not pins) or row["fasteners"] != len(joint["pairs"]):
        return [f"stackup {joint['id']}: fasteners or drilling in place"]
    if not pins:
        return [] if row["chance"] == 1 else [f"stackup {joint['id']}: chance {row['chance']}"]
    found = [stack.pin(i) for i in pins]
    chance = math.prod(1 - pin["fails"] for pin in found)
    worst = max(found, key=lambda pin: pin["fails"])
    near = [pin["deviation"] for pin in found if pin["fails"] >= worst["fails"] - 1e-9]
    troubles = []
    if abs(chance - row["chance"]) > 2e-4:
        troubles.append(f"stackup {joint['id']}: chance {row['chance']}, here {chance}")
    if min(abs(deviation - row["deviation"]) for deviation in near) > 1e-4:
        troubles.append(f"stackup {joint['id']}: deviation {row['deviation']}, here {near}")
    gap = max(3 * pin["gap"] for pin in found)
    if abs(gap - row["gap"]) > 1e-3:
        troubles.append(f"stackup {joint['id']}: gap {row['gap']}, here {gap}")
    if (row["chance"] < 0.995) != (row["widen"] is not None):
        troubles.append(f"stackup {joint['id']}: advice {row['widen']} at {row['chance']}")
    return troubles


class Stack:
    """The whole kit's errors and what the fitter leaves of them."""

    def __init__(self, kit, limits):
        self.kit, self.limits = kit, limits
        divisor = 3 if limits["spread"] == "normal" else math.sqrt(3)
        self.sigma = {key: value / divisor for key, value in limits.items()
                      if isinstance(value, (int, float)) and key not in ("give", "laser_class")}
        self.divisor = divisor
        self.bodies, self.pins, self.pairs = {}, [], []
        for joint, members in kit.fastener_members():
            holed = [m for m in members if "into" not in m]
            if len(holed) > 1:
                self.add_pin(joint, holed)
        self.solve()

    def add_pin(self, joint, members):
        part = self.kit.by_number[members[0]["part"]]
        face = part.holes[members[0]["hole"]]["face"]
        turn = space.after(part.places[members[0]["place"]], part.to_part[face])[:, :3]
        pin = {"joint": joint["id"], "fastener": joint["fastener"], "members": members,
               "axes": turn.T, "pairs": []}
        for member in members:
            self.bodies.setdefault((member["part"], member["place"]), []).append(member)
        for i in range(len(members)):
            for j in range(i + 1, len(members)):
                pin["pairs"].append(len(self.pairs))
                self.pairs.append((pin, members[i], members[j]))
        self.pins.append(pin)

    def solve(self):
        """Residuals of every row for one deviation of each error, and of each hole's place."""
        errors = [(body, error) for body in self.bodies for error in self.errors(body)]
        shared = np.array([self.column(body, error) for body, error in errors]).T
        weight = np.tile([1.0, 1.0, GAP], len(self.pairs))[:, None]
        motions = np.array([self.motion(body, axis) for body in self.bodies
                            for axis in range(6)]).T * weight
        prior = [np.full(motions.shape[1], ANCHOR)]
        angles = [i for i, (_, (kind, _)) in enumerate(errors) if kind == "bend_angle"]
        unknowns = motions
        if self.limits["give"] > 0 and angles:
            unknowns = np.hstack([motions, shared[:, angles] * weight])
            prior.append(np.full(len(angles), (GIVE / self.limits["give"]) ** 2))
        normal = unknowns.T @ unknowns + np.diag(np.concatenate(prior))
        left = np.eye(len(weight)) - unknowns @ np.linalg.solve(normal, unknowns.T)
        scale = np.array([self.sigma[kind] for _, (kind, _) in errors])
        self.shared = (left @ (shared * weight)) * scale
        places = np.zeros((len(weight), 0))
        for pin in self.pins:
            for member in pin["members"]:
                places = np.hstack([places, self.place_columns(pin, member)])
        self.local = left @ places * self.sigma["hole_position"]

    def errors(self, body):
        part = self.kit.by_number[body[0]]
        yield "stretch", None
        for bend in part.tree():
            yield "bend_angle", bend["name"]
            yield "bend_line", bend["name"]

    def place_columns(self, pin, member):
        columns = np.zeros((3 * len(self.pairs), 2))
        for index in pin["pairs"]:
            _, a, b = self.pairs[index]
            sign = (b is member) - (a is member)
            columns[3 * index, 0] = columns[3 * index + 1, 1] = sign
        return columns

    def rows(self, moved):
        """Change of every pair's offset when each member's centre moves by `moved(member)`."""
        rows = []
        for pin, a, b in self.pairs:
            rows.extend(pin["axes"] @ (moved(b) - moved(a)))
        return rows

    def motion(self, body, axis):
        middle = np.mean([self.centre(m, None, 0.0) for m in self.bodies[body]], axis=0)

        def moved(member):
            if (member["part"], member["place"]) != body:
                return np.zeros(3)
            if axis < 3:
                return np.eye(3)[axis]
            return np.cross(np.eye(3)[axis - 3], self.centre(member, None, 0.0) - middle) * 1e-3
        return self.rows(moved)

    def column(self, body, error):
        """Change of every row for one unit (mm, degree, mm a metre) of the error, by differences."""
        step = 1e-3

        def moved(member):
            if (member["part"], member["place"]) != body:
                return np.zeros(3)
            there, back = self.centre(member, error, step), self.centre(member, error, -step)
            return (there - back) / (2 * step)
        return self.rows(moved)

    def centre(self, member, error, size):
        """A hole's centre in the site, the part folded with one error in it."""
        part = self.kit.by_number[member["part"]]
        hole = part.holes[member["hole"]]
        kind, name = error or (None, None)
        longer = 1 + size / 1000 if kind == "stretch" else 1.0
        poses = {part.root: part.to_part[part.root]}
        for bend in part.tree():
            toward = self.toward(part, bend)
            angle = bend["angle"] + (size if (kind, name) == ("bend_angle", bend["name"]) else 0.0)
            out = size if (kind, name) == ("bend_line", bend["name"]) else 0.0
            line = np.array(bend["line"]) * longer + np.array(toward) * out
            allowance = math.radians(angle) * (bend["inside_radius"] + bend["k"] * part.thickness)
            altered = {**bend, "line": line, "angle": angle, "allowance": allowance}
            fold = space.fold(altered, part.thickness, toward)
            poses[bend["to"]] = space.after(poses[bend["from"]], fold)
        x, y = np.array(hole["centre"]) * longer
        pose = space.after(part.places[member["place"]], poses[hole["face"]])
        return space.apply(pose, [[x, y, part.thickness / 2]])[0]

    def toward(self, part, bend):
        known = part.__dict__.setdefault("towards", {})
        if bend["name"] not in known:
            known[bend["name"]] = part.toward(bend)
        return known[bend["name"]]

    def pin(self, index):
        """Chance that a pin fails, deviation of its first pair, deviation of its gap."""
        pin, fails, gap = self.pins[index], 0.0, 0.0
        covariances = []
        for pair in pin["pairs"]:
            both = np.hstack([self.shared, self.local])[3 * pair:3 * pair + 2]
            covariances.append(both @ both.T)
            gap = max(gap, np.linalg.norm(self.shared[3 * pair + 2]) / GAP)
            fails += self.fails(pin, pair, covariances[-1])
        deviation = math.sqrt(max(np.linalg.eigvalsh(covariances[0])[-1], 0.0))
        return {"fails": min(fails, 1.0), "deviation": deviation, "gap": gap}

    def fails(self, pin, pair, covariance):
        """Chance that the offset leaves the clearance, over a grid of all offsets."""
        diameter = next(f.get("diameter", 4.8) for f in self.kit.data["fasteners"]
                        if f["id"] == pin["fastener"])
        holes = [self.kit.by_number[m["part"]].holes[m["hole"]] for m in self.pairs[pair][1:]]
        widths = [min(hole["size"]) for hole in holes]
        clearance = sum(max(width - diameter, 0.0) for width in widths) / 2
        spread = math.hypot(*(self.size_limit(w) / self.divisor / 2 for w in widths if w > diameter))
        grid = np.linspace(-6, 6, 241)
        weight = np.exp(-grid ** 2 / 2)
        weight /= weight.sum()
        root = np.linalg.cholesky(covariance + 1e-18 * np.eye(2))
        x, y = np.meshgrid(grid, grid)
        offsets = np.stack([root[0, 0] * x, root[1, 0] * x + root[1, 1] * y], axis=-1)
        halves = [self.half(pin, m) for m in self.pairs[pair][1:]]
        distance = from_slots(offsets, [half for half in halves if half is not None])
        # The normal law of the clearance, integrated in closed form at each offset.
        reach = (distance - clearance - 1e-6) / max(spread, 1e-7)
        missed = 0.5 * (1 + np.vectorize(math.erf)(reach.clip(-9, 9) / math.sqrt(2)))
        return float((np.outer(weight, weight) * missed).sum())

    def half(self, pin, member):
        """Half of a slot's middle line in the pin's plane; none for a round hole."""
        part = self.kit.by_number[member["part"]]
        hole = part.holes[member["hole"]]
        if hole["shape"] == "round":
            return None
        angle = math.radians(hole["direction"])
        pose = space.after(part.places[member["place"]], part.to_part[hole["face"]])
        along = pose[:, :3] @ [math.cos(angle), math.sin(angle), 0.0]
        return (pin["axes"] @ along)[:2] * (hole["size"][1] - hole["size"][0]) / 2

    def size_limit(self, width):
        if self.limits["hole_size"] is not None:
            return self.limits["hole_size"]
        table = CLASS_1 if self.limits["laser_class"] == 1 else CLASS_2
        return next(limit for most, limit in table if width <= most)


def from_slots(offsets, halves):
    """Distance of offsets from what the slots' middle lines reach together: a point, a line or a
    parallelogram; found by going along each in turn."""
    shares = [np.zeros(offsets.shape[:-1]) for _ in halves]
    rest = offsets.copy()
    for _ in range(1 if len(halves) < 2 else 40):
        for i, half in enumerate(halves):
            free = rest + shares[i][..., None] * half
            shares[i] = (free @ half / (half @ half)).clip(-1, 1)
            rest = free - shares[i][..., None] * half
    return np.linalg.norm(rest, axis=-1)
