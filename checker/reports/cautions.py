"""What every report form says about itself; the words stand here once and nowhere else.

The words "authority having jurisdiction" may be replaced by an edition's or amendment's terms.
"""

from __future__ import annotations

#: Over the cautions.
HEADING = "What this report is, and what it is not"

#: The cautions, in the order in which they are printed.
CAUTIONS = (
    "It says which checks pass, which fail and which need review, on the edition and "
    "the amendments named here, for the description that is fingerprinted here. It cannot see what "
    "the description does not say, and a requirement for which there is no rule was not checked.",
    "It does not replace the adopted code, the authority having jurisdiction, or engineering by a "
    "licensed person. Where they and this report differ, they decide.",
    "Requirements are restated in the program's own words. Numbers marked “from memory” were not "
    "found in a publication and must be verified against the adopted code before anybody relies "
    "on them.",
)

#: Under a summary, where there is room for one sentence.
DEFERRAL = (
    "The adopted code, the authority having jurisdiction and the licensed person in charge decide."
)

#: Everything above in one paragraph, for forms that are short themselves.
CAUTION = (
    "This says which checks pass, which fail and which need review, on the edition and "
    "amendments named and for the description fingerprinted. It does not replace the adopted code, "
    "the authority having jurisdiction, or engineering by a licensed person; numbers marked “from "
    "memory” must be verified before anybody relies on them."
)

#: Beside ratios.
RATIO = (
    "A ratio is measure over limit, or limit over measure where the limit is a least: over 1, the "
    "check fails."
)

#: Over the lines for signatures.
SIGNING = "The lines are left blank for people to fill in; the program never signs."
