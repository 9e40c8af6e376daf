"""Expressions that mean harm, or that a generator of harm would write.  None may be accepted."""

from __future__ import annotations

ATTRIBUTES = [
    f"{base}.{name}"
    for base in ("raceway", "raceway.id", "raceway.wires", "limit_value", "assembly", "count")
    for name in (
        "__class__", "__dict__", "__init__", "__globals__", "__subclasses__", "__mro__", "__reduce__",
        "__getattribute__", "gi_frame", "f_globals", "node", "_places", "format", "mro", "func_code",
        "describe",
    )
]  # fmt: skip

CALLS = [
    f"{name}({argument})"
    for name in (
        "open", "exec", "eval", "compile", "__import__", "getattr", "setattr", "globals", "locals",
        "vars", "dir", "type", "object", "input", "breakpoint", "print", "memoryview", "super",
        "f_len", "f_type", "t_ampacity.ampacity", "chr", "bytes", "id", "hash", "range",
    )
    for argument in ("raceway", "'x'")
]  # fmt: skip

POWERS = [
    "2 ** 2 ** 2", "2 ** raceway.length", "1 ** 1000000000", "2 << 100000000", "1 >> 1",
    "raceway.length ** 1", "2 ** -2", "'a' * 2", "[1] * 2", "(1, 2) * 2", "'a' + 'b' * 2",
    "9 ** 9 ** 9", "limit_value ** limit_value", "1e308 * 1e308", "0x7fffffffffffffff",
    "1_000_000 * 2", "3", "1e999", "1j", "-3 ** 2", "True ** 2 ** 2",
]  # fmt: skip

CONSTRUCTS = [
    "lambda: 1", "(lambda x: x)(1)", "yield 1", "await raceway", "f'{raceway}'", "f'{raceway!r}'",
    "raceway['id']", "raceway.id[0]", "raceway.wires[0]", "raceway.id[:1]", "{'a': 1}", "{1, 2}",
    "{k: 1 for k in raceway.wires}", "[*raceway.wires]", "(x := 1)", "raceway.id if raceway",
    "raceway is raceway", "raceway.id is not None", "None", "...", "b'x'", "~1", "1 | 2", "1 & 2",
    "1 ^ 2", "1 @ 2", "1 // 2", "1 % 2", "not", "", "   ", "()", "[]", "raceway; raceway",
    "import os", "x = 1", "del raceway", "assert 1", "raise 1", "return 1", "pass", "while 1: pass",
    "for w in raceway.wires", "async for", "print raceway", "`ls`", "$HOME", "#", "\\", "'", '"',
    "'unfinished", "raceway..id", ".id", "raceway.", "count(raceway.wires", "count)raceway(",
    "count(*raceway.wires)", "count(**raceway)", "count(raceway.wires, key=1)", "max(key=1)",
    "sum(raceway.wires, start=1)", "any()", "all(1)", "first(1)", "count(1)", "joined(1)",
    "stated(1)", "stated(raceway)", "floor('a')", "sqrt(raceway.length)", "abs('a')",
    "ampacity", "ampacity.ampacity", "ampacity.ampacity()", "ampacity.ampacity(1, 2, 3)",
    "ampacity.__class__", "ampacity.rows(__class__=1)", "ampacity.getter(column='x')",
    "ampacity.table.rows", "raceway.wires.count", "raceway.wires.append(1)", "measure", "limit",
    "this.__class__.__base__", "assembly.basis.node", "assembly.node.source.path",
]  # fmt: skip

NESTING = [
    "(" * 40 + "1" + ")" * 40,
    "[" * 40 + "1" + "]" * 40,
    "count(" * 40 + "raceway.wires" + ")" * 40,
    "-" * 400 + "1",
    "not " * 400 + "True",
    "1 + " * 400 + "1",
    "1 if True else " * 200 + "1",
    "1 < " * 400 + "1",
    "a" * 3000,
    "1" * 3000,
    "'" + "a" * 3000 + "'",
    "any(any(any(any(w.bare for w in raceway.wires) for x in raceway.wires) "
    "for y in raceway.wires) for z in raceway.wires)",
    "sum(1 for a in assembly.pulls for b in assembly.pulls)",
    "any(any(w.bare for q in assembly.pulls for w in q.wires) for p in assembly.pulls)",
    "sum(count([x for x in assembly.raceways]) for r in assembly.raceways)",
    "[p for p in assembly.pulls if any(q.id == p.id for q in assembly.pulls)]",
]

TEXT = [
    "raceway.id == '\u202etxt.exe'  # \u202e",
    "raceway\u200d.id", "r\u0430ceway.id", "raceway.\u2170d", "\ufeffraceway.id",
    "raceway.id\x00", "\x1b[31mraceway.id", "raceway.id == \x1b", "１ + １", "raceway.length ≤ 1",
    "“raceway”", "raceway。id", "ｃount(raceway.wires)",
]  # fmt: skip

EVERY = [*ATTRIBUTES, *CALLS, *POWERS, *CONSTRUCTS, *NESTING, *TEXT]
