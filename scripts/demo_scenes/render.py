"""Render one picture by a Python that has bpy: `render.py SCENE OUT.png WIDTH SAMPLES`."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

import bpy  # noqa: E402

from demo_scenes import pictures, stage  # noqa: E402


def main(name: str, out: str, width: str, samples: str) -> None:
    """Build the scene of that name and render it, four to three."""
    stage.clear()
    pictures.SCENES[name]()
    stage.renderer(int(width), int(width) * 3 // 4, int(samples))
    bpy.context.scene.render.filepath = out
    bpy.ops.render.render(write_still=True)


main(*sys.argv[1:])
