"""The rulebook in force, for those who judge with it: kept from before, or read and compiled."""

from __future__ import annotations

import os

from checker.paths import rules_folder, tables_folder

from .book_files import HERE
from .folder import EXAMPLES, edition_ids
from .in_force import Amendment, Rule, Rulebook, kept_book


def load_rulebook(
    edition: str,
    amendments: list[str] | None = None,
    *,
    date: str | None = None,
    folder: str | None = None,
    tables: str | None = None,
    kept: str | None = None,
) -> Rulebook:
    """The effective rulebook.

    ``date`` (YYYY-MM-DD) is the day on which amendments and rules are judged to be in force.
    Compiled rules of the shipped folders are kept beside the program, or in ``kept``, for which
    the caller answers: code is loaded from there.  ``PULLPOINT_CACHE=off`` does without.
    Raises InputError with everything that is wrong, LookupError for an unknown edition.
    """
    from .store import fetch

    if kept is None and folder is None and tables is None:
        kept = HERE
    if os.environ.get("PULLPOINT_CACHE") == "off":
        kept = None
    made = fetch(edition, folder or rules_folder(), tables or tables_folder(), kept)
    if made.kept and not amendments:
        return kept_book(made, date)
    from .build import in_force

    return in_force(made, amendments or [], date)


__all__ = ["EXAMPLES", "Amendment", "Rule", "Rulebook", "edition_ids", "load_rulebook"]
