"""The elements of a prefabricated assembly as typed records.

Each field says in its declaration what it is; the published schema, the editor help and the
language reference quote that.
Lengths are in inches, areas in², volumes in³, currents in A, power in VA, temperatures in °C,
angles in degrees.  Records are made by the reader and by ``derive`` only, so they need no
constructor of their own, which also keeps a check quick to start.  Fields declared ``derived()``
follow from the others; ``derive`` fills them in.
"""

from .assembly import Assembly, Detail, Omission
from .basis import Authority, Basis, BranchScheme, ColorScheme, Defaults, Passage, WireDefaults
from .boxes import (
    Box,
    Compartment,
    Entry,
    MarkedFor,
    Neighbors,
    Opposite,
    Ring,
    SharedEntry,
    Spacing,
)
from .devices import Break, Device
from .paths import (
    Bender,
    Course,
    DeviceRow,
    Halves,
    Knockouts,
    Pair,
    PathEnd,
    Stack,
    Strap,
)
from .raceways import Bend, Cable, Raceway, Run
from .record import Record
from .sections import Coupling, Elsewhere, Joint, Section, Space
from .supply import Circuit, CircuitLeg, CircuitPath, Panel, PanelBond
from .wiring import Pull, Wire

__all__ = [
    "CLASSES",
    "HOLDERS",
    "RECORDS",
    "SUBJECTS",
    "Assembly",
    "Authority",
    "Basis",
    "Bend",
    "Bender",
    "Box",
    "BranchScheme",
    "Break",
    "Cable",
    "Circuit",
    "CircuitLeg",
    "CircuitPath",
    "ColorScheme",
    "Compartment",
    "Coupling",
    "Course",
    "Defaults",
    "Detail",
    "Device",
    "DeviceRow",
    "Elsewhere",
    "Entry",
    "Halves",
    "Joint",
    "Knockouts",
    "MarkedFor",
    "Neighbors",
    "Omission",
    "Opposite",
    "Pair",
    "Panel",
    "PanelBond",
    "Passage",
    "PathEnd",
    "Pull",
    "Raceway",
    "Record",
    "Ring",
    "Run",
    "Section",
    "SharedEntry",
    "Space",
    "Spacing",
    "Stack",
    "Strap",
    "Wire",
    "WireDefaults",
]

#: Every record class by the name that rules and reports use for it.
CLASSES: dict[str, type[Record]] = {
    "assembly": Assembly,
    "basis": Basis,
    "authority": Authority,
    "defaults": Defaults,
    "wire_defaults": WireDefaults,
    "color_scheme": ColorScheme,
    "branch_scheme": BranchScheme,
    "omission": Omission,
    "panel": Panel,
    "circuit": Circuit,
    "section": Section,
    "joint": Joint,
    "coupling": Coupling,
    "space": Space,
    "box": Box,
    "compartment": Compartment,
    "marked_for": MarkedFor,
    "neighbors": Neighbors,
    "opposite": Opposite,
    "ring": Ring,
    "device": Device,
    "break": Break,
    "spacing": Spacing,
    "entry": Entry,
    "shared_entry": SharedEntry,
    "raceway": Raceway,
    "bend": Bend,
    "cable": Cable,
    "pull": Pull,
    "wire": Wire,
    "run": Run,
    "passage": Passage,
    "panel_bond": PanelBond,
    "elsewhere": Elsewhere,
    "circuit_leg": CircuitLeg,
    "circuit_path": CircuitPath,
    "bender": Bender,
    "course": Course,
    "path_end": PathEnd,
    "strap": Strap,
    "pair": Pair,
    "halves": Halves,
    "knockouts": Knockouts,
    "stack": Stack,
    "row": DeviceRow,
}

#: Elements that are part of another: in rules on them that one goes by its class, as by itself.
HOLDERS: dict[str, str] = {"compartment": "box"}

#: The classes whose elements a rule may be checked on, and where the assembly keeps them.
SUBJECTS: dict[str, str] = {
    "assembly": "",
    "panel": "panels",
    "circuit": "circuits",
    "section": "sections",
    "joint": "joints",
    "coupling": "couplings",
    "space": "spaces",
    "box": "boxes",
    "compartment": "compartments",
    "raceway": "raceways",
    "cable": "cables",
    "pull": "pulls",
    "run": "runs",
    "pair": "pairs",
}

#: Every record class by its own name, as the declarations of fields name it.
RECORDS: dict[str, type] = {record.__name__: record for record in CLASSES.values()}
