"""``python -m checker``."""

from checker.cli.main import entry

entry()
