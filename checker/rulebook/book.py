"""The rulebook in force, for those who judge with it: kept from before, or read and compiled."""

from __future__ import annotations

from .build import build
from .folder import EXAMPLES, edition_ids
from .in_force import Amendment, Rule, Rulebook


def load_rulebook(
    edition: str,
    amendments: list[str] | None = None,
    *,
    date: str | None = None,
    folder: str | None = None,
    tables: str | None = None,
) -> Rulebook:
    """The effective rulebook.

    ``date`` (YYYY-MM-DD) is the day on which amendments and rules are judged to be in force.
    Raises InputError with everything that is wrong, LookupError for an unknown edition.
    """
    return build(edition, amendments, date=date, folder=folder, tables=tables)


__all__ = ["EXAMPLES", "Amendment", "Rule", "Rulebook", "edition_ids", "load_rulebook"]
