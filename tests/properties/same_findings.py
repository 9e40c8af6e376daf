"""Whether a change of the program changed a finding: write designs once, judge them twice, compare.

    python tests/properties/same_findings.py write DESIGNS     # with the program as it was
    python tests/properties/same_findings.py judge DESIGNS > before.txt
    python tests/properties/same_findings.py judge DESIGNS > after.txt      # as it is now
    diff before.txt after.txt

``write`` puts the samples, every example of every rule, mutated samples and random designs into a
folder as plain files, so that the program that judges them may be built in any way.  ``judge``
prints one line a finding: design, rule, element, kind, measure, limit, line of the file, message.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

MUTANTS = 150
RANDOM = 300


def designs() -> Iterator[tuple[str, str]]:
    """Every design by the name of its file, as text."""
    import mutants
    import random_designs
    from designs import NAMES, SAMPLES

    for name in NAMES:
        yield f"sample-{name}", (SAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    made: dict[str, Any] = {}
    for name in NAMES:
        for seed in range(MUTANTS):
            made[f"mutant-{name}-{seed:03}"] = mutants.mutant(name, seed)
    for seed in range(RANDOM):
        made[f"random-{seed:03}"] = random_designs.design(seed)
    for name, plain in example_designs():
        made[name] = plain
    for name, plain in made.items():
        yield name, dumped(plain)


def dumped(plain: Any) -> str:
    """As YAML, every value as it was typed: what looks like a number is not put in quotes."""
    from yaml import dump
    from yaml.emitter import Emitter
    from yaml.representer import SafeRepresenter
    from yaml.resolver import BaseResolver
    from yaml.serializer import Serializer

    class Dumper(Emitter, Serializer, SafeRepresenter, BaseResolver):
        def __init__(self, stream: Any, **_: Any) -> None:
            Emitter.__init__(self, stream, width=10_000)
            Serializer.__init__(self)
            SafeRepresenter.__init__(self, default_flow_style=False, sort_keys=False)
            BaseResolver.__init__(self)

        def ignore_aliases(self, data: Any) -> bool:
            return True

    return str(dump(plain, Dumper=Dumper))


def example_designs() -> Iterator[tuple[str, Any]]:
    """The assembly of every example, once however many examples share it."""
    import yaml

    root = Path(__file__).parents[2]
    seen: set[str] = set()
    for path in sorted((root / "rules").rglob("*.examples.yaml")):
        whole = yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)
        for number, example in enumerate(whole["examples"]):
            plain = changed(whole.get("sample", {}), example)
            key = json.dumps(plain, sort_keys=True)
            if plain and key not in seen:
                seen.add(key)
                yield f"example-{path.name.removesuffix('.examples.yaml')}-{number:03}", plain


def changed(sample: Any, example: Any) -> Any:
    """An example's sample with its changes made; nothing where a path leads nowhere."""
    import copy

    plain = {"assembly": "example", **copy.deepcopy(sample)}
    paths = [*example.get("set", {}).items(), *((path, None) for path in example.get("remove", []))]
    try:
        for path, value in paths:
            *way, last = path.split(".")
            holder: Any = plain
            for name in way:
                holder = holder[place_in(holder, name)]
            if value is None:
                del holder[place_in(holder, last)]
            elif last == "+":
                holder.append(copy.deepcopy(value))
            elif isinstance(holder, dict):
                holder[last] = copy.deepcopy(value)
            else:
                holder[place_in(holder, last)] = copy.deepcopy(value)
    except (KeyError, StopIteration, IndexError):
        return None
    return plain


def place_in(holder: Any, name: str) -> Any:
    """The key or the position of a part: by name, by number, or by the id of an element."""
    if isinstance(holder, dict):
        return name
    if name.isdigit() and int(name) < len(holder):
        return int(name)
    return next(n for n, item in enumerate(holder) if item.get("id") == name)


def judged(paths: list[Path]) -> Iterator[str]:
    """One line for every finding of some files, through the command line."""
    from checker.cli.main import guarded

    for path in paths:
        out, trouble = io.StringIO(), io.StringIO()
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(trouble):
            status = guarded(["check", str(path), "--format", "json"])
        if status > 1:
            yield f"{path.stem} | status {status} | {trouble.getvalue().splitlines()[0]}"
            continue
        for finding in json.loads(out.getvalue())["findings"]:
            yield f"{path.stem} | {line(finding)}"


def line(finding: Any) -> str:
    """A finding in one line."""
    measure, limit = (
        value["text"] if value else "-" for value in (finding["measure"], finding["limit"])
    )
    element = f"{finding['subject']['class']} {finding['subject']['id']}"
    place = finding.get("location") or {}
    told = [finding["rule"], element, finding["kind"], measure, limit]
    return " | ".join([*told, str(place.get("line", "")), finding["message"]]).replace("\n", " ")


def main() -> None:
    """Write or judge."""
    sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[2])]
    verb, folder = sys.argv[1], Path(sys.argv[2])
    if verb == "write":
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in designs():
            (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
        return
    every = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    digest = hashlib.sha256()
    for told in judged(sorted(folder.glob("*.yaml"))[::every]):
        digest.update(told.encode())
        print(told)
    print(digest.hexdigest())


if __name__ == "__main__":
    main()
