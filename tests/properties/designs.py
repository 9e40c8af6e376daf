"""Assembly files as data that tests change and the program reads again."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from checker.assembly import from_document
from checker.assembly.records import CLASSES, Assembly, Record
from checker.documents.errors import Mark
from checker.documents.fields import Field, fields_of
from checker.documents.loader import Document
from checker.documents.nodes import Mapping, Sequence
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.findings.finding import Finding
from checker.rulebook.book import Rulebook, load_rulebook

SAMPLES = Path(__file__).parents[2] / "samples"
NAMES = [path.stem for path in sorted(SAMPLES.glob("*.yaml"))]
_BY_NAME = {record.__name__: record for record in CLASSES.values()}
_CLASS_OF = {record: name for name, record in CLASSES.items()}

Plain = dict[str, Any]
Key = tuple[str, str, str]


@cache
def _sample(name: str) -> Plain:
    import yaml

    text = (SAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    read: Plain = yaml.load(text, yaml.BaseLoader)
    return read


def sample(name: str) -> Plain:
    """A sample as plain data, to be changed at will."""
    return copy.deepcopy(_sample(name))


@cache
def book(edition: str = "nec-2023") -> Rulebook:
    """The rulebook, kept between tests."""
    return load_rulebook(edition)


def assembly_of(plain: Plain) -> Assembly:
    """The assembly that the data describes.  Raises InputError."""
    source = Source.of_text("changed\n")
    return from_document(Document(source, _node(plain, Mark(1, 1))))


def _node(value: Any, mark: Mark) -> Any:
    if isinstance(value, dict):
        return Mapping.made({k: _node(v, mark) for k, v in value.items()}, mark)
    if isinstance(value, list):
        return Sequence.made([_node(v, mark) for v in value], mark)
    return value


def findings(plain: Plain, edition: str = "nec-2023") -> dict[Key, Finding]:
    """Every finding, by rule, class and id (a run's id without its direction)."""
    found = {}
    for f in evaluate(book(edition), assembly_of(plain)):
        name = f.subject_id
        if f.subject_class == "run":
            name = "+".join(min(name.split("+"), name.split("+")[::-1]))
        found[f.rule.id, f.subject_class, name] = f
    return found


@dataclass(frozen=True)
class Given:
    """One optional field that a design states: its holder's record class, and where it is."""

    holder: Plain
    record: str
    field: Field
    path: tuple[str, ...]

    @property
    def name(self) -> str:
        """``box.volume`` and the like."""
        return f"{self.record}.{self.field.key}"


def given_fields(node: Plain, record: type[Record], path: tuple[str, ...] = ()) -> Iterator[Given]:
    """Every field that a design states, with those of the records within."""
    for field in fields_of(record):
        if field.derived or field.key not in node:
            continue
        value = node[field.key]
        yield Given(node, _CLASS_OF[record], field, path)
        inner = field.item if field.kind == "list" else field
        if inner is None or inner.kind != "record":
            continue
        for place, item in enumerate(value if isinstance(value, list) else [value]):
            if isinstance(item, dict):
                name = str(item.get("id", place))
                yield from given_fields(item, _BY_NAME[inner.record], (*path, field.key, name))
