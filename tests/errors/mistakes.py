"""Mistakes that rule authors make: what is written, and what has to be said of it.

``now`` takes the place of ``was`` in the sound file of its kind; what the caret has to point at
stands between « and ».
"""

from __future__ import annotations

from dataclasses import dataclass

RULE = """\
rule: reach
title: A raceway is not longer than the shop may make it
topic: routing
each: raceway
at: length
applies:
  - raceway.method == 'EMT'
  - count(raceway.wires) > 0
values:
  longest: {is: 20 ft, cite: "31", note: invented}
  share: {is: 40 %, cite: "32", note: invented}
steps:
  wire_area:
    is: sum(wire_areas.area(insulation=w.insulation, size=w.size) for w in raceway.wires)
    unit: in²
    note: area of all conductors
  bore:
    is: bores.area(method=raceway.method, size=raceway.size)
    unit: in²
    note: area of the bore
  fill:
    is: wire_area / bore
    unit: "%"
    note: share of the bore that is taken up
judge:
  - when: fill > share
    measure: fill
    limit: share
    unit: "%"
    fail: "{raceway.id} is filled to {fill}; {share} is permitted"
  - measure: raceway.length
    limit: longest
    unit: ft
    fail: "{raceway.length} is longer than {longest}"
    fixes: "shorten it by {raceway.length - longest as in}"
cite: {any: CODE 31}
"""

EDITION = """\
edition: code-1
title: Code of trial
short: CODE 1
"""

EXAMPLES = """\
examples_of: reach
sample:
  assembly: X
  defaults: {wire: {material: copper, insulation: THHN}}
  panels: [{id: P, branch: normal, system: 208Y/120}]
  circuits: [{id: P-1, panel: P, phases: [A], breaker: 20 A}]
  boxes: [{id: A, kind: junction}, {id: B, kind: junction}]
  raceways: [{id: R1, method: EMT, size: 1/2, from: A, to: B, length: 10 ft}]
  pulls: [{id: W1, circuit: P-1, through: [R1], wires: [{role: phase, size: 12 AWG}]}]
examples:
  - name: ten feet
    on: R1
    expect: pass
    limit: 20 ft
    source: invented
  - {name: thirty feet, on: R1, set: {raceways.R1.length: 30 ft}, expect: fail}
"""

AMENDMENT = """\
amendment: county
title: Amendments of the county
jurisdiction: Kestrel County
effective: 2026-01-01
reference: Ordinance 12
changes:
  - rule: reach
    set: {longest: 10 ft}
    reason: short walls
    reference: § 3
"""

OTHER_AMENDMENT = """\
amendment: town
title: Amendments of the town
jurisdiction: Tamarack Ridge
effective: 2026-01-01
reference: Ordinance 2
changes:
  - rule: reach
    withdraw: true
    reason: not needed here
    reference: § 9
"""

TABLE = """\
table: bores
title: Areas of bores
cite: {any: CODE 9}
note: invented
keys:
  method: {type: text}
  size: {type: trade_size}
columns:
  area: {unit: in², source: invented, checked: not checked}
rows:
  - [EMT, 1/2, 0.3]
  - [EMT, 3/4, 0.5]
  - [PVC40, 1/2, 0.28]
"""

WIRE_TABLE = """\
table: wire_areas
title: Areas of wires
cite: {any: CODE 9}
note: invented
keys:
  insulation: {type: text}
  size: {type: wire_size}
columns:
  area: {unit: in², source: invented, checked: not checked}
rows:
  - [THHN, 12 AWG, 0.0133]
  - [THHN, 10 AWG, 0.0211]
"""


@dataclass(frozen=True, slots=True)
class Mistake:
    """A mistake.  kind: the file it is made in; says: words that the message has to have.

    count: how many problems are told; tested: whether `rules test` has to find it; stacked: whether
    the town's amendment is applied before.
    """

    name: str
    kind: str
    was: str
    now: str
    says: tuple[str, ...]
    count: int = 1
    tested: bool = False
    stacked: bool = False


def rule(name: str, was: str, now: str, *says: str, count: int = 1) -> Mistake:
    """A mistake in the rule file."""
    return Mistake(name, "rule", was, now, says, count)


def amendment(
    name: str, was: str, now: str, *says: str, count: int = 1, stacked: bool = False
) -> Mistake:
    """A mistake in the county's amendment."""
    return Mistake(name, "amendment", was, now, says, count, stacked=stacked)


_BORE = "bores.area(method=raceway.method, size=raceway.size)"
_FILL = "    is: wire_area / bore\n"
_SET = "    set: {longest: 10 ft}\n"
_CELL = "    table: bores\n    cells: [{keys: {method: EMT, size: 1/2}, set: {area: 0.2 in²}}]\n"
_RULE_SET = "rule: reach\n    set: {longest: 10 ft}\n"

KINDS = [
    rule(
        "a limit of another kind than the measure",
        "limit: longest",
        "limit: «share»",
        "not of the same kind",
        "`raceway.length` is a length",
        "`share` is a plain number",
        "a limit that is a length",
    ),
    rule(
        "a text compared with a length",
        "raceway.method == 'EMT'",
        "«raceway.length == 'EMT'»",
        "cannot compare",
        "`raceway.length` is a length",
        "`'EMT'` is text",
    ),
    rule(
        "a trade size compared with a length",
        "count(raceway.wires) > 0",
        "«raceway.size >= longest»",
        "`raceway.size` is a trade size",
        "`longest` is a length",
    ),
    rule(
        "an area added to a length",
        "fill:\n    is: wire_area / bore",
        "fill:\n    is: («wire_area + raceway.length») / bore",
        "cannot add",
        "`wire_area` is an area",
        "`raceway.length` is a length",
    ),
    rule(
        "a step written in a unit of another kind",
        'is: wire_area / bore\n    unit: "%"',
        "is: wire_area / bore\n    unit: «in»",
        "step `fill` cannot be written in in",
        "`wire_area / bore` is a plain number",
        "in is a unit of length",
    ),
    rule(
        "a measure written in a unit of another kind",
        "unit: ft",
        "unit: «A»",
        "the measure cannot be written in A",
        "A is a unit of current",
        "in, ft, mm or m",
    ),
    rule(
        "a value in a message written in a unit of another kind",
        "- longest as in}",
        "- longest as «A»}",
        "`raceway.length - longest` cannot be written in A",
        "it is a length",
    ),
    rule(
        "a key of a table given in the wrong kind",
        "size=raceway.size)\n",
        "size=«raceway.length»)\n",
        "key `size` of `bores` takes a trade size",
        "`raceway.length` is a length",
    ),
    rule(
        "a number where a yes or no is asked",
        "  - count(raceway.wires) > 0",
        "  - «count(raceway.wires)»",
        "takes a yes-or-no expression",
        "is a count",
        "count(raceway.wires) > 0",
    ),
    rule(
        "a list where a yes or no is asked",
        "count(raceway.wires) > 0",
        "raceway.method == 'EMT' and «raceway.wires»",
        "`and` takes yes-or-no values",
        "`raceway.wires` is a list of wire",
        "count(raceway.wires) > 0",
    ),
    rule(
        "a list gone through that is a length",
        "count(raceway.wires) > 0",
        "count(w for w in «raceway.length») > 0",
        "`for … in` goes through a collection",
        "`raceway.length` is a length",
        "raceway.wires",
    ),
    rule(
        "things counted that are one length",
        "count(raceway.wires) > 0",
        "count(«raceway.length») > 0",
        "`count` takes a collection",
        "`raceway.length` is a length",
    ),
    rule(
        "a field asked of a whole list",
        "count(raceway.wires) > 0",
        "«raceway.wires.size» == '12 AWG'",
        "a list of wire has no fields",
        "one item at a time",
    ),
    rule(
        "a yes or no compared with true",
        "count(raceway.wires) > 0",
        "any(w.bare == «true» for w in raceway.wires)",
        "nothing is compared with `true`",
        "not w.bare",
    ),
    rule(
        "a field compared with nothing",
        "count(raceway.wires) > 0",
        "raceway.length != «None»",
        "`None` means nothing here",
        "stated(element.field)",
    ),
]

NUMBERS = [
    rule(
        "a percentage written as a bare number",
        "share: {is: 40 %,",
        "share: {is: «40»,",
        "value `share` cannot be read",
        "40 % or 0.4 ratio",
        "nearest:  40 %",
    ),
    rule(
        "a limit without its unit",
        "longest: {is: 20 ft,",
        "longest: {is: «20»,",
        "value `longest` cannot be read",
        "24 in for a length",
        "nearest:  20 ft",
    ),
    rule(
        "a unit that does not exist",
        "longest: {is: 20 ft,",
        "longest: {is: «20 fett»,",
        "no unit is called `fett`",
        "nearest:  20 feet",
    ),
    rule(
        "a wire size taken for a number with a unit",
        "longest: {is: 20 ft,",
        "longest: {is: «13 AWG»,",
        "AWG is a wire size, not a unit",
    ),
    rule(
        "a unit of a step that does not exist",
        "unit: in²\n    note: area of the bore",
        "unit: «inn²»\n    note: area of the bore",
        "the unit of step `bore` is not known",
        "nearest:  in²",
    ),
    rule(
        "a unit of the measure that does not exist",
        "unit: ft",
        "unit: «feeet»",
        "the unit of the measure is not known",
        "nearest:  feet",
    ),
    rule(
        "a unit in a message that does not exist",
        "longest as in}",
        "longest as «inn»}",
        "this is not a unit",
        "nearest:  in",
    ),
    rule(
        "a number in an expression",
        "limit: longest",
        "limit: «24»",
        "a number without a name",
        "declare it under `values:`",
    ),
    rule(
        "a number with its unit in an expression",
        "limit: longest",
        "limit: «24 in»",
        "`24 in` is a number with a unit",
        "`longest: {is: 24 in, cite: …}`",
    ),
    rule(
        "feet and inches in an expression",
        "raceway.method == 'EMT'",
        "raceway.length > «20 ft» and raceway.method == 'EMT'",
        "`20 ft` is a number with a unit",
    ),
    rule(
        "a percentage in an expression",
        "when: fill > share",
        "when: fill > «40 %»",
        "`40 %` is a number with a unit",
        "values:",
    ),
    rule(
        "a wire size without quotes",
        "count(raceway.wires) > 0",
        "any(w.size > «12 AWG» for w in raceway.wires)",
        "`12 AWG` is a wire size, and stands in quotes",
        "nearest:  '12 AWG'",
    ),
    rule(
        "a trade size without quotes",
        "count(raceway.wires) > 0",
        "raceway.size >= «3/4»",
        "a trade size stands in quotes",
        "nearest:  '3/4'",
    ),
    rule(
        "a trade size that does not exist",
        "count(raceway.wires) > 0",
        "raceway.size >= «'7/8'»",
        "this is not a trade size",
        "nearest:  3/4",
    ),
    rule(
        "a power other than a square",
        _FILL,
        "    is: wire_area / bore «**» 3\n",
        "the only power is a square",
    ),
    rule(
        "a remainder",
        _FILL,
        "    is: wire_area «%» bore\n",
        "`%` is not part of the language",
        "a value with unit %",
    ),
]

NAMES = [
    rule(
        "a field misspelt",
        "raceway.length - longest",
        "raceway.«lenght» - longest",
        "a raceway has no field `lenght`",
        "nearest:  length",
    ),
    rule(
        "a field without its element",
        "  - measure: raceway.length",
        "  - measure: «length»",
        "`length` is a field of the raceway",
        "nearest:  raceway.length",
    ),
    rule(
        "a field that is also a word of the language",
        "count(raceway.wires) > 0",
        "raceway.«from» == 'B1'",
        "the field `from` is written with `_` after it",
        "nearest:  from_",
    ),
    rule(
        "a step misspelt",
        "measure: fill",
        "measure: «fil»",
        "nothing here is called `fil`",
        "nearest:  fill",
    ),
    rule(
        "a step that is defined further down",
        "is: sum(",
        "is: 2 * «fill» * sum(",
        "step `fill` is defined further down",
        "`fill` above this one",
    ),
    rule(
        "a step that is calculated from itself",
        _FILL,
        "    is: wire_area / bore + «fill»\n",
        "step `fill` is calculated from itself",
    ),
    rule(
        "a condition that needs a step",
        "count(raceway.wires) > 0",
        "«fill» > 0",
        "`fill` is a step, and conditions are looked at before any step",
        "under `judge:`",
    ),
    rule(
        "a step never used",
        "  fill:\n",
        "  «spare»:\n    is: bore - wire_area\n    unit: in²\n  fill:\n",
        "step `spare` of rule reach is never used",
    ),
    rule(
        "a value never used",
        "  share: {",
        '  «shortest»: {is: 1 ft, cite: "31"}\n  share: {',
        "value `shortest` of rule reach is never used",
    ),
    rule(
        "a step called like a field",
        "  fill:\n",
        "  «angle»:\n    is: bore\n  fill:\n",
        "`angle` cannot be a name here",
        "it is also a field of raceway",
    ),
    rule(
        "a step called like a table",
        "  fill:\n",
        "  «bores»:\n    is: wire_area\n  fill:\n",
        "`bores` cannot be a name here",
        "a table",
    ),
    rule(
        "a value and a step of one name",
        "  fill:\n",
        "  «share»:\n    is: bore\n  fill:\n",
        "`share` cannot be a name here",
        "called so already",
    ),
    rule(
        "a name with a hyphen",
        "  fill:\n",
        "  «bore-area»:\n    is: bore\n  fill:\n",
        "letters, digits and _",
    ),
    rule(
        "another element than the rule's own",
        "count(raceway.wires) > 0",
        "count(«box».wires) > 0",
        "this rule looks at one raceway at a time",
        "assembly.boxes",
    ),
    rule(
        "an element in capitals",
        "count(raceway.wires) > 0",
        "count(«Raceway».wires) > 0",
        "nothing here is called `Raceway`",
        "nearest:  raceway",
    ),
    rule(
        "a table misspelt",
        _BORE,
        "«bors».area(method=raceway.method, size=raceway.size)",
        "there is no table `bors`",
        "nearest:  bores",
    ),
    rule(
        "a column misspelt",
        _BORE,
        "bores.«aera»(method=raceway.method, size=raceway.size)",
        "table `bores` has no column `aera`",
        "nearest:  area",
    ),
    rule(
        "a key of a table left out",
        _BORE,
        "«bores.area(method=raceway.method)»",
        "the look-up in `bores` lacks `size`",
        "bores.area(method=…, size=…)",
    ),
    rule(
        "a key of a table misspelt",
        _BORE,
        "bores.area(«methd»=raceway.method, size=raceway.size)",
        "table `bores` has no key `methd`",
        "nearest:  method",
    ),
    rule(
        "keys of a table without their names",
        _BORE,
        "bores.area(«raceway.method», raceway.size)",
        "the keys of `bores` are given by name",
        "bores.area(method=…, size=…)",
        count=2,
    ),
    rule(
        "a table without a look-up",
        _BORE,
        "«bores»",
        "`bores` is a table; look something up in it",
        "bores.rows()",
    ),
    rule(
        "a text that the field never is",
        "raceway.method == 'EMT'",
        "raceway.method == «'EMTT'»",
        "`raceway.method` is never 'EMTT'",
        "nearest:  EMT",
    ),
    rule(
        "a text without quotes",
        "raceway.method == 'EMT'",
        "raceway.method == «EMT»",
        "`EMT` is a text, and texts stand in quotes",
        "nearest:  'EMT'",
    ),
    rule(
        "a function of a spreadsheet",
        _FILL,
        "    is: «IF»(bore > 0, wire_area / bore, 0)\n",
        "there is no function `IF`",
        "`a if condition else b`",
    ),
    rule(
        "a function misspelt",
        "count(raceway.wires) > 0",
        "«cuont»(raceway.wires) > 0",
        "there is no function `cuont`",
        "nearest:  count",
    ),
    rule(
        "a place that no file states",
        "at: length",
        "at: «lenght»",
        "`at:` of rule reach is no field that a file states",
        "a field of raceway",
        "nearest:  length",
    ),
    rule(
        "a class of element that does not exist",
        "each: raceway",
        "each: «raceways»",
        "`each` cannot be read",
        "one of assembly, panel",
        "nearest:  raceway",
    ),
]

SIGNS = [
    rule(
        "one equals sign",
        "raceway.method == 'EMT'",
        "raceway.method «=» 'EMT'",
        "equal is written `==`",
        "nearest:  ==",
    ),
    rule(
        "AND in capitals",
        "count(raceway.wires) > 0",
        "raceway.length > 0 «AND» count(raceway.wires) > 0",
        "`and` is written in small letters",
        "nearest:  and",
    ),
    rule(
        "&& for and",
        "count(raceway.wires) > 0",
        "raceway.length > 0 «&&» count(raceway.wires) > 0",
        "this is written `and`",
    ),
    rule(
        "an exclamation mark for not",
        "count(raceway.wires) > 0",
        "«!»stated(raceway.length)",
        "a value cannot start with `!`",
        "`not …` in an expression",
    ),
    rule(
        "the sign ≥",
        "count(raceway.wires) > 0",
        "count(raceway.wires) «≥» 1",
        "write `>=`",
        "nearest:  >=",
    ),
    rule(
        "the sign => for at least",
        "count(raceway.wires) > 0",
        "count(raceway.wires) «=>» 1",
        "this is written `>=`",
    ),
    rule(
        "the sign <> for unequal",
        "count(raceway.wires) > 0",
        "count(raceway.wires) «<>» 0",
        "this is written `!=`",
    ),
    rule(
        "the sign × for times",
        _FILL,
        "    is: wire_area «×» bore\n",
        "write `*`",
        "nearest:  *",
    ),
    rule(
        "the sign ^ for a square",
        _FILL,
        "    is: wire_area «^» 2 / bore\n",
        "squares are written x ** 2",
    ),
    rule(
        "curly quotation marks",
        "raceway.method == 'EMT'",
        "raceway.method == «“»EMT”",
        "this quotation mark is not one that is read here",
        "straight quotes",
    ),
    rule(
        "a quotation mark never closed",
        "raceway.method == 'EMT'",
        "raceway.method == «'»EMT",
        "a quotation mark that is never closed",
    ),
    rule(
        "if … then",
        _FILL,
        "    is: wire_area / bore if bore > 0 «then» 1\n",
        "there is no `then`",
        "`a if condition else b`",
    ),
    rule(
        "if at the beginning",
        _FILL,
        "    is: «if» bore > 0 wire_area / bore\n",
        "`if` stands after the first choice",
        "`a if condition else b`",
    ),
    rule(
        "if without else",
        _FILL,
        "    is: wire_area / bore «if» bore > 0\n",
        "`if` lacks its `else`",
        "`a if condition else b`",
    ),
    rule(
        "a bracket never closed",
        _FILL,
        "    is: «(»wire_area / bore\n",
        "a bracket that is never closed",
    ),
    rule(
        "a bracket never opened",
        _FILL,
        "    is: wire_area / bore«)»\n",
        "a bracket is closed that was never opened",
    ),
    rule(
        "nothing between two values",
        _FILL,
        "    is: wire_area «bore»\n",
        "nothing stands between `wire_area` and `bore`",
    ),
    rule(
        "nothing after a sign",
        _FILL,
        "    is: bore + wire_area «/»\n",
        "nothing follows `/`",
    ),
    rule(
        "one item picked out of a list",
        "count(raceway.wires) > 0",
        "«raceway.wires[0]».bare",
        "`[…]` picks nothing here",
        "first(…)",
    ),
    rule(
        "an empty step",
        _FILL,
        "    «is»:\n",
        "`is` is empty",
        "an expression",
    ),
    rule(
        "a brace never closed in a message",
        '"{raceway.id} is filled',
        '"«{»raceway.id is filled',
        "a brace that is never closed",
        "{raceway.id}",
    ),
    rule(
        "a brace never opened in a message",
        '"{raceway.id} is filled',
        '"raceway.id«}» is filled',
        "a closing brace without an opening one",
    ),
    rule(
        "a message that starts with a brace and has no quotes",
        'fail: "{raceway.length} is longer than {longest}"',
        "fail: «{»raceway.length} is longer than {longest}",
        "a text that starts with a brace stands in quotes",
    ),
]

FORM = [
    rule(
        "a colon left out",
        "  - measure: raceway.length",
        "  - measure« »raceway.length",
        "a colon is missing after `measure`",
        "nearest:  measure: raceway.length",
    ),
    rule(
        "no space after a colon",
        "  - measure: raceway.length",
        "  - measure«:»raceway.length",
        "a space is missing after this colon",
        "nearest:  measure: raceway.length",
    ),
    rule(
        "a tab for indentation",
        "    limit: longest",
        "«\t»limit: longest",
        "a tab where only spaces may be",
    ),
    rule(
        "a line indented too little",
        "    limit: longest",
        "   «l»imit: longest",
        "this line is not indented like the lines it belongs to",
        "3 spaces before",
    ),
    rule(
        "a line indented too much",
        "    limit: longest",
        "      «l»imit: longest",
        "this line is not indented like the lines it belongs to",
        "6 spaces before",
    ),
    rule(
        "a key twice",
        "    limit: longest\n",
        "    limit: longest\n    «limit»: share\n",
        "the key `limit` is here twice",
        "first on line 32",
    ),
    rule(
        "a key misspelt",
        "topic: routing",
        "«topik»: routing",
        "unknown key `topik` in a rule file",
        "nearest:  topic",
    ),
    rule(
        "a key that no rule has",
        "topic: routing",
        "topic: routing\n«severity»: high",
        "unknown key `severity` in a rule file",
        "fixes",
    ),
    rule(
        "no limit",
        "  - measure: raceway.length\n    limit: longest\n",
        "  - «m»easure: raceway.length\n",
        "an item of `judge` lacks `limit`",
        "`limit:` with an expression",
        count=1,
    ),
    rule(
        "nothing cited",
        RULE,
        "«r»" + RULE[1:].replace("cite: {any: CODE 31}\n", ""),
        "rule reach cites nothing",
    ),
    rule(
        "a case that can never decide",
        "  - when: fill > share\n    measure: fill",
        "  - measure: «f»ill",
        "the cases after this one can never decide",
        "`when:` here",
    ),
    rule(
        "a condition on the last case",
        "  - measure: raceway.length",
        "  - when: «f»ill < share\n    measure: raceway.length",
        "some elements would not be judged",
    ),
    rule(
        "a key of an earlier form",
        "cite: {any",
        "«fails_as»: review\ncite: {any",
        "`fails_as:` is written otherwise now",
        "`review:`, `open:` or `inform:` in place of `fail:`",
    ),
    rule(
        "a date written in words",
        "cite: {any",
        "effective: «1 July 2026»\ncite: {any",
        "a date written YYYY-MM-DD",
        "nearest:  2026-07-01",
    ),
    rule(
        "a date that does not exist",
        "cite: {any",
        "effective: «2026-02-30»\ncite: {any",
        "a date written YYYY-MM-DD",
    ),
    Mistake(
        "an edition without its short name",
        "edition",
        "edition: code-1\ntitle: Code of trial\nshort: CODE 1\n",
        "«e»dition: code-1\ntitle: Code of trial\n",
        ("lacks `short`", "`short:` with text"),
    ),
]

EXAMPLE_MISTAKES = [
    Mistake(
        "an example that contradicts its rule",
        "examples",
        "    expect: pass\n",
        "    expect: fail\n",
        ("DIFFERS ten feet", "reach.examples.yaml:11", "expected fail, got pass"),
        tested=True,
    ),
    Mistake(
        "an example with another limit than the rule's",
        "examples",
        "limit: 20 ft",
        "limit: 15 ft",
        ("limit: expected 15 ft, got 20 ft",),
        tested=True,
    ),
    Mistake(
        "an example of an element that the sample lacks",
        "examples",
        "  - name: ten feet\n    on: R1",
        "  - name: ten feet\n    on: R2",
        ("the sample has no raceway `R2`", "nearest: R1"),
        tested=True,
    ),
    Mistake(
        "an example that changes what the sample lacks",
        "examples",
        "raceways.R1.length: 30 ft",
        "raceway.R1.length: 30 ft",
        ("the sample has no `raceway.R1.length`", "nearest: raceways"),
        tested=True,
    ),
    Mistake(
        "an example that expects an unknown kind",
        "examples",
        "expect: pass",
        "expect: «ok»",
        ("`expect` cannot be read", "one of pass, fail, review"),
    ),
    Mistake(
        "an example that expects nothing",
        "examples",
        "  - name: ten feet\n    on: R1\n    expect: pass\n",
        "  - «n»ame: ten feet\n    on: R1\n",
        ("lacks `expect`",),
    ),
]

AMENDING = [
    amendment(
        "a value amended to another dimension",
        "longest: 10 ft",
        "longest: «20 A»",
        "the new `longest` of reach is not of the same kind",
        "`20 A` is a current",
        "a length, as `20 ft` was (rules/routing/reach.yaml:10)",
    ),
    amendment(
        "an amended value without its unit",
        "longest: 10 ft",
        "longest: «10»",
        "the new `longest` of reach cannot be read",
        "a length with a unit, as `20 ft` was",
        "nearest:  10 ft",
    ),
    amendment(
        "an amended rule that does not exist",
        "rule: reach",
        "rule: «reech»",
        "there is no rule `reech`",
        "nearest:  reach",
    ),
    amendment(
        "an amended value that does not exist",
        "longest: 10 ft",
        "«longst»: 10 ft",
        "rule reach has no value `longst`",
        "nearest:  longest",
    ),
    amendment(
        "a step amended like a value",
        "longest: 10 ft",
        "«fill»: 10 %",
        "rule reach has no value `fill`",
        "one of longest, share",
    ),
    amendment(
        "a rule amended that another amendment withdrew",
        "rule: reach",
        "rule: «reach»",
        "there is no rule `reach` any more: amendment town withdrew it",
        stacked=True,
    ),
    amendment(
        "an amended table that does not exist",
        _RULE_SET,
        "table: «bors»\n    cells: [{keys: {method: EMT}, set: {area: 1 in²}}]\n",
        "there is no table `bors`",
        "nearest:  bores",
    ),
    amendment(
        "an amended shared sheet that does not exist",
        _RULE_SET,
        "shared: «lengths»\n    set: {longest: 1 ft}\n",
        "there is no shared sheet `lengths`",
        "`rule:` with the rule to change",
    ),
    amendment(
        "an amended column that does not exist",
        _RULE_SET,
        "table: bores\n    cells: [{keys: {method: EMT}, set: {«aera»: 1 in²}}]\n",
        "table bores has no column `aera`",
        "nearest:  area",
    ),
    amendment(
        "an amended key that does not exist",
        _RULE_SET,
        "table: bores\n    cells: [{keys: {«methd»: EMT}, set: {area: 1 in²}}]\n",
        "table bores has no key `methd`",
        "nearest:  method",
    ),
    amendment(
        "an amended row that does not exist",
        _RULE_SET,
        "table: bores\n    cells: [{keys: «{»method: EMT, size: 2}, set: {area: 1 in²}}]\n",
        "table bores has no row `EMT, 2`",
        "EMT, 1/2; EMT, 3/4",
    ),
    amendment(
        "a cell amended in a unit of another kind",
        _RULE_SET,
        "table: bores\n    cells: [{keys: {method: EMT}, set: {area: «1 in»}}]\n",
        "a value for table bores cannot be read",
        "a unit of area",
        "not of length",
    ),
    amendment(
        "a row added without one of its keys",
        _RULE_SET,
        "table: bores\n    add_rows: [«{»method: EMT, area: 1 in²}]\n",
        "a row added to table bores lacks size",
        "method, size",
    ),
    amendment(
        "a cell amended in a rule",
        _SET,
        "    «cells»: [{keys: {method: EMT}, set: {area: 1 in²}}]\n",
        "`cells` changes a table, not a rule",
        "`table:` with its name",
    ),
    amendment(
        "a change that does not say of what",
        _RULE_SET,
        "«set»: {longest: 10 ft}\n",
        "`set` does not say which rule it changes",
    ),
    amendment(
        "a change that changes nothing",
        "- " + _RULE_SET,
        "- «r»ule: reach\n",
        "this change changes nothing",
    ),
    amendment(
        "a rule withdrawn and changed at once",
        _SET,
        "    withdraw: true\n    «set»: {longest: 10 ft}\n",
        "`withdraw` leaves nothing for `set` to change",
    ),
    amendment(
        "a change without a reason",
        "  - rule: reach\n    set: {longest: 10 ft}\n    reason: short walls\n",
        "  - «r»ule: reach\n    set: {longest: 10 ft}\n",
        "lacks `reason`",
    ),
    amendment(
        "a condition with a number in it",
        _SET,
        "    narrow: raceway.length > «10 ft»\n",
        "`10 ft` is a number with a unit",
    ),
    amendment(
        "a wiring method that does not exist",
        _RULE_SET,
        "forbid: {methods: [«FMCC»], rule: no-flex}\n",
        "no raceway or cable has the method `FMCC`",
        "nearest:  FMC",
    ),
    amendment(
        "an added rule with an id that is taken",
        _RULE_SET,
        "forbid: {methods: [FMC], rule: «reach»}\n",
        "there is a rule `reach` already",
        "another id",
    ),
    amendment(
        "an amendment superseded that is not applied",
        _SET,
        "    set: {longest: 10 ft}\n    supersedes: «town»\n",
        "there is no amendment `town` among those applied",
        "builds_on:",
    ),
    amendment(
        "an amendment without its date",
        "amendment: county\ntitle: Amendments of the county\njurisdiction: Kestrel County\n"
        "effective: 2026-01-01\n",
        "«a»mendment: county\ntitle: Amendments of the county\njurisdiction: Kestrel County\n",
        "an amendment file lacks `effective`",
        "a date written YYYY-MM-DD",
    ),
    amendment(
        "a date with its parts in another order",
        "effective: 2026-01-01",
        "effective: «01/07/2026»",
        "a date written YYYY-MM-DD",
    ),
    amendment(
        "an amendment that ends before it begins",
        "changes:",
        "ends: «2025-01-01»\nchanges:",
        "amendment county ends before it begins",
    ),
    amendment(
        "an edition to amend that does not exist",
        "changes:",
        "editions: [«code-9»]\nchanges:",
        "there is no edition `code-9` to amend",
        "nearest:  code-1",
    ),
    amendment(
        "an amendment to build on that is not there",
        "changes:",
        "builds_on: [«twon.yaml»]\nchanges:",
        "the amendment to build on cannot be read: no such file",
        "nearest:  town.yaml",
    ),
]

TABLES = [
    Mistake(
        "a row with a cell too few",
        "table",
        "[EMT, 3/4, 0.5]",
        "«[»EMT, 3/4]",
        ("3 cells",),
    ),
    Mistake(
        "a row twice",
        "table",
        "[EMT, 3/4, 0.5]",
        "[«EMT», 1/2, 0.5]",
        ("EMT, 1/2",),
    ),
    Mistake(
        "a cell that is no number",
        "table",
        "[EMT, 3/4, 0.5]",
        "[EMT, 3/4, «none»]",
        ("not a value of `area`",),
    ),
    Mistake(
        "a column without its source",
        "table",
        "area: {unit: in², source: invented,",
        "area: «{»unit: in²,",
        ("`area` lacks `source`", "where its values come from"),
    ),
    Mistake(
        "a unit of a column that does not exist",
        "table",
        "unit: in²",
        "unit: «inn²»",
        ("no unit is called `inn²`", "nearest:  in²"),
    ),
]

GROUPS = {
    "Kinds of value": KINDS,
    "Numbers and units": NUMBERS,
    "Names": NAMES,
    "Signs and words": SIGNS,
    "The form of the file": FORM,
    "Examples": EXAMPLE_MISTAKES,
    "Amendments": AMENDING,
    "Tables": TABLES,
}
