"""Specs that differ from each other all over the range of a family's parameters.

Drawn from a fixed seed, so that every run makes the same specs. A spec may be refused with
findings; what is drawn must be right.
"""

import random

HEAD = """kit = "VAR-{number:04d}"
template = "overhead-door"
revision = "A"
title = "Boat bay, door {number}"
date = "2026-11-02"
drawn_by = "M. Reed"
units = "{units}"

[container]
type = "{box}"
wall = "{wall}"
"""

BOXES = ("20ft", "40ft", "40ft-high-cube")

# Group and key, least, most (mm or degrees), and how often it is given.
RANGES = [
    ("opening", "clear_width", 800, 2600, 1.0), ("opening", "clear_height", 900, 2100, 1.0),
    ("foam", "thickness", 20, 100, 0.6), ("door", "headroom", 240, 300, 0.3),
    ("frame", "lip", 24, 36, 0.3), ("frame", "margin", 2, 8, 0.3),
    ("frame", "cut_gap", 0, 8, 0.3), ("frame", "pitch", 90, 300, 0.5),
    ("frame", "top_play", 2, 12, 0.3), ("head", "cut_rise", 34, 60, 0.3),
    ("head", "lap", 30, 60, 0.3), ("drip", "slope", 2, 12, 0.5),
    ("drip", "clearance", 1, 6, 0.3), ("sill", "slope", 2, 8, 0.5), ("sill", "stub", 0, 12, 0.3),
    ("sill", "inside", 45, 120, 0.3)]


def spec(number):
    """The text of one spec; numbers 0 and up give different ones."""
    rnd = random.Random(number)
    units = "in" if number % 4 == 3 else "mm"
    text = HEAD.format(number=number, units=units, box=BOXES[number % 3],
                       wall=rnd.choice(("left", "right")))
    groups = {}
    for group, key, least, most, often in RANGES:
        if rnd.random() < often:
            value = round(rnd.uniform(least, most), rnd.choice((0, 1, 2)))
            groups.setdefault(group, []).append(f"{key} = {written(key, value, units)}")
    if number % 3 == 0:
        groups["foam"] = [f"thickness = {written('thickness', 0, units)}"]
    for group, lines in groups.items():
        text += f"\n[{group}]\n" + "\n".join(lines) + "\n"
    if number % 2:
        text += f"\n[sheet]\nthickness = \"{rnd.choice((1.5, 2.0, 2.5))} mm\"\n"
    return text


def written(key, value, units):
    """A length as a spec in these units gives it; an angle is always a number of degrees."""
    if key == "slope" or units == "mm":
        return f"{value}"
    return f'"{round(value / 25.4 * 16) // 16} {round(value / 25.4 * 16) % 16}/16 in"'
