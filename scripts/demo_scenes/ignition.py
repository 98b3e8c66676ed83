"""The ignition parts in the pictures: coil and spark plug, worn or new."""

import bpy

from demo_scenes import materials as mat
from demo_scenes.materials import Look, Tree, surface
from demo_scenes.shapes import (
    Point,
    bolt,
    box,
    drill,
    group,
    lathe,
    move,
    plate,
    rod,
    rounded,
    smooth,
    sweep,
    tube,
)


def _core(old: bool) -> bpy.types.Material:
    look = Look((0.24, 0.235, 0.23), rough=0.48, metal=1.0, uneven=0.4, dust=0.25 if old else 0.0)
    tree = surface("laminations", look)
    z = tree.add("SeparateXYZ", {0: tree.place()}).outputs[2]
    sheet = tree.between(tree.math("PINGPONG", z, 0.0135), 0.001, 0.007)
    colour = tree.shader.inputs["Base Color"].links[0].from_socket
    rust = tree.math(
        "MULTIPLY", tree.between(tree.noise(5.0, 4.0), 0.48, 0.62), 0.8 if old else 0.0
    )
    colour = tree.mixed(rust, colour, (0.16, 0.06, 0.025))
    tree.set(tree.shader.inputs["Base Color"], tree.mixed(sheet, (0.03, 0.028, 0.026), colour))
    tree.set(tree.shader.inputs["Normal"], tree.dent(sheet, 0.7))
    return tree.material


def _potting(cracked: bool) -> bpy.types.Material:
    look = Look((0.020, 0.017, 0.016), rough=0.30, bump=0.05, grain=25, uneven=0.05,
                dust=0.16 if cracked else 0.0)  # fmt: skip
    tree = surface("potting", look)
    if cracked:
        _crack(tree)
    return tree.material


def _crack(tree: Tree) -> None:
    """Draw a jagged crack along x on the potting: dark inside, its lips pale and lifted."""
    place = tree.place()
    x, y, _ = tree.add("SeparateXYZ", {0: place}).outputs
    along = tree.add("CombineXYZ", {0: x}).outputs[0]
    bend = tree.math("MULTIPLY", tree.math("SUBTRACT", tree.noise(5.0, 3.0, along), 0.5), 0.30)
    jag = tree.math("MULTIPLY", tree.math("SUBTRACT", tree.noise(30.0, 3.0, along), 0.5), 0.03)
    off = tree.math("ABSOLUTE", tree.math("SUBTRACT", tree.math("ADD", y, bend), jag))
    width = tree.math("MULTIPLY", tree.noise(6.0, 2.0, along), 0.014)
    inside = tree.math(
        "SUBTRACT", 1.0, tree.between(tree.math("SUBTRACT", off, width), -0.003, 0.003)
    )
    lip = tree.math("SUBTRACT", 1.0, tree.between(tree.math("SUBTRACT", off, width), 0.000, 0.012))
    colour = tree.shader.inputs["Base Color"].links[0].from_socket
    colour = tree.mixed(tree.math("MULTIPLY", lip, 0.4), colour, (0.30, 0.25, 0.20))
    tree.set(tree.shader.inputs["Base Color"], tree.mixed(inside, colour, (0.001, 0.001, 0.001)))
    height = tree.math(
        "SUBTRACT", tree.math("MULTIPLY", lip, 0.35), tree.math("MULTIPLY", inside, 2)
    )
    tree.set(tree.shader.inputs["Normal"], tree.dent(height, 0.6))


def coil(at: Point, turn: float, old: bool) -> None:
    """Lay an ignition coil on the bench: core, potted winding, tab, plug lead and boot."""
    core, pot = _core(old), _potting(old)
    case = mat.plain(
        "case", (0.028, 0.028, 0.030), rough=0.45, bump=0.15, dust=0.28 if old else 0.02
    )
    u_shape = [
        (-0.36, -0.42), (-0.14, -0.42), (-0.14, 0.16), (0.14, 0.16), (0.14, -0.42), (0.36, -0.42),
        (0.36, 0.44), (-0.36, 0.44),
    ]  # fmt: skip
    legs = move(plate(u_shape, 0.17, core, 0.008), (0, 0, 0.06))
    body = move(plate(rounded(0.62, 0.46, 0.07), 0.38, case, 0.025), (0.06, 0.10, -0.04))
    face = move(plate(rounded(0.52, 0.36, 0.05), 0.015, pot, 0.006), (0.06, 0.10, 0.335))
    foot = move(plate(rounded(0.30, 0.22, 0.1), 0.17, core, 0.008), (-0.48, 0.30, 0.06))
    drill(foot, [rod(0.055, 0.5, core, (-0.52, 0.30, -0.1))])
    screw = bolt(0.17, mat.steel(0.3 if old else 0.0), (0.27, -0.30, 0.23))
    tab = box((0.16, 0.063, 0.012), (-0.36, 0.10, 0.22), mat.brass(), 0.003)
    nose = lathe(
        [(0.12, 0), (0.12, 0.12), (0.085, 0.18), (0.075, 0.2)], case, (0.37, 0.1, 0.16), (0, 90, 0)
    )
    lead = [
        (0.5, 0.1, 0.16),
        (0.85, 0.08, 0.13),
        (1.3, 0.45, 0.05),
        (1.2, 1.0, 0.045),
        (0.5, 1.22, 0.07),
    ]
    wire = tube(lead, 0.042, mat.rubber(0.22 if old else 0.03))
    boot = _boot((0.52, 1.22, 0.085), mat.rubber(0.2 if old else 0.02))
    group([legs, body, face, foot, screw, tab, nose, wire, boot], at, (0, 0, turn))


def _boot(at: Point, skin: bpy.types.Material) -> bpy.types.Object:
    neck = [(0.055, -0.08), (0.07, 0.05), (0.085, 0.12), (0.10, 0.25), (0.125, 0.28), (0.125, 0.55)]
    rings = [
        (0.125, 0.55),
        (0.142, 0.57),
        (0.142, 0.62),
        (0.12, 0.64),
        (0.142, 0.66),
        (0.142, 0.72),
    ]
    inner = [(0.10, 0.72), (0.09, 0.5)]
    return lathe(neck + rings + inner, skin, at, (0, -94, 0))


def plug(at: Point, turn: Point, soot: float) -> None:
    """Lay a spark plug: terminal, ribbed porcelain, hexagon, thread, hook; `soot` is 0 to 1."""
    black = {"dust": soot * 0.9, "dust_colour": (0.03, 0.026, 0.022)}
    shell = mat.plain("shell", (0.50, 0.49, 0.47), rough=0.33, metal=1.0, uneven=0.4, **black)
    tip = mat.plain("soot", (0.012, 0.011, 0.010), rough=0.95, bump=0.6, grain=30)
    porcelain = _porcelain(soot)
    top = [(0.0, 0.0), (0.030, 0.0), (0.038, 0.01), (0.038, 0.03), (0.026, 0.045), (0.026, 0.06),
           (0.038, 0.075), (0.038, 0.12), (0.030, 0.125)]  # fmt: skip
    ribs = [(0.048, 0.125)]
    for n in range(5):
        z = 0.14 + n * 0.04
        ribs += [(0.049, z), (0.058, z + 0.012), (0.058, z + 0.022), (0.049, z + 0.034)]
    ribs += [(0.052, 0.40), (0.058, 0.44), (0.075, 0.50), (0.075, 0.56)]
    collar = [(0.075, 0.53), (0.10, 0.545), (0.105, 0.56)]
    hexagon = rod(0.122, 0.13, shell, (0, 0, 0.56), bevel=0.012, steps=6)
    lower = [
        (0.105, 0.69),
        (0.105, 0.72),
        (0.115, 0.73),
        (0.115, 0.755),
        (0.09, 0.76),
        (0.075, 0.765),
    ]
    thread = [(0.066 + 0.006 * (k % 2), 0.79 + 0.0105 * k) for k in range(18)]
    made = [
        lathe(top, mat.steel()), lathe(ribs, porcelain), lathe(collar, shell), hexagon,
        lathe(lower + thread + [(0.066, 0.985), (0.050, 0.985), (0.046, 0.95)], shell),
        lathe([(0.044, 0.94), (0.030, 0.99), (0.020, 1.0), (0.0, 1.0)], tip),
        rod(0.012, 0.070, tip, (0, 0, 0.99), bevel=0.003),
    ]  # fmt: skip
    hook = smooth(
        [(0.058, 0, 0.97), (0.058, 0, 1.03), (0.043, 0, 1.068), (0.0, 0, 1.077), (-0.014, 0, 1.077)]
    )
    made.append(
        sweep(
            hook,
            [(-0.014, -0.007), (0.014, -0.007), (0.014, 0.007), (-0.014, 0.007)],
            tip,
            up=(0, 1, 0),
        )
    )
    group(made, at, turn)


def _porcelain(soot: float) -> bpy.types.Material:
    tree = surface(
        "porcelain", Look((0.78, 0.75, 0.69), rough=0.16, bump=0.02, uneven=0.1, clear=0.4)
    )
    z = tree.add("SeparateXYZ", {0: tree.place()}).outputs[2]
    smear = tree.math("MULTIPLY", tree.between(tree.noise(9.0, 4.0), 0.42, 0.7), soot * 0.8)
    burnt = tree.math("MULTIPLY", tree.between(z, 0.36, 0.50), soot * 0.7)
    colour = tree.shader.inputs["Base Color"].links[0].from_socket
    colour = tree.mixed(tree.math("MAXIMUM", smear, burnt), colour, (0.14, 0.09, 0.05))
    tree.set(tree.shader.inputs["Base Color"], colour)
    return tree.material
