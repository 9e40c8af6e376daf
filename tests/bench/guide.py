"""Runs the commands of the rule author's guide, and writes their output into it.

``python tests/bench/guide.py`` brings ``rules/README.md`` up to date; a test holds it equal.

A ``yaml`` block whose first line is ``# name.yaml`` is a file of the reader's; a ``console`` block
holds commands after ``$`` and, below each, what it prints.  ``| head -N`` and ``; echo $?`` mean
what they mean in a shell; standard error is printed where it appears.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shutil
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
GUIDE = ROOT / "rules" / "README.md"
_BLOCK = re.compile(r"^```(yaml|console)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_COMMAND = re.compile(r"\$ pullpoint (.*?)( \| head -(\d+))?(; echo \$\?)?")


def renewed(text: str) -> str:
    """The guide with every output as the program gives it now."""
    before = os.getcwd()
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(ROOT / "samples", Path(folder, "samples"))
        shutil.copytree(ROOT / "rules", Path(folder, "rules"))
        os.chdir(folder)
        try:
            return _BLOCK.sub(lambda match: _block(match[1], match[2]), text)
        finally:
            os.chdir(before)


def _block(kind: str, body: str) -> str:
    if kind == "yaml":
        name = re.match(r"# ([a-z0-9-]+\.yaml)\n", body)
        if name is not None:
            Path(name[1]).write_text(body, encoding="utf-8")
        return f"```yaml\n{body}```"
    done = ""
    for line in body.split("\n"):
        if line.startswith("$ "):
            done += line + "\n" + _output(line)
    return f"```console\n{done}```"


def _output(line: str) -> str:
    match = _COMMAND.fullmatch(line)
    if match is None:
        raise SystemExit(f"the guide runs pullpoint and nothing else: {line}")
    from checker.cli.main import guarded

    said = io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        status = guarded(match[1].split())
    out = said.getvalue()
    if match[3]:
        lines = out.split("\n")
        out = "\n".join(lines[: int(match[3])]) + "\n"
    out = "\n".join(part.rstrip() for part in out.split("\n"))
    return out + (f"{status}\n" if match[4] else "")


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    os.environ["NO_COLOR"] = "1"
    GUIDE.write_text(renewed(GUIDE.read_text(encoding="utf-8")), encoding="utf-8")
