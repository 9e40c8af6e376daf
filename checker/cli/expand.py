"""``pullpoint expand``: a design in full, every element, wire and strap written out."""

from __future__ import annotations

import argparse
import os
import sys
from typing import Any

from checker.assembly import read_assembly
from checker.assembly.short.full import full_form
from checker.documents.source import Source
from checker.documents.yaml_text import yaml_text


def configure(parser: argparse.ArgumentParser) -> None:
    """Options of the verb."""
    parser.add_argument("file", metavar="FILE", help="an assembly file")
    parser.add_argument("--output", metavar="PATH", help="write to this file, all or nothing")


def run(arguments: argparse.Namespace) -> int:
    """Write the design; nothing is written where it cannot be read."""
    assembly, source = read_assembly(arguments.file)
    output = None if arguments.output == "-" else arguments.output
    made = full_form(assembly.node)
    _move_amendments(made, source, output)
    name = os.path.basename(source.path)
    text = f"# {_shown(name)} in full, written by `pullpoint expand`.\n" + yaml_text(made)
    if output is None:
        sys.stdout.write(text)
        return 0
    from checker.documents.writing import write_text

    write_text(output, text)
    return 0


def _move_amendments(made: dict[str, Any], source: Source, output: str | None) -> None:
    """Amendments are named from the folder of the file: of the one that is written."""
    folder = os.path.dirname(source.path)
    target = folder if output is None else os.path.dirname(output)
    basis = made.get("basis")
    if not basis or os.path.realpath(folder or ".") == os.path.realpath(target or "."):
        return
    named = basis.get("amendments")
    listed = [named] if isinstance(named, str) else named
    if listed:
        moved = [os.path.relpath(os.path.join(folder, name), target or ".") for name in listed]
        made["basis"] = {**basis, "amendments": [path.replace(os.sep, "/") for path in moved]}


def _shown(name: str) -> str:
    """A file's name for a comment, on one line."""
    return "".join(c if c.isprintable() else "?" for c in name)
