"""Kinds of values that fields of several elements have: with their dimension, form or choices."""

from typing import Annotated, Literal

from checker.documents.fields import (
    BOX_SIZE,
    DATE,
    IDENTIFIER,
    INSULATION,
    POSITIVE,
    SIGNED,
    SYSTEM,
    TRADE_SIZE,
    WIRE_SIZE,
    WORDS,
)
from checker.quantities.dimension import (
    ANGLE,
    AREA,
    CURRENT,
    DIFFERENCE,
    LENGTH,
    MASS,
    NONE,
    POWER,
    TEMPERATURE,
    VOLTAGE,
    VOLUME,
)

Length = Annotated[float, LENGTH]
Area = Annotated[float, AREA]
Volume = Annotated[float, VOLUME]
Current = Annotated[float, CURRENT]
Power = Annotated[float, POWER]
Voltage = Annotated[float, VOLTAGE]
Share = Annotated[float, NONE]
Temperature = Annotated[float, TEMPERATURE]
Angle = Annotated[float, ANGLE]
Weight = Annotated[float, MASS]
Difference = Annotated[float, DIFFERENCE]
WireSize = Annotated[str, WIRE_SIZE]
TradeSize = Annotated[str, TRADE_SIZE]
BoxSize = Annotated[str, BOX_SIZE]
Identifier = Annotated[str, IDENTIFIER]
Positive = Annotated[int, POSITIVE]
Date = Annotated[str, DATE]
Insulation = Annotated[str, INSULATION]
System = Annotated[str, SYSTEM]
Words = Annotated[str, WORDS]
Branch = Literal[
    "normal",
    "life_safety",
    "critical",
    "equipment",
    "emergency",
    "legally_required",
    "optional_standby",
]
Phase = Literal["A", "B", "C"]
Material = Literal["copper", "aluminum"]
Location = Literal["dry", "damp", "wet"]
Air = Literal["none", "plenum", "duct"]
Fitting = Literal["insulating", "rounded_metal", "hub", "plain"]
BoxKind = Literal[
    "outlet",
    "junction",
    "pull",
    "conduit_body",
    "cabinet",
    "panelboard",
    "luminaire",
    "transfer_equipment",
    "wireway",
    "auxiliary_gutter",
    "surface_raceway",
]
Wall = Literal["left", "right", "top", "bottom", "back", "front"]
#: What permits flexible metal raceway or metal-sheathed cable in place of nonflexible raceway.
Permission = Literal[
    "none",
    "listed_headwall",
    "listed_furnishing",
    "fished",
    "flexible_connection",
    "movement",
    "luminaire",
]
#: Cable types as marked, without their size.
CableType = Literal[
    "CL2P", "CL2R", "CL2", "CL2X", "CL3P", "CL3R", "CL3", "CL3X", "PLTC",
    "FPLP", "FPLR", "FPL", "CMP", "CMR", "CMG", "CM", "CMX",
]  # fmt: skip
#: Receptacle configurations (NEMA WD 6), without the R.
Configuration = Literal[
    "5-15", "5-20", "5-30", "5-50", "6-15", "6-20", "6-30", "6-50", "14-20", "14-30", "14-50",
    "L5-15", "L5-20", "L5-30", "L6-15", "L6-20", "L6-30", "L14-20", "L14-30", "L21-20", "L21-30",
    "x_ray", "other",
]  # fmt: skip
#: Loads as the lists of the essential branches name them, in own words.
Load = Literal[
    "egress_lighting",
    "exit_signs",
    "alarms",
    "emergency_communications",
    "generator_set",
    "elevator_cab",
    "egress_doors",
    "task_lighting",
    "care_receptacles",
    "fixed_care_equipment",
    "nurse_call",
    "isolated_power",
    "telecommunications",
    "suction_and_air",
    "ventilation",
    "heating",
    "smoke_control",
    "elevator",
    "pumps",
    "kitchen_hood",
    "sterilizer",
    "general_lighting",
    "general_receptacles",
    "other",
]
EndKind = Literal["box", "panel", "coupling", "field"]
Point = tuple[Annotated[float, LENGTH, SIGNED], ...]
