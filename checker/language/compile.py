"""From typed nodes to plain Python that runs on plain floats.

The code reads declared record fields, adds and compares numbers, and calls the language's own
functions; there is nothing else it could do.  Unstated fields are ``Missing`` objects, which raise
at any use, so the code needs no tests for them.  Comparisons are tolerant: the tolerance is only
looked at when the plain comparison has gone against the limit, so it costs nothing otherwise.

Going through a collection becomes a loop of statements (``loops``), and what was looked up or gone
through before on the way to a statement is not done again.  That may ask for a field which the
expression as written would not have asked for; an unstated one then raises, and the traced
evaluation, which goes by the expression as written, decides.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from . import nodes
from .block import Block, simple
from .checked import Checked
from .loops import WAYS, loop
from .nodes import AMONG, EXACT, TOLERANT, Node, items_of, ways
from .numbering import Numbering
from .runtime import GLOBALS, RANKS, Memory
from .types import List, Vocabulary

#: A list of the rule's own that is written into the code; a longer one is kept beside it.
_INLINE = 16
_NOT_CONSTANT: Any = object()


class Emitter:
    """Writes the Python of checked expressions and collects the globals that it needs.

    names: the Python variables of steps and subjects; constants: the rule's values.  ``needs`` says
    of each global how to find it again: a table's cell or rows, or a value of the rule.  ``counts``
    is whether items are counted: the code then starts with ``start``.
    """

    def __init__(
        self, vocabulary: Vocabulary, names: Mapping[str, str], constants: Mapping[str, Any]
    ) -> None:
        self.vocabulary = vocabulary
        self.names = names
        self.constants = constants
        self.globals: dict[str, Any] = dict(GLOBALS)
        self.needs: dict[str, tuple[Any, ...]] = {}
        self.counts = False
        self.numbering = Numbering()
        self.items: dict[int, str] = {}
        self.block = Block()
        self._tables: dict[tuple[Any, ...], str] = {}
        self._variables = 0

    def look(self, every: Iterable[Checked]) -> None:
        """Note all that will be written, so that a list which several need is made once."""
        for checked in every:
            self.numbering.look(checked.node)

    def emit(self, checked: Checked, block: Block) -> str:
        """One expression that was looked at, at the end of ``block``, which may grow by it."""
        self.block = block
        return self.write(checked.node)

    @staticmethod
    def start() -> str:
        """The line that code starts with where items are counted."""
        return "b = f_budget()"

    def write(self, node: Node) -> str:
        """The Python of a part, in parentheses where it is more than a name."""
        return _WAYS[node.__class__](self, node)

    def variable(self, start: str) -> str:
        """A variable that nothing else has."""
        self._variables += 1
        return f"{start}_{self._variables}"

    def kept(self, node: Node, value: str) -> str:
        """The value of a part in a variable: the one that has it already, or a new one."""
        if simple(value):
            return value
        key = self.numbering.of[id(node)]
        variable = self.block.known.get(key)
        if variable is None:
            variable = self.block.known[key] = self.variable("x")
            self.block.set(variable, value)
        return variable

    def apart(self, node: Node) -> tuple[Block, str]:
        """What a part comes to in a block of its own, which need not be run."""
        outer, self.block = self.block, self.block.inner()
        try:
            return self.block, self.write(node)
        finally:
            self.block = outer

    # -- what stands by itself -------------------------------------------------------------

    def _value(self, node: Node) -> Any:
        """The value of a part that the rule itself states; ``_NOT_CONSTANT`` for others."""
        if isinstance(node, nodes.Constant):
            return node.value
        if isinstance(node, nodes.Name) and node.name not in self.names:
            return self.constants[node.name]
        return _NOT_CONSTANT

    def _constant(self, node: nodes.Constant) -> str:
        return _literal(node.value)

    def _name(self, node: nodes.Name) -> str:
        if node.name in self.names:
            return self.names[node.name]
        value = self.constants[node.name]
        if not isinstance(value, tuple):
            return _literal(value)
        if len(value) <= _INLINE:
            return _listed(map(_literal, value))
        variable = "v_" + node.name
        self.globals[variable], self.needs[variable] = value, ("value", value)
        return variable

    def _item(self, node: nodes.Item) -> str:
        return self.items[node.slot]

    def _field(self, node: nodes.Field) -> str:
        return f"{self.write(node.of)}.{node.field}"

    def _stated(self, node: nodes.Stated) -> str:
        return f"(f_type({self.write(node.of)}.{node.field}) is not f_Missing)"

    def _listed(self, node: nodes.Listed) -> str:
        return _listed(map(self.write, node.items))

    # -- functions and look-ups ------------------------------------------------------------

    def _call(self, node: nodes.Call) -> str:
        through = items_of(node.arguments[0])
        if node.function in WAYS and through is not None:
            return loop(self, node.function, through)
        arguments = ", ".join(map(self.write, node.arguments))
        if node.function == "distinct":
            return f"(*f_unique({arguments}),)"
        return f"f_{'len' if node.function == 'count' else node.function}({arguments})"

    def _extreme(self, node: nodes.Extreme) -> str:
        name, parts = "max" if node.largest else "min", node.parts
        through = items_of(parts[0])
        if len(parts) == 1 and through is not None:
            return loop(self, name, through, node.rank)
        written = [self.write(part) for part in parts]
        spread = [isinstance(part.kind, List) for part in parts]
        if len(parts) == 2 and not any(spread):
            # Quicker than a call, and the same one where they are equal.
            first, second = map(self.kept, parts, written)
            a, b = (
                self._ranked(node.rank, parts[0], first),
                self._ranked(node.rank, parts[1], second),
            )
            return f"({second} if {b} {'>' if node.largest else '<'} {a} else {first})"
        key = f", key=f_{node.rank}.__getitem__" if node.rank else ""
        if len(parts) > 1 and any(spread):
            starred = ["*" * many + value for value, many in zip(written, spread, strict=True)]
            return f"f_{name}([{', '.join(starred)}]{key})"
        return f"f_{name}({', '.join(written)}{key})"

    def _lookup(self, node: nodes.Lookup) -> str:
        keys = [self.write(node.keys[place][1]) for place in node.order]
        wanted = keys[0] if len(keys) == 1 else _listed(keys)
        return self.kept(node, f"{self._table(node)}[{wanted}]")

    def _table(self, node: nodes.Lookup) -> str:
        """The global that looks up a column, or rows by some keys, of a table."""
        need = (
            ("cell", node.table, node.column) if node.column else ("rows", node.table, node.names)
        )
        variable = self._tables.get(need)
        if variable is None:
            variable = self._tables[need] = f"t_{len(self._tables)}"
            table = self.vocabulary.tables[node.table]
            get = table.getter(node.column) if node.column else table.rows_getter(node.names)
            self.globals[variable], self.needs[variable] = Memory(get), need
        return variable

    # -- operators -------------------------------------------------------------------------

    def _joined(self, node: nodes.Joined) -> str:
        return f"[*{self.write(node.left)}, *{self.write(node.right)}]"

    def _arithmetic(self, node: nodes.Arithmetic) -> str:
        left, right = self.write(node.left), self.write(node.right)
        if node.in_floats:
            left = f"(1.0 * {left})" if node.sign == "**" else f"1.0 * {left}"
        return f"({left} {node.sign} {right})"

    def _signed(self, node: nodes.Signed) -> str:
        return f"({'-' if node.minus else '+'}{self.write(node.of)})"

    def _not(self, node: nodes.Not) -> str:
        return f"(not {self.write(node.of)})"

    def _logic(self, node: nodes.Logic) -> str:
        return self.logic(node.either, node.parts)

    def logic(self, either: bool, parts: tuple[Node, ...]) -> str:
        """Flags joined, each looked at only where those before it leave it open."""
        ready = [self.write(parts[0])]
        for place, part in enumerate(parts[1:], start=2):
            block, value = self.apart(part)
            if block.lines:
                return self._rest(either, _flags(either, ready), block, value, parts[place:])
            if value != ("False" if either else "True"):
                ready.append(value)
        return _flags(either, ready)

    def _rest(
        self, either: bool, before: str, block: Block, value: str, following: tuple[Node, ...]
    ) -> str:
        """The rest of flags joined, of which the next one needs statements of its own."""
        found = self.variable("x")
        is_open = f"if {'not ' if either else ''}{found}:"
        self.block.set(found, before)
        block.set(found, value)
        if following:
            outer, self.block = self.block, block
            then = self.block = block.inner()
            then.set(found, self.logic(either, following))
            self.block = outer
            block.add(is_open, then)
        self.block.add(is_open, block)
        return found

    def _choice(self, node: nodes.Choice) -> str:
        test = self.write(node.test)
        (first, then), (second, otherwise) = self.apart(node.then), self.apart(node.otherwise)
        if not first.lines and not second.lines:
            return f"({then} if {test} else {otherwise})"
        found = self.variable("x")
        first.set(found, then)
        second.set(found, otherwise)
        self.block.add(f"if {test}:", first, second)
        return found

    def _comparison(self, node: nodes.Comparison) -> str:
        parts = []
        for place, relation in enumerate(node.relations):
            pair = node.operands[place : place + 2]
            left, right = map(self.write, pair)
            sign = relation.sign
            if relation.mode == TOLERANT:
                parts.append(self._tolerant(sign, *map(self.kept, pair, (left, right))))
            elif relation.mode == AMONG and not self._stated_here(*pair):
                found = f"f_in({left}, {right})"
                parts.append(found if sign == "in" else f"(not {found})")
            else:
                if relation.mode not in (EXACT, AMONG):
                    left = self._ranked(relation.mode, pair[0], left)
                    right = self._ranked(relation.mode, pair[1], right)
                parts.append(f"({left} {sign} {right})")
        return _flags(False, parts)

    def _stated_here(self, value: Node, among: Node) -> bool:
        """Whether the value or all that it is looked for among stands in the rule itself."""
        if isinstance(value, nodes.Constant):
            return True
        if isinstance(among, nodes.Listed):
            return all(isinstance(item, nodes.Constant) for item in among.items)
        listed = self._value(among)
        return isinstance(listed, tuple) and len(listed) <= _INLINE

    @staticmethod
    def _tolerant(sign: str, left: str, right: str) -> str:
        a, b = (right, left) if sign in (">", ">=") else (left, right)
        if sign in ("<=", ">="):
            return f"({left} {sign} {right} or f_le({a}, {b}))"
        if sign in ("<", ">"):
            return f"({left} {sign} {right} and f_lt({a}, {b}))"
        same = f"({left} == {right} or f_eq({left}, {right}))"
        return same if sign == "==" else f"(not {same})"

    def _ranked(self, rank: str, node: Node, written: str) -> str:
        """Where a size stands among its kind, found now where the size is written in the rule."""
        if not rank:
            return written
        value = self._value(node)
        known = value is not _NOT_CONSTANT and value in RANKS[rank]
        return _literal(RANKS[rank][value]) if known else f"f_{rank}[{written}]"

    def _comprehension(self, node: nodes.Comprehension) -> str:
        found = loop(self, "list", node)
        return f"(*f_unique({found}),)" if node.distinct else found


def _literal(value: Any) -> str:
    """A constant in Python; a negative one is more than a name."""
    text = repr(value)
    return f"({text})" if text.startswith("-") else text


def _listed(items: Iterable[str]) -> str:
    return f"({''.join(item + ', ' for item in items)})"


def _flags(either: bool, values: list[str]) -> str:
    word = " or " if either else " and "
    return values[0] if len(values) == 1 else f"({word.join(values)})"


_WAYS: dict[type[Node], Callable[[Emitter, Any], str]] = ways(Emitter)
