"""Attacks, by what carries them.  Nothing of it is to have any effect but a clean refusal."""

from __future__ import annotations

#: Expressions that reach for what is not theirs, or for more than anybody has.
EXPRESSIONS = [
    # attributes of Python
    "raceway.__class__", "raceway.__class__.__mro__", "raceway.__dict__", "raceway.__init__",
    "raceway.__slots__", "raceway.__reduce__()", "raceway.__getattribute__('id')",
    "raceway.node", "raceway.node.source", "assembly.node", "raceway.id.__len__()",
    "raceway.id.format(raceway)", "raceway.id.join(raceway.wires)", "'{0.__class__}'.format(1)",
    "'%s' % raceway", "raceway.method.upper()", "raceway.wires.append(1)",
    "raceway.wires.__iter__()", "''.__class__.__base__.__subclasses__()",
    "().__class__.__bases__[0]", "[].__class__", "(1).real", "1 .real", "raceway.length.real",
    "raceway.length.hex()", "(w for w in raceway.wires).gi_frame",
    "(w for w in raceway.wires).gi_code", "raceway._gaps", "raceway.wires.__class__",
    "assembly.raceways.sort()", "raceway.length.__class__",
    # names of Python
    "__builtins__", "__import__('os')", "__import__('os').system('touch owned')", "__name__",
    "__loader__", "__debug__", "open('owned', 'w')", "exec('1')", "eval('1')", "compile('1', '', '')",
    "globals()", "locals()", "vars()", "vars(raceway)", "dir(raceway)", "getattr(raceway, 'node')",
    "setattr(raceway, 'id', 1)", "delattr(raceway, 'id')", "type(raceway)", "object()", "super()",
    "input()", "print(1)", "breakpoint()", "help()", "exit()", "quit()", "id(raceway)",
    "hash(raceway)", "repr(raceway)", "str(raceway)", "bytes(9)", "bytearray(9)",
    "memoryview(b'')", "range(9)", "list(raceway.wires)", "map(abs, raceway.wires)",
    "sorted(raceway.wires)", "isinstance(raceway, object)", "callable(raceway)", "classmethod",
    "Exception", "NotImplemented", "Ellipsis", "...", "f_len", "f_type(raceway)", "f_Missing",
    "t_bores.area", "e", "a.raceways", "s_one", "v_longest", "rule", "copyright", "license",
    # syntax of Python
    "lambda: 1", "(lambda: 1)()", "(lambda x: x)(1)", "[*raceway.wires]", "max(*raceway.wires)",
    "count(**{'x': 1})", "{1: 2}", "{**raceway}", "{1, 2}", "{k: 1 for k in raceway.wires}",
    "(x := 1)", "(yield)", "(yield from raceway.wires)", "await raceway",
    "[x async for x in raceway.wires]", "f'{raceway}'", "f'{raceway.__class__}'", "raceway[0]",
    "raceway.wires[0]", "raceway.wires[0:1]", "raceway.wires[::-1]", "raceway.id[0]",
    "import os", "from os import system", "del raceway", "assert raceway", "raise Exception",
    "return 1", "pass", "global x", "x = 1", "raceway.length = 1", "raceway.length += 1",
    "1; 2", "if True: 1", "while True: 1", "for x in y: 1", "def f(): 1", "class C: pass",
    "with open('x'): 1", "try: 1", "match 1:", "@x", "print 1", "`id`", "$x", "?", "1 if 2",
    "raceway is assembly", "not raceway", "raceway and assembly", "-raceway", "+assembly", "~1",
    "1 @ 2", "1 // 2", "1 % 2", "1 << 2", "1 >> 2", "1 | 2", "1 & 2", "1 ^ 2", "1j", "b'x'",
    "None", "raceway == None", "stated(raceway)", "stated(1)", "stated(longest)",
    "first(raceway)", "count(raceway)", "sum(raceway.wires)", "max(raceway)", "joined(raceway)",
    "any(raceway.wires)", "sqrt(raceway.length)", "raceway + raceway", "raceway < assembly",
    "raceway.wires == raceway.wires", "'a' < 'b'", "'a' * 2", "raceway.wires * 2",
    "raceway.method * 2", "'a' + 'b'",
    # too much of it
    "9**9**9", "9**9**9**9", "2**2**2**2**2", "one**one", "raceway.length**3", "one**-1",
    "9" * 1900, "0." + "9" * 1900, "1e309", "1e999999", "0x" + "f" * 1900, "1_000_000",
    "'" + "x" * 1900 + "' * 2", "(" * 400 + "1" + ")" * 400, "[" * 400 + "1" + "]" * 400,
    "(" * 31 + "1" + ")" * 31, "-" * 1900 + "1", "not " * 400 + "one > 1", "1 + " * 480 + "1",
    "1 if one > 1 else " * 100 + "2", "one < " * 300 + "one", "max(" * 29 + "1" + ")" * 29,
    "x" * 2001, "raceway" + ".to" * 600, "one and " * 240 + "one",
    "sum(1 for a in raceway.wires for b in raceway.wires for c in raceway.wires "
    "for d in raceway.wires)",
    "sum(sum(sum(sum(1 for d in raceway.wires) for c in raceway.wires) for b in raceway.wires) "
    "for a in raceway.wires)",
    "sum(1 for a in assembly.raceways for b in assembly.raceways)",
    "sum(1 for a in assembly.raceways for b in a.wires for c in b.circuits for d in c.pulls "
    "for f in d.wires)",
    "sum(1 for a in " + "+".join(["raceway.wires"] * 70) + ")",
    "count([" + ",".join(["1"] * 70) + "])",
    "[" + ",".join(["1"] * 299) + "]",
    # letters that look like others, and letters that are not seen
    "racеway.length", "raceway.lеngth", "ｒaceway.length", "raceway．length", "ﬀ", "𝐨𝐧𝐞", "one​",
    "on\u202ee", "one\u00a0+ \ufeffone", "one\x1b[2J", "one\x07", "one\x00", "one\ud800",
    "one + '\x1b]0;owned\x07'", "'\u202egnp'", "one # hidden", "one \\", "one \\\n + one",
    "'\\x1b[2J'", "'\\N{BELL}'", "r'x'", "u'x'", "'''x'''", "'", '"', "'unclosed", "",
]  # fmt: skip

_LAUGHS = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{chr(98 + n)}: &{chr(98 + n)} [{', '.join(['*' + chr(97 + n)] * 9)}]\n" for n in range(20)
)

#: Files that are no file of any kind: the same for rules, amendments, designs and decisions.
FILES = {
    "billion laughs": _LAUGHS,
    "an alias of itself": "a: &a [*a]\n",
    "an alias of nothing": "a: *b\n",
    "an alias as a key": "a: &a x\n*a : 1\n",
    "a merge key": "a: &a {b: 1}\nc: {<<: *a}\n",
    "a merge of itself": "a: &a {<<: *a}\n",
    "a Python object": '!!python/object/apply:os.system ["touch owned"]\n',
    "a Python name": "a: !!python/name:os.system\n",
    "a Python module": "a: !!python/module:os\n",
    "a Python object by new": "a: !!python/object/new:os.system [echo]\n",
    "a binary": "a: !!binary aGVsbG8=\n",
    "a tag of its own": "a: !run echo\n",
    "a tag directive": "%TAG ! tag:example.invalid,2000:\n---\na: !x 1\n",
    "another YAML": "%YAML 9.9\n---\na: 1\n",
    "two documents": "a: 1\n---\nb: 2\n",
    "two documents, the first empty": "---\n---\na: 1\n",
    "deep brackets": "a: " + "[" * 20_000,
    "deep braces": "a: " + "{a: " * 20_000,
    "deep brackets, closed": "a: " + "[" * 300 + "]" * 300 + "\n",
    "deep blocks": "".join(" " * n + "a:\n" for n in range(300)),
    "deep dashes": "a:\n" + "- " * 3000 + "x\n",
    "many keys": "".join(f"titl{n}: 1\n" for n in range(60_000)),
    "many keys of one name": "title: x\n" * 60_000,
    "many empty keys": ": 1\n" * 2000,
    "a key of a million letters": "k" * 1_000_000 + ": 1\n",
    "a key of a list": "? [a, b]\n: 1\n",
    "a key of a mapping": "? {a: b}\n: 1\n",
    "a list": "- a\n- b\n",
    "a text": "hello\n",
    "a number": "12\n",
    "nothing": "",
    "blanks": "   \n\n  ",
    "remarks": "# nothing\n",
    "an end": "...\n",
    "a null": "~\n",
    "a NUL byte": "title: a\0b\n",
    "an escape": "title: a\x1b[2Jb\n",
    "a bell": "title: a\x07b\n",
    "a backspace": "title: a\x08b\n",
    "no UTF-8": "title: \udcff\udcfe\n",
    "half a character": "title: \udce2\udc82\n",
    "another encoding": "\udcff\udcfet\0i\0t\0l\0e\0",
    "a surrogate by escape": 'title: "\\ud800"\n',
    "tabs": "\ttitle: x\n",
    "quotes never closed": 'title: "x\n',
    "brackets never closed": "title: [x\n",
    "an anchor without a name": "title: & x\n",
    "a thousand anchors": "".join(f"k{n}: &a{n} x\n" for n in range(1000)),
    "a block never ended": "title: |99\n x\n",
    "a brace on its own": "}\n",
    "a directive": "%x\n",
    "a percent sign": "title: %x\n",
    "at signs": "title: @x\n",
    "colons": ":" * 5000 + "\n",
    "question marks": "? " * 5000 + "\n",
    "exclamation marks": "!" * 5000 + "\n",
    "ampersands and stars": "&a *a &b *b\n",
    "a web page": "<html><script>alert(1)</script></html>\n",
    "a shell script": "#!/bin/sh\nrm -rf \"$HOME\"\n",
}  # fmt: skip

RT = "    reason: r\n    reference: s\n"


def adding(
    each: str = "raceway",
    more: str = "",
    measure: str = "raceway.length",
    limit: str = "1 * raceway.length",
    name: str = "own",
    title: str = "t",
    message: str = "m",
) -> str:
    """An amendment's change that adds a rule."""
    return (
        f"  - reason: r\n    reference: s\n    add:\n      rule: {name}\n      title: {title}\n"
        f"      topic: t\n      each: {each}\n{more}"
        f'      judge: {{measure: "{measure}", limit: "{limit}", fail: {message}}}\n'
    )


def _steps(*expressions: str) -> str:
    return "      steps:\n" + "".join(
        f'        s{n}: {{is: "{text}"}}\n' for n, text in enumerate(expressions)
    )


_DOUBLED = _steps("[w.size for w in raceway.wires]", *[f"s{n} + s{n}" for n in range(150)])
_PRODUCTS = _steps(
    "[1 for a in raceway.wires for b in raceway.wires]", "[1 for a in s0 for b in s0]"
)

#: Changes of an amendment that have to be refused.
AMENDMENTS = {
    "lists doubled again and again": adding(more=_DOUBLED, measure="count(s150)", limit="2"),
    "products of products": adding(more=_PRODUCTS, measure="count(s1)", limit="2"),
    "twenty thousand steps": adding(more=_steps(*["1"] * 20_000)),
    "twenty thousand values": adding(
        more="      values:\n" + "".join(f"        v{n}: 1 ft\n" for n in range(20_000))
    ),
    "three hundred unknown units": adding(
        more="      values:\n" + "".join(f"        v{n}: 1 q{n}\n" for n in range(299))
    ),
    "a value of a hundred thousand letters": adding(
        more=f"      values: {{v: {{is: {'x' * 100_000}, as: text}}}}\n"
    ),
    "a value of a hundred thousand items": adding(
        more=f"      values: {{v: [{', '.join(['x'] * 100_000)}]}}\n"
    ),
    "a value with a huge exponent": adding(more="      values: {v: 1e999999999 ft}\n"),
    "a value with many digits": adding(more=f"      values: {{v: {'9' * 5000} ft}}\n"),
    "a value that divides by zero": adding(more="      values: {v: 1/0 ft}\n"),
    "a value of lists of lists": adding(more="      values: {v: [[[[a]]]]}\n"),
    "a unit that is an expression": adding(more="      values: {v: 1 in**9**9}\n"),
    "a unit that is a call": adding(more="      values: {v: 1 __import__('os')}\n"),
    "twenty thousand conditions": adding(
        more=f"      applies: [{', '.join(['1 > 0'] * 20_000)}]\n"
    ),
    "no class of element": adding(each="[]"),
    "a class that is not one": adding(each="[__class__]"),
    "a title of half a million letters": adding(title="t" * 500_000),
    "a message of half a million letters": adding(message="m" * 500_000),
    "a message with dunders": adding(message='"{raceway.__class__}"'),
    "a message with a format": adding(message='"{raceway.length!r:>1000000}"'),
    "a message with a width": adding(message='"{raceway.length:99999999999}"'),
    "a message with nothing": adding(message='"{}"'),
    "a message with braces in braces": adding(message='"{raceway.length:{raceway.length}}"'),
    "a message with a unit that is a call": adding(message='"{raceway.length as __import__(1)}"'),
    "a message with a thousand values": adding(message='"' + "{raceway.length}" * 200 + '"'),
    "a message that is turned around": adding(message='"\\u202egnp.exe"'),
    "a message with an escape": adding(message='"\\e[2J"'),
    "a title with a bell": adding(title='"\\a"'),
    "a rule with a name of line breaks": adding(name='"a\\nb"'),
    "a rule with a name of an escape": adding(name='"a\\e[2Jb"'),
    "a rule with a name of blanks": adding(name='"  "'),
    "a rule with a name that is a list": adding(name="[a]"),
    "a rule with an endless name": adding(name="a" * 10_000),
    "a step called __class__": adding(more="      steps: {__class__: {is: '1'}}\n"),
    "a step called e": adding(more="      steps: {e: {is: 'zzz'}}\n"),
    "a step called lambda": adding(more="      steps: {lambda: {is: '1'}}\n"),
    "a value called None": adding(more="      values: {None: 1 ft}\n"),
    "a value called f_len": adding(more="      values: {f_len: 1 zz}\n"),
    "a value with letters that look alike": adding(more="      values: {lеngth: 1 ft}\n"),
    "steps in a circle": adding(
        more=_steps("s1 + 1", "s0 + 1"), measure="s0 + s1", limit="2"
    ),
    "a case that is a text": "  - reason: r\n    reference: s\n    add: {rule: o, title: t, "
    "topic: t, each: raceway, judge: x}\n",
    "no case": "  - reason: r\n    reference: s\n    add: {rule: o, title: t, "
    "topic: t, each: raceway, judge: []}\n",
    "a thousand and one changes": "".join(
        f"  - rule: reach\n    narrow: one > {n}\n{RT}" for n in range(1001)
    ),
    "nine thousand unknown rules": "".join(
        f"  - rule: reac{n}\n    withdraw: true\n{RT}" for n in range(9000)
    ),
    "five hundred unknown rules": "".join(
        f"  - rule: reac{n}\n    withdraw: true\n{RT}" for n in range(500)
    ),
    "twenty thousand rows": "  - table: bores\n    reason: r\n    reference: s\n    add_rows:\n"
    + "".join(f"      - {{method: M{n}, size: 1/2, area: 1}}\n" for n in range(20_000)),
    "a row that is a list": f"  - table: bores\n    add_rows: [[EMT, 2, 1]]\n{RT}",
    "a row with a column of Python": "  - table: bores\n"
    f"    add_rows: [{{method: EMT, size: 2, __class__: 1}}]\n{RT}",
    "a cell that is infinite": "  - table: bores\n"
    f"    cells: [{{keys: {{method: EMT}}, set: {{area: inf}}}}]\n{RT}",
    "a cell that is no number": "  - table: bores\n"
    f"    cells: [{{keys: {{method: EMT}}, set: {{area: nan}}}}]\n{RT}",
    "a cell with a huge exponent": "  - table: bores\n"
    f"    cells: [{{keys: {{method: EMT}}, set: {{area: 1e999999999}}}}]\n{RT}",
    "a table called by a path": f"  - table: ../bores\n    cells: []\n{RT}",
    "a rule called by a path": f"  - rule: ../../etc/passwd\n    withdraw: true\n{RT}",
    "a set that is a list": f"  - rule: reach\n    set: [1, 2]\n{RT}",
    "a value set to a mapping": f"  - rule: reach\n    set: {{longest: {{is: 1 ft}}}}\n{RT}",
    "a value set to nothing": f"  - rule: reach\n    set: {{longest: }}\n{RT}",
    "a value set to Python": f"  - rule: reach\n    set: {{longest: __import__('os')}}\n{RT}",
    "a condition of Python": f"  - rule: reach\n    narrow: __import__('os')\n{RT}",
    "an exception of Python": f"  - rule: reach\n    exception: raceway.__class__\n{RT}",
    "a reason of half a million letters": "  - rule: reach\n    set: {longest: 1 ft}\n"
    f"    reason: {'r' * 500_000}\n    reference: s\n",
    "a reason with an escape": "  - rule: reach\n    set: {longest: 1 ft}\n"
    '    reason: "\\e]0;owned\\a"\n    reference: s\n',
    "a citation that is turned around": "  - rule: reach\n    set: {longest: 1 ft}\n"
    f'    cite: "\\u202e13 EDOC"\n{RT}',
    "a method that is markup": f"  - forbid: {{methods: ['<script>'], rule: x}}\n{RT}",
}  # fmt: skip

#: What stands before an amendment's changes, in place of ordinary lines.
HEADS = {
    "a path up": "builds_on: [../county.yaml]\n",
    "a path up, hidden": "builds_on: [sub/../../county.yaml]\n",
    "a path up, backwards": "builds_on: ['..\\county.yaml']\n",
    "an absolute path": "builds_on: [/etc/passwd]\n",
    "a path of the home folder": "builds_on: [~/.ssh/id_rsa]\n",
    "a drive": "builds_on: ['C:\\Windows\\win.ini']\n",
    "an address": "builds_on: ['https://example.invalid/a.yaml']\n",
    "an address of a file": "builds_on: ['file:///etc/passwd']\n",
    "a share": "builds_on: ['//example.invalid/a.yaml']\n",
    "itself": "builds_on: [county.yaml]\n",
    "itself, by another name": "builds_on: [./county.yaml]\n",
    "a folder": "builds_on: [rules]\n",
    "nothing": "builds_on: ['']\n",
    "a NUL": 'builds_on: ["a\\0b"]\n',
    "an escape": 'builds_on: ["a\\e[2J"]\n',
    "a link that leads out": "builds_on: [link.yaml]\n",
    "a pipe": "builds_on: [pipe.yaml]\n",
    "a long name": f"builds_on: [{'a' * 5000}.yaml]\n",
    "a term of everything": "terms: {'': x}\n",
    "a term of half a million letters": f"terms: {{a: {'x' * 500_000}}}\n",
    "a term that is not seen": 'terms: {a: "\\u200b"}\n',
    "a term that steers": 'terms: {authority having jurisdiction: "\\e[2J"}\n',
    "an edition of markup": "editions: ['<b>']\n",
    "an edition that steers": 'editions: ["\\e[2J"]\n',
    "a date of letters": "ends: tomorrow\n",
    "a date beyond all": "ends: 99999999999999999999-01-01\n",
    "a date of other digits": "ends: ２０２６-01-01\n",
    "a status of its own": "status: root\n",
    "a sample that is a bomb": "sample: " + "[" * 300 + "]" * 300 + "\n",
}  # fmt: skip

#: Replacements in the design, refused.
DESIGNS = {
    "a hundred million wires": ("size: 12 AWG}", "size: 12 AWG, count: 99999999}"),
    "wires without end": ("size: 12 AWG}", f"size: 12 AWG, count: {'9' * 5000}}}"),
    "a flood of wires beside a pull without any": (
        "wires: [{role: phase, size: 12 AWG}]}]",
        "wires: [{role: phase, size: 12 AWG, count: 100000}]}, "
        "{id: W2, circuit: P-1, through: [R1], wires: []}]",
    ),
    "floods of wires around a pull without any": (
        "wires: [{role: phase, size: 12 AWG}]}]",
        "wires: [{role: phase, size: 12 AWG, count: 1500}]}, "
        "{id: W2, circuit: P-1, through: [R1], wires: [{role: phase, size: 12 AWG, count: 900}]}, "
        "{id: W3, circuit: P-1, through: [R1], wires: []}, {id: W4, through: [R1], wires: null}]",
    ),
    "fewer wires than none": ("size: 12 AWG}", "size: 12 AWG, count: -1}"),
    "a length without end": ("10 ft", f"{'9' * 100_000} ft"),
    "a length with a huge exponent": ("10 ft", "1e999999999 ft"),
    "a length that is infinite": ("10 ft", "inf ft"),
    "a length that is no number": ("10 ft", "nan ft"),
    "a length that divides by zero": ("10 ft", "1/0 ft"),
    "a length of other digits": ("10 ft", "１０ ft"),
    "a length that is a call": ("10 ft", "__import__('os').system('x') ft"),
    "a unit with a huge power": ("10 ft", "1 ft**999999999"),
    "a unit of powers": ("10 ft", "1 m**9**9**9"),
    "a unit of many letters": ("10 ft", f"1 {'f' * 100_000}"),
    "a name of an escape": ("id: R1", 'id: "R\\e[2J1"'),
    "a name that is turned around": ("id: R1", 'id: "R\\u202e1"'),
    "a name of line breaks": ("id: R1", 'id: "R\\n1"'),
    "a name of half a million letters": ("id: R1", f"id: {'R' * 500_000}"),
    "a name that joins runs": ("id: R1", "id: R+1"),
    "a title of a million letters": ("Wall of trial", "x" * 1_000_000),
    "a path of an amendment that is none": ("title:", "basis: {amendments: [/etc/passwd]}\ntitle:"),
    "a path of a process": ("title:", "basis: {amendments: [/proc/self/environ]}\ntitle:"),
    "a path of a device": ("title:", "basis: {amendments: [/dev/zero]}\ntitle:"),
    "a path that is an address": (
        "title:", "basis: {amendments: ['https://example.invalid/a.yaml']}\ntitle:",
    ),
    "a path of a NUL": ("title:", 'basis: {amendments: ["a\\0.yaml"]}\ntitle:'),
    "a path of an escape": ("title:", 'basis: {amendments: ["a\\e[2J.yaml"]}\ntitle:'),
    "an edition of a path": ("title:", "basis: {edition: ../../nec-2023}\ntitle:"),
    "an edition that steers": ("title:", 'basis: {edition: "\\e[2J"}\ntitle:'),
    "a raceway from itself to nowhere": ("from: A, to: B", "from: __class__, to: B"),
    "five hundred unknown panels": (
        "circuits: [",
        "circuits: ["
        + "".join(f"{{id: c{n}, panel: p{n}, phases: [A], breaker: 20 A}}, " for n in range(500)),
    ),
    "a field that only follows": ("length: 10 ft", "length: 10 ft, current_carrying: 0"),
    "a field of Python": ("length: 10 ft", "length: 10 ft, __class__: x"),
    "a method of its own": ("method: EMT", "method: __class__"),
}  # fmt: skip

#: Decision files, refused.
_DECIDED = (
    "decisions_for: T\ndecisions:\n  - {{rule: raceway-fill, element: R1, disposition: accepted, "
    "measure: {measure}, date: {date}, authority: {{name: {name}, reference: b}}, person: p, "
    "role: r, reason: {reason}}}\n"
)


def decided(
    measure: str = "1 %", date: str = "2026-04-01", name: str = "a", reason: str = "r"
) -> str:
    """A decision file with one decision."""
    return _DECIDED.format(measure=measure, date=date, name=name, reason=reason)


DECISIONS = {
    "a measure with a huge exponent": decided(measure="1e999999999 %"),
    "a measure of Python": decided(measure="__import__('os')"),
    "a measure without end": decided(measure="9" * 100_000 + " %"),
    "a date of letters": decided(date="yesterday"),
    "a date that does not exist": decided(date="2026-02-30"),
    "a reason of half a million letters": decided(reason="r" * 500_000),
    "a reason that is nothing": decided(reason="''"),
    "an authority that is a list": decided(name="[a]"),
    "three million bytes": decided() + "#" * 3_000_000,
    "a disposition of its own": decided().replace("accepted", "withdrawn_from_memory"),
    "a key of Python": decided().replace("person: p", "__class__: p"),
}

#: Arguments of the command line, refused with status 2.
COMMANDS = {
    "a verb that steers": ["\x1b[2J"],
    "a verb of a path": ["../check"],
    "a verb of Python": ["__init__"],
    "a verb of a module": ["main"],
    "a file that is not there": ["check", "\x1b]0;owned\x07.yaml"],
    "a file of a NUL": ["check", "a\0b"],
    "a file of nothing": ["check", ""],
    "a file that is a device": ["check", "/dev/zero"],
    "a file that is a folder": ["check", "/"],
    "a file without end": ["check", "a" * 10_000],
    "an option that steers": ["check", "T.yaml", "--\x1b[2J"],
    "a form that steers": ["check", "T.yaml", "--format", "\x1b[2J"],
    "a form of a module": ["check", "T.yaml", "--format", "../../os"],
    "an edition of a path": ["check", "T.yaml", "--edition", "../../etc/passwd"],
    "an edition that steers": ["check", "T.yaml", "--edition", "\x1b[2J"],
    "a date that steers": ["check", "T.yaml", "--as-of", "\x1b[2J"],
    "a date without end": ["check", "T.yaml", "--as-of", "9" * 10_000],
    "an amendment that is a device": ["check", "T.yaml", "--amend", "/dev/zero"],
    "an amendment that is a design": ["check", "T.yaml", "--amend", "T.yaml"],
    "decisions that are a device": ["check", "T.yaml", "--decisions", "/dev/zero"],
    "decisions that are a design": ["check", "T.yaml", "--decisions", "T.yaml"],
    "an output that is a folder": ["check", "T.yaml", "--output", "/"],
    "an output of a NUL": ["check", "T.yaml", "--output", "a\0b"],
    "a rule that steers": ["explain", "T.yaml", "\x1b[2J", "R1"],
    "an element that steers": ["explain", "T.yaml", "raceway-fill", "\x1b[2J"],
    "a table that steers": ["tables", "show", "\x1b[2J"],
    "a table of a path": ["tables", "show", "../../etc/passwd"],
    "a rule of a path": ["rules", "show", "../../etc/passwd"],
    "tests of a device": ["rules", "test", "/dev/zero"],
    "tests of a folder that is not there": ["rules", "test", "/nowhere\x1b[2J"],
    "a report that is a design": ["verify", "T.yaml"],
    "a report that is a device": ["verify", "/dev/zero"],
    "a schema of a path": ["schema", "../report"],
    "a new thing of Python": ["new", "__class__", "x.yaml"],
    "a report of another ending": ["report", "T.yaml", "--output", "x.exe"],
}

#: Reports to verify, refused with status 2.
REPORTS = {
    "nothing": "",
    "deep brackets": "[" * 100_000,
    "deep braces": '{"a":' * 100_000,
    "a number without end": '{"version": ' + "9" * 100_000 + "}",
    "no number": '{"version": NaN}',
    "a list": "[]",
    "another format": '{"format": "other", "version": 1}',
    "a key twice": '{"format": "pullpoint-report", "format": "x"}',
    "no UTF-8": "\udcff\udcfe",
    "a page without a report": "<html><script>alert(1)</script></html>",
    "half a page": "<html><script type='application/json'>{",
    "a document without a report": "%PDF-1.7\n%%EOF\n",
    "a document that points at itself": "%PDF-1.7\n1 0 obj<</Type/Catalog/Names 1 0 R>>endobj\n%%EOF\n",
}
