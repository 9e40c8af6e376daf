"""What is installed is what is here: every package of the program, its rules and its tables."""

from __future__ import annotations

import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SETTINGS = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"][
    "setuptools"
]


def test_every_package_is_installed() -> None:
    here = {
        ".".join(folder.relative_to(ROOT).parts)
        for folder in [ROOT / "checker", *(ROOT / "checker").rglob("*/")]
        if any(folder.glob("*.py"))
    }
    listed = {name for name in SETTINGS["packages"] if not name.startswith("checker.shipped")}
    assert listed == here


def test_every_file_that_is_read_is_installed() -> None:
    data = SETTINGS["package-data"]
    for package, folder in SETTINGS["package-dir"].items():
        found = {p for pattern in data[package] for p in (ROOT / folder).glob(pattern)}
        wanted = set((ROOT / folder).rglob("*.yaml"))
        assert wanted <= found, sorted(wanted - found)[:3]
    for package, folder, suffixes in (
        ("checker.cli", "cli", ("yaml",)),
        ("checker.reports", "reports", ("typ", "css", "js", "html", "md", "jinja")),
        ("checker.schemas", "schemas", ("json",)),
    ):
        here = ROOT / "checker" / folder
        found = {p for pattern in data[package] for p in here.glob(pattern)}
        wanted = {p for suffix in suffixes for p in here.rglob(f"*.{suffix}")}
        assert wanted, package
        assert wanted <= found, sorted(wanted - found)[:3]
