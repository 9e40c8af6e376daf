"""Former names of a rule's records; they go when nobody uses them any more."""

from .part import Part, plain_text
from .rule import Case as CasePart
from .rule import FormulaRecord as FormulaPart
from .rule import Mend as MendPart
from .rule import RuleRecord as Draft
from .rule import Step as StepPart
from .rule import Value as ValuePart

__all__ = [
    "CasePart", "Draft", "FormulaPart", "MendPart", "Part", "StepPart", "ValuePart", "plain_text",
]  # fmt: skip
