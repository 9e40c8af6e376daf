"""The written form of rules: each construct gives what the expression that it stands for gives.

The expectations are the same rules with their expressions spelled out, as the language had them
before there were groups, sums, choices and elements that decide; and counts made by hand.
"""

from __future__ import annotations

import itertools
import os
import re
import shutil
from pathlib import Path
from textwrap import indent

import pytest
from trial import judge, kinds, message

from checker.assembly import from_source
from checker.documents.errors import InputError
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.findings.detail import Explainer
from checker.rulebook.book import Rulebook
from checker.rulebook.build import build

# ruff: noqa: E501 - what is written and what it stands for are easier to compare a line each

HEAD = """\
rule: own
title: A rule of trial
topic: trial
each: pull
values:
"""
#: Those that a rule mentions are declared; others would be told as unused.
VALUES = {
    "far": "{is: 10 ft, note: invented}",
    "near": "{is: 4 ft, note: invented}",
    "small": "{is: 12 AWG, as: wire_size, note: invented}",
    "most": "{is: 25 ft, note: invented}",
}
LIMITED = """\
measure: {measure}
limit: {limit}
fail: "{{measure}} of {{limit}}"
pass: "good"
cite: {{any: CODE 1}}
"""


@pytest.fixture
def book(rules: Path, tmp_path: Path):
    """Builds the small rulebook with a rule of its own, and with amendments."""

    def give(text: str, *amendments: str, edition: str = "code-2") -> Rulebook:
        folder = tmp_path / "rules"
        shutil.copytree(rules, folder, dirs_exist_ok=True)
        (folder / "topic" / "own.yaml").write_text(text, encoding="utf-8")
        return build(edition, list(amendments), date="2026-06-01", folder=os.fspath(folder))

    return give


@pytest.fixture
def told(book):
    """What is said of a rule that cannot be used."""

    def give(text: str) -> InputError:
        with pytest.raises(InputError) as caught:
            book(text)
        return caught.value

    return give


def walls() -> list[str]:
    """Two raceways and their pulls with every mixture of lengths, sizes and gaps."""
    lengths = ("4 ft", "10 ft", "30 ft", "")
    sizes = ("14 AWG", "12 AWG", "8 AWG", "")
    made = []
    for (one, two), (first, second) in itertools.product(
        itertools.product(lengths, lengths), itertools.product(sizes, sizes[1::2])
    ):
        raceways = [
            f"  - {{id: R{n}, method: EMT, size: 3/4, from: A, to: B"
            + (f", length: {length}" if length else "")
            + "}\n"
            for n, length in enumerate((one, two), 1)
        ]
        wires = [
            "{role: phase, phase: A" + (f", size: {size}" if size else "") + "}"
            for size in (first, second, "12 AWG")
        ]
        made.append(
            "assembly: T\ndefaults: {wire: {material: copper, insulation: THHN}}\n"
            "panels: [{id: P, branch: normal, system: 208Y/120}]\n"
            "circuits: [{id: P-1, panel: P, phases: [A], breaker: 20 A}]\n"
            "boxes: [{id: A, kind: junction}, {id: B, kind: junction}]\nraceways:\n"
            + "".join(raceways)
            + f"pulls:\n  - {{id: W1, circuit: P-1, through: [R1, R2], wires: [{', '.join(wires)}]}}\n"
        )
    return made


WALLS = walls()

#: What is written; the steps that it stands for; what is measured.  Of each, the steps.
SAME = {
    "a group": (
        "groups: {g: {of: w in pull.wires, where: w.size > small}}",
        "steps: {g: '[w for w in pull.wires if w.size > small]'}",
        "count(g)",
    ),
    "a group without a condition": (
        "groups: {g: w in pull.wires}",
        "steps: {g: '[w for w in pull.wires]'}",
        "count(w for w in g if w.size > small)",
    ),
    "a group that is a list": (
        "groups: {g: pull.path}",
        "steps: {g: '[p for p in pull.path]'}",
        "sum(p.length for p in g) / far",
    ),
    "a group of a group": (
        "groups:\n  a: {of: w in pull.wires, where: w.size <= small}\n  b: {of: w in a, where: w.size < small}",
        "steps:\n  a: '[w for w in pull.wires if w.size <= small]'\n  b: '[w for w in a if w.size < small]'",
        "count(a) + count(b)",
    ),
    "a sum": (
        "steps: {s: {unit: ft, sum: {a: far, b: {is: near, when: count(pull.wires) > 2}, c: {is: sum(p.length for p in pull.path), when: any(w.size > small for w in pull.wires)}}}}",
        "steps: {s: {unit: ft, is: far + (near if count(pull.wires) > 2 else far - far) + (sum(p.length for p in pull.path) if any(w.size > small for w in pull.wires) else far - far)}}",
        "s",
    ),
    "the terms of a sum": (
        "steps: {s: {unit: ft, sum: {a: far, b: {is: sum(p.length for p in pull.path), when: any(w.size > small for w in pull.wires)}}}}",
        "steps: {b: sum(p.length for p in pull.path) if any(w.size > small for w in pull.wires) else 0, s: far + b}",
        "s + b",
    ),
    "a term with an `or` in its condition": (
        "steps: {s: {sum: {a: {is: far, when: count(pull.path) > 2 or any(w.size > small for w in pull.wires)}, b: near}}}",
        "steps: {s: (far if (count(pull.path) > 2 or any(w.size > small for w in pull.wires)) else 0) + near}",
        "s",
    ),
    "cases": (
        "steps: {c: {unit: ft, cases: [{when: any(w.size > small for w in pull.wires), is: far}, {when: sum(p.length for p in pull.path) > far, is: near}, {is: near + far}]}}",
        "steps: {c: far if any(w.size > small for w in pull.wires) else near if sum(p.length for p in pull.path) > far else near + far}",
        "c",
    ),
    "a case that chooses itself": (
        "steps: {c: {cases: [{when: count(pull.wires) > 2, is: far if any(w.size > small for w in pull.wires) else near}, {is: near}]}}",
        "steps: {c: (far if any(w.size > small for w in pull.wires) else near) if count(pull.wires) > 2 else near}",
        "c",
    ),
    "the worst": (
        "steps: {x: {worst: {longest: pull.path}, by: longest.length}}",
        "steps: {x: max(p.length for p in pull.path), longest: first(p for p in pull.path if p.length == x)}",
        "x + longest.length",
    ),
    "the least": (
        "steps: {x: {least: {shortest: pull.path}, by: shortest.length}}",
        "steps: {x: min(p.length for p in pull.path), shortest: first(p for p in pull.path if p.length == x)}",
        "x + shortest.length",
    ),
    "the worst of a group": (
        "groups: {long: {of: p in pull.path, where: p.length > near}}\nsteps: {x: {worst: {longest: long}, by: longest.length}}",
        "steps: {long: '[p for p in pull.path if p.length > near]', x: max(p.length for p in long), longest: first(p for p in long if p.length == x)}",
        "longest.length if count(long) > 0 else near",
    ),
    "the worst with a condition": (
        "steps: {x: {worst: {longest: {of: pull.path, where: longest.length <= far}}, by: longest.length}}",
        "steps: {x: max(p.length for p in pull.path if p.length <= far)}",
        "x",
    ),
    "the worst of two": (
        "steps: {x: {worst: {deciding: pull.path, wire: deciding.wires}, by: deciding.length * count(v for v in pull.wires if v.size >= wire.size)}}",
        "steps: {x: max(p.length * count(v for v in pull.wires if v.size >= w.size) for p in pull.path for w in p.wires)}",
        "x + deciding.length - deciding.length",
    ),
    "a tie that something else decides": (
        "steps: {x: {worst: {wire: pull.wires}, by: count(w for w in pull.wires if w.role == wire.role), then: 1 if wire.size > small else 0}}",
        "steps: {t: max(1 if w.size > small else 0 for w in pull.wires), wire: first(w for w in pull.wires if (1 if w.size > small else 0) == t)}",
        "far if wire.size > small else near",
    ),
}  # fmt: skip


def outcome(given: Rulebook, text: str) -> list[tuple[str, object, object]]:
    """Kind, measure and limit of each finding of the rule."""
    found = [f for (rule, _), f in judge(given, text).items() if rule == "own"]
    assert found
    return [(f.kind, f.measure, f.limit) for f in found]


def headed(body: str) -> str:
    """A rule with the values that its body mentions."""
    used = [f"  {n}: {v}\n" for n, v in VALUES.items() if re.search(rf"\b{n}\b", body)]
    head = HEAD if used else HEAD.replace("values:\n", "")
    return head + "".join(used) + body


def whole(parts: str, measure: str) -> str:
    limit = "2" if measure.startswith(("count", "sum(p.length for p in g) / far")) else "most"
    return headed(parts + "\n" + LIMITED.format(measure=measure, limit=limit))


@pytest.mark.parametrize("case", list(SAME))
def test_it_gives_what_it_stands_for(case: str, book) -> None:
    written, spelled, measure = SAME[case]
    spelled = spelled.replace("+ deciding.length - deciding.length", "")
    one = book(whole(written, measure))
    two = book(whole(spelled, measure.replace(" + deciding.length - deciding.length", "")))
    seen = set()
    for wall in WALLS:
        ours, theirs = outcome(one, wall), outcome(two, wall)
        assert ours == theirs, wall
        seen |= {kind for kind, _, _ in ours}
    assert len(seen) > 1, f"{seen} alone proves little"


# -- cases -------------------------------------------------------------------------------------

JUDGED = """\
steps: {long: {is: sum(p.length for p in pull.path), unit: ft}}
measure: long
limit: most
unit: ft
"""
ONE = WALLS[0]


def lengths(one: str, two: str = "") -> str:
    """The wall with raceways of these lengths."""
    raceways = "".join(
        f"  - {{id: R{n}, method: EMT, size: 3/4, from: A, to: B"
        + (f", length: {length}}}\n" if length else "}\n")
        for n, length in enumerate((one, two), 1)
    )
    before, _, rest = ONE.partition("raceways:\n")
    return before + "raceways:\n" + raceways + rest[rest.index("pulls:") :]


def finding_of(given: Rulebook, text: str) -> tuple[str, str, str]:
    """Kind, message and fixes of the one finding of the rule."""
    assembly = from_source(Source.of_text(text, "sample.yaml"))
    explainer = Explainer(assembly, given.vocabulary, given.terms)
    (found,) = [f for f in evaluate(given, assembly) if f.rule.id == "own"]
    judge(given, text)  # and traced, it is the same
    detail = explainer.detail(found)
    return found.kind, detail.message, " ".join(detail.fixes)


def test_a_rule_with_one_case_says_it_itself(book) -> None:
    one = book(headed(JUDGED + 'fail: "{long} is long"\npass: "{long}"\ncite: {any: C}\n'))
    two = book(
        headed(JUDGED + 'judge:\n  - fail: "{long} is long"\n    pass: "{long}"\ncite: {any: C}\n')
    )
    for text in (lengths("10 ft", "15 ft"), lengths("10 ft", "16 ft"), lengths("30 ft")):
        assert finding_of(one, text) == finding_of(two, text)
    assert finding_of(one, lengths("10 ft", "15 ft"))[:2] == ("pass", "25 ft")
    assert finding_of(one, lengths("10 ft", "16 ft"))[:2] == ("fail", "26 ft is long")
    assert finding_of(one, lengths("30 ft"))[0] == "open"


@pytest.mark.parametrize(
    ("key", "kind"),
    [("fail", "fail"), ("review", "review"), ("open", "open"), ("inform", "informational")],
)
def test_what_is_reported_is_the_key_it_stands_under(key: str, kind: str, book) -> None:
    given = book(headed(JUDGED + f'{key}: "{{long}} is long"\ncite: {{any: C}}\n'))
    assert finding_of(given, lengths("20 ft", "6 ft"))[:2] == (kind, "26 ft is long")
    assert finding_of(given, lengths("20 ft", "5 ft"))[0] == "pass"


SEVERAL = """\
judge:
  - when: any(w.size > small for w in pull.wires) and long > far
    review: "look at it"
  - when: long <= near
    measure: count(pull.wires)
    limit: 2
    unit: count
    open: "too many in so short a pull"
    pass: "few"
  - fail: "{long} is long, {limit as ft} max"
    pass: "{long}"
cite: {any: C}
"""


def test_measure_and_limit_are_inherited_by_cases_that_have_none(book) -> None:
    given = book(headed(JUDGED + SEVERAL))
    cases = given.find("own").record.cases
    assert [c.measure for c in cases] == ["long", "count(pull.wires)", "long"]
    assert [c.limit for c in cases] == ["most", "2", "most"]
    assert [c.unit for c in cases] == ["ft", "count", "ft"]
    assert finding_of(given, lengths("20 ft", "6 ft"))[:2] == ("fail", "26 ft is long, 25 ft max")
    assert finding_of(given, lengths("2 ft", "2 ft"))[:2] == ("open", "too many in so short a pull")
    few = lengths("2 ft", "2 ft").replace(", {role: phase, phase: A, size: 12 AWG}", "", 1)
    assert finding_of(given, few)[:2] == ("pass", "few")


def test_at_least_goes_with_the_measure_that_it_was_said_of(book) -> None:
    given = book(headed(JUDGED + "at_least: true\n" + SEVERAL))
    assert [c.at_least for c in given.find("own").record.cases] == [True, False, True]
    assert finding_of(given, lengths("20 ft", "6 ft"))[0] == "pass"
    assert finding_of(given, lengths("20 ft", "4 ft"))[0] == "fail"


def test_a_case_with_a_condition_alone_reports_as_soon_as_it_is_met(book) -> None:
    """Though its measure keeps to its limit; otherwise it is passed over."""
    given = book(headed(JUDGED + SEVERAL))
    large = "size: 8 AWG"
    text = lengths("10 ft", "1 ft").replace("size: 14 AWG", large).replace("size: 12 AWG", large)
    assert text != lengths("10 ft", "1 ft")
    assert finding_of(given, text)[:2] == ("review", "look at it")
    assert finding_of(given, lengths("10 ft", "1 ft"))[0] == "pass"


def test_a_case_with_a_condition_that_passes_says_so(book) -> None:
    passing = SEVERAL.replace("limit: 2", "limit: most / near")
    given = book(headed(JUDGED + passing))
    assert finding_of(given, lengths("2 ft", "2 ft"))[:2] == ("pass", "few")


def test_the_requirement_of_the_rule_is_that_of_cases_that_inherit_its_measure(book) -> None:
    text = JUDGED + "require: long < far or long == most\n" + SEVERAL
    given = book(headed(text))
    cases = given.find("own").record.cases
    assert [c.require for c in cases] == ["0 > 1", None, "long < far or long == most"]
    assert finding_of(given, lengths("5 ft", "6 ft"))[0] == "fail"
    assert finding_of(given, lengths("15 ft", "10 ft"))[0] == "pass"


MET = """\
judge:
  - when: met and count(pull.path) > 1
    review: "two pieces"
  - when: not met and any(w.size > small for w in pull.wires)
    open: "large and long"
  - fail: "too long"
cite: {any: C}
"""


@pytest.mark.parametrize(
    "require", ["", "require: long <= most and long > near\n", "at_least: true\n"]
)
@pytest.mark.parametrize("measure", ["long", "long if long > near else near"])
def test_met_is_the_requirement_of_the_rule(require: str, measure: str, book) -> None:
    written = JUDGED.replace("measure: long", f"measure: {measure}") + require
    meant = {"": f"({measure}) <= most", "at_least: true\n": f"({measure}) >= most"}.get(
        require, "long <= most and long > near"
    )
    own = book(headed(written + MET))
    step = f"unit: ft}}, fits: {meant}}}"
    spelled = written.replace("unit: ft}}", step, 1) + re.sub(r"\bmet\b", "fits", MET)
    other = book(headed(spelled))
    seen = set()
    for wall in WALLS:
        ours = outcome(own, wall)
        assert ours == outcome(other, wall), wall
        seen |= {kind for kind, _, _ in ours}
    assert {"review", "fail"} <= seen or require


# -- fixes -------------------------------------------------------------------------------------

FIXED = """\
judge:
  - when: long > most and any(w.size > small for w in pull.wires)
    review: "large and long"
    fixes: ["Use smaller conductors"]
  - fail: "too long"
fixes:
  steps:
    excess: {is: long - most, unit: ft, note: what is too much}
  all:
    - "Shorten it by {excess}"
    - {when: excess > far, say: "Add a pull box"}
cite: {any: C}
"""


def test_fixes_are_those_of_all_cases_or_a_cases_own(book) -> None:
    given = book(headed(JUDGED + FIXED))
    assert "Shorten it by 1 ft" in finding_of(given, lengths("20 ft", "6 ft"))[2]
    assert "Add a pull box" not in finding_of(given, lengths("20 ft", "6 ft"))[2]
    assert "Add a pull box" in finding_of(given, lengths("30 ft", "6 ft"))[2]
    large = lengths("20 ft", "6 ft").replace("size: 12 AWG", "size: 8 AWG")
    kind, _, fixes = finding_of(given, large)
    assert kind == "review"
    assert "Use smaller conductors" in fixes
    assert "Shorten" not in fixes


def test_steps_of_fixes_decide_nothing(book) -> None:
    """What a fix cannot compute leaves the finding as it is."""
    text = FIXED.replace("is: long - most", "is: long - most + this.path_length_that_is_not", 1)
    with pytest.raises(InputError):
        book(headed(JUDGED + text))
    text = FIXED.replace("is: long - most", "is: first(p.rise for p in pull.path)", 1)
    given = book(headed(JUDGED + text))
    kind, _, fixes = finding_of(given, lengths("20 ft", "6 ft"))
    assert kind == "fail"
    assert "Shorten" not in fixes


# -- where mistakes are ------------------------------------------------------------------------

PLACES = {
    "a group's list": "groups: {g: {of: w in «pul».wires, where: w.bare}}\nsteps: {n: count(g)}",
    "a group's condition": "groups:\n  g:\n    of: w in pull.wires\n    where: >-\n      w.bare\n      or w.«bear»\nsteps: {n: count(g)}",
    "a term": "steps:\n  s:\n    sum:\n      a: far\n      b: near + «nar»\n  n: s / far",
    "a term's condition": "steps:\n  s:\n    sum:\n      a: far\n      b: {is: near, when: count(«pul».wires) > 1}\n  n: s / far",
    "a case": "steps:\n  c:\n    cases:\n      - {when: count(pull.wires) > 1, is: far}\n      - {is: near + «nar»}\n  n: c / far",
    "a case's condition": "steps:\n  c:\n    cases:\n      - {when: count(«pul».wires) > 1, is: far}\n      - {is: near}\n  n: c / far",
    "what is gone through": "steps:\n  x:\n    worst: {wire: pull.«wirs»}\n    by: wire.size\n  n: count(w for w in pull.wires if w.size == wire.size)",
    "what a second element is taken from": "steps:\n  x:\n    worst: {piece: pull.path, wire: piece.«wirs»}\n    by: wire.size\n  n: count(w for w in pull.wires if w.size == x)",
    "a condition of an element": "steps:\n  x:\n    worst: {piece: {of: pull.path, where: piece.length > near and piece.«lenght» > far}}\n    by: piece.length\n  n: x / far",
    "by": "steps:\n  x:\n    worst: {piece: pull.path}\n    by: piece.length + piece.length + piece.«lenght»\n  n: x / far",
    "then": "steps:\n  x:\n    least: {piece: pull.path}\n    by: piece.length\n    then: piece.length + piece.«lenght»\n  n: piece.length / far",
    "a step of fixes": "steps: {n: count(pull.wires)}\nfixes:\n  steps: {e: «nn» + 1}\n  all: ['{e} too many']",
    "a fix of all cases": "steps: {n: count(pull.wires)}\nfixes:\n  all: ['Remove {«nn» - 1}']",
    "a requirement": "steps: {n: count(pull.wires)}\nrequire: n > «nn»",
}  # fmt: skip


@pytest.mark.parametrize("case", list(PLACES))
def test_a_mistake_is_shown_where_its_author_wrote_it(case: str, told) -> None:
    text = headed(PLACES[case] + '\nmeasure: n\nlimit: 2\nfail: "{n}"\ncite: {any: C}\n')
    start, end = text.index("«"), text.index("»") - 1
    text = text.replace("«", "").replace("»", "")
    before = text[:start]
    problem = told(text).problems[0]
    assert (problem.line, problem.column) == (
        before.count("\n") + 1,
        start - before.rfind("\n"),
    ), str(problem)
    assert text[start:end] in (problem.found, problem.excerpt[problem.column - 1 :][: end - start])


REFUSED = {
    "a step said in two ways": ("steps: {n: {is: count(pull.wires), sum: {a: 1}}}", "step `n` is said in several ways", "`is:` and `sum:`"),
    "a step said in no way": ("steps: {n: {unit: count}}", "step `n` is said in no way", "one of `is:`, `sum:`, `cases:`, `worst:`, `least:`"),
    "an empty sum": ("steps: {n: {sum: {}}}", "`sum` is empty", "its terms"),
    "no cases": ("steps: {n: {cases: []}}", "`cases` is empty", "the values"),
    "worst without by": ("steps: {n: {worst: {w: pull.wires}}}", "step `n` does not say what decides", "`by:`"),
    "by without worst": ("steps: {n: {is: count(pull.wires), by: 1}}", "`by:` belongs to `worst:`", "`worst:` with the element that decides"),
    "then without worst": ("steps: {n: {is: count(pull.wires), then: 1}}", "`then:` belongs to `worst:`", "`worst:`"),
    "a last case with a condition": ("steps: {n: {cases: [{when: 1 > 0, is: 1}, {when: 0 > 1, is: 2}]}}", "the last case of a choice has no condition", "`when:` in the last case"),
    "a case before the last without one": ("steps: {n: {cases: [{is: 1}, {is: 2}]}}", "the last case of a choice has no condition", "a case before the last without `when:`"),
    "an element with a second name": ("steps: {n: {worst: {w: v in pull.wires}, by: 1}}", "the element is called `w` here", "a list alone"),
    "a condition on what has no name": ("groups: {g: {of: pull.wires, where: w.bare}}\nsteps: {n: count(g)}", "a group with `where:` names its element", "w in pull.wires"),
    "a group and a step of one name": ("groups: {n: w in pull.wires}\nsteps: {n: 1}", "`n` is the name of something above", "a name of its own"),
    "a term and a step of one name": ("steps: {s: {sum: {n: 1, m: 1}}, n: count(pull.wires)}", "`n` is the name of something above", ""),
    "an element and a step of one name": ("steps: {n: count(pull.wires), s: {worst: {n: pull.wires}, by: 1}}", "`n` is the name of something above", ""),
    "a step of fixes and a step of one name": ("steps: {n: count(pull.wires)}\nfixes: {steps: {n: 1}, all: ['x']}", "`n` is the name of something above", ""),

    "a rule's when": ("when: [1 > 0]\nsteps: {n: count(pull.wires)}", "`when:` is written otherwise now", "`applies:`"),
    "a rule's fails_as": ("fails_as: review\nsteps: {n: count(pull.wires)}", "`fails_as:` is written otherwise now", "`review:`"),
}  # fmt: skip


@pytest.mark.parametrize("case", list(REFUSED))
def test_refused(case: str, told) -> None:
    parts, message, more = REFUSED[case]
    text = headed(parts + '\nmeasure: n\nlimit: 2\nfail: "{n}"\ncite: {any: C}\n')
    said = " ".join(str(told(text)).split())
    assert message in said
    assert more in said


@pytest.mark.parametrize(
    ("old", "instead"),
    [
        ("message: x", "`fail:` (or `review:`, `open:`, `inform:`) with the text"),
        ("passes: x", "`pass:` with the text"),
        ("mend: x", "`fixes:` with the list"),
        ("fails_as: review", "`review:`, `open:` or `inform:` in place of `fail:`"),
    ],
)
def test_an_old_key_of_a_case_names_the_new_one(old: str, instead: str, told) -> None:
    text = headed(JUDGED + f"judge:\n  - fail: too long\n    {old}\ncite: {{any: C}}\n")
    error = told(text)
    said = " ".join(str(error).split())
    assert f"`{old.split(':')[0]}:` is written otherwise now" in said
    assert instead in said
    line = text[: text.index(old)].count("\n") + 1
    assert (error.problems[0].line, error.problems[0].column) == (line, 5)


def test_an_old_key_of_an_example_names_the_new_one(tmp_path: Path) -> None:
    from checker.rulebook.reading import read_file
    from checker.rulebook.records import ExamplesFile

    text = (
        "examples_of: own\nsample: {assembly: T}\nexamples:\n  - {on: A, expect: pass, mend: x}\n"
    )
    with pytest.raises(InputError) as caught:
        read_file(ExamplesFile, Source.of_text(text), "examples")
    assert "`fixes:` with the text" in str(caught.value)


@pytest.mark.parametrize("key", ["fail", "review", "open", "inform", "pass"])
def test_what_cases_say_does_not_stand_beside_them(key: str, told) -> None:
    """It would be said of no element, and its author would not know."""
    said = str(
        told(headed(JUDGED + f"{key}: nowhere said\njudge:\n  - fail: x\ncite: {{any: C}}\n"))
    )
    assert f"`{key}:` stands in the cases of rule own" in said


def test_a_case_reports_one_kind(told) -> None:
    said = str(told(headed(JUDGED + "fail: x\nreview: y\ncite: {any: C}\n")))
    assert "a case reports one kind of finding" in said
    said = str(told(headed(JUDGED + "judge:\n  - fail: x\n    inform: y\ncite: {any: C}\n")))
    assert "a case reports one kind of finding" in said


# -- amendments --------------------------------------------------------------------------------

AMENDED = """\
applies: [count(pull.path) > 1]
groups: {long: {of: p in pull.path, where: p.length > near}}
steps:
  total: {unit: ft, sum: {pieces: sum(p.length for p in long), spare: {is: far, when: count(long) > 1}}}
  furthest: {worst: {piece: long}, by: piece.length}
measure: total
limit: most
unit: ft
judge:
  - when: met and count(long) > 1
    review: "{furthest as ft} at most"
  - fail: "{total} of {most as ft}"
cite: {any: C}
"""


def change(text: str) -> str:
    return indent(text + "reason: r\nreference: s\n", "    ").replace("    ", "  - ", 1)


def test_amendments_of_such_a_rule(book, amend) -> None:
    rule = headed(AMENDED)
    two, long = lengths("6 ft", "6 ft"), lengths("6 ft", "10 ft")
    assert kinds(book(rule), "own", two) == {"W1": "review"}
    assert kinds(book(rule), "own", long) == {"W1": "fail"}

    def after(changes: str, text: str) -> str:
        return kinds(book(rule, amend(change(changes))), "own", text)["W1"]

    assert after("rule: own\nset: {far: 20 ft}\n", two) == "fail", "a value in a term"
    assert after("rule: own\nset: {near: 7 ft}\n", two) == "pass", "a value in a group"
    assert after("rule: own\nset: {most: 26 ft}\n", long) == "review", "the limit"
    assert after("rule: own\nnarrow: count(pull.wires) < 2\n", two) == "notApplicable"
    assert after("rule: own\nfails_as: informational\n", long) == "informational"
    assert after("rule: own\nfails_as: informational\n", two) == "informational", "every case"
    one = two.replace("through: [R1, R2]", "through: [R1]")
    assert kinds(book(rule), "own", one) == {"W1": "notApplicable"}
    assert after("rule: own\nwiden: count(pull.path) == 1\n", one) == "pass"
    assert (
        after("rule: own\nexception: {when: count(pull.path) > 1, note: n}\n", two)
        == "notApplicable"
    )


def test_such_a_rule_is_added_or_replaces_another(book, amend) -> None:
    own = headed(AMENDED)
    added = change("add:\n" + indent(own.replace("rule: own", "rule: added"), "  "))
    given = book(own, amend(added))
    wall = lengths("6 ft", "10 ft")
    assert kinds(given, "added", wall) == kinds(given, "own", wall) == {"W1": "fail"}
    assert (
        message(given, "added", "W1", wall) == message(given, "own", "W1", wall) == "26 ft of 25 ft"
    )
    text = own.replace("{is: 25 ft", "{is: 50 ft")
    replaced = change("rule: own\nreplace:\n" + indent(text, "  "))
    assert kinds(book(own, amend(replaced)), "own", wall) == {"W1": "review"}


def test_a_mistake_in_an_added_rule_is_shown_in_the_amendment(book, amend) -> None:
    text = (
        headed(AMENDED).replace("rule: own", "rule: added").replace("is: far, when", "is: fr, when")
    )
    path = amend(change("add:\n" + indent(text, "  ")))
    with pytest.raises(InputError) as caught:
        book(headed(AMENDED), path)
    problem = caught.value.problems[0]
    written = Path(path).read_text(encoding="utf-8").split("\n")
    assert written[problem.line - 1][problem.column - 1 :].startswith("fr, when")


def test_what_only_replaced_conditions_needed_is_no_mistake(book, amend) -> None:
    """A value and a formula that the rule's own conditions alone mention."""
    formula = "formulas: {far_off: {of: [p], is: p.length > near, note: n}}\n"
    rule = headed(
        "applies: [any(far_off(p) for p in pull.path)]\n"
        + formula
        + JUDGED
        + "fail: x\ncite: {any: C}\n"
    )
    assert kinds(book(rule), "own", lengths("4 ft", "4 ft")) == {"W1": "notApplicable"}
    path = amend(change("rule: own\napplies: []\n"))
    assert kinds(book(rule, path), "own", lengths("4 ft", "4 ft")) == {"W1": "pass"}
