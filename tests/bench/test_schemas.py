"""The published schemas: made from the records, and saying what the readers say."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from checker.assembly import from_document
from checker.assembly.records import CLASSES
from checker.documents.errors import InputError
from checker.documents.fields import fields_of, words_of
from checker.documents.loader import load
from checker.documents.plain import plain
from checker.documents.source import Source, read_source
from checker.findings import decision_records
from checker.rulebook import records
from checker.rulebook.reading import read_file
from checker.schemas import FILES, schema_path
from checker.schemas.generate import MADE, text_of
from checker.tables import loader, read_table

ROOT = Path(__file__).resolve().parents[2]
EVERY_RECORD = {
    **{r.__name__: r for r in CLASSES.values()},
    **records.RECORDS,
    **decision_records.RECORDS,
    **loader.RECORDS,
}
KIND_OF = {
    "assembly": "assembly",
    "rule": "rule",
    "examples_of": "examples",
    "shared": "shared",
    "amendment": "amendment",
    "edition": "edition",
    "decisions_for": "decisions",
    "table": "table",
}


@cache
def validator(name: str) -> Draft202012Validator:
    schema = json.loads(Path(schema_path(name)).read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def fits(name: str, source: Source) -> bool:
    return validator(name).is_valid(plain(load(source).root))


@pytest.mark.parametrize("name", MADE)
def test_files_are_what_the_records_say(name):
    """Where this fails: ``make schemas``."""
    assert Path(schema_path(name)).read_text(encoding="utf-8") == text_of(name)


@pytest.mark.parametrize("name", FILES)
def test_every_schema_is_one(name):
    schema = validator(name).schema
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["title"]


@pytest.mark.parametrize("record", EVERY_RECORD.values(), ids=EVERY_RECORD)
def test_every_field_says_what_it_is(record):
    assert words_of(record)
    lacking = [field.name for field in fields_of(record) if not field.doc.strip()]
    assert not lacking, f"{record.__name__} does not describe {', '.join(lacking)}"


def _files() -> list[Path]:
    found = sorted(ROOT.glob("samples/*.yaml")) + sorted(ROOT.glob("rules/*/*.yaml"))
    found += sorted(ROOT.glob("rules/amendments/**/*.yaml"))
    return list(dict.fromkeys(found)) + sorted(ROOT.glob("tables/*.yaml"))


@pytest.mark.parametrize("path", _files(), ids=lambda p: str(p.relative_to(ROOT)))
def test_every_file_of_ours_fits_and_names_its_schema(path):
    source = read_source(path)
    document = load(source)
    kind = KIND_OF[next(iter(document.root))]
    errors = [
        f"{'/'.join(map(str, e.absolute_path))}: {e.message[:200]}"
        for e in validator(kind).iter_errors(plain(document.root))
    ]
    assert errors == []
    first = source.text.split("\n", 1)[0]
    lead = "# yaml-language-server: $schema="
    assert first.startswith(lead), "the first line tells editors the schema"
    named = (path.parent / first.removeprefix(lead).strip()).resolve()
    assert named == Path(schema_path(kind)).resolve()


# -- the assembly's schema and its reader ---------------------------------------------------

BASE = """\
assembly: T-1
title: Trial
revision: B
quantity: 18
project: Tamarack Ridge Surgical Pavilion
basis:
  edition: nec-2023
  amendments: []
  permit_date: 2026-03-02
  authority: {name: Kestrel County Building Department, reference: ""}
  health_care: true
  ambient: 30 degC
  location: dry
defaults:
  wire: {material: copper, insulation: THHN}
  terminals: 75 degC
  free_conductor: 8 in
colors:
  - {system: 208Y/120, A: [black], neutral: white}
panels:
  - {id: P, branch: normal, system: 208Y/120}
circuits:
  - {id: P-1, panel: P, phases: [A], breaker: 20 A, load: 720 VA, continuous_load: 0 VA,
     outlets: several, nonlinear: false}
sections:
  - {id: S1, width: 6 ft, height: 9 ft}
spaces:
  - {id: bay, kind: patient_bed, category: 2}
boxes:
  - id: A
    section: S1
    space: bay
    kind: outlet
    trade_size: 4 x 2-1/8 square
    volume: 30.3 in³
    rings: [{volume: 3.5 in³}]
    gangs: 1
    devices: [{id: D, kind: receptacle, circuit: P-1, rating: 20 A, color: red}]
  - {id: B, kind: junction, at: [1 ft, 2 ft]}
raceways:
  - {id: R1, method: EMT, size: 3/4, from: A, to: B, length: 4 ft 2 in,
     bends: [{kind: bend, angle: 90 deg, radius: 4 in}], supports: [1 ft, 3 ft],
     path: [[0 in, 0 in], [0 in, 4 ft]]}
cables: []
pulls:
  - id: W1
    circuit: P-1
    through: [R1]
    wires: [{role: phase, phase: A, size: 12 AWG, color: black, count: 1, bare: false}]
"""

#: What to put in place of what, and whether the file is then still sound.
MUTATIONS: list[tuple[str, str, bool]] = [
    ("quantity: 18", "quantity: '18'", True),
    ("quantity: 18", "quantity: many", False),
    ("quantity: 18", "quantity: -1", False),
    ("quantity: 18", "quantity: 1.5", False),
    ("quantity: 18", "quantity: 12345678901", False),
    ("quantity: 18", "quantity:", True),
    ("quantity: 18", "quantity: [18]", False),
    ("quantity: 18", "quantites: 18", False),
    ("assembly: T-1", "assembly: 17", True),
    ("assembly: T-1", "assembly:", False),
    ("assembly: T-1\n", "", False),
    ("assembly: T-1", "assembly: T+1", False),
    ("assembly: T-1", "assembly: '   '", False),
    ("title: Trial", "title: 2026", True),
    ("title: Trial", "title: true", True),
    ("title: Trial", "title: {de: Wand}", False),
    ("title: Trial", "title: [Trial]", False),
    ("amendments: []", "amendments: county.yaml", True),
    ("amendments: []", "amendments: [county.yaml, {a: b}]", False),
    ("permit_date: 2026-03-02", "permit_date: 2024-02-29", True),
    ("permit_date: 2026-03-02", "permit_date: 2026-02-29", False),
    ("permit_date: 2026-03-02", "permit_date: 2000-02-29", True),
    ("permit_date: 2026-03-02", "permit_date: 1900-02-29", False),
    ("permit_date: 2026-03-02", "permit_date: 2026-04-31", False),
    ("permit_date: 2026-03-02", "permit_date: 2026-13-01", False),
    ("permit_date: 2026-03-02", "permit_date: 2.3.2026", False),
    ("permit_date: 2026-03-02", "permit_date: 0000-01-01", False),
    ("health_care: true", "health_care: yes", False),
    ("health_care: true", "health_care: 'true'", False),
    ("health_care: true", "health_care: True", True),
    ("health_care: true", "health_care: 1", False),
    ("ambient: 30 degC", "ambient: 86 degF", True),
    ("ambient: 30 degC", "ambient: 30", False),
    ("ambient: 30 degC", "ambient: 30 delta_degC", False),
    ("ambient: 30 degC", "ambient: 30 A", False),
    ("ambient: 30 degC", "ambient: -5 °C", True),
    ("location: dry", "location: moist", False),
    ("location: dry", "location: [dry]", False),
    ("free_conductor: 8 in", "free_conductor: 8'-6 1/2\"", True),
    ("free_conductor: 8 in", "free_conductor: 8 ft 6 in", True),
    ("free_conductor: 8 in", "free_conductor: 200 mm", True),
    ("free_conductor: 8 in", "free_conductor: 4-11/16 in", True),
    ("free_conductor: 8 in", "free_conductor: 4 11/16 in", True),
    ("free_conductor: 8 in", "free_conductor: 4½ in", True),
    ("free_conductor: 8 in", "free_conductor: .5 in", True),
    ("free_conductor: 8 in", "free_conductor: 5e1 mm", True),
    ("free_conductor: 8 in", "free_conductor: -8 in", False),
    ("free_conductor: 8 in", "free_conductor: -8 ft 2 in", False),
    ("free_conductor: 8 in", "free_conductor: +8 in", True),
    ("free_conductor: 8 in", "free_conductor: about 8 in", False),
    ("free_conductor: 8 in", "free_conductor: 8 inn", False),
    ("free_conductor: 8 in", "free_conductor: 8,5 in", False),
    ("free_conductor: 8 in", "free_conductor: [8 in]", False),
    ("system: 208Y/120, A", "system: 208/Y120, A", False),
    ("system: 208Y/120, A", "system: 240, A", True),
    ("neutral: white", "neutral: [white, gray]", True),
    ("neutral: white", "neutral: {a: b}", False),
    ("branch: normal", "branch: critcal", False),
    ("branch: normal", "branch: ~", True),
    ("phases: [A]", "phases: A", True),
    ("phases: [A]", "phases: [D]", False),
    ("phases: [A]", "phases: [A, ~]", False),
    ("breaker: 20 A", "breaker: 20", False),
    ("breaker: 20 A", "breaker: 20 VA", False),
    ("breaker: 20 A", "breaker: 0.02 kA", True),
    ("load: 720 VA, ", "load: 0.72 kVA, ", True),
    ("load: 720 VA, ", "lod: 720 VA, ", False),
    ("outlets: several", "outlets: 3", False),
    ("kind: patient_bed", "kind: bed", False),
    ("kind: patient_bed, ", "", False),
    ("trade_size: 4 x 2-1/8 square", "trade_size: 4 × 2-1/8 square", True),
    ("trade_size: 4 x 2-1/8 square", "trade_size: 4 square", False),
    ("trade_size: 4 x 2-1/8 square", "trade_size: 3 x 2 x 3-1/2 device", True),
    ("trade_size: 4 x 2-1/8 square", "trade_size: FS", True),
    ("trade_size: 4 x 2-1/8 square", "trade_size: 4 x 2-1/8 x 1 square", False),
    ("trade_size: 4 x 2-1/8 square", "trade_size: 4 x 2-1/8 sqare", False),
    ("volume: 30.3 in³", "volume: 30.3 in^3", True),
    ("volume: 30.3 in³", "volume: 30.3 in²", False),
    ("rings: [{volume: 3.5 in³}]", "rings: {volume: 3.5 in³}", True),
    ("rings: [{volume: 3.5 in³}]", "rings: 3.5 in³", False),
    ("rings: [{volume: 3.5 in³}]", "rings: [3.5 in³]", False),
    ("at: [1 ft, 2 ft]", "at: 1 ft", False),
    ("at: [1 ft, 2 ft]", "at: []", True),
    ("size: 3/4", "size: metric 21", True),
    ("size: 3/4", "size: 1 1/4", True),
    ("size: 3/4", "size: 1¼", True),
    ("size: 3/4", "size: ¾ in", True),
    ("size: 3/4", "size: ⅔", False),
    ("trade_size: 4 x 2-1/8 square", "trade_size: 4 x 2⅛ square", True),
    ("size: 3/4", "size: 1", True),
    ("size: 3/4", "size: 0.75", False),
    ("size: 3/4", "size: 21", False),
    ("size: 3/4", "size: 3/5", False),
    ("method: EMT", "method: EMTT", False),
    ("method: EMT", "method: emt", False),
    ("length: 4 ft 2 in", "length: 4 ft 2", False),
    ("length: 4 ft 2 in", "length: 4.5 ft 2 in", False),
    ("angle: 90 deg", "angle: 90°", True),
    ("angle: 90 deg", "angle: 90", False),
    ("supports: [1 ft, 3 ft]", "supports: []", True),
    ("supports: [1 ft, 3 ft]", "supports: 1 ft", False),
    ("path: [[0 in, 0 in], [0 in, 4 ft]]", "path: [0 in, 0 in]", False),
    ("circuit: P-1\n", "circuit: [P-1]\n", True),
    ("circuit: P-1\n", "circuit: {a: b}\n", False),
    ("through: [R1]", "through: R1", True),
    ("through: [R1]", "through:", False),
    ("size: 12 AWG", "size: 12", True),
    ("size: 12 AWG", "size: '#12'", True),
    ("size: 12 AWG", "size: 250 MCM", True),
    ("size: 12 AWG", "size: 4/0", True),
    ("size: 12 AWG", "size: 000", True),
    ("size: 12 AWG", "size: 5 AWG", False),
    ("size: 12 AWG", "size: 250 AWG", False),
    ("size: 12 AWG", "size: 12 kcmil", False),
    ("size: 12 AWG", "size: 13", False),
    ("role: phase, ", "", False),
    ("role: phase, ", "role: hot, ", False),
    ("cables: []", "cables: {id: K, method: AC, from: A, to: B}", True),
    ("cables: []", "cables: [~]", False),
    ("cables: []", "cables: AC", False),
    ("cables: []", "cables:", True),
    ("boxes:\n", "boxs:\n", False),
]  # fmt: skip

#: Where the two differ, and why that is right.
JUSTIFIED: list[tuple[str, str, bool, bool, str]] = [
    ("panel: P,", "panel: Q,", False, True, "names are resolved by the reader alone"),
    ("id: B,", "id: A,", False, True, "that names are unique is found by the reader alone"),
    ("through: [R1]", "through: []", False, True, "routes are walked by the reader alone"),
    ("free_conductor: 8 in", "free_conductor: 0.04 rod", True, False,
     "rare units are known to pint, not to a regular expression"),
    ("free_conductor: 8 in", "free_conductor: 4 3/0 in", False, True,
     "a regular expression does not divide"),
    ("free_conductor: 8 in", "free_conductor: 4 11/8 in", False, True,
     "a regular expression does not compare the parts of a fraction"),
    ("trade_size: 4 x 2-1/8 square", "trade_size: 4 x 2-1/32 square", False, True,
     "a regular expression does not compare fractions"),
    ("quantity: 18", "quantity: 18.0", False, True, "18.0 is a whole number to JSON Schema"),
    ("quantity: 18", "quantity: 0x12", False, True, "0x12 is a number to YAML"),
    ("assembly: T-1", "assembly: +1", False, True, "+1 is a number to YAML"),
    ("health_care: true", "health_care: TRUE", False, True, "TRUE is a flag to YAML"),
]  # fmt: skip


def _reads(source: Source) -> bool:
    try:
        from_document(load(source))
    except InputError:
        return False
    return True


def _mutant(old: str, new: str) -> Source:
    assert old in BASE
    return Source.of_text(BASE.replace(old, new, 1), "mutant.yaml")


def test_the_base_is_sound():
    source = Source.of_text(BASE, "base.yaml")
    assert _reads(source)
    assert fits("assembly", source)


@pytest.mark.parametrize(
    ("old", "new", "sound"), MUTATIONS, ids=[m[1].strip() or m[0] for m in MUTATIONS]
)
def test_the_schema_is_the_oracle_of_the_reader(old, new, sound):
    source = _mutant(old, new)
    assert (_reads(source), fits("assembly", source)) == (sound, sound)


@pytest.mark.parametrize(
    ("old", "new", "reads", "valid", "why"), JUSTIFIED, ids=[j[1] for j in JUSTIFIED]
)
def test_where_the_two_differ(old, new, reads, valid, why):
    source = _mutant(old, new)
    assert (_reads(source), fits("assembly", source)) == (reads, valid), why


# -- the schemas of the files of rule authors -----------------------------------------------

RULE = """\
rule: r
title: t
topic: t
each: raceway
applies: raceway.length > longest
values:
  longest: {is: 20 ft, cite: "31"}
  short: 4 ft
steps:
  a: raceway.length
measure: a
limit: longest
fail: "{a}"
fixes:
  steps:
    b: {is: raceway.length, unit: ft}
  all: "shorten"
cite: {any: X}
"""
RULES: list[tuple[str, str, bool]] = [
    ("each: raceway", "each: [raceway, cable]", True),
    ("each: raceway", "each: racewy", False),
    ("each: raceway", "each:", False),
    ("rule: r\n", "", False),
    ("applies: raceway.length > longest", "applies: [a, b]", True),
    ("applies: raceway.length > longest", "applies: {a: b}", False),
    ("applies: raceway.length > longest", "when: raceway.length > longest", False),
    ("short: 4 ft", "short: [a, b]", True),
    ("short: 4 ft", "short:", False),
    ("short: 4 ft", "short: {is: 4 ft, as: length}", False),
    ("short: 4 ft", "short: {was: 4 ft}", False),
    ("b: {is: raceway.length, unit: ft}", "b: {uni: ft}", False),
    ("measure: a", "measure: 1", True),
    ("measure: a", "measure: [a]", False),
    ("  a: raceway.length", "  a: {sum: {b: raceway.length, c: {is: x, when: y, cite: z}}}", True),
    ("  a: raceway.length", "  a: {sum: [b, c]}", False),
    ("  a: raceway.length", "  a: {cases: [{when: x, is: y}, {is: z}]}", True),
    ("  a: raceway.length", "  a: {cases: [{when: x}]}", False),
    ("  a: raceway.length", "  a: {worst: {w: w in pull.wires}, by: w.size}", True),
    ("  a: raceway.length", "  a: {worst: w, by: w.size}", False),
    ("steps:\n  a", "groups: {g: {of: w in pull.wires, where: w.bare}}\nsteps:\n  a", True),
    ("steps:\n  a", "groups: {g: {where: w.bare}}\nsteps:\n  a", False),
    ('fail: "{a}"', 'review: "{a}"\npass: x', True),
    ('fail: "{a}"', 'message: "{a}"', False),
    ('all: "shorten"', "all: [a, {when: b, say: c}]", True),
    ('all: "shorten"', "all: [{when: b}]", False),
    ("fixes:\n", "mend:\n", False),
    ("cite: {any: X}", "cite: X", False),
    ("cite: {any: X}", "cite: {any: X}\nstatus: old", False),
    ("cite: {any: X}", "cite: {any: X}\neffective: 2026-1-1", False),
    ("cite: {any: X}", "cite: {any: X}\nfails_as: review", False),
]
CHANGE = """\
amendment: a
title: t
jurisdiction: j
effective: 2026-01-01
reference: r
changes:
  - {rule: x, set: {v: 1 ft}, reason: r, reference: s}
"""
CHANGES: list[tuple[str, str, bool]] = [
    ("set: {v: 1 ft}", "withdraw: true", True),
    ("set: {v: 1 ft}", "withdraw: 'yes'", False),
    ("set: {v: 1 ft}", "exception: a > b", True),
    ("set: {v: 1 ft}", "exception: {when: a > b, note: n}", True),
    ("set: {v: 1 ft}", "exception: {note: n}", False),
    ("set: {v: 1 ft}", "set: {v: }", False),
    ("set: {v: 1 ft}", "sets: {v: 1 ft}", False),
    ("set: {v: 1 ft}", "applies: [a, b]", True),
    ("set: {v: 1 ft}", "cells: [{keys: {a: 1}, set: {b: 2}}]", True),
    ("set: {v: 1 ft}", "cells: [{keys: {a: 1}}]", False),
    ("set: {v: 1 ft}", "forbid: {methods: AC, rule: x}", True),
    ("set: {v: 1 ft}", "forbid: {methods: AC}", False),
    ("set: {v: 1 ft}", "forbid: AC", False),
    ("reason: r, ", "", False),
    ("reference: s", "reference: ~", False),
    ("effective: 2026-01-01", "effective: 2026-02-30", False),
    ("effective: 2026-01-01", "effective: 2026-01-01\nstatus: old", False),
    ("effective: 2026-01-01", "effective: 2026-01-01\nterms: {a: b}", True),
    ("jurisdiction: j\n", "", False),
]


def _file_reads(record: type, source: Source) -> bool:
    try:
        read_file(record, source, "a file")
    except InputError:
        return False
    return True


def _cases() -> list[Any]:
    return [
        pytest.param(
            name, record, base, old, new, sound, id=f"{name}: {new.strip() or old.strip()}"
        )
        for name, record, base, group in (
            ("rule", records.RuleFile, RULE, RULES),
            ("amendment", records.AmendmentFile, CHANGE, CHANGES),
        )
        for old, new, sound in group
    ]


@pytest.mark.parametrize(("name", "record", "base", "old", "new", "sound"), _cases())
def test_rule_and_amendment_readers_agree_with_their_schemas(name, record, base, old, new, sound):
    assert old in base
    source = Source.of_text(base.replace(old, new, 1), "mutant.yaml")
    assert (_file_reads(record, source), fits(name, source)) == (sound, sound)


TABLE = """\
table: demo
title: Demonstration
cite: {code-1: Code 1 X}
note: none
keys:
  insulation: {type: text, also: {THWN: THHN}}
  size: {type: wire_size}
columns:
  area: {unit: in², source: a book, checked: not checked}
  solid: {type: flag, source: a book, checked: not checked}
rows:
  - [THHN, 14 AWG, 0.0097, true]
  - [THHN, 12 AWG, ~, false]
"""
TABLES: list[tuple[str, str, bool]] = [
    ("title: Demonstration", "title: 2026", True),
    ("title: Demonstration", "title: ' '", False),
    ("title: Demonstration\n", "", False),
    ("note: none", "notes: none", False),
    ("cite: {code-1: Code 1 X}", "cite: Code 1", False),
    ("cite: {code-1: Code 1 X}", "cite: {}", False),
    ("  insulation:", "  Insulation:", False),
    ("  area:", "  area of it:", False),
    ("{type: text, also: {THWN: THHN}}", "text", False),
    ("{type: text, also: {THWN: THHN}}", "{type: text, also: THWN}", False),
    ("{type: wire_size}", "{type: wire_size, also: {a: b}}", False),
    ("{type: wire_size}", "{type: wire_size, unit: in}", False),
    ("{type: wire_size}", "{type: wire_size, match: from}", False),
    ("{type: wire_size}", "{type: wire_size, match: exact}", True),
    ("{type: wire_size}", "{type: wiresize}", False),
    ("{type: wire_size}", "{unit: in}", False),
    ("{unit: in², source", "{source", False),
    ("{unit: in², source", "{unit: in², type: number, source", True),
    ("{type: flag, source: a book", "{type: flag, unit: in, source: a book", False),
    ("{type: flag, source: a book, ", "{type: flag, ", False),
    ("{type: flag, source: a book, checked: not checked}", "[flag]", False),
    ("  - [THHN, 12 AWG, ~, false]", "  - THHN", False),
    ("  - [THHN, 12 AWG, ~, false]", "  - [THHN, 12 AWG, [1], false]", False),
    ("  - [THHN, 12 AWG, ~, false]", "rows_in: {code-1: [[THHN, 10 AWG, 1, true]]}", True),
    ("  - [THHN, 12 AWG, ~, false]", "rows_in: [[THHN, 10 AWG, 1, true]]", False),
    (TABLE[TABLE.index("rows:") :], "rows: []", False),
]


@pytest.mark.parametrize(("old", "new", "sound"), TABLES, ids=[t[1][:40] or t[0] for t in TABLES])
def test_the_reader_of_tables_agrees_with_its_schema(old, new, sound):
    assert old in TABLE
    source = Source.of_text(TABLE.replace(old, new, 1), "demo.yaml")
    try:
        read_table(source)
        reads = True
    except InputError:
        reads = False
    assert (reads, fits("table", source)) == (sound, sound)
