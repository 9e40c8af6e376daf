"""``python -m checker``."""

from checker.start import entry

entry()
