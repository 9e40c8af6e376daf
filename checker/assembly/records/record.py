"""What every record of an assembly carries."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from collections.abc import Sequence
from typing import Any

from checker.documents.fields import Frozen, element


@element
class Record(Frozen):
    """What every record carries: its place in the file."""

    node: Any = None
    """The mapping of the file that the record was read from; keeps line and column of each key."""

    @staticmethod
    def together(elements: Sequence[Any]) -> list[str]:
        """Several elements in words, each once: by their names, where they have names."""
        named = [getattr(one, "id", None) or one.describe() for one in elements]
        return list(dict.fromkeys(map(str, named)))

    def describe(self) -> str:
        """The element in words, such as ``raceway R1``."""
        name = type(self).__name__
        words = "".join(" " + c.lower() if c.isupper() else c for c in name).strip()
        if words in ("basis", "assembly", "defaults", "wire defaults"):
            return "the assembly"
        own = getattr(self, "id", None)
        return f"{words} {own}" if isinstance(own, str) else f"the {words}"
