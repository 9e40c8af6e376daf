"""Runs the examples of rules and amendments: a rule author's own tests, written in YAML.

An example starts from a small sample assembly, changes some of it by path (``raceways.R1.size``),
and states the kind, and where it matters the measure, limit and steps, that the rule must give.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from checker.assembly import from_document
from checker.assembly.records import Assembly
from checker.documents.errors import InputError, Mark, nearest
from checker.documents.loader import Document
from checker.documents.nodes import Mapping, Sequence
from checker.documents.source import Source
from checker.engine.evaluate import elements, evaluate_rule
from checker.engine.trade import TRADE
from checker.findings.detail import Amount
from checker.findings.kinds import QUIET
from checker.findings.repairs import Repair, repairs
from checker.findings.view import FindingView, Views
from checker.language import numbers
from checker.quantities.designations import trade_size, wire_size
from checker.quantities.notation import NotationError, quantity
from checker.rulebook.book import Rule, Rulebook
from checker.rulebook.records import ExampleFile


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of an example.  ``differences`` is empty where it holds."""

    rule: str
    name: str
    example: ExampleFile
    mark: Mark
    source: Source
    expected: str
    got: str
    differences: tuple[str, ...]
    view: FindingView | None = None

    @property
    def holds(self) -> bool:
        """Whether the rule gave what was expected."""
        return not self.differences


#: Kinds of a finding that asks for nothing.
_GONE = (*QUIET, "informational")
#: What a fix may leave of a finding: of one that fails, another question that needs review.
_AFTER = {"fail": (*_GONE, "review")}


class ExampleError(Exception):
    """An example that cannot be set up: an unknown path or element."""


def run_example(
    book: Rulebook, rule: Rule, example: ExampleFile, sample: Any, source: Source
) -> Outcome:
    """Run one example against the effective rulebook."""
    mark = example.node.mark
    name = example.name or f"line {mark.line}"

    def outcome(got: str, *differences: str, **more: Any) -> Outcome:
        return Outcome(
            rule.id, name, example, mark, source, example.expect, got, differences, **more
        )

    try:
        document = build(sample, example, source, mark)
        assembly = from_document(document, TRADE)
        subject_class, subject = subject_of(rule, example, assembly)
    except InputError as error:
        return outcome(
            "an assembly that cannot be read",
            *[f"{p.message} (found {p.found})" if p.found else p.message for p in error.problems],
        )
    except ExampleError as error:
        return outcome("nothing", str(error))
    finding = evaluate_rule(book, rule, subject_class, subject, assembly)
    views = Views(assembly, book)
    view = views.view(finding)
    return outcome(
        finding.kind,
        *differences_of(example, view),
        *(
            f"the fix “{repair.say}” leaves it at {kind}"
            for repair in repairs(finding, views.explainer)
            if (kind := _repaired(book, rule, example, document, repair))
            not in _AFTER.get(finding.kind, _GONE)
        ),
        view=view,
    )


def _repaired(
    book: Rulebook, rule: Rule, example: ExampleFile, document: Document, repair: Repair
) -> str:
    """The kind of the finding once a fix was made; the document is as before afterwards."""
    before = [dict(element.node) for element in repair.elements]
    repair.apply()
    mark = example.node.mark
    try:
        assembly = from_document(
            Document(document.source, _nodes(_copy(document.root), document.source, mark)),
            TRADE,
        )
        subject_class, subject = subject_of(rule, example, assembly)
        return evaluate_rule(book, rule, subject_class, subject, assembly).kind
    except InputError as error:
        return f"wrong input: {error.problems[0].message}"
    finally:
        for element, kept in zip(repair.elements, before, strict=True):
            element.node.clear()
            element.node.update(kept)


def build(sample: Any, example: ExampleFile, source: Source, mark: Mark) -> Document:
    """The sample with the example's changes, as a document."""
    root = _copy(sample)
    if not isinstance(root, dict):
        raise ExampleError("the sample is not an assembly")
    root.setdefault("assembly", "example")
    changes = example.node.get("set") or {}
    for path, value in changes.items():
        _put(root, path, value)
    for path in example.remove:
        _take(root, path)
    return Document(source, _nodes(root, source, mark))


def _copy(node: Any) -> Any:
    if isinstance(node, dict):
        return {key: _copy(value) for key, value in node.items()}
    if isinstance(node, list):
        return [_copy(value) for value in node]
    return node


def _nodes(value: Any, source: Source, mark: Mark) -> Any:
    if isinstance(value, dict):
        return Mapping.made({k: _nodes(v, source, mark) for k, v in value.items()}, mark)
    if isinstance(value, list):
        return Sequence.made([_nodes(v, source, mark) for v in value], mark)
    return value


def _step(holder: Any, name: str, path: str) -> Any:
    if isinstance(holder, dict) and name in holder:
        return holder[name]
    if isinstance(holder, list):
        if name.isdigit() and int(name) < len(holder):
            return holder[int(name)]
        for item in holder:
            if isinstance(item, dict) and item.get("id") == name:
                return item
    known = (
        list(holder)
        if isinstance(holder, dict)
        else [str(i.get("id")) for i in holder if isinstance(i, dict)]
        if isinstance(holder, list)
        else []
    )
    close = nearest(name, known)
    raise ExampleError(
        f"the sample has no `{path}`: `{name}` is not there"
        + (f"; nearest: {close}" if close else "")
    )


def _put(root: Any, path: str, value: Any) -> None:
    *way, last = path.split(".")
    holder = root
    for name in way:
        holder = _step(holder, name, path)
    if isinstance(holder, dict):
        holder[last] = _copy(value)
    elif isinstance(holder, list):
        if last == "+":
            holder.append(_copy(value))
            return
        item = _step(holder, last, path)
        holder[holder.index(item)] = _copy(value)
    else:
        raise ExampleError(f"`{path}` leads to a plain value")


def _take(root: Any, path: str) -> None:
    *way, last = path.split(".")
    holder = root
    for name in way:
        holder = _step(holder, name, path)
    item = _step(holder, last, path)
    if isinstance(holder, dict):
        del holder[last]
    else:
        holder.remove(item)


def subject_of(rule: Rule, example: ExampleFile, assembly: Assembly) -> tuple[str, Any]:
    """The element that an example is about, and its class.  Raises ExampleError."""
    classes = [example.class_] if example.class_ else list(rule.forms)
    known: list[str] = []
    for name in classes:
        if name not in rule.forms:
            raise ExampleError(f"rule {rule.id} is not checked on {name}")
        for element in elements(assembly, name):
            if element.id == example.on:
                return name, element
            known.append(str(element.id))
    close = nearest(example.on, known)
    raise ExampleError(
        f"the sample has no {' or '.join(classes)} `{example.on}`"
        + (f"; nearest: {close}" if close else "")
    )


def differences_of(example: ExampleFile, view: FindingView) -> list[str]:
    """What comes out otherwise than the example says, in words."""
    found = []
    if view.kind != example.expect:
        why = f" ({view.message})"
        found.append(f"expected {example.expect}, got {view.kind}{why}")
    for name, want, got in (
        ("measure", example.measure, view.measure_amount),
        ("limit", example.limit, view.limit_amount),
    ):
        if want and not _same(want, got):
            found.append(f"{name}: expected {want}, got {got.text if got else 'nothing'}")
    fixes = "; or ".join(view.fixes)
    if example.fixes and example.fixes != fixes:
        found.append(f"fixes: expected {example.fixes}, got {fixes or 'nothing'}")
    lines = {line.name: line for line in view.steps}
    for name, want in example.steps.items():
        line = lines.get(name)
        if line is None:
            close = nearest(name, lines)
            if any(step.name == name for step in view.finding.form.steps):
                found.append(f"step {name} plays no part in this calculation")
                continue
            found.append(
                f"there is no step `{name}` in this calculation"
                + (f"; nearest: {close}" if close else "")
            )
        elif not _same(want, Amount(line.value, line.unit, line.shown)):
            found.append(f"step {name}: expected {want}, got {line.shown} ({line.text})")
    return found


def _same(want: str, got: Amount | None) -> bool:
    """Whether an amount is what was expected: as text, or as a number to the digits written."""
    if got is None:
        return False
    if want.strip() == got.text:
        return True
    if isinstance(got.value, str):
        for read in (wire_size, trade_size):
            try:
                return read(want) == got.value
            except NotationError:
                continue
        return False
    if got.value is None:
        return False
    try:
        expected = quantity(want).value
        actual = quantity(f"{got.value!r} {got.unit if got.unit != '1' else 'ratio'}").value
    except NotationError:
        try:
            expected, actual = float(want), float(got.value)
        except ValueError:
            return False
    digits = want.split()[0].rstrip("%°")
    decimals = len(digits.partition(".")[2])
    scale = abs(expected) / abs(float(digits)) if _float(digits) else 1.0
    return numbers.equal(expected, actual) or (
        decimals > 0 and abs(expected - actual) <= 0.5000001 * 10**-decimals * scale
    )


def _float(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return 0.0
