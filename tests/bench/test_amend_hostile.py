"""Amendments that mean harm: they are refused, soon, and with a message."""

from __future__ import annotations

import time

import pytest
from trial import HEAD

from checker.cli.main import guarded
from checker.documents.errors import InputError
from checker.rulebook.amend_conditions import MOST_WIDENED

REST = "reason: r, reference: s}\n"


@pytest.mark.parametrize(
    "condition",
    [
        "__import__('os').system('true')",
        "raceway.__class__",
        "raceway.node",
        "raceway.id.format(raceway)",
        "(lambda: 1)() == 1",
        "[x for x in raceway.wires][0] == 1",
        "open('/etc/hostname') == 1",
        "getattr(raceway, 'id') == 'x'",
        "exec('1') == 1",
        "10 ** 10 ** 10 > 1",
        "2 ** 2 ** 2 ** 2 ** 2 > 1",
        "'a' * 1000000000 == 'b'",
        "(" * 500 + "1" + ")" * 500 + " > 0",
        "not " * 5000 + "raceway.threaded",
        "raceway.threaded and " * 400 + "raceway.threaded",
        "any(any(any(any(w.bare for w in raceway.wires) for w in raceway.wires) "
        "for w in raceway.wires) for w in raceway.wires)",
        "any(w.bare for p in assembly.pulls for q in assembly.pulls for w in q.wires)",
        "f'{raceway}' == 'x'",
        "(y := 1) == 1",
        "raceway.threaded; raceway.threaded",
        "await x",
        "1j == 1j",
        "b'x' == b'x'",
        "...",
        "\N{ZERO WIDTH JOINER}",
    ],
)
@pytest.mark.parametrize("key", ["narrow", "widen", "exception"])
def test_conditions(refused, amend, key, condition):
    quoted = condition.replace("'", "''")
    start = time.process_time()
    said = refused(amend(f"  - {{rule: lengths, {key}: '{quoted}', {REST}"))
    assert time.process_time() - start < 5
    assert "one.yaml:7:" in said


@pytest.mark.parametrize(
    "text",
    [
        "  - {rule: turns, set: {permitted: 1e999 deg}, " + REST,
        "  - {rule: turns, set: {permitted: '" + "9" * 100000 + " deg'}, " + REST,
        "  - {rule: turns, set: {permitted: 1/0 deg}, " + REST,
        "  - {rule: turns, set: {permitted: nan deg}, " + REST,
        "  - {rule: turns, set: {__class__: 1 deg}, " + REST,
        "  - {rule: turns, set: {permitted: " + "[" * 30 + "x" + "]" * 30 + "}, " + REST,
        "  - {rule: turns, values: {__import__: 1 deg}, exception: run.field, " + REST,
        "  - {rule: turns, values: {sum: 1 deg}, exception: run.field, " + REST,
        "  - {rule: turns, values: {a b: 1 deg}, exception: run.field, " + REST,
        "  - !!python/object/apply:os.system {rule: turns}\n",
        "  - &a {rule: turns, set: *a, " + REST,
        "  - {<<: {rule: turns}, " + REST,
        "  - {rule: turns, rule: turns, " + REST,
        "  - 7\n",
        "  - [[[]]]\n",
        "  - {rule: {rule: turns}, withdraw: true, " + REST,
        "  - {table: ampacity, cells: [{keys: {}, set: {ampacity: 1 A}}, 7], " + REST,
        "  - {add: 7, " + REST,
        "  - {add: {rule: x}, " + REST,
        "  - {forbid: {rule: x, methods: {a: b}}, " + REST,
    ],
)
def test_files(refused, amend, text):
    start = time.process_time()
    assert "one.yaml" in refused(amend(text))
    assert time.process_time() - start < 5


def test_aliases_are_bounded(refused, tmp_path):
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 12)]
    path = tmp_path / "bomb.yaml"
    path.write_text(HEAD.format(id="bomb", owner="x") + "\n".join(lines) + "\n", encoding="utf-8")
    start = time.process_time()
    assert "aliases repeat" in refused(str(path))
    assert time.process_time() - start < 5


def test_widened_without_end(refused, amend):
    text = "".join(
        f"  - {{rule: lengths, widen: raceway.id == 'R{n}', {REST}" for n in range(MOST_WIDENED + 1)
    )
    assert f"was widened {MOST_WIDENED} times already" in refused(amend(text))


def test_many_changes_are_soon_done(load, amend, refused):
    def narrowed(times: int) -> str:
        return amend(
            "".join(
                f"  - {{rule: lengths, narrow: raceway.id != 'X{n}', {REST}" for n in range(times)
            )
        )

    assert len(load(narrowed(90)).find("lengths").record.when) == 92
    start = time.process_time()
    assert "too many conditions" in refused(narrowed(900))
    assert "too many changes" in refused(narrowed(1500))
    assert time.process_time() - start < 20


def test_control_characters_reach_no_terminal(amend, capsys):
    head = (
        'amendment: {id}\ntitle: "T\\e[31m\\a"\njurisdiction: "J\\e[2J"\neffective: 2026-01-01\n'
        'reference: "O\\r\\e[1A"\n'
    )
    text = (
        '  - {rule: bend-total, set: {permitted: 270 deg}, title: "x\\e[31m", '
        'reason: "r\\e]0;x\\a", reference: "s\\u202e"}\n'
    )
    path = amend(text, head=head)
    for arguments in (
        ["rules", "list", "--amend", path],
        ["rules", "show", "bend-total", "--amend", path],
        ["rules", "test", path],
        ["rules", "show", "bend-\x1b[31mtotal", "--amend", path],
        ["rules", "document", "--amend", path],
        ["rules", "document", "--amend", path, "--format", "html"],
        ["rules", "compare", path, "samples/recovery-wall.yaml"],
        ["new", "rule", path + "\x1b[31m"],
        ["schema", "\x1b[31m"],
    ):
        guarded(arguments)
        said = capsys.readouterr()
        for stream in (said.out, said.err):
            assert "\x1b" not in stream
            assert "\a" not in stream
            assert "\u202e" not in stream


def test_no_traceback_for_any_of_these_words(load, amend):
    """Words of Python and of the files in every place where a name may stand."""
    for word in ("None", "True", "class", "", "rule", "*", "~", "-1", "turns.permitted"):
        for template in (
            "  - {{rule: '{0}', withdraw: true, " + REST.replace("}", "}}"),
            "  - {{table: '{0}', remove_rows: [{{'{0}': '{0}'}}], " + REST.replace("}", "}}"),
            "  - {{amendment: '{0}', rule: '{0}', withdraw: true, " + REST.replace("}", "}}"),
            "  - {{rule: turns, set: {{'{0}': '{0}'}}, " + REST.replace("}", "}}"),
            "  - {{rule: turns, supersedes: '{0}', narrow: '{0}', " + REST.replace("}", "}}"),
        ):
            with pytest.raises(InputError):
                load(amend(template.format(word)))
