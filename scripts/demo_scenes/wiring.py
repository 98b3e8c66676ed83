"""The kill wire where the shroud has rubbed it through, and the engine around it."""

import math

import bpy
from mathutils import Vector

from demo_scenes import materials as mat
from demo_scenes.materials import Look, surface
from demo_scenes.shapes import Point, bolt, box, lathe, move, plate, ring, smooth, sweep


def _insulation() -> bpy.types.Material:
    """Return black insulation with a yellow stripe, rubbed away near u 3.1 on its upper side."""
    tree = surface("insulation", Look((0.02, 0.02, 0.021), rough=0.42, bump=0.1, dust=0.32))
    uv = tree.add("TexCoord").outputs["UV"]
    u, v, _ = tree.add("SeparateXYZ", {0: uv}).outputs
    stripe = tree.math(
        "SUBTRACT",
        1.0,
        tree.between(tree.math("ABSOLUTE", tree.math("SUBTRACT", v, 0.40)), 0.055, 0.065),
    )
    colour = tree.shader.inputs["Base Color"].links[0].from_socket
    colour = tree.mixed(tree.math("MULTIPLY", stripe, 0.9), colour, (0.62, 0.42, 0.02))
    du = tree.math("DIVIDE", tree.math("ABSOLUTE", tree.math("SUBTRACT", u, 3.12)), 0.21)
    dv = tree.math("DIVIDE", tree.math("ABSOLUTE", tree.math("SUBTRACT", v, 0.27)), 0.25)
    away = tree.math("ADD", tree.math("POWER", du, 2.0), tree.math("POWER", dv, 2.0))
    away = tree.math(
        "ADD", away, tree.math("MULTIPLY", tree.math("SUBTRACT", tree.noise(22.0, 4.0), 0.5), 1.5)
    )
    hole = tree.math("LESS_THAN", away, 0.95)
    rubbed = tree.math("SUBTRACT", 1.0, tree.between(away, 0.9, 1.9))
    colour = tree.mixed(tree.math("MULTIPLY", rubbed, 0.75), colour, (0.20, 0.19, 0.18))
    tree.set(tree.shader.inputs["Base Color"], colour)
    tree.set(tree.shader.inputs["Roughness"], tree.blend(rubbed, 0.42, 0.9))
    tree.set(tree.shader.inputs["Alpha"], tree.math("SUBTRACT", 1.0, hole))
    return tree.material


def _strands(line: list[Vector], radius: float) -> None:
    copper = mat.plain("copper", (0.78, 0.33, 0.15), rough=0.26, metal=1.0, uneven=0.3)
    for n in range(9):
        out = radius * (0.62 if n else 0.0)
        path = []
        for k, here in enumerate(line):
            turn = 2 * math.pi * (n / 8) + 0.13 * k
            path.append(
                here
                + Vector(
                    (0.7 * out * math.cos(turn), 0.7 * out * math.cos(turn), out * math.sin(turn))
                )
            )
        sweep(path, ring(radius * 0.30, 8), copper)


def chafed_wire() -> None:
    """Lay the kill wire over the sheet edge that cut it, with its bullet connector."""
    points = [(2.4, -1.02, 0.27), (1.2, -0.88, 0.25), (0.35, -0.78, 0.26), (-0.35, -0.46, 0.30),
              (-0.66, 0.02, 0.325), (-0.80, 0.7, 0.28), (-0.85, 1.5, 0.28)]  # fmt: skip
    line = smooth(points, 40)
    sweep(line, ring(0.062, 32), _insulation())
    _strands(line[80:190], 0.046)
    _bullet((0.15, -0.725, 0.262), (0, 90.5, -9))
    _bullet_sleeve((0.15, -0.725, 0.262), (0, 90.5, -9))


def _bullet(at: Point, turn: Point) -> bpy.types.Object:
    pin = [
        (0.05, 0),
        (0.055, 0.02),
        (0.055, 0.16),
        (0.075, 0.17),
        (0.075, 0.22),
        (0.05, 0.24),
        (0.05, 0.42),
    ]
    return lathe(pin, mat.brass(), at, turn)


def _bullet_sleeve(at: Point, turn: Point) -> bpy.types.Object:
    clear = Look((0.30, 0.29, 0.25), rough=0.18, bump=0.1, dust=0.25)
    sleeve = [
        (0.075, 0.12),
        (0.10, 0.125),
        (0.104, 0.2),
        (0.104, 0.62),
        (0.092, 0.64),
        (0.092, 0.70),
        (0.06, 0.70),
    ]
    return lathe(sleeve, surface("sleeve", clear).material, at, turn)


def shroud_edge() -> None:
    """Put up the blower housing: a painted sheet with a rolled lip and a cut-out for the wire."""
    paint = mat.plain("shroud", (0.02, 0.13, 0.20), rough=0.38, worn=0.8, dust=0.35)
    wall = [
        (-3.2, 0.0),
        (-1.15, 0.0),
        (-1.02, 0.17),
        (-0.40, 0.17),
        (-0.27, 0.0),
        (3.2, 0.0),
        (3.2, 2.2),
        (-3.2, 2.2),
    ]
    move(plate(wall, 0.05, paint, 0.012), (0, 0.10, 0.20), (72, 0, 8))
    block = mat.plain(
        "casting", (0.36, 0.36, 0.35), rough=0.55, metal=0.8, bump=0.5, grain=18, dust=0.6
    )
    box((7, 4.4, 0.9), (0, -0.4, -0.26), block, 0.06, (0, 0, 8))
    for n in range(5):
        box((7, 0.09, 0.34), (0, -1.45 - 0.34 * n, 0.18), block, 0.03, (0, 0, 8))
    bolt(0.34, mat.steel(0.4), (-1.35, 0.03, 0.62), (72, 0, 8))
    bolt(0.34, mat.steel(0.4), (1.95, 0.42, 0.75), (72, 0, 8))
