"""Former names of a rule's records; they go when nobody uses them any more."""

from .part import Part, plain_text
from .rule import RuleRecord as Draft
from .rule_parts import Case as CasePart
from .rule_parts import Fix as FixPart
from .rule_parts import FormulaRecord as FormulaPart
from .rule_parts import Step as StepPart
from .rule_parts import Value as ValuePart

__all__ = [
    "CasePart",
    "Draft",
    "FixPart",
    "FormulaPart",
    "Part",
    "StepPart",
    "ValuePart",
    "plain_text",
]  # fmt: skip
