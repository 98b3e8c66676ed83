"""The measuring tools in the pictures, with what they show."""

import bpy

from demo_scenes import materials as mat
from demo_scenes.materials import Look, surface
from demo_scenes.shapes import Point, box, group, lathe, move, plate, put, rod, rounded, tube, words

# Segments of a digit: a top, b and c right, d foot, e and f left, g middle.
SEGMENTS = {
    "0": "abcdef", "1": "bc", "2": "abged", "3": "abgcd", "4": "fgbc", "5": "afgcd",
    "6": "afgedc", "7": "abc", "8": "abcdefg", "9": "abcdfg",
}  # fmt: skip
LEAN = 0.10


def _bar(x: float, y: float, long: float, thick: float, upright: bool) -> list[Point]:
    half, t = long / 2 - thick * 0.12, thick / 2
    shape = [(-half, 0), (-half + t, -t), (half - t, -t), (half, 0), (half - t, t), (-half + t, t)]
    return [(x - b, y + a) if upright else (x + a, y + b) for a, b in shape]


def _strokes(high: float) -> dict[str, list[Point]]:
    wide, thick, half = high * 0.52, high * 0.115, high / 2
    r, lift = wide / 2, half / 2
    return {
        "a": _bar(0, half, wide, thick, False), "g": _bar(0, 0, wide, thick, False),
        "d": _bar(0, -half, wide, thick, False), "b": _bar(r, lift, half, thick, True),
        "c": _bar(r, -lift, half, thick, True), "f": _bar(-r, lift, half, thick, True),
        "e": _bar(-r, -lift, half, thick, True),
    }  # fmt: skip


def digits(value: str, high: float, at: Point, ink: bpy.types.Material) -> bpy.types.Object:
    """Draw a number in seven segments, centred; a point takes its place at the foot."""
    step, strokes, made = high * 0.86, _strokes(high), []
    x = -step * (len(value.replace(".", "")) - 1) / 2
    for mark in value:
        if mark == ".":
            made.append(
                rod(high * 0.085, 0.001, ink, (x - step / 2 - high * 0.05, -high / 2, 0), bevel=0)
            )
            continue
        for name in SEGMENTS[mark]:
            corners = [(x + a + LEAN * b, b, 0.0) for a, b in strokes[name]]
            made.append(put("segment", corners, [range(6)], ink))
        x += step
    return group(made, at)


def _screen(size: Point, at: Point) -> list[bpy.types.Object]:
    back = mat.plain("crystal", (0.36, 0.40, 0.32), rough=0.28, uneven=0.03, bump=0.0, clear=0.6)
    frame = mat.plain("frame", (0.02, 0.02, 0.022), rough=0.3, bump=0.03, dust=0.15)
    x, y, z = at
    width, height = size
    rim = move(plate(rounded(width + 0.12, height + 0.12, 0.05), 0.02, frame, 0.008), (x, y, z))
    return [rim, move(plate(rounded(width, height, 0.02), 0.003, back, 0.0), (x, y, z + 0.021))]


def multimeter(value: str, unit: str, at: Point, turn: Point) -> None:
    """Lay a multimeter on the bench: holster, screen with its value, dial, sockets and leads."""
    holster = mat.plain(
        "holster",
        (0.46, 0.23, 0.02),
        rough=0.6,
        bump=0.15,
        dust=0.28,
        dust_colour=(0.1, 0.085, 0.07),
    )
    face = mat.plain("face", (0.035, 0.037, 0.042), rough=0.5, bump=0.1, dust=0.08)
    ink = mat.plain("ink", (0.01, 0.012, 0.01), rough=0.5)
    white = mat.plain("white", (0.70, 0.70, 0.66), rough=0.6)
    made = [
        plate(rounded(0.95, 1.85, 0.16), 0.36, holster, 0.06),
        move(plate(rounded(0.78, 1.66, 0.10), 0.06, face, 0.02), (0, 0, 0.335)),
        *_screen((0.62, 0.30), (0, 0.55, 0.395)),
        digits(value, 0.185, (-0.05, 0.545, 0.4205), ink),
        words(unit, 0.10, (0.235, 0.62, 0.4205), ink),
        words("AUTO", 0.04, (-0.24, 0.665, 0.4205), ink),
    ]
    made += _dial(white, (0, -0.06, 0.395))
    made += _sockets(white, 0.395)
    for n in range(3):
        made.append(
            box(
                (0.15, 0.07, 0.04),
                (-0.22 + 0.22 * n, 0.29, 0.40),
                mat.plain("key", (0.16, 0.16, 0.17)),
                0.02,
            )
        )
    made.append(words("RANGE     HOLD     MIN MAX", 0.032, (0, 0.235, 0.397), white))
    group(made, at, turn)


def _dial(white: bpy.types.Material, at: Point) -> list[bpy.types.Object]:
    knob = mat.plain("knob", (0.02, 0.02, 0.021), rough=0.4, bump=0.1, dust=0.12)
    x, y, z = at
    made = [lathe([(0.19, 0), (0.19, 0.03), (0.17, 0.05), (0.0, 0.05)], knob, at)]
    made.append(box((0.075, 0.34, 0.06), (x, y, z + 0.07), knob, 0.02, (0, 0, -50)))
    made.append(
        box((0.014, 0.10, 0.004), (x + 0.085, y + 0.072, z + 0.102), white, 0.0, (0, 0, -50))
    )
    marks = {"OFF": (-0.29, -0.06), "V~": (-0.27, 0.09), "V=": (-0.15, 0.21), "mV": (0.0, 0.25),
             "Ω": (0.235, 0.165), "°F": (0.30, 0.02), "A": (0.27, -0.13)}  # fmt: skip
    made += [words(text, 0.06, (x + a, y + b, z + 0.002), white) for text, (a, b) in marks.items()]
    return made


def _sockets(white: bpy.types.Material, z: float) -> list[bpy.types.Object]:
    red = mat.plain("red", (0.42, 0.015, 0.012), rough=0.38, bump=0.05)
    black = mat.plain("black", (0.018, 0.018, 0.019), rough=0.4, bump=0.05)
    made = []
    for x, skin, away in ((-0.23, black, -0.9), (0.0, black, -0.25), (0.23, red, 0.75)):
        made.append(
            lathe([(0.075, 0), (0.075, 0.02), (0.045, 0.022), (0.04, 0.0)], skin, (x, -0.60, z))
        )
        if x == 0.0:
            continue
        made.append(
            lathe(
                [(0.055, 0), (0.06, 0.03), (0.06, 0.22), (0.035, 0.3)],
                skin,
                (x, -0.60, z),
                (18, 0, 0),
            )
        )
        near = [(x, -0.66, z + 0.26), (x, -0.85, z + 0.34), (x + away * 0.3, -1.15, 0.12)]
        far = [(x + away, -1.3, 0.04), (x + away * 2.4, -0.9, 0.04), (x + away * 4, 0.6, 0.04)]
        made.append(tube([*near, *far], 0.026, skin))
    made.append(words("COM", 0.045, (-0.23, -0.485, z + 0.002), white))
    made.append(words("V Ω", 0.045, (0.23, -0.485, z + 0.002), white))
    return made


def tachometer(value: str, at: Point, turn: Point) -> None:
    """Lay a hand-held tachometer on the bench, holding the speed it measured."""
    shell = mat.plain("shell", (0.05, 0.053, 0.06), rough=0.5, bump=0.12, dust=0.09)
    grip = mat.plain("grip", (0.30, 0.035, 0.02), rough=0.55, bump=0.1, dust=0.25)
    ink = mat.plain("ink", (0.01, 0.012, 0.01), rough=0.5)
    white = mat.plain("white", (0.70, 0.70, 0.66), rough=0.6)
    glass = surface("lens", Look((0.03, 0.03, 0.05), rough=0.05, bump=0.0, clear=1.0)).material
    made = [
        plate(rounded(0.72, 1.75, 0.14), 0.34, shell, 0.07),
        move(plate(rounded(0.76, 0.62, 0.12), 0.30, grip, 0.05), (0, -0.52, 0.02)),
        *_screen((0.52, 0.30), (0, 0.42, 0.335)),
        digits(value, 0.155, (-0.005, 0.435, 0.3605), ink),
        words("rpm", 0.055, (0.19, 0.305, 0.3605), ink),
        words("HOLD", 0.038, (-0.17, 0.305, 0.3605), ink),
        rod(
            0.11,
            0.05,
            mat.plain("key", (0.34, 0.04, 0.02), rough=0.4),
            (0, 0.02, 0.325),
            bevel=0.02,
        ),
        words("TEST", 0.045, (0, 0.02, 0.376), white),
        words("PHOTO TACHOMETER", 0.042, (0, 0.66, 0.342), white),
        lathe(
            [(0.17, 0), (0.17, 0.12), (0.12, 0.12), (0.10, 0.06)],
            shell,
            (0, 0.85, 0.17),
            (-90, 0, 0),
        ),
        lathe([(0.11, 0), (0.06, 0.03), (0.0, 0.035)], glass, (0, 0.92, 0.17), (-90, 0, 0)),
    ]
    cord = [
        (0, -0.86, 0.15),
        (0.05, -1.0, 0.08),
        (0.4, -1.15, 0.03),
        (0.62, -0.75, 0.03),
        (0.30, -0.92, 0.06),
        (0, -0.86, 0.15),
    ]
    made.append(tube(cord, 0.016, mat.rubber()))
    group(made, at, turn)
