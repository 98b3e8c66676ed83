"""What the tests of numbers share: tokens of a line, and the cases that a package carries."""

import ast
import json
from importlib.util import find_spec
from pathlib import Path

from jobnotes.numbers.quantities import quantities
from jobnotes.numbers.tokens import split


def tokens(line):
    return [token for word in line.split() for token in split(word)]


def figures(line):
    return quantities(tokens(line))


def quantulum(*names):
    """Return a file of quantulum3 (MIT, github.com/nielstron/quantulum3), found where it lies."""
    return Path(find_spec("quantulum3").origin).parent.joinpath(*names)


def quantulum_json(*names):
    return json.loads(quantulum(*names).read_text("utf-8"))


def constant(file, name):
    """Return a constant of a Python file without running the file."""
    for node in ast.parse(file.read_text("utf-8")).body:
        if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == name:
            return ast.literal_eval(node.value)
    raise LookupError(name)
