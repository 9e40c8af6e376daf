"""The published JSON Schema of the report: it fits what is written, and refuses what is not."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

import checker
from checker.findings.decision_records import DecisionFile
from checker.findings.decisions import STATUSES
from checker.findings.finding import Report
from checker.findings.kinds import KINDS
from checker.reports.forms import written
from checker.reports.json_form import compact, report_object
from checker.rulebook.records import Subject

SCHEMA = json.loads(
    (Path(checker.__file__).parent / "schemas" / "report.schema.json").read_text(encoding="utf-8")
)
VALIDATOR = Draft202012Validator(SCHEMA)


def errors(report: Any) -> list[str]:
    return [f"{list(e.absolute_path)}: {e.message}" for e in VALIDATOR.iter_errors(report)]


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_reports_fit(plain: Report, decided: Report, nasty: Report) -> None:
    for report in (plain, decided, nasty):
        assert errors(report_object(report)) == []
        assert errors(json.loads(compact(report))) == []


def test_reports_of_the_samples_fit() -> None:
    from argparse import Namespace

    from checker.cli.loading import Loader

    samples = Path(checker.__file__).parents[1] / "samples"
    loader = Loader(Namespace(edition=None, amend=[], decisions=None, as_of=None))
    for path in sorted(samples.glob("*.yaml")):
        assert errors(report_object(loader.load(str(path)))) == [], path.name


def test_every_key_that_is_written_is_described(decided: Report) -> None:
    made = json.loads(compact(decided))
    assert sorted(undescribed(made, SCHEMA, "")) == []


def undescribed(value: Any, schema: dict[str, Any], where: str) -> Iterator[str]:
    """Paths of keys that the schema does not name."""
    while "$ref" in schema:
        schema = SCHEMA["$defs"][schema["$ref"].rpartition("/")[2]]
    for branch in schema.get("anyOf", ()):
        target = SCHEMA["$defs"][branch["$ref"].rpartition("/")[2]] if "$ref" in branch else branch
        if target.get("type") != "null" and value is not None:
            yield from undescribed(value, target, where)
            return
    if isinstance(value, dict):
        known = schema.get("properties", {})
        for key, item in value.items():
            inner = known.get(key, schema.get("additionalProperties"))
            if inner is None:
                yield f"{where}.{key}"
            else:
                yield from undescribed(item, inner, f"{where}.{key}")
    elif isinstance(value, list):
        for item in value:
            yield from undescribed(item, schema.get("items", {}), where + "[]")


def test_the_words_are_those_of_the_program() -> None:
    defs = SCHEMA["$defs"]
    assert set(defs["kind"]["enum"]) == set(KINDS)
    assert set(defs["elementClass"]["enum"]) == set(Subject.__args__)
    decision = defs["decision"]["properties"]
    assert tuple(decision["status"]["enum"]) == STATUSES
    dispositions = DecisionFile.__annotations__["disposition"].__args__
    assert tuple(decision["disposition"]["enum"]) == dispositions


def with_change(made: dict[str, Any], path: tuple[Any, ...], value: Any) -> dict[str, Any]:
    """A copy with the value at a path replaced, or taken out where it is ``...``."""
    changed = copy.deepcopy(made)
    where = changed
    for step in path[:-1]:
        where = where[step]
    if value is ...:
        del where[path[-1]]
    else:
        where[path[-1]] = value
    return changed


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("format",), "another"),
        (("version",), 1),
        (("findings",), ...),
        (("assembly", "id"), ""),
        (("assembly", "quantity"), -1),
        (("basis", "fingerprints", "design"), "sha256:123"),
        (("basis", "fingerprints", "tables"), ...),
        (("summary", "open"), ...),
        (("findings", 0, "kind"), "compliant"),
        (("findings", 0, "subject", "class"), "door"),
        (("findings", 0, "location", "line"), 0),
        (("findings", 0, "ratio"), "1.1"),
        (("findings", 0, "decision"), ...),
        (("findings", 0, "measure"), {"value": 1}),
        (("decisions", 0, "reason"), ""),
        (("decisions", 0, "authority"), None),  # accepted, by whom?
        (("decisions", 0, "date"), "1 April 2026"),
        (("decisions", 0, "status"), "stale"),  # yet it applies
        (("decisions", 1, "applies"), True),  # yet it is stale
    ],
)
def test_what_is_no_report_is_refused(decided: Report, path: tuple[Any, ...], value: Any) -> None:
    made = report_object(decided)
    assert made["decisions"][0]["status"] == "applied"
    assert made["decisions"][1]["status"] == "stale"
    assert errors(made) == []
    assert errors(with_change(made, path, value)) != []


def test_a_decision_that_counts_on_an_open_finding_is_refused(decided: Report) -> None:
    made = report_object(decided)
    places = {f["kind"]: n for n, f in enumerate(made["findings"])}
    applied = made["decisions"][0]
    assert errors(with_change(made, ("findings", places["open"], "decision"), applied)) != []
    assert errors(with_change(made, ("findings", places["review"], "decision"), applied)) == []


def test_further_keys_are_allowed(make: Callable[..., Report]) -> None:
    """The contract: more keys may be added."""
    made = report_object(make())
    assert errors({**made, "further": 1}) == []


def test_every_machine_form_says_what_it_is_not(make: Callable[..., Report]) -> None:
    """A program may show nothing but this form to people."""
    report = make()
    made = report_object(report)
    assert "does not replace the adopted code" in made["caution"]
    assert made["caution"] in " ".join(written("junit", [report]).split()).replace("&quot;", '"')
    log = json.loads(written("sarif", [report]))
    assert log["runs"][0]["properties"]["caution"] == made["caution"]
