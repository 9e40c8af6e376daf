"""A rule as one record, from its file to the report.

The records are those that ``records`` declares, read by the one reader; ``settle`` gives their
texts the places that they have in the file.  Editions and amendments replace parts of a record by
others of the same shape, which keep the places of their own files.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, ClassVar

from checker.documents.digest import sha256
from checker.documents.errors import Mark
from checker.documents.fields import EXPRESSION, TEMPLATE, given_fields
from checker.documents.nodes import Sequence
from checker.documents.source import Source

from .part import Part, Text, plain_text, text_at
from .records import RECORDS, RuleFile
from .rule_parts import Case, Fix, FormulaRecord, Step, Value
from .written import all_steps, decided

#: A record that was just read is given its places; it is frozen for everybody else.
_put = object.__setattr__


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class RuleRecord(RuleFile):
    """A rule as an edition and its amendments have it.

    source: its file.  origin: the edition or the amendment that has it; fails_as_origin: who says
    what failing means.  cites: the section by edition; base_cite: the one before any amendment.
    history: what amendments did to it, in order.  unless: exceptions, each with its words.
    widened: (n, condition) where the rule applies as well, whatever the first n of ``when`` say.
    reworked: whether an amendment put other conditions in place of the rule's own.
    borrowed: what comes from the shared sheets that it uses; formulas: theirs among its own.
    """

    CALLED: ClassVar[str] = "RuleFile"

    source: Source
    origin: str = ""
    fails_as: Any = "fail"
    fails_as_origin: str = ""
    cites: dict[str, str] = field(default_factory=dict)
    base_cite: str = ""
    history: tuple[str, ...] = ()
    unless: tuple[tuple[Text, str], ...] = ()
    widened: tuple[tuple[int, Text], ...] = ()
    reworked: bool = False
    borrowed: frozenset[str] = frozenset()
    if TYPE_CHECKING:
        title: Text
        cite: Text  # type: ignore[assignment]
        when: tuple[Text, ...]
        values: dict[str, Value]  # type: ignore[assignment]
        steps: dict[str, Step]  # type: ignore[assignment]
        formulas: dict[str, FormulaRecord]  # type: ignore[assignment]
        judge: tuple[Case, ...]

    def settled(self, source: Source, origin: str) -> None:
        """What ``settle`` does not know of."""
        node = self.node
        cited = text_at("", node, "cite" if "cite" in node else None, source, origin)
        new = {"source": source, "origin": origin, "fails_as_origin": origin, "cites": self.cite}
        title = text_at(self.title, node, "title", source, origin)
        for name, made in {**_ADDED, **new, "cite": cited, "title": title}.items():
            _put(self, name, made)
        _put(self, "judge", decided(self))
        _put(self, "steps", all_steps(self))
        _put(self, "fails_as", self.judge[-1].fails_as)

    def of_edition(self, edition: str, cite: str = "") -> RuleRecord | None:
        """The rule as an edition has it; None where the edition has no such requirement.

        ``cite`` stands in for the edition's citation: an amendment's own rule cites its ordinance.
        """
        cited = cite or self.cites.get(edition) or self.cites.get("any")
        if cited is None:
            return None
        values = {name: value.of_edition(edition) for name, value in self.values.items()}
        return self.citing(cited).with_(values=values, base_cite=cited)

    # -- what others call its parts ---------------------------------------------------------

    @property
    def id(self) -> str:
        """Its id."""
        return self.rule

    @property
    def classes(self) -> tuple[str, ...]:
        """The classes of element that it is checked on."""
        return self.each

    @property
    def cases(self) -> tuple[Case, ...]:
        """How it judges, case by case."""
        return self.judge

    @property
    def file(self) -> str:
        """The path of its file."""
        return self.source.path

    @property
    def covered(self) -> str:
        """What it applies to, in words; "" where an amendment changed that."""
        amended = any(text.origin != self.origin for text in self.when)
        return "" if self.reworked or self.widened or amended else self.covers

    @property
    def mark(self) -> Mark:
        """Where it starts."""
        mark: Mark = self.node.mark
        return mark

    @property
    def at_mark(self) -> Mark | None:
        """Where ``at`` is written."""
        return self.node.value_mark("at") if "at" in self.node else None

    def with_(self, **changes: Any) -> RuleRecord:
        """A copy with some parts replaced."""
        return replace(self, **changes)

    def citing(self, text: str, like: Text | None = None) -> RuleRecord:
        """A copy that cites something else, written where ``like`` or the old citation is."""
        old = like if like is not None else self.cite
        new = text_at(text, old._node, old._key, old.source, old.origin)
        return replace(self, cite=new)

    def parts(self) -> list[tuple[str, Part]]:
        """Every part with the path that names it, in a fixed order."""
        found: list[tuple[str, Part]] = [("title", self.title), ("cite", self.cite)]
        found += [(f"when[{i}]", p) for i, p in enumerate(self.when)]
        found += [(f"exception[{i}]", p) for i, (p, _) in enumerate(self.unless)]
        found += [(f"also[{i}]", p) for i, (_, p) in enumerate(self.widened)]
        found += [(f"values.{name}", v.part) for name, v in self.values.items()]
        found += [(f"steps.{name}", s.is_) for name, s in self.steps.items()]
        found += [(f"formulas.{f.formula.usage}", f.is_) for f in self.formulas.values()]
        for i, case in enumerate(self.judge):
            for name in Case.TEXTS:
                part = getattr(case, name)
                if part is not None:
                    found.append((f"judge[{i}].{name}", part))
            for j, fix in enumerate(case.fixes):
                found += [(f"judge[{i}].fixes[{j}].{key}", p) for key, p in fix.conditions()]
                found.append((f"judge[{i}].fixes[{j}]", fix.say))
        return found

    @property
    def digest(self) -> str:
        """A fingerprint of everything that decides findings and what they say."""
        total = sha256()
        facts = (self.rule, self.each, self.at, self.fails_as, self.effective, self.status)
        total.update(repr(facts).encode())
        if self.covers:
            total.update(f"covers {self.covers}\n".encode())
        if self.detail:
            total.update(f"detail {self.detail}\n".encode())
        for path, part in self.parts():
            total.update(f"{path}={plain_text(part.value)}\n".encode())
        for name, value in self.values.items():
            total.update(f"{name}:{value.as_}:{value.cite}\n".encode())
        for name, step in self.steps.items():
            total.update(f"{name} in {step.unit}\n".encode())
        for place, _ in self.widened:
            total.update(f"also {place}\n".encode())
        if self.sections is not None:
            asked = self.sections
            words = (asked.of, asked.table, asked.column, asked.besides)
            total.update(f"sections {words}\n".encode())
        for _, note in self.unless:
            total.update(f"exception {note}\n".encode())
        for case in self.judge:
            total.update(f"{case.at_least}{case.unit}{case.fails_as}\n".encode())
        return "sha256:" + total.hexdigest()


#: What has a place that errors point into.
_TEXTS = (EXPRESSION, TEMPLATE)

#: What a rule that was just read has not met yet.
_ADDED: dict[str, Any] = {
    "base_cite": "",
    "history": (),
    "unless": (),
    "widened": (),
    "reworked": False,
    "borrowed": frozenset(),
}

#: The records of a rule's file as they are read, by the names of those that declare them.
RULE_RECORDS: dict[str, type] = {
    **RECORDS,
    "ValueFile": Value,
    "StepFile": Step,
    "FormulaFile": FormulaRecord,
    "FixFile": Fix,
    "CaseFile": Case,
    "RuleFile": RuleRecord,
}


def texts_at(
    node: Any, key: str, texts: tuple[str, ...], source: Source, origin: str
) -> tuple[Text, ...]:
    """The texts of a list with their places; one text may stand for a list of it."""
    raw = node.get(key)
    if not isinstance(raw, Sequence):
        return tuple(text_at(text, node, key, source, origin) for text in texts)
    return tuple(text_at(text, raw, i, source, origin) for i, text in enumerate(texts))


def settle(record: Any, source: Source, origin: str) -> None:
    """Give the texts of a record that was just read, and of those in it, their places."""
    node = record.node
    for item in given_fields(type(record)):
        value, key, inner = getattr(record, item.name), item.key, item.item
        if not value:
            continue
        if item.form in _TEXTS:
            _put(record, item.name, text_at(value, node, key, source, origin))
        elif item.kind == "record":
            settle(value, source, origin)
        elif inner is None:
            continue
        elif inner.form in _TEXTS and item.kind == "list":
            _put(record, item.name, texts_at(node, key, value, source, origin))
        elif inner.form in _TEXTS:
            of = node[key]
            made = {name: text_at(text, of, name, source, origin) for name, text in value.items()}
            _put(record, item.name, made)
        elif inner.kind == "record" and item.kind == "list":
            for one in value:
                settle(one, source, origin)
        elif inner.kind == "record":
            for name, one in value.items():
                settle(one, source, origin)
                if "named" in type(one).__dataclass_fields__:
                    _put(one, "named", node[key].key_mark(name))
    if hasattr(record, "settled"):
        record.settled(source, origin)
