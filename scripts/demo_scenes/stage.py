"""Where the pictures are taken: bench or floor, the lights, the phone's camera, the renderer."""

import math

import bpy
from mathutils import Vector

from demo_scenes import materials as mat
from demo_scenes.shapes import Point, box, move, put, rod


def clear() -> None:
    """Start with an empty scene, a dim room all around."""
    bpy.ops.wm.read_factory_settings(use_empty=True)
    world = bpy.data.worlds.new("room")
    bpy.context.scene.world = world
    world.use_nodes = True
    world.node_tree.nodes["Background"].inputs[0].default_value = (0.55, 0.62, 0.70, 1)
    world.node_tree.nodes["Background"].inputs[1].default_value = 0.10


def lamp(at: Point, to: Point, power: float, size: Point, colour: Point = (1, 1, 1)) -> None:
    """Hang a lamp (watts, in this scale) of a size in decimetres, aimed at a place."""
    light = bpy.data.lights.new("lamp", "AREA")
    light.energy, light.shape = power, "RECTANGLE"
    light.size, light.size_y = size
    light.color = colour
    thing = bpy.data.objects.new("lamp", light)
    bpy.context.collection.objects.link(thing)
    thing.location = at
    thing.rotation_euler = (Vector(to) - Vector(at)).to_track_quat("-Z", "Y").to_euler()


def camera(
    at: Point, to: Point, lens_mm: float = 30.0, tilt: float = 0.0, f_number: float = 4.0,
    sharp_at: Point | None = None,
) -> None:  # fmt: skip
    """Hold the phone at a place, leaning `tilt` degrees, focused on `sharp_at` or else on `to`."""
    data = bpy.data.cameras.new("phone")
    data.lens, data.clip_start = lens_mm, 0.01
    data.dof.use_dof, data.dof.aperture_fstop = True, f_number
    data.dof.focus_distance = (Vector(sharp_at or to) - Vector(at)).length
    thing = bpy.data.objects.new("phone", data)
    bpy.context.collection.objects.link(thing)
    thing.location = at
    aim = (Vector(to) - Vector(at)).to_track_quat("-Z", "Y").to_euler()
    thing.rotation_euler = aim
    thing.rotation_euler.rotate_axis("Z", math.radians(tilt))
    bpy.context.scene.camera = thing


def bench() -> None:
    """Lay the bench top at z 0, a wall with shelves behind it, and the shop's lamps."""
    top = [(-14, -7, 0), (14, -7, 0), (14, 8, 0), (-14, 8, 0)]
    put("bench", top, [(0, 1, 2, 3)], mat.wood())
    _back_wall(11.0)
    lamp((-7, 3.5, 7.5), (0, 0, 0), 1500, (1.6, 1.6), (1.0, 0.90, 0.76))
    lamp((4, -3, 13), (0, 0, 0), 1000, (12, 1.2), (0.86, 0.94, 1.0))
    lamp((9, 5, 6), (0, 0, 0), 260, (4, 4), (0.8, 0.9, 1.0))


def _back_wall(y: float) -> None:
    wall = mat.plain("wall", (0.27, 0.28, 0.27), rough=0.9)
    box((60, 0.5, 40), (0, y + 3, 5), wall)
    shelf = mat.plain("shelf", (0.14, 0.15, 0.17), rough=0.5, worn=0.4)
    box((40, 2.2, 0.25), (0, y + 1.6, 3.4), shelf)
    box((40, 2.2, 0.25), (0, y + 1.6, -1.2), shelf)
    tints = ((0.45, 0.06, 0.04), (0.05, 0.13, 0.32), (0.5, 0.36, 0.05), (0.33, 0.24, 0.15))
    for n in range(14):
        tint = mat.plain(f"can{n}", tints[n * 3 % 4], rough=0.4)
        high = 1.0 + 0.9 * math.sin(n * 2.3) ** 2
        x, z = -12.5 + 1.9 * n, 3.55 if n % 2 else -1.05
        if n % 3:
            box((1.3, 1.2, high), (x, y + 1.4, z + high / 2), tint)
        else:
            rod(0.6, high, tint, (x, y + 1.4, z))


def floor() -> None:
    """Lay the shop floor at z 0, with the back wall, a rack, and daylight from the door."""
    put(
        "floor",
        [(-60, -50, 0), (60, -50, 0), (60, 50, 0), (-60, 50, 0)],
        [(0, 1, 2, 3)],
        mat.concrete(),
    )
    low = mat.plain("dado", (0.10, 0.16, 0.19), rough=0.6, dust=0.3)
    high = mat.plain("wall", (0.42, 0.42, 0.39), rough=0.9, dust=0.2)
    box((120, 0.4, 12), (0, 22, 6), low)
    box((120, 0.4, 30), (0, 22, 27), high)
    _rack()
    lamp((-24, -12, 22), (0, 0, 4), 15000, (16, 14), (0.92, 0.97, 1.0))
    lamp((6, 6, 29), (0, 2, 0), 7000, (24, 1.5), (1.0, 0.95, 0.84))
    lamp((20, -14, 14), (0, 0, 4), 1800, (6, 6), (1.0, 0.93, 0.82))


def _rack() -> None:
    post = mat.plain("post", (0.06, 0.10, 0.22), rough=0.5, worn=0.4)
    board = mat.plain("board", (0.25, 0.17, 0.10), rough=0.8)
    tints = ((0.40, 0.06, 0.04), (0.07, 0.07, 0.075), (0.55, 0.38, 0.06), (0.30, 0.22, 0.14))
    for x in (-26, -11, 4):
        box((0.5, 0.5, 22), (x, 17.0, 11), post)
        box((0.5, 0.5, 22), (x, 21.0, 11), post)
    for level in (2.0, 8.0, 14.0):
        box((31, 5, 0.35), (-11, 19, level), board)
        for n in range(8):
            tint = mat.plain("crate", tints[(n + int(level)) % 4], rough=0.6, dust=0.4)
            tall = 1.8 + 2.2 * math.sin(n * 1.9 + level) ** 2
            box((2.6, 2.8, tall), (-24 + 3.7 * n, 18.6, level + 0.2 + tall / 2), tint)


def renderer(width: int, height: int, samples: int) -> None:
    """Set up Cycles on the processor, with the open denoiser."""
    scene = bpy.context.scene
    scene.render.engine = "CYCLES"
    scene.cycles.samples, scene.cycles.seed = samples, 17
    scene.cycles.use_denoising, scene.cycles.denoiser = True, "OPENIMAGEDENOISE"
    scene.cycles.max_bounces, scene.cycles.diffuse_bounces = 4, 2
    scene.cycles.adaptive_threshold = 0.04
    scene.cycles.caustics_reflective = scene.cycles.caustics_refractive = False
    scene.render.resolution_x, scene.render.resolution_y = width, height
    scene.view_settings.view_transform = "AgX"
    scene.view_settings.look = "AgX - Medium High Contrast"
    scene.render.image_settings.file_format = "PNG"


__all__ = ["bench", "camera", "clear", "floor", "lamp", "move", "renderer"]
