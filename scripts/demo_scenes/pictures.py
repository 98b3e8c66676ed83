"""The pictures of the demo: what lies where, and from where the phone looks."""

from collections.abc import Callable

from demo_scenes import benchtop, ignition, machine, meters, stage, wiring
from demo_scenes import materials as mat
from demo_scenes.shapes import box


def cracked_coil() -> None:
    """The failed coil on the bench, its crack towards the lamp."""
    stage.bench()
    ignition.coil((-0.2, 0, 0.04), -24, old=True)
    benchtop.spanner((0.6, 2.1, 0), 24)
    benchtop.screws([(-1.25, 0.55), (-1.0, 0.95)])
    stage.camera((-0.25, -1.2, 1.75), (0.16, 0.22, 0.1), 34, -3, 2.4, (-0.1, 0.0, 0.38))


def new_coil() -> None:
    """The new coil beside its box."""
    stage.bench()
    ignition.coil((-0.75, -0.15, 0.04), 8, old=False)
    card = mat.plain("card", (0.42, 0.29, 0.17), rough=0.85, bump=0.1, grain=20)
    box((1.7, 1.15, 0.75), (1.45, 0.95, 0.375), card, 0.02, (0, 0, -14))
    lines = [("TK41-1190", 0.17), ("IGNITION COIL", 0.095), ("QTY 1", 0.08)]
    benchtop.label(lines, (1.45, 0.95, 0.752), (0, 0, -14), (1.2, 0.78))
    benchtop.rag((-1.6, 2.4, 0), 20, (0.30, 0.03, 0.025))
    stage.camera((0.18, -2.0, 2.45), (0.26, 0.40, 0.2), 30, 2, 4.0, (0.2, 0.3, 0.3))


def old_plug() -> None:
    """The old plug, its sooted end near the phone."""
    stage.bench()
    ignition.plug((-0.55, 0.35, 0.12), (0, 90, -38), 1.0)
    benchtop.rag((-0.6, 2.0, 0), -10, (0.30, 0.03, 0.025))
    stage.camera((0.25, -0.95, 0.80), (-0.06, 0.02, 0.08), 38, 4, 3.4, (0.16, -0.2, 0.13))


def old_belt() -> None:
    """The worn belt on the bench."""
    stage.bench()
    benchtop.belt((0, 0.3, 0), (0, 0, 20))
    benchtop.spanner((-1.0, 2.4, 0), -12)
    benchtop.screws([(0.2, 0.35), (0.42, 0.2)])
    stage.camera((-1.05, -1.75, 1.2), (-0.62, -0.10, 0.02), 25, -2, 3.2, (-0.85, -0.55, 0.12))


def chafed_wire() -> None:
    """The kill wire where the shroud has rubbed it through."""
    stage.bench()
    wiring.shroud_edge()
    wiring.chafed_wire()
    stage.camera((-0.45, -1.95, 1.5), (-0.16, -0.44, 0.28), 33, 3, 2.8, (-0.55, -0.2, 0.36))


def meter() -> None:
    """The multimeter with the hot secondary resistance."""
    stage.bench()
    meters.multimeter("31.6", "kΩ", (-0.1, 0.1, 0), (0, 0, 9))
    benchtop.spanner((-1.7, 1.3, 0), 70)
    benchtop.rag((1.9, 2.1, 0), 35, (0.30, 0.03, 0.025))
    stage.camera((0.12, -1.35, 2.45), (-0.08, 0.12, 0.2), 34, 3, 4.0, (-0.1, 0.5, 0.4))


def tachometer() -> None:
    """The tachometer holding the exciter's speed after the repair."""
    stage.bench()
    meters.tachometer("5650", (0.05, 0.1, 0), (0, 0, -16))
    benchtop.rag((-1.9, 1.6, 0), -25, (0.04, 0.08, 0.20))
    benchtop.screws([(1.2, 0.2)])
    stage.camera((-0.28, -1.45, 2.3), (0.12, 0.12, 0.2), 34, -4, 4.0, (0.1, 0.4, 0.35))


def machine_in() -> None:
    """The compactor as it came in, caked with dust."""
    stage.floor()
    machine.compactor(1.0, 4)
    stage.camera((-8.2, -11.0, 8.2), (0.1, 1.3, 3.7), 28, -2.5, 8.0)


def machine_out() -> None:
    """The compactor cleaned and put together, from its other side."""
    stage.floor()
    machine.compactor(0.10, -14)
    stage.camera((-5.6, -12.8, 7.2), (0.3, 1.2, 3.5), 28, 1.5, 8.0)


SCENES: dict[str, Callable[[], None]] = {
    "cracked-coil": cracked_coil,
    "new-coil": new_coil,
    "old-plug": old_plug,
    "old-belt": old_belt,
    "chafed-wire": chafed_wire,
    "meter": meter,
    "tachometer": tachometer,
    "machine-in": machine_in,
    "machine-out": machine_out,
}
