"""Keeps the compiled rules of an edition beside the program, so that a check need not compile them.

Compiling takes many times longer than checking an assembly.  What is kept is what judging needs:
for each rule its code, what the code looks up, and the tables' rows; and, packed, its checked
expressions.  What it says is in its file: it was read for the fingerprint, and is parsed when
somebody asks for it, so that a report is of the rules that judged, whoever saves one meanwhile.

The fingerprint is of every rule and table file and of the program's own source; a change of any of
them is never missed.  Code is loaded from the program's own folder alone, as Python does with
``__pycache__``: who can write there can change the program anyway.  Where that folder cannot be
written, or the rules are not the shipped ones, rules are compiled in the process, and only those
that have something to judge.
"""

from __future__ import annotations

import io
import marshal
import os
import pickle
import sys
import zlib
from binascii import crc32
from collections.abc import Callable, Iterator
from dataclasses import astuple, dataclass, field
from functools import partial
from types import FunctionType
from typing import Any

from checker import __version__
from checker.documents.digest import sha256
from checker.documents.missing import NO_ENTRY
from checker.documents.source import Source, each_file_once, note_read
from checker.language.runtime import GLOBALS, Memory
from checker.paths import rules_folder, tables_folder
from checker.tables.collection import load_tables
from checker.tables.columns import Column, Key
from checker.tables.table import Table

from .edition import Edition, read, read_record
from .folder import EXAMPLES, SHEETS, RulesFolder
from .in_force import Facts, LazyForm, Rule, Rulebook
from .records import EditionFile
from .rule import Value
from .shared import Sheets
from .texts import Say, Texts

_FORM = 10
_OWN = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
#: Where compiled rules are kept: in a folder of the program, which is made where it may be.
KEPT = os.path.join(_OWN, "kept")
_WHOLE = 0x2144DF1C  # what every text followed by its own checksum comes to


def fetch(edition: str, folder: str, tables: str) -> Edition:
    """The rules of an edition: kept, or read; and kept if they are those that are shipped.

    Raises InputError; LookupError for an unknown edition.
    """
    shipped = folder == rules_folder() and tables == tables_folder()
    if not shipped or os.environ.get("PULLPOINT_CACHE") == "off":
        with each_file_once():
            return read(edition, RulesFolder(folder), tables)
    with each_file_once() as held:
        return kept(edition, folder, tables, os.path.join(KEPT, _name(edition)), held)
