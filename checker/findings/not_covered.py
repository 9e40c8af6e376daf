"""What a check does not cover, as plain data that every report form shows and carries.

Three things: the kinds of detail that the design leaves out on purpose, the requirements that no
rule checks (with who decides them), and what the site makes or finishes.
"""

from __future__ import annotations

from typing import Any

from checker.assembly.records import Assembly
from checker.rulebook.book import Rulebook
from checker.rulebook.coverage import DECIDERS

from .finding import Report
from .wording import worded


def not_covered(assembly: Assembly, book: Rulebook) -> dict[str, Any]:
    """The three lists, in the order of the design and of the requirements."""
    return {
        "left_out": _left_out(assembly),
        "requirements": _requirements(book),
        "site": _site(assembly),
    }


def _left_out(assembly: Assembly) -> list[dict[str, Any]]:
    """``partly_described``: some elements state it all the same, and are judged."""
    return [
        {
            "topic": omission.topic,
            "reason": omission.reason,
            "by": omission.by,
            "partly_described": omission.topic in assembly.described,
        }
        for omission in assembly.not_covered
    ]


def _requirements(book: Rulebook) -> list[dict[str, Any]]:
    """Requirements that no rule in use checks (``not``), or only in part (``partly``).

    One that the edition does not have is none of them; one whose rule an amendment withdrew is.
    """
    known = {rule.id for rule in book.rules}
    rows = []
    for item in book.coverage:
        here = [name for name in item.rules if name in known]
        gone = [name for name in item.rules if name in book.withdrawn]
        if item.rules and not here and not gone:
            continue
        missing = [item.missing] if item.missing else []
        missing += [f"{name}, withdrawn by amendment {book.withdrawn[name]}" for name in gone]
        if here and not missing:
            continue
        rows.append(
            {
                "section": item.section,
                "requirement": item.requirement,
                "state": "partly" if here else "not",
                "missing": "; ".join(missing),
                "decided_by": worded(DECIDERS[item.decided_by], book.terms),
                "note": item.note,
            }
        )
    return rows


def _site(assembly: Assembly) -> list[dict[str, str]]:
    """What the site pulls or finishes, with what that is."""
    rows = []
    for pull in assembly.pulls:
        if pull.pulled == "site":
            rows.append(("pull", pull.id, "pulled by the site"))
    for name, ways in (("raceway", assembly.raceways), ("cable", assembly.cables)):
        for way in ways:
            if way.by == "site":
                rows.append((name, way.id, "made and fastened by the field crew"))
            elif "field" in (way.from_, way.to):
                rows.append((name, way.id, "an end is completed by the site"))
    return [{"class": name, "id": own, "work": work} for name, own, work in rows]


def in_brief(report: Report) -> list[str]:
    """The same in a few lines of words."""
    data = not_covered(report.assembly, report.book)
    lines = [
        f"left out by the design: {row['topic'].replace('_', ' ')} ({row['reason']}; {row['by']})"
        for row in data["left_out"]
    ]
    states = [row["state"] for row in data["requirements"]]
    if states:
        lines.append(
            f"requirements: {states.count('not')} have no rule, "
            f"{states.count('partly')} are checked in part"
        )
    if data["site"]:
        pulls = sum(row["class"] == "pull" for row in data["site"])
        ways = len(data["site"]) - pulls
        said = [f"{pulls} pull{'s' if pulls != 1 else ''}"] if pulls else []
        made = sum(row["work"].startswith("made") for row in data["site"])
        said += [f"{made} raceway{'s' if made != 1 else ''} or cables whole"] if made else []
        ends = ways - made
        said += [f"{ends} raceway or cable end{'s' if ends != 1 else ''}"] if ends else []
        lines.append("the site's own work: " + ", ".join(said))
    return lines
