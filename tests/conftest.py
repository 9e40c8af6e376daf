"""Settings of all tests: none measures the wall clock, which a busy machine stretches."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile("any", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("any")
