"""What DEVELOPERS.md says is to be done for a new report form, done literally."""

from __future__ import annotations

import ast
import json
import re
from pathlib import Path

import pytest

from checker.cli.main import guarded
from checker.documents.errors import printable
from checker.reports import forms, templating

ROOT = Path(__file__).resolve().parents[2]
SAMPLE = str(ROOT / "samples" / "recovery-wall-rev-b.yaml")


def recipe(name: str) -> str:
    """The text of a recipe, up to the next one."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    return text.partition(f"**… {name}.**")[2].partition("\n**… ")[0]


@pytest.fixture
def form(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """The recipe's own template and line, beside those that there are; gives the form's name."""
    said = recipe("a report form")
    (file,) = re.findall(r"For example `([\w.]+)`:", said)
    (template,) = re.findall(r"```jinja\n(.*?)```", said, re.DOTALL)
    (line,) = re.findall(r"```python\n(.*?)```", said, re.DOTALL)
    (tmp_path / file).write_text(template, encoding="utf-8")
    monkeypatch.setattr(templating, "FOLDERS", [*templating.FOLDERS, str(tmp_path)])
    ((name, value),) = ast.literal_eval("{" + line + "}").items()
    assert value == file
    monkeypatch.setitem(forms.FORMS, name, value)
    return str(name)


def written(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert guarded(["check", *arguments]) == 1
    return capsys.readouterr().out


def test_a_report_form_is_a_template_and_a_line(
    form: str, capsys: pytest.CaptureFixture[str]
) -> None:
    made = written(capsys, SAMPLE, "--format", form)
    findings = json.loads(written(capsys, SAMPLE, "--format", "json"))["findings"]
    action = [f for f in findings if f["kind"] in ("fail", "open", "review")]
    lines = [line for line in made.splitlines() if line.startswith("- ")]
    assert len(lines) == len(action) > 20
    for line, finding in zip(lines, action, strict=True):
        assert f"- {finding['kind'].upper()} {finding['rule']}, " in line
        assert finding["subject"]["id"] in line.replace("\\", "")
    assert ", 12 (9 max)" in made  # TN12a: twelve conductors of one size, nine fit
    assert made.rstrip().endswith("decide.")


def test_it_follows_another_and_escapes_what_a_file_says(
    form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    name = "<b>[x](http://example.invalid)"
    text = Path(SAMPLE).read_text(encoding="utf-8").replace("assembly: RB-2", f"assembly: '{name}'")
    design = tmp_path / "odd.yaml"
    design.write_text(text, encoding="utf-8")
    made = written(capsys, SAMPLE, str(design), "--format", form)
    heads = [line for line in made.splitlines() if line.startswith("# ")]
    assert len(heads) == 2
    assert name not in made
    assert templating.markdown_text(printable(name)) in heads[1]


def test_the_readme_names_every_form() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    (listed,) = re.findall(r"`--format ([a-z| ]+)`", text)
    assert {"text", *listed.split(" | ")} == set(forms.FORMS)


def test_its_ending_says_how_text_is_escaped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "one.html").write_text("<p>{{ said }}</p>{{ mark|safe }}", encoding="utf-8")
    (tmp_path / "one.md").write_text("{{ said }}", encoding="utf-8")
    monkeypatch.setattr(templating, "FOLDERS", [str(tmp_path)])
    said = "a<b> \u202e *x*"
    page = templating.render("one.html", said=said, mark="<hr>")
    assert page == "<p>a&lt;b&gt; \\u202e *x*</p><hr>"
    assert templating.render("one.md", said=said) == r"a\<b\> \\u202e \*x\*"
