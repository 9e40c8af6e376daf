"""Compiles the shipped rules of every edition: ``python -m checker.rulebook.keep``.

Installing the program does it, so that the first check after it is as quick as the second.
"""

from __future__ import annotations

from .book import edition_ids, load_rulebook


def main() -> None:
    """Keep every edition beside the program."""
    for edition in edition_ids():
        load_rulebook(edition)


if __name__ == "__main__":
    main()
