"""What else lies on the bench: the drive belt, a parts label, a spanner, bolts, a rag."""

import math

import bpy
from mathutils import Vector

from demo_scenes import materials as mat
from demo_scenes.materials import Look, surface
from demo_scenes.shapes import (
    Point,
    bolt,
    group,
    lathe,
    move,
    plate,
    put,
    rod,
    rounded,
    sweep,
    words,
)


def _belt_skin() -> bpy.types.Material:
    """Return the skin of a worn belt: cracks across its inside, shiny sides, a frayed back."""
    look = Look(
        (0.030, 0.029, 0.030),
        rough=0.5,
        bump=0.2,
        grain=30,
        dust=0.45,
        dust_colour=(0.16, 0.15, 0.14),
    )
    tree = surface("belt", look)
    uv = tree.add("TexCoord").outputs["UV"]
    u, v, _ = tree.add("SeparateXYZ", {0: uv}).outputs
    across = tree.add(
        "CombineXYZ", {0: tree.math("MULTIPLY", u, 13.0), 1: tree.math("MULTIPLY", v, 1.3)}
    )
    cells = tree.add(
        "TexVoronoi", {"Vector": across.outputs[0], "Scale": 1.0}, feature="DISTANCE_TO_EDGE"
    )
    crack = tree.math("SUBTRACT", 1.0, tree.between(cells.outputs[0], 0.012, 0.045))
    crack = tree.math("MULTIPLY", crack, tree.between(tree.noise(2.0, 3.0), 0.35, 0.55))
    colour = tree.shader.inputs["Base Color"].links[0].from_socket
    split = tree.math("SUBTRACT", 1.0, tree.between(cells.outputs[0], 0.02, 0.12))
    colour = tree.mixed(tree.math("MULTIPLY", split, 0.6), colour, (0.17, 0.155, 0.14))
    tree.set(tree.shader.inputs["Base Color"], tree.mixed(crack, colour, (0.001, 0.001, 0.001)))
    side = tree.between(tree.math("PINGPONG", tree.math("ADD", v, 0.125), 0.25), 0.10, 0.13)
    tree.set(tree.shader.inputs["Roughness"], tree.blend(side, 0.66, 0.24))
    tree.set(tree.shader.inputs["Normal"], tree.dent(crack, -1.0, distance=0.03))
    return tree.material


def belt(at: Point, turn: Point) -> None:
    """Lay a V belt on its side in a loose loop, bent tight at one end so that its cracks gape."""
    wide, narrow, deep = 0.065, 0.038, 0.085
    corners = [(-deep / 2, -narrow), (-deep / 2, narrow), (deep / 2, wide), (deep / 2, -wide)]
    profile = []
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        profile += [(ax + (bx - ax) * k / 6, ay + (by - ay) * k / 6) for k in range(6)]
    line = []
    for k in range(320):
        t = 2 * math.pi * k / 320
        radius = 1.0 + 0.10 * math.cos(2 * t + 0.4) + 0.05 * math.cos(3 * t)
        lift = 0.02 * math.sin(3 * t) + 0.09
        line.append(Vector((1.75 * radius * math.cos(t), 0.82 * radius * math.sin(t), lift)))
    group([sweep(line, profile, _belt_skin(), closed=True)], at, turn)


def label(lines: list[tuple[str, float]], at: Point, turn: Point, size: Point) -> None:
    """Print a paper label: lines of words with their sizes, bars at its foot."""
    paper = mat.plain("paper", (0.80, 0.79, 0.75), rough=0.7, uneven=0.04, bump=0.02)
    ink = mat.plain("ink", (0.012, 0.012, 0.014), rough=0.6)
    width, height = size
    made = [move(plate(rounded(width, height, 0.02), 0.002, paper, 0.0))]
    y = height / 2 - 0.03
    for text, high in lines:
        y -= high * 1.15
        made.append(words(text, high, (-width * 0.44, y + high * 0.5, 0.003), ink, align="LEFT"))
    x = -width * 0.44
    for n in range(34):
        bar = 0.006 + 0.008 * ((n * 7 + n * n) % 3)
        corners = [
            (x, -height * 0.44),
            (x + bar, -height * 0.44),
            (x + bar, -height * 0.25),
            (x, -height * 0.25),
        ]
        made.append(put("bar", [(a, b, 0.0035) for a, b in corners], [(0, 1, 2, 3)], ink))
        x += bar + 0.008 + 0.005 * (n % 2)
    group(made, at, turn)


def spanner(at: Point, turn: float) -> None:
    """Lay a combination spanner on the bench: open end, shank, ring end."""
    chrome = mat.plain("chrome", (0.55, 0.55, 0.54), rough=0.22, metal=1.0, uneven=0.3, dust=0.25)
    jaw = [(0.02, -0.075), (0.30, -0.085), (0.30, -0.17), (0.12, -0.19), (-0.06, -0.16),
           (-0.16, -0.06), (-0.16, 0.06), (-0.06, 0.16), (0.12, 0.19), (0.30, 0.17),
           (0.30, 0.085), (0.02, 0.075)]  # fmt: skip
    head = move(plate(jaw, 0.07, chrome, 0.015), (0.85, 0, 0.01), (0, 0, 15))
    shank = move(plate(rounded(1.5, 0.11, 0.05), 0.045, chrome, 0.015), (0.03, 0, 0.022))
    hoop = [
        (0.10, 0),
        (0.165, 0),
        (0.18, 0.02),
        (0.18, 0.09),
        (0.165, 0.11),
        (0.10, 0.11),
        (0.10, 0),
    ]
    group([head, shank, lathe(hoop, chrome, (-0.86, 0, 0.0), steps=48)], at, (0, 0, turn))


def rag(at: Point, turn: float, colour: mat.Colour) -> None:
    """Drop a shop rag on the bench, in soft folds."""
    tree = surface("rag", Look(colour, rough=0.95, uneven=0.35, bump=0.5, grain=70))
    oil = tree.between(tree.noise(1.6, 4.0), 0.52, 0.62)
    dyed = tree.shader.inputs["Base Color"].links[0].from_socket
    tree.set(
        tree.shader.inputs["Base Color"],
        tree.mixed(tree.math("MULTIPLY", oil, 0.8), dyed, (0.02, 0.015, 0.012)),
    )
    steps, verts = 70, []
    for i in range(steps):
        for k in range(steps):
            x, y = 3.0 * i / (steps - 1) - 1.5, 2.4 * k / (steps - 1) - 1.2
            fold = 0.5 + 0.5 * math.sin(2.3 * x + 1.7 * math.sin(1.3 * y) + 0.8 * y)
            crease = 0.5 + 0.5 * math.sin(4.7 * y - 1.9 * x + math.sin(2.6 * x))
            edge = 0.10 * math.sin(3.1 * x + 2 * y)
            verts.append((x + edge, y + 0.5 * edge, 0.02 + 0.16 * fold**3 + 0.09 * crease**4))
    faces = [(i * steps + k, (i + 1) * steps + k, (i + 1) * steps + k + 1, i * steps + k + 1)
             for i in range(steps - 1) for k in range(steps - 1)]  # fmt: skip
    group([put("rag", verts, faces, tree.material)], at, (0, 0, turn))


def screws(places: list[Point]) -> None:
    """Leave some bolts lying about."""
    skin = mat.steel(0.25)
    for n, (x, y) in enumerate(places):
        turn = (0, 90, 47.0 * n)
        made = [
            rod(0.035, 0.38, skin, (0, 0, -0.38), bevel=0.004, steps=20),
            bolt(0.16, skin, (0, 0, 0)),
        ]
        group(made, (x, y, 0.075), turn)
