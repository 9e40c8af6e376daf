"""``pullpoint schema``: the JSON Schema (2020-12) of a kind of file, for editors."""

from __future__ import annotations

import argparse
import sys

from checker.documents.errors import InputError, Problem, nearest
from checker.schemas import FILES, schema_path


def configure(parser: argparse.ArgumentParser) -> None:
    """Options of the verb."""
    parser.add_argument("name", metavar="|".join(FILES), help="the kind of file")


def run(arguments: argparse.Namespace) -> int:
    """Print a schema."""
    if arguments.name not in FILES:
        raise InputError(
            Problem(
                "schema",
                0,
                0,
                f"there is no schema `{arguments.name}`",
                arguments.name,
                "one of " + ", ".join(FILES),
                nearest(arguments.name, FILES) or "",
            )
        )
    with open(schema_path(arguments.name), encoding="utf-8") as file:
        sys.stdout.write(file.read())
    return 0
