"""The plate compactor of the demo, as it came in (caked with dust) and as it left."""

import math

import bpy

from demo_scenes import materials as mat
from demo_scenes.shapes import (
    Point,
    bolt,
    box,
    group,
    heap,
    lathe,
    move,
    plate,
    rod,
    rounded,
    tube,
    words,
)  # fmt: skip


class Paints:
    """The surfaces of the machine, for an amount of dust from 0 to 1."""

    def __init__(self, dust: float) -> None:
        mud = mat.MUD
        self.frame = mat.plain(
            "frame", (0.02, 0.13, 0.20), rough=0.42, worn=0.55, dust=dust, dust_colour=mud
        )
        self.black = mat.plain(
            "black", (0.025, 0.025, 0.027), rough=0.42, worn=0.25, dust=dust, dust_colour=mud
        )
        self.cast = mat.plain(
            "cast",
            (0.34, 0.34, 0.335),
            rough=0.5,
            metal=0.7,
            bump=0.35,
            grain=14,
            dust=dust,
            dust_colour=mud,
        )
        self.plate = mat.plain(
            "plate",
            (0.10, 0.10, 0.105),
            rough=0.5,
            metal=0.6,
            worn=0.9,
            bump=0.3,
            dust=min(dust * 1.25, 1),
            dust_colour=mud,
        )
        self.tank = mat.plain(
            "tank",
            (0.62, 0.60, 0.55),
            rough=0.3,
            worn=0.15,
            dust=dust * 0.8,
            dust_colour=mud,
            clear=0.3,
        )
        self.hot = mat.plain(
            "hot", (0.22, 0.15, 0.11), rough=0.45, metal=0.9, uneven=0.5, dust=dust * 0.7
        )
        self.rubber = mat.rubber(dust)
        self.steel = mat.steel(dust * 0.7)
        self.dark = mat.plain("dark", (0.006, 0.006, 0.006), rough=0.8)
        self.white = mat.plain("white", (0.75, 0.75, 0.72), rough=0.5, dust=dust * 0.5)
        self.red = mat.plain("red", (0.40, 0.02, 0.015), rough=0.4, dust=dust * 0.6)


def _across(
    outline: list[Point], wide: float, skin: bpy.types.Material, x: float = 0.0
) -> bpy.types.Object:
    """Add a piece drawn in y and z, `wide` across the machine, centred on x."""
    return move(plate(outline, wide, skin, 0.04), (x - wide / 2, 0, 0), (90, 0, 90))


def _base(p: Paints) -> list[bpy.types.Object]:
    shoe = [(-3.3, 1.0), (-3.2, 0.92), (-2.35, 0.12), (-2.2, 0.0), (2.1, 0.0), (2.3, 0.12),
            (3.0, 0.8), (2.9, 0.92), (2.15, 0.22), (-2.15, 0.22), (-3.15, 1.08)]  # fmt: skip
    made = [_across(shoe, 5.0, p.plate)]
    made.append(rod(0.78, 3.3, p.cast, (-1.65, -0.95, 1.0), (0, 90, 0), 0.06))
    for x in (-1.75, 1.65):
        made.append(rod(0.92, 0.14, p.cast, (x, -0.95, 1.0), (0, 90, 0), 0.03))
    made += [
        bolt(
            0.24,
            p.steel,
            (-1.75, -0.95 + 0.76 * math.cos(a), 1.0 + 0.76 * math.sin(a)),
            (0, -90, 0),
        )
        for a in (0.5, 1.55, 2.6, 3.65, 4.7, 5.75)
    ]
    for x in (-2.05, 2.05):
        made.append(box((0.22, 4.3, 0.7), (x, 0.0, 0.5), p.plate, 0.04))
        for y in (-1.5, 1.7):
            made.append(rod(0.36, 0.62, p.rubber, (x * 0.93, y, 1.05), bevel=0.12))
            made.append(rod(0.40, 0.06, p.steel, (x * 0.93, y, 1.66)))
            made.append(rod(0.40, 0.06, p.steel, (x * 0.93, y, 1.02)))
    return made


def _deck(p: Paints) -> list[bpy.types.Object]:
    made = [box((4.5, 4.4, 0.16), (0, 0.1, 1.80), p.frame, 0.04)]
    made += [box((4.5, 0.14, 0.5), (0, y, 1.95), p.frame, 0.04) for y in (-2.05, 2.25)]
    for x in (-2.0, 2.0):
        hoop = [(x, -1.75, 1.9), (x, -1.75, 3.6), (x, -1.55, 5.3), (x, -0.9, 5.95),
                (x, 0.9, 6.0), (x, 1.7, 5.6), (x, 1.95, 4.2), (x, 2.0, 1.9)]  # fmt: skip
        made.append(tube(hoop, 0.135, p.frame))
    made.append(tube([(-2.0, -0.2, 5.98), (0, -0.2, 5.99), (2.0, -0.2, 5.98)], 0.135, p.frame))
    made.append(words("TORVANE", 0.42, (-0.55, -2.125, 1.96), p.white, (90, 0, 0)))
    made.append(words("TV 200", 0.26, (1.45, -2.125, 1.94), p.white, (90, 0, 0)))
    return made


def _recoil(p: Paints) -> list[bpy.types.Object]:
    """Build the starter side: a domed cover with slots, a hub, the pull handle."""
    dome = [
        (1.32, 0),
        (1.32, 0.42),
        (1.22, 0.62),
        (0.95, 0.72),
        (0.52, 0.76),
        (0.50, 0.84),
        (0.0, 0.86),
    ]
    made = [lathe(dome, p.black, (-1.25, 0.45, 3.0), (0, -90, 0))]
    for n in range(22):
        a = 2 * math.pi * n / 22
        at = (-1.965, 0.45 + 0.80 * math.cos(a), 3.0 + 0.80 * math.sin(a))
        made.append(box((0.05, 0.46, 0.085), at, p.dark, 0.02, (math.degrees(a), 0, 0)))
    made += [
        bolt(0.2, p.steel, (-1.67, 0.45 + 1.3 * math.cos(a), 3.0 + 1.3 * math.sin(a)), (0, -90, 0))
        for a in (0.9, 2.2, 4.0, 5.4)
    ]
    made.append(box((0.22, 0.85, 0.2), (-1.75, -0.75, 3.95), p.black, 0.08, (25, 0, 0)))
    made.append(words("TV 6.5", 0.26, (-2.12, 0.45, 3.0), p.white, (90, 0, -90)))
    return made


def _engine(p: Paints) -> list[bpy.types.Object]:
    made = [box((2.5, 2.3, 1.7), (0.05, 0.5, 2.75), p.cast, 0.16)]
    made += [
        box((2.0, 0.10, 1.9), (0.1, -0.72 - 0.17 * n, 3.35), p.cast, 0.03, (-24, 0, 0))
        for n in range(7)
    ]
    made.append(box((1.7, 0.5, 1.6), (0.1, -1.72, 3.0), p.cast, 0.14, (-24, 0, 0)))
    made += [
        bolt(0.2, p.steel, (x, -1.93, z), (66, 0, 0)) for x in (-0.5, 0.7) for z in (2.4, 3.35)
    ]
    made.append(
        tube(
            [(-0.55, -1.75, 2.95), (-0.75, -2.15, 3.1), (-1.25, -1.7, 3.5), (-1.2, -0.6, 3.9)],
            0.06,
            p.rubber,
        )
    )
    made.append(rod(0.13, 0.5, p.rubber, (-0.5, -1.72, 2.95), (60, 0, -25), 0.04))
    tank = move(plate(rounded(2.9, 2.3, 0.5), 1.15, p.tank, 0.30), (-0.15, 0.55, 4.15))
    made += [tank, rod(0.42, 0.24, p.black, (-0.45, 0.75, 5.27), bevel=0.06, steps=24)]
    made.append(words("FUEL", 0.16, (-0.3, -0.605, 4.75), p.red, (90, 0, 0)))
    made.append(box((1.05, 1.2, 1.25), (1.75, 0.1, 4.3), p.black, 0.22))
    made += [box((1.30, 0.85, 0.95), (0.95, -1.45, 4.45), p.hot, 0.12)]
    made += [
        box((0.075, 0.03, 0.62), (0.5 + 0.15 * n, -1.885, 4.45), p.dark, 0.01) for n in range(7)
    ]
    made.append(box((0.7, 0.14, 0.36), (-1.33, -0.85, 2.35), p.black, 0.04))
    made.append(rod(0.09, 0.12, p.red, (-1.42, -0.92, 2.38), (90, 0, 0)))
    return made


def _handle(p: Paints) -> list[bpy.types.Object]:
    grip = [(-1.7, 2.2, 2.0), (-1.7, 3.0, 3.6), (-1.65, 4.6, 6.2), (-1.55, 6.0, 8.3),
            (-1.4, 6.7, 8.75), (-0.8, 6.95, 8.85), (0.8, 6.95, 8.85), (1.4, 6.7, 8.75),
            (1.55, 6.0, 8.3), (1.65, 4.6, 6.2), (1.7, 3.0, 3.6), (1.7, 2.2, 2.0)]  # fmt: skip
    made = [tube(grip, 0.15, p.frame)]
    made.append(tube([(-0.95, 6.94, 8.85), (0.0, 6.97, 8.86), (0.95, 6.94, 8.85)], 0.19, p.rubber))
    made.append(tube([(-1.64, 4.7, 6.3), (0, 4.72, 6.32), (1.64, 4.7, 6.3)], 0.11, p.frame))
    made += [rod(0.3, 0.34, p.rubber, (x, 2.2, 2.1), (0, 90, 0), 0.05) for x in (-1.9, 1.55)]
    made.append(box((0.5, 0.26, 0.34), (0.9, 4.6, 6.5), p.black, 0.06, (35, 0, 0)))
    return made


def compactor(dust: float, turn: float) -> None:
    """Stand the plate compactor on the floor, turned about z, with dust from 0 to 1."""
    p = Paints(dust)
    guard = move(
        plate(rounded(3.6, 1.5, 0.7), 0.55, p.frame, 0.12), (1.95, -0.3, 2.15), (90, -30, 90)
    )
    group([*_base(p), *_deck(p), *_engine(p), *_recoil(p), *_handle(p), guard], turn=(0, 0, turn))
    if dust > 0.5:
        clod = mat.plain("clod", (0.20, 0.155, 0.105), rough=0.95, bump=0.5, grain=12)
        for n in range(46):
            a, r = n * 2.399, 2.7 + 1.9 * ((n * 37) % 23) / 23
            heap(
                0.05 + 0.10 * ((n * 11) % 7) / 7, clod, (r * math.cos(a), r * math.sin(a), 0.03), n
            )
