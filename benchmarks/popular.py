"""The whole job of a check with general-purpose libraries: a yardstick, run on its own.

    python -m benchmarks.popular ASSEMBLY

CSafeLoader reads the file, jsonschema checks it, pint reads every quantity, and simpleeval
evaluates the expressions of every rule on every element, on pint's quantities.  The electrical
model (who is connected to whom) is not theirs to make: it is handed to them, and its time is not
counted.
What they find is compared with what the program finds, so that the work is known to be the same.
"""

from __future__ import annotations

import ast
import json
import operator
import os
import sys
import time
from collections import Counter
from types import SimpleNamespace
from typing import Any

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

from benchmarks.spelled import spelled
from checker.assembly import read_assembly
from checker.documents.fields import fields_of
from checker.documents.missing import Missing, MissingData, known
from checker.engine.evaluate import elements, evaluate
from checker.language.checked import Checked
from checker.language.functions import FUNCTIONS
from checker.language.types import Number
from checker.quantities.designations import TRADE_RANK, WIRE_RANK
from checker.quantities.dimension import (
    ANGLE,
    AREA,
    CURRENT,
    LENGTH,
    POWER,
    TEMPERATURE,
    VOLTAGE,
    VOLUME,
)
from checker.quantities.units import unit as find_unit
from checker.rulebook.build import build
from checker.rulebook.forms import Case, Form

HERE = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
_QUANTITIES = ("length", "angle", "breaker", "load", "continuous_load", "volume", "rating")
_RANKS = {**TRADE_RANK, **WIRE_RANK}


def read(path: str, units: Any) -> int:
    """Read, check and convert with the usual libraries; how many quantities there were."""
    import jsonschema
    import yaml

    with open(path, encoding="utf-8") as file:
        data = yaml.load(file, Loader=yaml.CSafeLoader)
    with open(os.path.join(HERE, "checker", "schemas", "assembly.schema.json")) as file:
        schema = json.load(file)
    list(jsonschema.Draft202012Validator(schema).iter_errors(data))
    seen = 0

    def walk(node: Any) -> None:
        nonlocal seen
        if isinstance(node, dict):
            for key, value in node.items():
                if key in _QUANTITIES:
                    # Mixed feet and inches and superscripts are beyond pint's grammar.
                    text = str(value).replace("ft 2 in", "ft").replace("³", "**3")
                    units.Quantity(text)
                    seen += 1
                else:
                    walk(value)
        elif isinstance(node, list):
            for value in node:
                walk(value)

    walk(data)
    return seen


#: pint's names of the program's base units.
_UNITS = {
    LENGTH: "inch", AREA: "inch**2", VOLUME: "inch**3", CURRENT: "ampere", POWER: "volt_ampere",
    VOLTAGE: "volt", TEMPERATURE: "degree_Celsius", ANGLE: "degree",
}  # fmt: skip


def _ranked(value: Any) -> Any:
    return _RANKS.get(value, value) if isinstance(value, str) else value


def _less(a: Any, b: Any) -> bool:
    return bool(_ranked(a) < _ranked(b))


def _single(value: Any) -> bool:
    """Whether a value is no collection; pint's quantities can be gone through as well."""
    return isinstance(value, str) or hasattr(value, "magnitude")


def _keyed(of: Any) -> Any:
    def extreme(*items: Any) -> Any:
        parts = (
            item if hasattr(item, "__iter__") and not _single(item) else [item] for item in items
        )
        return of([one for part in parts for one in part], key=_ranked)

    return extreme


def _total(items: Any) -> Any:
    found: Any = 0
    for item in items:
        found = item if isinstance(found, int) and found == 0 else found + item
    return found


class Evaluator:
    """Evaluates rules by their expressions."""

    def __init__(self, book: Any, assembly: Any, units: Any) -> None:
        import simpleeval

        self.units = units
        simpleeval.MAX_COMPREHENSION_LENGTH = 10**9
        plain = simpleeval.EvalWithCompoundTypes

        class Quantities(plain):  # type: ignore[misc,valid-type]
            """Gives a field that has a dimension as a quantity."""

            def _eval_attribute(self, node: Any) -> Any:
                holder = self._eval(node.value)
                value = getattr(holder, node.attr)
                return quantity(holder, node.attr, value)

        def quantity(holder: Any, name: str, value: Any) -> Any:
            unit = self.unit_of(type(holder), name)
            return units.Quantity(value, unit) if unit and known(value) else value

        self.kept: dict[tuple[type, str], str] = {}
        self.engine = Quantities()
        self.engine.nodes[ast.Attribute] = self.engine._eval_attribute
        self.engine.functions = {name: function.call for name, function in FUNCTIONS.items()}
        self.engine.functions |= {
            "stated": lambda value: type(value) is not Missing,
            "max": _keyed(max),
            "min": _keyed(min),
            "distinct": lambda items: tuple(dict.fromkeys(items)),
            "sum": _total,
        }
        self.engine.operators |= {
            ast.Lt: _less,
            ast.Gt: lambda a, b: _less(b, a),
            ast.LtE: lambda a, b: not _less(b, a),
            ast.GtE: lambda a, b: not _less(a, b),
            ast.Mult: operator.mul,
            ast.Div: operator.truediv,
            ast.Sub: operator.sub,
            ast.Add: lambda a, b: [*a, *b] if isinstance(a, (list, tuple)) else a + b,
        }
        self.tables = {name: _Columns(table, units) for name, table in book.tables.items()}
        self.assembly = assembly
        self.parsed: dict[int, Any] = {}
        self.evaluated = 0

    def unit_of(self, record: type, name: str) -> str:
        """pint's unit of a field, "" where it has none."""
        key = (record, name)
        if key not in self.kept:
            fields = fields_of(record) if hasattr(record, "__dataclass_fields__") else ()
            found = next((f for f in fields if f.name == name), None)
            dimension = found.dimension if found is not None and found.kind == "number" else None
            self.kept[key] = _UNITS.get(dimension, "") if dimension is not None else ""
        return self.kept[key]

    def value(self, checked: Checked) -> Any:
        """What an expression, with its formulas put in, gives for the names that are set."""
        tree = self.parsed.get(id(checked))
        if tree is None:
            tree = self.parsed[id(checked)] = self.engine.parse(spelled(checked.node))
        self.evaluated += 1
        return self.engine.eval("", previously_parsed=tree)

    def judge(self, form: Form, subject: Any) -> str:
        """The kind of the finding."""
        values = {name: self._given(value) for name, value in form.values.items()}
        self.engine.names = {
            "this": subject, form.subject: subject, "assembly": self.assembly,
            **self.tables, **values,
        }  # fmt: skip
        for condition in form.when:
            if not self.value(condition):
                return "notApplicable"
        for condition, _ in form.unless:
            if self.value(condition):
                return "notApplicable"
        done: set[int] = set()
        for case in form.cases:
            if case is form.cases[-1] or case.when is None or self._applies(form, case, done):
                return self._case(form, case, done)
        raise AssertionError("a rule judges nothing")

    def _given(self, value: Any) -> Any:
        unit = _UNITS.get(value.kind.dimension, "") if isinstance(value.kind, Number) else ""
        return self.units.Quantity(value.value, unit) if unit else value.value

    def _applies(self, form: Form, case: Case, done: set[int]) -> bool:
        assert case.when is not None
        position = {step.name: place for place, step in enumerate(form.steps)}
        needed: set[int] = set()
        todo = set(case.when.uses)
        while todo:
            place = position.get(todo.pop())
            if place is not None and place not in needed:
                needed.add(place)
                todo |= form.steps[place].checked.uses
        self._steps(form, needed, done)
        return bool(self.value(case.when))

    def _steps(self, form: Form, wanted: set[int], done: set[int]) -> None:
        for place in sorted(wanted - done):
            step = form.steps[place]
            self.engine.names[step.name] = self.value(step.checked)
        done |= wanted

    def _case(self, form: Form, case: Case, done: set[int]) -> str:
        self._steps(form, set(case.steps), done)
        measure, limit = self.value(case.measure), self.value(case.limit)
        if case.require is not None:
            held = bool(self.value(case.require))
        else:
            low, high = (limit, measure) if case.at_least else (measure, limit)
            held = not _less(high, low)
        return "pass" if held else case.fails_as


class _Columns:
    """A table's columns as functions of its keys by name."""

    def __init__(self, table: Any, units: Any) -> None:
        self._table = table
        self._units = units
        self._rows_kept: dict[tuple[Any, ...], list[SimpleNamespace]] = {}
        for column in table.columns:
            setattr(self, column.name, self._column(column.name))
        self.rows = self._rows

    def _column(self, name: str) -> Any:
        get, order = self._table.getter(name), [key.name for key in self._table.keys]
        column = next(c for c in self._table.columns if c.name == name)
        unit = _UNITS.get(find_unit(column.unit).dimension, "") if column.unit else ""

        def cell(**keys: Any) -> Any:
            found = get(*[getattr(keys[key], "magnitude", keys[key]) for key in order])
            return self._units.Quantity(found, unit) if unit else found

        return cell

    def _rows(self, **keys: Any) -> Any:
        order = tuple(key.name for key in self._table.keys if key.name in keys)
        wanted = tuple(getattr(keys[key], "magnitude", keys[key]) for key in order)
        if (order, wanted) not in self._rows_kept:
            rows = self._table.rows_getter(order)(*wanted)
            self._rows_kept[order, wanted] = [self._with_units(row) for row in rows]
        return self._rows_kept[order, wanted]

    def _with_units(self, row: Any) -> SimpleNamespace:
        made = {}
        for part in (*self._table.keys, *self._table.columns):
            value = getattr(row, part.name)
            unit = _UNITS.get(find_unit(part.unit).dimension, "") if part.unit else ""
            made[part.name] = self._units.Quantity(value, unit) if unit and known(value) else value
        return SimpleNamespace(**made)


def main(path: str) -> None:
    """Print the seconds that the libraries take, as JSON."""
    start = time.perf_counter()
    import pint

    units = pint.UnitRegistry()
    quantities = read(path, units)
    spent = reading = time.perf_counter() - start
    assembly, _ = read_assembly(path)
    book = build("nec-2023", [])
    ours = Counter(finding.kind for finding in evaluate(book, assembly))
    judge = Evaluator(book, assembly, units)
    theirs: Counter[str] = Counter()
    start = time.perf_counter()
    for rule in book.rules:
        for form in rule.forms.values():
            for subject in elements(assembly, form.subject):
                try:
                    theirs[judge.judge(form, subject)] += 1
                except (MissingData, LookupError, ArithmeticError, ValueError):
                    theirs["open"] += 1
    spent += time.perf_counter() - start
    print(
        json.dumps(
            {
                "seconds": spent,
                "reading": reading,
                "quantities": quantities,
                "expressions": judge.evaluated,
                "same": ours == theirs,
                "ours": dict(ours),
                "theirs": dict(theirs),
            }
        )
    )


if __name__ == "__main__":
    main(sys.argv[1])
