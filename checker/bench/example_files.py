"""The examples of rules: where they stand, and how they are said in a line."""

from __future__ import annotations

import os
from dataclasses import dataclass
from typing import Any

from checker.documents.errors import InputError
from checker.documents.loader import load
from checker.documents.source import Source
from checker.rulebook.book import Rule, Rulebook
from checker.rulebook.folder import examples_path
from checker.rulebook.reading import read_document, source_of
from checker.rulebook.records import ExampleFile, ExamplesFile, RuleFile


@dataclass(frozen=True, slots=True)
class ExampleSet:
    """Examples with the sample they start from."""

    examples: tuple[Any, ...]
    sample: Any
    source: Source


def read_examples(path: str, rule: RuleFile, of: Source) -> ExampleSet:
    """The examples beside a rule file.  Raises InputError where they are of another rule."""
    document = load(source_of(path))
    file: ExamplesFile = read_document(ExamplesFile, document, "an examples file")
    if file.rule != rule.rule:
        raise InputError(
            document.source.problem(
                file.node.value_mark("examples_of"),
                "these examples are of another rule than the file beside it",
                found=str(file.rule),
                expected=f"{rule.rule}, as in {of.path}",
                length=len(str(file.rule)),
            )
        )
    return ExampleSet(file.examples, file.sample, document.source)


def examples_of(rule: Rule) -> list[ExampleSet]:
    """The examples in a rule's file and beside it."""
    record = rule.record
    groups = []
    if record.examples:
        groups.append(ExampleSet(record.examples, record.sample, record.source))
    beside = examples_path(record.file)
    if record.file.endswith(".yaml") and os.path.exists(beside):
        document = load(source_of(beside))
        file: ExamplesFile = read_document(ExamplesFile, document, "an examples file")
        if file.rule == rule.id:
            groups.append(ExampleSet(file.examples, file.sample, document.source))
    return groups


def example_lines(rule: Rule, book: Rulebook) -> list[str]:
    """The examples of a rule in words, one a line: its own and those of amendments in force."""
    lines = [
        example_words(example, group.source)
        for group in examples_of(rule)
        for example in group.examples
    ]
    for amendment in book.amendments:
        if amendment.in_force:
            lines += [
                example_words(example, amendment.source)
                for example in amendment.file.examples
                if example.rule == rule.id
            ]
    return lines


def example_words(example: ExampleFile, source: Source) -> str:
    """An example in words: what it shows, what it expects, and the source of its numbers."""
    numbers = ", ".join(
        f"{word} {text}"
        for word, text in (("measure", example.measure), ("limit", example.limit))
        if text
    )
    said = f"{example.name or example.on}: {example.expect}"
    if numbers:
        said += f", {numbers}"
    if example.edition:
        said += f" [{example.edition}]"
    if example.source:
        said += f" ({example.source})"
    return said
