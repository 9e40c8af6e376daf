"""Settings of all tests: none measures the wall clock, which a busy machine stretches."""

from __future__ import annotations

import gc

from hypothesis import HealthCheck, settings

settings.register_profile("any", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("any")

# Books and assemblies are very many objects that stay: looking through them again and again is a
# quarter of the time of compiling a book.  The command itself does without (``checker.cli.main``).
gc.set_threshold(200_000, 20, 50)
