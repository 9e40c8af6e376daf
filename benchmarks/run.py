"""Measures the program and prints ratios: every comparison is made in this one run.

``make bench`` installs what the comparisons need (simpleeval, rule-engine, cel-python).  Times are
medians; the order of what is compared alternates, so that a busy machine slows both sides alike.
"""

from __future__ import annotations

import gc
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable
from typing import Any

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

from benchmarks import by_hand
from benchmarks.generate import assembly
from checker.assembly import from_document
from checker.assembly.records import RECORDS, Assembly
from checker.documents.indented import indented
from checker.documents.loader import load
from checker.documents.reader import Reader
from checker.documents.source import Source
from checker.engine.evaluate import elements, evaluate
from checker.findings.finding import Report
from checker.reports import json_form
from checker.reports.json_form import report_object
from checker.rulebook.book import load_rulebook
from checker.rulebook.compiled import compile_form

HERE = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
SAMPLE = os.path.join(HERE, "samples", "recovery-wall.yaml")


def timed(*jobs: Callable[[], Any], repeat: int = 7) -> list[float]:
    """Median seconds of each job, taken in turns."""
    spent: list[list[float]] = [[] for _ in jobs]
    for _ in range(repeat):
        for place, job in enumerate(jobs):
            gc.collect()
            gc.disable()
            start = time.perf_counter()
            job()
            spent[place].append(time.perf_counter() - start)
            gc.enable()
    return [statistics.median(times) for times in spent]


def growth() -> None:
    """(a) check without parsing against parsing with marks, and growth with size.

    Parsing is told twice: YAML with its marks alone, and with its values read as quantities, sizes
    and names (a file is parsed when these are known).  What is left of the check is resolving
    names, deriving facts and judging.
    """
    print("\n(a) check without parsing ÷ parsing with marks")
    book = load_rulebook("nec-2023")
    last = 0.0
    for boxes in (20, 200, 2000):
        source = Source.of_text(assembly(boxes))
        document = load(source)
        built = from_document(document)
        repeat = 15 if boxes < 2000 else 9
        parse, read, build, judge = timed(
            lambda s=source: load(s),
            lambda d=document: Reader(d, RECORDS, keep_open=True).root(Assembly, "an assembly"),
            lambda d=document: from_document(d),
            lambda b=built: evaluate(book, b),
            repeat=repeat,
        )
        findings = len(evaluate(book, built))
        model = build - read
        step = f"{(build + judge) / last:.1f} times the size before" if last else ""
        last = build + judge
        print(
            f"  {boxes:>5} boxes, {len(source.data) / 1e6:.2f} MB, {findings} findings: YAML "
            f"{parse * 1e3:.1f} ms, values {read * 1e3:.1f} ms, model {model * 1e3:.1f} ms, rules "
            f"{judge * 1e3:.1f} ms"
        )
        print(
            f"        rules ÷ YAML {judge / parse:.2f}; model and rules ÷ YAML and values "
            f"{(model + judge) / (parse + read):.2f}; values, model and rules ÷ YAML "
            f"{(build + judge) / parse:.2f} {step}"
        )


def against_hand() -> None:
    """(b) the compiled rules against the same rules by hand, and three expression libraries."""
    print("\n(b) four rules: compiled ÷ by hand")
    built = from_document(load(Source.of_text(assembly(1000))))
    book = load_rulebook("nec-2023")
    jobs = (
        ("circuit-load", "circuit", by_hand.circuit_load),
        ("bend-total", "run", by_hand.bend_total),
        ("raceway-fill", "raceway", by_hand.raceway_fill),
        ("box-fill", "box", by_hand.box_fill),
    )
    total_ours = total_hand = 0.0
    for rule, subject, hand in jobs:
        fast = book.find(rule).forms[subject].fast
        subjects = elements(built, subject)

        def ours(fast: Any = fast, subjects: Any = subjects) -> None:
            for one in subjects:
                fast(one, built)

        def by(hand: Any = hand, subjects: Any = subjects) -> None:
            for one in subjects:
                hand(one)

        a, b = timed(ours, by, repeat=15)
        total_ours, total_hand = total_ours + a, total_hand + b
        print(
            f"  {rule:<14} {a / len(subjects) * 1e6:6.2f} µs ÷ {b / len(subjects) * 1e6:6.2f} µs"
            f" = {a / b:.2f}"
        )
    print(f"  together {total_ours / total_hand:.2f}")
    _libraries(built, book)


def _libraries(built: Any, book: Any) -> None:
    expression = "(load + extra * continuous) / voltage <= breaker"
    rows = [
        {
            "load": c.load,
            "continuous": c.continuous_load,
            "voltage": c.voltage,
            "breaker": c.breaker,
            "extra": 0.25,
        }
        for c in built.circuits
    ]
    fast = book.find("circuit-load").forms["circuit"].fast

    def ours() -> None:
        for circuit in built.circuits:
            fast(circuit, built)

    print(f"  circuit-load on {len(rows)} circuits through expression libraries, ours = 1:")
    for name, job in _library_jobs(expression, rows):
        mine, theirs = timed(ours, job, repeat=7)
        print(f"    {name:<12} {theirs / mine:8.0f} times our time")


def _library_jobs(expression: str, rows: list[dict[str, float]]) -> list[tuple[str, Any]]:
    jobs: list[tuple[str, Any]] = []
    try:
        import simpleeval

        engine = simpleeval.SimpleEval()
        parsed = engine.parse(expression)

        def simple() -> None:
            for row in rows:
                engine.names = row
                engine.eval(expression, previously_parsed=parsed)

        jobs.append(("simpleeval", simple))
    except ImportError:
        print("    simpleeval is not installed")
    try:
        import rule_engine

        rule = rule_engine.Rule(expression)

        def ruled() -> None:
            for row in rows:
                rule.matches(row)

        jobs.append(("rule-engine", ruled))
    except ImportError:
        print("    rule-engine is not installed")
    try:
        import celpy

        environment = celpy.Environment()
        program = environment.program(environment.compile(expression))

        def cel() -> None:
            for row in rows:
                program.evaluate({k: celpy.celtypes.DoubleType(v) for k, v in row.items()})

        jobs.append(("cel-python", cel))
    except ImportError:
        print("    cel-python is not installed")
    return jobs


def _quiet(command: list[str]) -> None:
    subprocess.run(command, cwd=HERE, capture_output=True, check=False)


def cold() -> None:
    """(c) a whole cold command against importing yaml alone."""
    print("\n(c) cold start")
    check = [sys.executable, "-m", "checker", "check", SAMPLE]
    bare = [sys.executable, "-c", "import yaml"]

    def run(command: list[str]) -> Callable[[], None]:
        return lambda: _quiet(command)

    run(check)()
    a, b = timed(run(check), run(bare), repeat=15)
    print(f"  check of the sample {a * 1e3:.0f} ms ÷ import yaml {b * 1e3:.0f} ms = {a / b:.2f}")


def popular() -> None:
    """(d) a whole check of 1 MB against the usual libraries; see ``benchmarks/popular.py``."""
    print("\n(d) 1 MB, whole check against CSafeLoader + jsonschema + pint + simpleeval")
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "large.yaml")
        with open(path, "w", encoding="utf-8") as file:
            file.write(assembly(2000))
        check = [sys.executable, "-m", "checker", "check", path]
        theirs = [sys.executable, "-m", "benchmarks.popular", path]
        _quiet(check)
        spent = []
        for _ in range(5):
            start = time.perf_counter()
            _quiet(check)
            spent.append(time.perf_counter() - start)
        done = subprocess.run(theirs, cwd=HERE, capture_output=True, text=True, check=True)
        told = json.loads(done.stdout)
        ours = statistics.median(spent)
        print(
            f"  ours {ours:.2f} s; theirs {told['seconds']:.1f} s, of it reading "
            f"{told['reading']:.1f} s, and {told['expressions']} expressions: "
            f"{told['seconds'] / ours:.1f} times; the same findings: {told['same']}"
        )


def memory() -> None:
    """(e) peak memory of a whole check at 1 MB and 10 MB."""
    print("\n(e) peak memory of a whole check (resident set)")
    code = (
        "import resource,sys;sys.argv=['x','check',sys.argv[1]];"
        "from checker.cli.main import guarded;guarded(sys.argv[1:]);"
        "sys.stderr.write(str(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss))"
    )
    with tempfile.TemporaryDirectory() as folder:
        for boxes in (2000, 20000):
            path = os.path.join(folder, f"{boxes}.yaml")
            with open(path, "w", encoding="utf-8") as file:
                file.write(assembly(boxes))
            done = subprocess.run(
                [sys.executable, "-c", code, path],
                cwd=HERE,
                capture_output=True,
                text=True,
                check=False,
            )
            peak = int(done.stderr.split()[-1]) / 1024
            print(f"  {os.path.getsize(path) / 1e6:.1f} MB: {peak:.0f} MB")


def many() -> None:
    """A folder of 500 assemblies in one command: time a file, and memory that stays flat."""
    print("\n(f) 500 assemblies of 20 boxes in one command, with a roll-up")
    tracemalloc.stop()
    code = (
        "import resource,sys;from checker.cli.main import guarded;guarded(sys.argv[1:]);"
        "sys.stderr.write(str(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss))"
    )
    with tempfile.TemporaryDirectory() as folder:
        paths = []
        for place in range(500):
            paths.append(os.path.join(folder, f"{place:03}.yaml"))
            with open(paths[-1], "w", encoding="utf-8") as file:
                file.write(assembly(20, f"W-{place}"))
        for count in (50, 500):
            start = time.perf_counter()
            done = subprocess.run(
                [
                    sys.executable,
                    "-c",
                    code,
                    "check",
                    *paths[:count],
                    "--roll-up",
                    os.path.join(folder, "all.json"),
                ],
                cwd=HERE,
                capture_output=True,
                text=True,
                check=False,
            )
            spent = time.perf_counter() - start
            peak = int(done.stderr.split()[-1]) / 1024
            each = spent / count * 1e3
            print(f"  {count} files: {spent:.1f} s, {each:.1f} ms a file, {peak:.0f} MB")


def reports() -> None:
    """(g) what reports cost beside judging: each against what was done before, in this run."""
    print("\n(g) reports")
    _indenting()
    _unpacking()
    _missing_entries()
    _collecting()
    _streaming()


def _indenting() -> None:
    assembly_of_300 = Source.of_text(assembly(300))
    built, book = from_document(load(assembly_of_300)), load_rulebook("nec-2023")
    data = report_object(Report(built, assembly_of_300, book, evaluate(book, built)))
    ours, usual, compact = timed(
        lambda: indented(data),
        lambda: json.dumps(data, ensure_ascii=False, indent=1),
        lambda: json.dumps(data, ensure_ascii=False, separators=(",", ":")),
    )
    print(
        f"  indented JSON of 300 boxes: {ours / usual:.2f} of the standard library's time, "
        f"{ours / compact:.1f} times the compact form's"
    )


def _unpacking() -> None:
    """All rules as reports need them: from the kept book, and compiled again."""
    book = load_rulebook("nec-2023")

    def unpack() -> None:
        for rule in load_rulebook("nec-2023").rules:
            assert rule.record
            assert all(form.cases for form in rule.forms.values())

    def compile_again() -> None:
        for rule in load_rulebook("nec-2023").rules:
            for subject in rule.forms:
                compile_form(rule.record, subject, book.vocabulary, code=False)

    ours, again, bare = timed(unpack, compile_again, lambda: load_rulebook("nec-2023"), repeat=5)
    print(f"  rules for a report: unpacked {(ours - bare) / (again - bare):.2f} of compiled again")


_MISSES = """\
assembly: M
basis: {{edition: nec-2023, ambient: 30 degC}}
defaults: {{wire: {{material: copper, insulation: Unheard}}}}
panels: [{{id: P, branch: normal, system: 208Y/120}}]
circuits: [{{id: C, panel: P, phases: [A], breaker: 20 A}}]
boxes: [{{id: A, kind: junction}}, {{id: B, kind: junction}}]
raceways: [{{id: R, method: EMT, size: 1/2, from: A, to: B, length: 10 ft}}]
pulls: [{{id: W, circuit: C, through: [R], wires: [{{role: phase, size: 12 AWG, count: {count}}}]}}]
"""


def _missing_entries() -> None:
    book = load_rulebook("nec-2023")
    few, many_wires = (
        from_document(load(Source.of_text(_MISSES.format(count=count)))) for count in (1, 2000)
    )
    one, all_of_them = timed(lambda: evaluate(book, few), lambda: evaluate(book, many_wires))
    print(
        f"  an insulation that no table has, on 2,000 conductors ÷ on one: {all_of_them / one:.1f}"
    )


def _collecting() -> None:
    """After a file: everything looked through, and what stays left out."""
    book = load_rulebook("nec-2023")
    source = Source.of_text(assembly(20))

    def check(frozen: bool) -> float:
        built = from_document(load(source))
        json_form.compact(Report(built, source, book, evaluate(book, built)))
        del built
        start = time.perf_counter()
        gc.collect()
        if frozen:
            gc.freeze()
        return time.perf_counter() - start

    whole = statistics.median(check(False) for _ in range(9))
    check(True)
    left = statistics.median(check(True) for _ in range(9))
    gc.unfreeze()
    print(
        f"  collecting after a file of 20 boxes: {left / whole:.2f} of looking through everything"
    )


def _streaming() -> None:
    with tempfile.TemporaryDirectory() as folder:
        paths = [os.path.join(folder, f"{place:03}.yaml") for place in range(100)]
        for place, path in enumerate(paths):
            with open(path, "w", encoding="utf-8") as file:
                file.write(assembly(20, f"W-{place}"))
        for form in ("json", "sarif"):
            peaks = [
                _peak("check", *paths[:n], "--format", form, "--output", os.path.join(folder, "x"))
                for n in (10, 100)
            ]
            print(
                f"  {form} with --output: {peaks[0]:.0f} MB of 10 files, {peaks[1]:.0f} MB of 100"
            )


def _peak(*arguments: str) -> float:
    """Peak memory of a command, in MB; what the system counts on would begin with ours."""
    code = (
        "import sys;from checker.cli.main import guarded;guarded(sys.argv[1:]);"
        "facts=open('/proc/self/status').read();"
        "sys.stderr.write(facts.partition('VmHWM:')[2].split()[0])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *arguments],
        cwd=HERE, capture_output=True, text=True, check=False,
    )  # fmt: skip
    return int(done.stderr.split()[-1]) / 1024


if __name__ == "__main__":
    chosen = sys.argv[1:] or ["a", "b", "c", "d", "e", "f", "g"]
    for letter, job in zip(
        "abcdefg", (growth, against_hand, cold, popular, memory, many, reports), strict=True
    ):
        if letter in chosen:
            job()
