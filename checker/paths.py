"""Where the shipped rules and tables are: beside the package, or inside it once installed."""

from __future__ import annotations

import os

_HERE = os.path.dirname(os.path.abspath(__file__))


def _shipped(name: str) -> str:
    beside = os.path.join(os.path.dirname(_HERE), name)
    inside = os.path.join(_HERE, "shipped", name)
    return inside if os.path.isdir(inside) else beside


def rules_folder() -> str:
    """The folder of the shipped rules."""
    return _shipped("rules")


def tables_folder() -> str:
    """The folder of the shipped tables."""
    return _shipped("tables")


def shown_path(path: str) -> str:
    """A path as messages write it: a shipped rule's starts at ``rules``, wherever that is."""
    folder = os.path.realpath(rules_folder())
    real = os.path.realpath(path)
    if real.startswith(folder + os.sep):
        return "/".join(["rules", *os.path.relpath(real, folder).split(os.sep)])
    return path
