"""Sourced numbers: keyed tables in YAML, and the look-ups in them."""

from __future__ import annotations

from .change import Amended, CellChange
from .collection import TableSet, load_tables
from .columns import Column, Key, base_unit
from .loader import load_table, read_table
from .lookup import NoEntry
from .rows import Row
from .table import Origin, Table, TableError

__all__ = [
    "Amended",
    "CellChange",
    "Column",
    "Key",
    "NoEntry",
    "Origin",
    "Row",
    "Table",
    "TableError",
    "TableSet",
    "base_unit",
    "load_table",
    "load_tables",
    "read_table",
]
