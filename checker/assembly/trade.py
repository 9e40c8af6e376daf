"""What is known of conduit that a description names by trade size alone.

Tables have it and the model does not know tables: whoever reads an assembly gives it.
"""

from __future__ import annotations

from typing import Protocol


class Trade(Protocol):
    """Radii and diameters by trade size, in inches; None where none is known."""

    def least_radius(self, size: str) -> float | None:
        """The least radius that a one-shot or full-shoe bender makes."""

    def outside_diameter(self, method: str, size: str) -> float | None:
        """The outside diameter of a raceway."""


class NothingKnown:
    """Nothing is known: what a path leaves out stays open."""

    __slots__ = ()

    def least_radius(self, size: str) -> None:
        """None."""

    def outside_diameter(self, method: str, size: str) -> None:
        """None."""


NOTHING_KNOWN = NothingKnown()
