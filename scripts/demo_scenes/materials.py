"""Surfaces of the demo's pictures: paint, steel, rubber, copper, wood; all computed, no images."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import bpy

Colour = Sequence[float]
DUST = (0.36, 0.31, 0.25)
MUD = (0.235, 0.18, 0.125)
STEEL = (0.46, 0.46, 0.45)


@dataclass(frozen=True)
class Look:
    """How a surface looks: colour, shine, and how much use has left on it (all 0 to 1)."""

    colour: Colour
    rough: float = 0.5
    metal: float = 0.0
    uneven: float = 0.12
    bump: float = 0.08
    grain: float = 45.0
    worn: float = 0.0
    dust: float = 0.0
    dust_colour: Colour = DUST
    clear: float = 0.0


class Tree:
    """A short way to write a material's nodes."""

    def __init__(self, name: str) -> None:
        self.material = bpy.data.materials.new(name)
        self.material.use_nodes = True
        self.nodes = self.material.node_tree.nodes
        self.links = self.material.node_tree.links
        self.shader = self.nodes["Principled BSDF"]

    def add(self, kind: str, inputs: dict[Any, Any] | None = None, **settings: Any) -> Any:
        """Add a node; `inputs` are values or sockets, `settings` the node's own properties."""
        node = self.nodes.new(f"ShaderNode{kind}")
        for key, value in settings.items():
            setattr(node, key, value)
        for key, value in (inputs or {}).items():
            self.set(node.inputs[key], value)
        return node

    def set(self, socket: Any, value: Any) -> None:
        """Link a socket to a socket, or give it a value (a colour gets its alpha)."""
        if isinstance(value, bpy.types.NodeSocket):
            self.links.new(value, socket)
        elif isinstance(value, tuple | list) and len(value) == 3 and socket.type == "RGBA":
            socket.default_value = (*value, 1.0)
        else:
            socket.default_value = value

    def math(self, operation: str, a: Any, b: Any = 0.0, clamp: bool = False) -> Any:
        """Return the socket of a sum, product and so on."""
        return self.add("Math", {0: a, 1: b}, operation=operation, use_clamp=clamp).outputs[0]

    def noise(self, scale: float, detail: float = 3.0, where: Any = None) -> Any:
        """Return a noise between 0 and 1 over the object's own space."""
        place = where if where is not None else self.place()
        node = self.add("TexNoise", {"Vector": place, "Scale": scale, "Detail": detail})
        return node.outputs[0]

    def place(self) -> Any:
        """Return the place on the object, in its own space."""
        return self.add("TexCoord").outputs["Object"]

    def between(self, value: Any, low: float, high: float) -> Any:
        """Return 0 below `low`, 1 above `high`, and a soft step between."""
        inputs = {"Value": value, "From Min": low, "From Max": high}
        node = self.add("MapRange", inputs, interpolation_type="SMOOTHSTEP")
        return node.outputs[0]

    def mixed(self, amount: Any, first: Any, second: Any) -> Any:
        """Return a mix of two colours."""
        node = self.add("Mix", data_type="RGBA")
        for index, value in ((0, amount), (6, first), (7, second)):
            self.set(node.inputs[index], value)
        return node.outputs[2]

    def blend(self, amount: Any, first: Any, second: Any) -> Any:
        """Return a mix of two numbers."""
        node = self.add("Mix", data_type="FLOAT")
        for index, value in ((0, amount), (2, first), (3, second)):
            self.set(node.inputs[index], value)
        return node.outputs[0]

    def dent(self, height: Any, strength: float, below: Any = None, distance: float = 0.02) -> Any:
        """Return a normal bent by a height."""
        inputs = {"Height": height, "Strength": strength, "Distance": distance}
        if below is not None:
            inputs["Normal"] = below
        return self.add("Bump", inputs).outputs[0]


def _edges(tree: Tree) -> Any:
    soft = tree.add("Bevel", {"Radius": 0.05}, samples=2).outputs[0]
    flat = tree.add("NewGeometry").outputs["Normal"]
    along = tree.add("VectorMath", {0: soft, 1: flat}, operation="DOT_PRODUCT").outputs["Value"]
    return tree.math("SUBTRACT", 1.0, along)


def _lying(tree: Tree) -> Any:
    normal = tree.add("NewGeometry").outputs["Normal"]
    up = tree.add("SeparateXYZ", {0: normal}).outputs[2]
    return tree.between(up, -0.6, 1.0)


def surface(name: str, look: Look) -> Tree:
    """Build a material: uneven colour, worn edges down to steel, dust where it can lie."""
    tree = Tree(name)
    broad, fine = tree.noise(3.0), tree.noise(look.grain)
    colour: Any = tree.mixed(
        tree.math("MULTIPLY", broad, look.uneven * 2),
        look.colour,
        tuple(c * 0.45 for c in look.colour),
    )
    rough: Any = tree.blend(
        tree.between(fine, 0.3, 0.7), look.rough * 0.8, min(look.rough * 1.25, 1)
    )
    metal: Any = look.metal
    if look.worn:
        edge = tree.math("ADD", _edges(tree), tree.math("MULTIPLY", tree.noise(14.0), 0.10))
        bare = tree.between(edge, 0.16 - 0.10 * look.worn, 0.19 - 0.10 * look.worn)
        colour = tree.mixed(bare, colour, STEEL)
        metal = tree.blend(bare, look.metal, 0.9)
    if look.dust:
        lies = tree.math("MULTIPLY", _lying(tree), tree.between(tree.noise(5.0, 5.0), 0.32, 0.72))
        speck = tree.math("MULTIPLY", tree.between(fine, 0.45, 0.7), 0.35)
        cover = tree.math("MULTIPLY", tree.math("ADD", lies, speck), look.dust, clamp=True)
        colour = tree.mixed(cover, colour, look.dust_colour)
        rough = tree.blend(cover, rough, 0.95)
        metal = tree.math("MULTIPLY", metal, tree.math("SUBTRACT", 1.0, cover))
    for key, value in (("Base Color", colour), ("Roughness", rough), ("Metallic", metal)):
        tree.set(tree.shader.inputs[key], value)
    tree.set(tree.shader.inputs["Coat Weight"], look.clear)
    tree.set(tree.shader.inputs["Normal"], tree.dent(fine, look.bump))
    return tree


def plain(name: str, colour: Colour, **looks: Any) -> bpy.types.Material:
    """Return a material by its colour and whatever of `Look` differs."""
    return surface(name, Look(colour, **looks)).material


def steel(dust: float = 0.0) -> bpy.types.Material:
    """Return used bare steel."""
    return plain("steel", (0.42, 0.42, 0.41), rough=0.35, metal=1.0, uneven=0.3, dust=dust)


def rubber(dust: float = 0.1) -> bpy.types.Material:
    """Return black rubber."""
    return plain("rubber", (0.022, 0.022, 0.023), rough=0.62, bump=0.12, grain=80, dust=dust)


def brass() -> bpy.types.Material:
    """Return dull brass."""
    return plain("brass", (0.62, 0.43, 0.17), rough=0.32, metal=1.0, uneven=0.35)


def wood() -> bpy.types.Material:
    """Return an old bench top: boards along x, grain and pores, grime, oil stains and knocks."""
    tree = Tree("wood")
    place = tree.place()
    board = tree.math("ADD", tree.add("SeparateXYZ", {0: place}).outputs[1], 0.35)
    grain = tree.noise(4.0, 4.0, _stretched(tree, (0.10, 3.0, 1.0)))
    pore = tree.between(tree.noise(16.0, 2.0, _stretched(tree, (0.16, 5.0, 1.0))), 0.56, 0.66)
    colour = tree.mixed(tree.between(grain, 0.3, 0.7), (0.27, 0.185, 0.115), (0.19, 0.125, 0.075))
    colour = tree.mixed(tree.math("MULTIPLY", pore, 0.55), colour, (0.06, 0.04, 0.026))
    grime = tree.between(tree.noise(2.2, 6.0), 0.38, 0.70)
    colour = tree.mixed(tree.math("MULTIPLY", grime, 0.62), colour, (0.075, 0.062, 0.05))
    oil = tree.between(tree.noise(0.55, 5.0), 0.50, 0.63)
    colour = tree.mixed(tree.math("MULTIPLY", oil, 0.85), colour, (0.018, 0.015, 0.012))
    gap = tree.between(tree.math("PINGPONG", board, 0.75), 0.004, 0.014)
    colour = tree.mixed(gap, (0.006, 0.005, 0.004), colour)
    scratch = tree.between(tree.noise(5.0, 3.0, _stretched(tree, (0.4, 12, 1), 0.7)), 0.69, 0.72)
    colour = tree.mixed(tree.math("MULTIPLY", scratch, 0.6), colour, (0.33, 0.25, 0.17))
    dents = tree.between(tree.noise(9.0, 2.0), 0.28, 0.36)
    tree.set(tree.shader.inputs["Base Color"], colour)
    tree.set(tree.shader.inputs["Roughness"], tree.blend(oil, 0.78, 0.40))
    height = tree.math("SUBTRACT", tree.math("ADD", dents, tree.math("MULTIPLY", gap, 2.0)), pore)
    height = tree.math("SUBTRACT", height, tree.math("MULTIPLY", scratch, 0.8))
    tree.set(tree.shader.inputs["Normal"], tree.dent(height, 0.22))
    return tree.material


def _stretched(tree: Tree, by: Colour, turn: float = 0.0) -> Any:
    inputs = {"Vector": tree.place(), "Rotation": (0, 0, turn), "Scale": by}
    return tree.add("Mapping", inputs).outputs[0]


def concrete() -> bpy.types.Material:
    """Return a shop floor: poured concrete with stains and fine cracks."""
    tree = Tree("concrete")
    broad, fine = tree.noise(0.18, 5.0), tree.noise(9.0, 5.0)
    colour = tree.mixed(tree.between(broad, 0.3, 0.7), (0.19, 0.185, 0.17), (0.115, 0.11, 0.10))
    colour = tree.mixed(tree.math("MULTIPLY", fine, 0.5), colour, (0.07, 0.067, 0.062))
    stain = tree.between(tree.noise(0.32, 5.0), 0.56, 0.66)
    colour = tree.mixed(tree.math("MULTIPLY", stain, 0.7), colour, (0.035, 0.03, 0.026))
    cells = tree.add(
        "TexVoronoi", {"Vector": tree.place(), "Scale": 0.035}, feature="DISTANCE_TO_EDGE"
    )
    wander = tree.math("ADD", cells.outputs[0], tree.math("MULTIPLY", tree.noise(0.9, 3.0), 0.05))
    crack = tree.between(wander, 0.008, 0.011)
    colour = tree.mixed(crack, (0.03, 0.028, 0.025), colour)
    tree.set(tree.shader.inputs["Base Color"], colour)
    tree.set(tree.shader.inputs["Roughness"], tree.blend(stain, 0.62, 0.28))
    tree.set(tree.shader.inputs["Normal"], tree.dent(fine, 0.2))
    return tree.material
