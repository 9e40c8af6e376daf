"""What rule, edition and amendment files hold, as records.

As with the elements of an assembly, the published schemas and the documentation are made from what
is declared here.
"""

from .amendments import (
    AmendmentFile,
    CellsFile,
    ChangeFile,
    EditionFile,
    ExceptionFile,
    MethodsFile,
    RuleExampleFile,
)
from .rules import (
    CaseFile,
    ChoiceFile,
    Date,
    ExampleFile,
    ExamplesFile,
    Expression,
    FileRecord,
    FixesFile,
    FixFile,
    FormulaFile,
    GroupFile,
    Identifier,
    Message,
    Outcome,
    RuleFile,
    SectionsFile,
    SharedFile,
    StepFile,
    Subject,
    TermFile,
    ValueFile,
)

__all__ = [
    "RECORDS",
    "AmendmentFile",
    "CaseFile",
    "CellsFile",
    "ChangeFile",
    "ChoiceFile",
    "Date",
    "EditionFile",
    "ExampleFile",
    "ExamplesFile",
    "ExceptionFile",
    "Expression",
    "FileRecord",
    "FixFile",
    "FixesFile",
    "FormulaFile",
    "GroupFile",
    "Identifier",
    "Message",
    "MethodsFile",
    "Outcome",
    "RuleExampleFile",
    "RuleFile",
    "SectionsFile",
    "SharedFile",
    "StepFile",
    "Subject",
    "TermFile",
    "ValueFile",
]

RECORDS: dict[str, type] = {
    record.__name__: record
    for record in (
        ValueFile,
        GroupFile,
        TermFile,
        ChoiceFile,
        StepFile,
        FormulaFile,
        SharedFile,
        FixFile,
        FixesFile,
        SectionsFile,
        CaseFile,
        ExampleFile,
        ExamplesFile,
        RuleFile,
        EditionFile,
        CellsFile,
        ExceptionFile,
        MethodsFile,
        ChangeFile,
        AmendmentFile,
        RuleExampleFile,
    )
}
