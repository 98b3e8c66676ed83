"""Shapes that the demo's pictures are built of; lengths in decimetres (1.0 is 10 cm)."""

import math
from collections.abc import Iterable, Sequence

import bmesh
import bpy
from mathutils import Matrix, Vector

Point = Sequence[float]


def put(
    name: str,
    verts: Iterable[Point],
    faces: Iterable[Sequence[int]],
    mat: bpy.types.Material,
    bevel: float = 0.0,
) -> bpy.types.Object:
    """Add a mesh, smooth but for edges above 35 degrees, which `bevel` rounds."""
    mesh = bpy.data.meshes.new(name)
    mesh.from_pydata([tuple(v) for v in verts], [], [tuple(f) for f in faces])
    mesh.polygons.foreach_set("use_smooth", [True] * len(mesh.polygons))
    mesh.set_sharp_from_angle(angle=math.radians(35))
    mesh.materials.append(mat)
    thing = bpy.data.objects.new(name, mesh)
    bpy.context.collection.objects.link(thing)
    if bevel:
        rounded = thing.modifiers.new("bevel", "BEVEL")
        rounded.width, rounded.segments = bevel, 3
        rounded.limit_method, rounded.angle_limit = "ANGLE", math.radians(35)
        rounded.harden_normals = True
    return thing


def move(
    thing: bpy.types.Object, at: Point = (0, 0, 0), turn: Point = (0, 0, 0)
) -> bpy.types.Object:
    """Move a shape to a place and turn it (degrees about x, y, z)."""
    thing.location = at
    thing.rotation_euler = [math.radians(angle) for angle in turn]
    return thing


def group(
    things: Iterable[bpy.types.Object], at: Point = (0, 0, 0), turn: Point = (0, 0, 0)
) -> bpy.types.Object:
    """Hang shapes on one handle and move it."""
    handle = bpy.data.objects.new("group", None)
    bpy.context.collection.objects.link(handle)
    for thing in things:
        if thing.parent is None:
            thing.parent = handle
    return move(handle, at, turn)


def plate(
    outline: Sequence[Point], thick: float, mat: bpy.types.Material, bevel: float = 0.02
) -> bpy.types.Object:
    """Add a flat piece: an outline in x and y (anticlockwise), raised from z 0 to `thick`."""
    count = len(outline)
    verts = [(x, y, z) for z in (0.0, thick) for x, y in outline]
    sides = [(i, (i + 1) % count, count + (i + 1) % count, count + i) for i in range(count)]
    faces = [tuple(range(count))[::-1], tuple(range(count, 2 * count)), *sides]
    return put("plate", verts, faces, mat, bevel)


def box(
    size: Point,
    at: Point,
    mat: bpy.types.Material,
    bevel: float = 0.03,
    turn: Point = (0, 0, 0),
) -> bpy.types.Object:
    """Add a box of a size, its centre at a place."""
    x, y, z = (side / 2 for side in size)
    verts = [(a, b, c) for c in (-z, z) for a, b in ((-x, -y), (x, -y), (x, y), (-x, y))]
    faces = [(3, 2, 1, 0), (4, 5, 6, 7), (0, 1, 5, 4), (1, 2, 6, 5), (2, 3, 7, 6), (3, 0, 4, 7)]
    return move(put("box", verts, faces, mat, bevel), at, turn)


def rounded(width: float, height: float, radius: float, steps: int = 8) -> list[Point]:
    """Return the outline of a rectangle with round corners, centred, anticlockwise."""
    corners = []
    for n, (sx, sy) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        cx, cy = sx * (width / 2 - radius), sy * (height / 2 - radius)
        for step in range(steps + 1):
            angle = math.pi / 2 * (n + step / steps)
            corners.append((cx + radius * math.cos(angle), cy + radius * math.sin(angle)))
    return corners


def lathe(
    profile: Sequence[Point],
    mat: bpy.types.Material,
    at: Point = (0, 0, 0),
    turn: Point = (0, 0, 0),
    steps: int = 64,
) -> bpy.types.Object:
    """Turn a profile of (radius, z) about the z axis; a radius of 0 closes an end."""
    verts = [
        (r * math.cos(2 * math.pi * k / steps), r * math.sin(2 * math.pi * k / steps), z)
        for r, z in profile
        for k in range(steps)
    ]
    faces = [
        (row * steps + k, row * steps + (k + 1) % steps, (row + 1) * steps + (k + 1) % steps,
         (row + 1) * steps + k)
        for row in range(len(profile) - 1)
        for k in range(steps)
    ]  # fmt: skip
    faces += [tuple(range(steps))[::-1], tuple(range((len(profile) - 1) * steps, len(verts)))]
    return move(put("lathe", verts, faces, mat), at, turn)


def rod(
    radius: float,
    length: float,
    mat: bpy.types.Material,
    at: Point = (0, 0, 0),
    turn: Point = (0, 0, 0),
    bevel: float = 0.02,
    steps: int = 64,
) -> bpy.types.Object:
    """Add a cylinder, its foot at a place, along z before it is turned; 6 steps make a hexagon."""
    outline = [
        (radius * math.cos(2 * math.pi * k / steps), radius * math.sin(2 * math.pi * k / steps))
        for k in range(steps)
    ]
    return move(plate(outline, length, mat, bevel), at, turn)


def smooth(points: Sequence[Point], per_leg: int = 14) -> list[Vector]:
    """Return points of a smooth line through the given ones (Catmull-Rom)."""
    through = [Vector(p) for p in points]
    ends = [2 * through[0] - through[1], *through, 2 * through[-1] - through[-2]]
    line = []
    for a, b, c, d in zip(ends, ends[1:], ends[2:], ends[3:], strict=False):
        for k in range(per_leg):
            t = k / per_leg
            line.append(
                0.5
                * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2
                   + (3 * b - a - 3 * c + d) * t**3)
            )  # fmt: skip
    return [*line, through[-1]]


def _frames(line: Sequence[Vector], up: Vector, closed: bool) -> list[Matrix]:
    frames = []
    for n, here in enumerate(line):
        before = line[n - 1] if n or closed else here
        after = line[(n + 1) % len(line)] if n + 1 < len(line) or closed else here
        along = (after - before).normalized()
        side = along.cross(up).normalized()
        up = side.cross(along).normalized()
        frames.append(Matrix((side, up, along)).transposed())
    return frames


def sweep(
    line: Sequence[Vector],
    profile: Sequence[Point],
    mat: bpy.types.Material,
    closed: bool = False,
    up: Point = (0, 0, 1),
) -> bpy.types.Object:
    """Draw a profile along a line; UV: u is the length so far, v goes 0 to 1 round the profile."""
    size, rows = len(profile), len(line)
    verts = [
        here + frame @ Vector((x, y, 0))
        for here, frame in zip(line, _frames(line, Vector(up), closed), strict=True)
        for x, y in profile
    ]
    legs = rows if closed else rows - 1
    faces = [
        (r * size + k, r * size + (k + 1) % size,
         (r + 1) % rows * size + (k + 1) % size, (r + 1) % rows * size + k)
        for r in range(legs)
        for k in range(size)
    ]  # fmt: skip
    thing = put("sweep", verts, faces, mat)
    _unwrap(thing.data, line, size, legs)
    return thing


def _unwrap(mesh: bpy.types.Mesh, line: Sequence[Vector], size: int, legs: int) -> None:
    so_far = [0.0]
    for n in range(1, legs + 1):
        so_far.append(so_far[-1] + (line[n % len(line)] - line[n - 1]).length)
    layer = mesh.uv_layers.new(name="UVMap")
    for face in range(legs * size):
        row, k = divmod(face, size)
        corners = ((row, k), (row, k + 1), (row + 1, k + 1), (row + 1, k))
        for loop, (r, side) in zip(mesh.polygons[face].loop_indices, corners, strict=True):
            layer.data[loop].uv = (so_far[r], side / size)


def ring(radius: float, steps: int = 20) -> list[Point]:
    """Return a circle as a profile for `sweep`."""
    return [
        (radius * math.cos(2 * math.pi * k / steps), radius * math.sin(2 * math.pi * k / steps))
        for k in range(steps)
    ]


def tube(points: Sequence[Point], radius: float, mat: bpy.types.Material) -> bpy.types.Object:
    """Lay a round tube or cable through points."""
    return sweep(smooth(points), ring(radius), mat)


def words(
    text: str,
    size: float,
    at: Point,
    mat: bpy.types.Material,
    turn: Point = (0, 0, 0),
    align: str = "CENTER",
) -> bpy.types.Object:
    """Print words on a surface, lying in x and y before they are turned."""
    curve = bpy.data.curves.new("words", "FONT")
    curve.body, curve.size, curve.align_x, curve.align_y = text, size, align, "CENTER"
    curve.extrude = 0.0005
    thing = bpy.data.objects.new("words", curve)
    bpy.context.collection.objects.link(thing)
    thing.data.materials.append(mat)
    return move(thing, at, turn)


def bolt(
    size: float, mat: bpy.types.Material, at: Point, turn: Point = (0, 0, 0)
) -> bpy.types.Object:
    """Add a flanged hexagon bolt head, `size` across the flange."""
    flange = rod(size / 2, size * 0.1, mat, bevel=size * 0.03, steps=40)
    head = rod(size * 0.4, size * 0.42, mat, bevel=size * 0.04, steps=6)
    return group([flange, head], at, turn)


def drill(thing: bpy.types.Object, tools: Iterable[bpy.types.Object]) -> bpy.types.Object:
    """Cut shapes out of a shape."""
    for tool in tools:
        cut = thing.modifiers.new("cut", "BOOLEAN")
        cut.operation, cut.object, cut.solver = "DIFFERENCE", tool, "EXACT"
        thing.modifiers.move(len(thing.modifiers) - 1, 0)
        tool.hide_render = True
    return thing


def heap(bm_scale: float, mat: bpy.types.Material, at: Point, seed: int) -> bpy.types.Object:
    """Add a small crumb of dirt."""
    bm = bmesh.new()
    bmesh.ops.create_icosphere(bm, subdivisions=2, radius=bm_scale)
    for n, vert in enumerate(bm.verts):
        vert.co *= 0.8 + 0.35 * math.sin(7.1 * n + seed)
    mesh = bpy.data.meshes.new("crumb")
    bm.to_mesh(mesh)
    bm.free()
    mesh.materials.append(mat)
    thing = bpy.data.objects.new("crumb", mesh)
    bpy.context.collection.objects.link(thing)
    return move(thing, at, (seed * 40, seed * 70, 0))
