"""The drawings of a report, as SVG text."""

from __future__ import annotations

from .every import Figure, Figures, draw_all

__all__ = ["Figure", "Figures", "draw_all"]
