"""The value that stands where the description says nothing.

A rule must never pass on what nobody stated.  Instead of testing for ``None`` at every use, an
unstated field holds a ``Missing``: whatever is done with it (compared, added, asked for its truth)
raises ``MissingData``, so fast compiled rules need no checks and still cannot slip past a gap.
"""

from __future__ import annotations

from typing import Any, NoReturn, TypeGuard, TypeVar

T = TypeVar("T")


class MissingData(Exception):  # noqa: N818 - it is data that is missing, not a mistake
    """Raised by any use of an unstated value; ``gaps`` says in words what is not stated."""

    def __init__(self, *gaps: str) -> None:
        super().__init__("; ".join(gaps))
        self.gaps = gaps


class Gap(str):
    """One thing that is not stated, in words; ``detail`` is the kind of detail it belongs to."""

    __slots__ = ("detail",)
    detail: str

    def __new__(cls, text: str, detail: str) -> Gap:
        made = super().__new__(cls, text)
        made.detail = detail
        return made


def gap_in_words(text: str, detail: str) -> str:
    """A gap that knows its kind of detail, or plain words where it belongs to none."""
    return Gap(text, detail) if detail else text


def detail_of(gap: str) -> str:
    """The kind of detail that a gap belongs to, or ""."""
    return gap.detail if isinstance(gap, Gap) else ""


def key_of(name: str) -> str:
    """The key in a file of an attribute: ``from`` of ``from_``, which Python keeps for itself."""
    return name.rstrip("_")


class Missing:
    """An unstated field.  ``field`` is the key as the author would write it.

    ``detail`` is the kind of detail that the field is declared with, or "".
    """

    __slots__ = ("_gaps", "detail", "field", "owner", "parts")

    def __init__(
        self,
        field: str,
        *gaps: str,
        owner: Any = None,
        parts: list[Missing] | None = None,
        detail: str = "",
    ) -> None:
        self.field = field
        self.detail = detail
        self.owner = owner
        self.parts = parts
        self._gaps = gaps

    def __set_name__(self, owner: type, name: str) -> None:
        """The default of a declared field is called as its key, after what ``owner`` is under."""
        self.field = getattr(owner, "UNDER", "") + (self.field or key_of(name))

    @property
    def gaps(self) -> tuple[str, ...]:
        """What is not stated, in words; made when asked for, since most gaps matter to nobody.

        ``owner`` is the element that lacks the field; it has ``describe()``.  A fact that lacks
        several things has them as ``parts``.
        """
        if self.parts is not None:
            named: dict[str, None] = {}
            for part in self.parts:
                own = f"`{part.field}`"
                if self.owner is not None:
                    own += f" of {self.owner.describe()}"
                named.update(dict.fromkeys(part.gaps or (gap_in_words(own, part.detail),)))
            return tuple(named)
        if self.owner is not None:
            return self.words_of(self.owner.describe())
        return tuple(gap_in_words(gap, self.detail) for gap in self._gaps)

    def words_of(self, element: str) -> tuple[str, ...]:
        """The gap as the field of an element that is named in words."""
        return (gap_in_words(f"`{self.field}` of {element}", self.detail),)

    def _refuse(self, *_: Any) -> NoReturn:
        raise MissingData(*(self.gaps or (self.field,)))

    __bool__ = __len__ = __iter__ = __hash__ = __float__ = __int__ = __index__ = _refuse
    __eq__ = __ne__ = __lt__ = __le__ = __gt__ = __ge__ = _refuse
    __add__ = __radd__ = __sub__ = __rsub__ = __mul__ = __rmul__ = _refuse
    __truediv__ = __rtruediv__ = __floordiv__ = __mod__ = __pow__ = __rpow__ = _refuse
    __neg__ = __pos__ = __abs__ = __contains__ = __getitem__ = _refuse
    __floor__ = __ceil__ = __round__ = _refuse

    def __getattr__(self, name: str) -> NoReturn:
        # Names of the copy and inspection protocols must fail the ordinary way.
        if name.startswith("__"):
            raise AttributeError(name)
        self._refuse()

    def __repr__(self) -> str:
        return f"Missing({self.field!r})"


def known(value: T | Missing) -> TypeGuard[T]:
    """True when a value was stated or could be derived."""
    return type(value) is not Missing


#: What an empty cell of a table holds, so that its use is a gap and not a number.
NO_ENTRY = Missing("entry", "an entry in the table")
