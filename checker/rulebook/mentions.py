"""Which names of shared sheets a rule mentions."""

from __future__ import annotations

import re
from collections.abc import Mapping

from .part import Part
from .rule import RuleRecord

#: A name, and neither a field after its dot nor the key of a look-up before its sign.
_WORD = re.compile(r"(?<![\w.])[A-Za-z_]\w*\b(?!\s*=(?!=))")
_QUOTED = re.compile(r"'[^']*'|\"[^\"]*\"")
_BRACES = re.compile(r"\{([^{}]*)\}")


def spoken(rule: RuleRecord) -> list[str]:
    """The expressions of a rule; of its messages, what stands between braces."""
    found = conditions(rule)
    found += [str(step.is_) for step in rule.steps.values()]
    for case in rule.cases:
        whole = (case.when, case.measure, case.limit, case.require)
        found += [str(part.value) for part in whole if part is not None]
        found += [str(part.value) for fix in case.fixes for _, part in fix.conditions()]
        said = (case.message, case.passes, *(fix.say for fix in case.fixes))
        for part in said:
            found += _BRACES.findall(str(part.value)) if part is not None else []
    return found


def conditions(rule: RuleRecord) -> list[str]:
    """The expressions that say where a rule applies."""
    parts = [*rule.when, *(part for part, _ in rule.unless), *(part for _, part in rule.widened)]
    return [str(part.value) for part in parts]


def mentioned(texts: list[str], shared: Mapping[str, Part]) -> set[str]:
    """The names of shared parts that expressions mention, themselves or through shared ones."""
    wanted: set[str] = set()
    todo = texts
    while todo:
        names = {name for text in todo for name in _WORD.findall(_QUOTED.sub(" ", text))}
        new = {name for name in names if name in shared} - wanted
        wanted |= new
        todo = [str(shared[name].value) for name in sorted(new)]
    return wanted
