"""Citations by the element itself: the section that a table has for its method.

A rule that holds for many methods cites ten sections; a finding on one element cites that of its
method.  ``sections:`` of a rule says which field of the element and which column of a table.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from checker.assembly.records import CLASSES
from checker.documents.errors import InputError, nearest
from checker.documents.fields import fields_of
from checker.documents.missing import known

if TYPE_CHECKING:
    from checker.tables.table import Table

    from .rule import RuleRecord

#: The field, its sections, and what stands before and after them.
Sections = tuple[str, dict[str, str], str, str]


def sections_of(rule: RuleRecord, tables: Mapping[str, Table], short: str) -> Sections | None:
    """The sections that findings of a rule cite; None where they cite what the rule cites.

    What amendments added to the rule's citation stays; one that cites something else replaces it.
    Raises InputError.
    """
    asked = rule.sections
    if asked is None:
        return None
    table = tables.get(asked.table)

    def refuse(key: str, message: str, found: str, choice: list[str]) -> InputError:
        return InputError(
            rule.source.problem(
                asked.node.value_mark(key),
                f"`sections:` of rule {rule.id}: {message}",
                found=found,
                expected="one of " + ", ".join(choice),
                suggestion=nearest(found, choice) or "",
                length=len(found),
            )
        )

    for name in rule.each:
        own = [f.name for f in fields_of(CLASSES[name])]
        if asked.of not in own:
            raise refuse("of", f"a {name} has no such field", asked.of, own)
    if table is None:
        raise refuse("table", "there is no such table", asked.table, sorted(tables))
    columns = [c.name for c in table.columns if c.kind == "text"]
    if asked.column not in columns:
        raise refuse("column", "the table has no such text column", asked.column, columns)
    cited, base = str(rule.cite), rule.base_cite
    if not cited.startswith(base) or not base.startswith(short + " "):
        return None
    place = table.names.index(asked.column)
    cells: dict[str, str] = {str(row[0]): row[place] for row in table.rows if known(row[place])}
    cells |= {other: cells[name] for other, name in table.keys[0].also.items() if name in cells}
    besides = f", {asked.besides}" if asked.besides else ""
    return asked.of, cells, short + " ", besides + cited[len(base) :]


def citation_of(sections: Sections, subject: Any) -> str | None:
    """What a finding on an element cites; None where its field does not say or has no section."""
    field, cells, before, after = sections
    stated = getattr(subject, field)
    if not known(stated):
        return None
    names = stated if isinstance(stated, tuple) else (stated,)
    if not names or any(name not in cells for name in names):
        return None
    return before + ", ".join(sorted({cells[name] for name in names})) + after
