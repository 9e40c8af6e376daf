"""Where a finding points in a design that is described once: file, placement, type.

A value of a type or a group stands in one place of the file however many elements have it.
Findings that say the same of all of them, at that place, are listed together.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from checker.assembly.records import Assembly
from checker.assembly.short.files import Files, Origin, Placement
from checker.documents.errors import Mark
from checker.documents.source import Source

from .finding import Finding, Report

#: Elements that are named where findings are listed together; JSON names all of them.
MOST_NAMED = 12
#: Pulls that a notice names.
_MOST_IN_NOTICE = 6


def source_of(mark: Mark, main: Source) -> Source:
    """The file that a place is in; ``main`` is the design's own."""
    found: Source = getattr(mark, "source", main)
    return main if found.path == main.path else found


def placed_of(finding: Finding) -> Placement | None:
    """The placement that the element comes from, if it comes from one."""
    source = finding.subject.node.source
    return source.placed if isinstance(source, Origin) else None


def like_of(finding: Finding) -> tuple[str, Mark] | None:
    """The type that the element is like, with its place."""
    source = finding.subject.node.source
    if not isinstance(source, Origin) or source.like is None or source.like_mark is None:
        return None
    return source.like[0], source.like_mark


def placed_words(finding: Finding) -> str:
    """``placed at 115:5 as bay1``; "" where it was not placed."""
    placed = placed_of(finding)
    if placed is None:
        return ""
    turned = f", mirrored in {placed.mirrored}" if placed.mirrored else ""
    return f"placed at {placed.mark.line}:{placed.mark.column} as {placed.id}{turned}"


def plain_location(finding: Finding, path: str) -> dict[str, Any]:
    """A finding's location as plain data; ``path`` is that of the design."""
    mark, source = finding.mark, finding.subject.node.source
    if not isinstance(source, Origin):
        return {"file": path, "line": mark.line, "column": mark.column}
    made: dict[str, Any] = _plain(mark, path, source.files)
    placed, like = placed_of(finding), like_of(finding)
    if placed is not None:
        made["placed"] = {
            "as": placed.id,
            "group": placed.group,
            "mirrored": placed.mirrored or None,
            **_plain(placed.mark, path, source.files),
        }
    if like is not None:
        made["like"] = {"name": like[0], **_plain(like[1], path, source.files)}
    return made


def _plain(mark: Mark, path: str, files: Files) -> dict[str, Any]:
    source = source_of(mark, files.main)
    file = path if source is files.main else source.path
    return {"file": file, "line": mark.line, "column": mark.column}


def names_of(findings: Sequence[Finding]) -> str:
    """The elements of findings that are listed together.

    In a design that is described once ``9 elements: bay1.N2, bay1.C2, …``, at most ``MOST_NAMED``.
    """
    ids = [finding.subject_id for finding in findings]
    if len(ids) == 1 or not isinstance(findings[0].subject.node.source, Origin):
        return ", ".join(ids)
    more = f", … and {len(ids) - MOST_NAMED} more" if len(ids) > MOST_NAMED else ""
    return f"{len(ids)} elements: {', '.join(ids[:MOST_NAMED])}{more}"


def alike_key(finding: Finding, message: str, fix: str) -> tuple[Any, ...] | None:
    """What findings that are listed together have in common; None for one that stands alone.

    ``message`` and ``fix`` are what is said of it; they may differ in the names of elements only.
    Findings that are open for the same reason are listed together wherever they point.
    """
    if finding.decision is not None:
        return None
    source = finding.subject.node.source
    expanded = isinstance(source, Origin)
    said = tuple([_nameless(t, finding, source) if expanded else t for t in (message, fix)])
    if finding.incomplete:
        return (finding.rule.id, said[0])
    if not expanded:
        return None
    mark, rule = finding.mark, finding.rule.id
    file = getattr(mark, "source", source).path
    amounts = (finding.measure, finding.limit)
    return (rule, finding.subject_class, finding.kind, finding.code, file, mark, amounts, said)


def _nameless(text: str, finding: Finding, source: Origin) -> str:
    """A text without the names that differ from one element, or one placement, to the next."""
    text = text.replace(finding.subject_id, "\0")
    return text if source.placed is None else text.replace(source.placed.id + ".", "")


def together(findings: Iterable[tuple[Finding, str, str]]) -> list[list[Finding]]:
    """Findings, each with message and fix, those of one place together, in order of the first."""
    found: dict[object, list[Finding]] = {}
    for number, (finding, message, fix) in enumerate(findings):
        key = None if finding.incomplete else alike_key(finding, message, fix)
        found.setdefault(number if key is None else key, []).append(finding)
    return list(found.values())


def notices(assembly: Assembly) -> tuple[str, ...]:
    """What a reader has to know of a design that was described once."""
    files = assembly.node.source
    if not isinstance(files, Files):
        return ()
    said = [
        f"{one.id} (group {one.group}) is mirrored in {one.mirrored}: left and right hand differ "
        "from the group as it is described"
        for one in files.told.placements
        if one.mirrored
    ]
    pulls = files.told.by_scheme
    if pulls:
        more = ", …" if len(pulls) > _MOST_IN_NOTICE else ""
        said.append(
            f"wire colors of {len(pulls)} pull{'s' if len(pulls) > 1 else ''} were taken from the "
            f"project's color scheme (`wires: by circuit`): {', '.join(pulls[:_MOST_IN_NOTICE])}"
            f"{more}; a check of these colors shows nothing about the wire that is pulled"
        )
    if files.used:
        names = ", ".join(file.name for file in files.used)
        said.append(f"the design uses {names}; its fingerprint covers these files")
    return tuple(said)


def files_of(report: Report) -> list[Source]:
    """The design's own file, then those that it uses."""
    source = report.source
    return [source.main, *source.used] if isinstance(source, Files) else [source]
