"""The expansion of a document: every element written out, every place kept."""

from __future__ import annotations

from typing import Any

from checker.documents.loader import Document, load
from checker.documents.nodes import Mapping, Sequence
from checker.documents.source import Source

from .asked import DEFAULT_CLASSES, ROOT_KEYS, is_short
from .files import Files, base_of
from .groups import make_group
from .kinds import COLLECTIONS
from .placing import Elements, Placer
from .problems import Notes
from .scope import elements, names_of
from .shelf import Entries, Shelf, entries_of
from .straps import strapped
from .template import Compiler, Site
from .uses import Library
from .wiring import Wiring


def expanded(document: Document) -> tuple[Document, Files]:
    """The document with its short form written out, and its files.

    Raises InputError with every problem of the short form.
    """
    files = Files(document.source)
    notes = Notes(files)
    root: Mapping = document.root
    shelf = Shelf(notes)
    Library(files, shelf, notes).use(root)
    shelf.take_types(root)
    shelf.take_groups(root)
    shelf.take_defaults(root)
    compiler = Compiler(shelf, files)
    whole = names_of(root, COLLECTIONS)
    groups = {name: make_group(name, node, whole, compiler) for name, node in shelf.groups.items()}
    own = sum(len(elements(root, key)) for key in COLLECTIONS)
    placer = Placer(groups, files, notes, own)
    placed = placer.place_all(root)
    made = _root(root, placed, compiler, files)
    _finish(made, files, notes, placer)
    notes.finish()
    return Document(files, made), files


def fingerprint(source: Source) -> str:
    """The fingerprint of a design, which covers the files that it uses.  Raises InputError."""
    root = load(source).root
    if not is_short(root):
        return source.digest
    files = Files(source)
    notes = Notes(files)
    Library(files, Shelf(notes), notes).use(root)
    notes.finish()
    return files.digest


def _root(root: Mapping, placed: Elements, compiler: Compiler, files: Files) -> Mapping:
    """The design's mapping with all elements in its collections."""
    site = Site(files)
    entries: Entries = {}
    for key, entry in entries_of(root).items():
        if key in COLLECTIONS:
            entries[key] = (_own(key, entry[0], entry[2], compiler, site), *entry[1:])
        elif key == "defaults" and isinstance(entry[0], Mapping):
            entries[key] = (_defaults(entry[0], files), *entry[1:])
        elif key not in ROOT_KEYS:
            entries[key] = entry
    if placed:
        at = entries_of(root)["place"]
        for key, found in placed.items():
            before, *where = entries.get(key) or (None, *at[1:])
            entries[key] = (_joined(before, found, where[1], files), *where)
    return _mapping(entries, files, root.places[0])


def _mapping(entries: Entries, files: Files, start: int) -> Mapping:
    places = [start]
    for _, key_place, place in entries.values():
        places += (key_place, place)
    return Mapping.joined({key: entry[0] for key, entry in entries.items()}, files, places)


def _own(key: str, value: Any, place: int, compiler: Compiler, site: Site) -> Any:
    """The elements that the design describes itself."""
    kind = COLLECTIONS[key]

    def one(item: Any) -> Any:
        if not isinstance(item, Mapping):
            return item
        template = compiler.template(item, kind, None)
        return item if template.constant else template.make(site)

    if isinstance(value, Mapping):
        return one(value)
    if not isinstance(value, Sequence):
        return value
    return Sequence.joined([one(item) for item in value], site.files, value.places)


def _joined(before: Any, found: list[tuple[Mapping, int]], at: int, files: Files) -> Any:
    """The design's own elements of a collection, then those of its placements."""
    items, places = [], [at]
    if isinstance(before, Mapping):
        items, places = [before], [at, before.places[0]]
    elif isinstance(before, Sequence):
        items, places = list(before), list(before.places)
    elif before is not None:
        return before  # neither: the reader refuses it
    items += [one for one, _ in found]
    places += [place for _, place in found]
    return Sequence.joined(items, files, places)


def _defaults(node: Mapping, files: Files) -> Mapping:
    """What is left of the defaults once elements have theirs."""
    kept = {key: one for key, one in entries_of(node).items() if key not in DEFAULT_CLASSES}
    return _mapping(kept, files, base_of(node.source) + node.places[0])


def _finish(root: Mapping, files: Files, notes: Notes, placer: Placer) -> None:
    """Write out wires and straps, which follow from elements wherever these are described."""
    wiring = Wiring(root, files, notes, placer.budget)
    for key, finish in (
        ("pulls", wiring.wired),
        ("raceways", lambda way: strapped(way, notes)),
        ("cables", lambda way: strapped(way, notes)),
    ):
        value = root.get(key)
        if isinstance(value, Mapping):
            root[key] = finish(value)
        elif isinstance(value, Sequence):
            items = [finish(one) if isinstance(one, Mapping) else one for one in value]
            root[key] = Sequence.joined(items, value.source, value.places)
