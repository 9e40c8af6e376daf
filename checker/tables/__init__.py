"""Sourced numbers: keyed tables in YAML, and the look-ups in them.

The names below are imported when they are asked for: a check that finds its rulebook kept needs
the look-ups only.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

_HOMES = {
    "Amended": "table",
    "CellChange": "change",
    "TableSet": "collection",
    "load_tables": "collection",
    "Column": "columns",
    "Key": "columns",
    "base_unit": "columns",
    "load_table": "loader",
    "read_table": "loader",
    "NoEntry": "lookup",
    "Row": "keyed_rows",
    "Origin": "keyed_rows",
    "Table": "table",
    "TableError": "keyed_rows",
}


def __getattr__(name: str) -> Any:
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{home}"), name)
