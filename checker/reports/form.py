"""What every form of report is: written report by report, to an output or into a file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from checker.findings.finding import Report

if TYPE_CHECKING:
    from .style import Style


@dataclass(frozen=True, slots=True)
class Options:
    """How a form is to be written.

    style: of text on a terminal; show: ``fail`` (what needs action) or ``all``; several: whether
    there is more than one report.
    """

    style: Style | None = None
    show: str = "fail"
    several: bool = False


class Form:
    """A form in the writing: report by report, so that none has to be kept.

    late: whether it begins with what is known only when every report is.
    """

    late = False

    def __init__(self, options: Options) -> None:
        self.options = options

    def add(self, report: Report) -> str:
        """The text of one report, to be kept where the form is ``late``."""
        raise NotImplementedError

    def rest(self, lines: Iterable[str]) -> Iterator[str]:
        """What follows; of a form that is ``late``, all of it, from the lines that were kept."""
        yield from lines
