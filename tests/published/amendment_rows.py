"""The published local amendments: which file says each, or why none does.

44 rows of a list that was read once, each named with its jurisdiction and section.  None was
compared with the law of today.  A row counts as reached where its change acts on what the program
finds.
"""

from __future__ import annotations

#: Row -> the amendment file that says it.
REACHED = {
    4: "chicago-critical-branch",
    7: "chicago-metal-raceway",
    9: "river-forest-armored-cable",
    11: "kenilworth-sub-panel",
    12: "lake-forest-copper",
    14: "mattoon-wire-ground",
    15: "mattoon-workmanship",
    17: "dunbar-metal-conduit",
    18: "durant-fire-zone",
    19: "san-marcos-branch-wire",
    20: "san-marcos-forbidden",
    21: "san-marcos-wire-ground",
    22: "san-marcos-colors",
    23: "new-york-city-least-wire",
    24: "new-york-city-coordination",
    25: "wisconsin-switch-neutral",
    26: "wisconsin-gfci-limits",
    27: "wisconsin-wet-covers",
    28: "oregon-dental-pvc",
    30: "oregon-written-permission",
    31: "oregon-hospital-tests",
    32: "washington-signal-wiring",
    33: "washington-visible-wiring",
    35: "washington-factory-built",
    36: "new-jersey-official",
    37: "new-jersey-bored-holes",
    39: "new-jersey-short-raceways",
    43: "illinois-receptacle-height",
}

#: What of a reached row its file leaves out.
PARTLY = {
    4: "what is connected to the branch is the designer's choice, and is not judged",
    7: "below grade, and whether a luminaire is on a ceiling, a design does not tell",
    9: "what lies in an existing partition, and 3 ft beyond it, is not told: all is asked",
    11: "service conductors and room for circuits in a panel are not in a design",
    15: "kinked and flattened raceways and boxes out of plumb can only be seen: a person is asked",
    17: "surface metal raceway is no method of a design",
    19: "for which fixed loads 10 AWG is asked was not read",
    20: "copper-clad conductors, knob-and-tube and open wiring a design cannot state",
    24: "what more emergency power is asked of health care was not read",
    26: "boxes with receptacles of one and of several phases are judged by the edition",
    27: "that hoods are made for extra duty no rule judges; an ordinary cover still fails",
    28: "that a raceway is underground a design does not tell: a person is asked",
    30: "one occasion for special permission is judged, wiring across a joint",
    31: "alarms and isolated power are not in a design",
    32: "one section of chapter 3 from which the rules leave out signal wiring, 300.14",
    33: "service raceways in foundations and other trades' work are not in a design",
    36: "the words of reports; the form's own texts say `the authority` as well, which stays",
    37: "where the building subcode permits holes a design does not tell: a person is asked",
    39: "RTRC (355) is no method of a design",
    43: "what a section stands on a design does not tell: a person is asked",
}

#: Row -> (jurisdiction and section, why no file says it).
NOT_REACHED = {
    1: (
        "Chicago IL 14E-3-300, 300.5(D)(2)",
        "a design has no place at which conductors enter the building from underground",
    ),
    2: (
        "Chicago IL 14E-3-300, 300.22",
        "a design does not tell whether a raceway lies in a duct or plenum, nor its fittings",
    ),
    3: (
        "Chicago IL 14E-5-517, 517.2",
        "a definition (auxiliary source) that no rule of the program reads",
    ),
    5: (
        "Chicago IL 14E-5-517, 517.2",
        "battery lighting units, their voltage and housing are not in a design",
    ),
    6: (
        "Chicago IL 14E-2-200, new 200.5",
        "the colours were not read; they are not invented here",
    ),
    8: (
        "Chicago IL 14E-3-330, 330.10",
        "the uses were not read beyond their first words; they are not invented here",
    ),
    10: (
        "River Forest IL article 334",
        "a design cannot have nonmetallic-sheathed cable: its method is refused when it is read",
    ),
    13: (
        "Lake Forest IL 110-16 table",
        "working space in front of equipment is not in a design",
    ),
    16: (
        "Mattoon IL 230.70(A)(1)",
        "meters, service disconnects and the cable between them are not in a design",
    ),
    29: (
        "Oregon 230.67, 230.85",
        "no rule judges services of dwellings: there is nothing to withdraw",
    ),
    34: (
        "Washington cities, 90.7",
        "by which standard and laboratory a product was examined is not in a design",
    ),
    38: (
        "New Jersey 334.12(A)(2)",
        "a design cannot have nonmetallic-sheathed cable, and no rule bans it",
    ),
    40: (
        "New Jersey 406.4(D)(4)",
        "no rule judges arc-fault protection of replaced receptacles: there is nothing to withdraw",
    ),
    41: (
        "San Francisco CA 645.5(D)(2)",
        "a design does not tell what lies under a raised floor of an information technology room",
    ),
    42: (
        "Massachusetts, rules before article 90",
        "existing work is not in a design, and an edition has no interim amendments apart from it",
    ),
    44: (
        "California Title 24-3, article 89 and 517",
        "tables of contents were read and the one rule named is from memory",
    ),
}
