"""The texts of ``pullpoint new``.  Tests hold that each passes its own check."""

from __future__ import annotations

ASSEMBLY = """\
# yaml-language-server: $schema={schema}
#
# A prefabricated assembly: two boxes, a raceway between them, one circuit.
# Change it step by step and run the check after every step: whatever a rule needs and the file does
# not say is reported as open, with the name of the field. `pullpoint expand` writes it out in full.

assembly: {id}
title: One receptacle on one circuit
revision: A
quantity: 1                        # how many are built; every finding is worth that many
project: Tamarack Ridge Surgical Pavilion

basis:
  edition: nec-2023                # nec-2017, nec-2020 or nec-2023
  amendments: []                   # amendment files, relative to this one
  permit_date: 2026-03-02          # decides which amendments are in force
  authority: {name: Kestrel County Building Department, reference: ""}
  health_care: false
  ambient: 30 degC                 # "86 degF" means the same
  location: dry
  air: none                        # or plenum, duct: what the air around the wiring is for

defaults:                          # for every element that does not say otherwise
  wire: {material: copper, insulation: THHN, size: 12 AWG}
  box_material: metal              # of boxes that do not say otherwise
  terminals: 75 degC               # as marked on the devices and the panel
  free_conductor: 8 in             # left in every box that does not say otherwise
  grounds_joined: true             # pigtails, so that taking a device out leaves grounds whole
  bonding_jumper: 12 AWG           # from each receptacle to its box
  box: {trade_size: 4 x 2-1/8 square, grounded: true, concealed: false, free_outside: 4 in}
  raceway: {method: EMT, size: 1/2, bender: one_shot}
  circuit: {breaker: 20 A, continuous_load: 0 VA, outlets: several, nonlinear: false}

not_covered:                       # kinds of detail that are left out on purpose
  - {topic: fire_ratings, reason: the wall has no fire rating, by: the designer}

colors:                            # the project's color of each conductor
  - {system: 208Y/120, A: [black], B: [red], C: [blue], neutral: [white], ground: [green]}

panels:
  - {id: P1, branch: normal, system: 208Y/120}

circuits:
  - id: P1-1
    panel: P1
    phases: [A]                    # one phase for each pole
    load: 360 VA                   # total load; continuous_load: is what runs three hours or more
    # wire: 10 AWG                 # size of its wires, where it is not the usual one
    fed_at: [JB1]                  # where the home run comes in, if others bring it

# Named sets of fields; an element that is `like` one has them unless it states them itself.
types:
  device:
    duplex: {kind: receptacle, rating: 20 A, depth: 1 in, grounding: jumper, sink_distance: 10 ft}
  bend:
    quarter: {kind: bend, angle: 90 deg, radius: 4 in}
    box: {kind: offset, angle: 10 deg, radius: 4 in}

# Elements described once. What differs between placements is a parameter: `$circuit`.
groups:
  outlet:
    takes: {circuit: , from: , long: 6 ft}     # with a default, or without
    boxes:
      - id: B1
        kind: outlet
        setback: 0 in              # from the finished surface back to its front edge or ring
        devices: [{id: D1, like: duplex, circuit: $circuit}]
    raceways:
      # A raceway starts and ends in a box, a panel, a coupling, or `field` (completed on site).
      - id: R1
        from: $from
        to: B1
        length: $long
        bends: [{like: quarter}, {like: box}]
        supports: {first: 1 ft, every: 4 ft, last: 1 ft}     # or a list: [1 ft, 5 ft]
    pulls:
      # Conductors drawn in together, with every raceway that they go through, in order.
      - {id: W1, circuit: $circuit, through: [R1], wires: by circuit}

# A second one: copy the line and change it. Its elements are called o2.B1, o2.R1, o2.W1.
place:
  - {group: outlet, id: o1, with: {circuit: P1-1, from: JB1}}

boxes:
  - {id: JB1, kind: junction}      # `pullpoint tables show standard_boxes` has the trade sizes
"""

AMENDMENT = """\
# yaml-language-server: $schema={schema}
#
# An amendment: what a jurisdiction or an owner changes in the rules of an edition.
# Each change says what it touches, what it does there, why, and which section of the ordinance says
# so.  A change of something that does not exist is an error, never silently ignored.
# The examples at the end are its tests.

amendment: {id}
title: Local amendments
jurisdiction: Kestrel County
effective: 2026-01-01              # in force from this day on, judged on the permit date
# ends: 2026-12-31                 # the last day in force
reference: Ordinance (number)
status: draft                      # in_use once somebody has compared it with the current ordinance
# editions: [nec-2023]             # every edition unless stated
# builds_on: [state.yaml]          # amendments beside this file that are applied before it

changes:
  - rule: bend-total               # `pullpoint rules list` names the rules
    set: {permitted: 270 deg}      # `pullpoint rules show bend-total` names its values
    reason: Pulls through shop-built walls are made by hand.
    reference: Section (number)

  # Other things that a change can do; each has its own reason and reference:
  #
  # - rule: raceway-fill
  #   narrow: raceway.method == 'EMT'          # a further condition for the rule to apply
  #   widen: …                                 # a condition under which it applies as well
  #   applies: […]                             # conditions in place of its own
  #   fails_as: review                         # fail, open, review or informational
  #   exception: {when: …, note: in words}     # where the rule does not hold
  #   values: {short: {is: 3 ft, note: …}}     # a number for the conditions of this change
  #   title: …                                 # the requirement in other words
  #   cite: …                                  # the section that reports cite
  # - rule: raceway-fill
  #   withdraw: true                           # or `replace:` with a whole rule of that id
  # - table: ampacity
  #   cells: [{keys: {size: 12 AWG}, set: {ampacity: 20 A}}]
  # - forbid: {rule: no-ac, methods: [AC]}     # or `require:`
  # - add: {rule: …}                           # a rule of its own, as in a rule file

# Every example starts from this assembly.
sample:
  boxes: [{id: A, kind: junction}, {id: B, kind: junction}]
  raceways:
    - {id: R1, method: EMT, size: 1/2, from: A, to: B, bends: [{kind: bend, angle: 90 deg}]}

examples:
  - rule: bend-total
    name: at the amended limit
    on: R1
    set: {raceways.R1.bends.0.angle: 270 deg}
    expect: pass
    measure: 270 deg
    limit: 270 deg
    source: the ordinance
  - rule: bend-total
    name: beyond the amended limit, within that of the edition
    on: R1
    set: {raceways.R1.bends.0.angle: 300 deg}
    expect: fail
    measure: 300 deg
    limit: 270 deg
    source: the ordinance
"""

RULE = """\
# yaml-language-server: $schema={schema}
#
# A rule: one requirement, checked on every element of a class.
# Every number is a value with a name, a unit and a citation: that is what an amendment changes.
# The steps are the calculation sheet that a reviewer reads; the examples are the rule's tests.
# `pullpoint rules document --language` prints the functions, the fields and the tables.

rule: {id}
title: A raceway is not longer than one piece of conduit
topic: routing
each: raceway
why: >-
  What goes wrong where the rule is not kept, in a sentence.
note: >-
  How sure the requirement and its numbers are.
at: length                         # the field that a finding points at

covers: EMT, IMC and RMC              # what applies: selects, in words, for the reports
applies:                              # when the rule applies; every condition has to hold
  - raceway.method in ['EMT', 'IMC', 'RMC']

values:
  piece:
    is: 10 ft
    # in: {nec-2017: 10 ft}        # where an edition differs
    cite: common practice, no source
    note: how sure the number is

steps:
  pieces:
    is: ceil(raceway.length / piece)
    unit: count
    note: pieces that it takes

measure: pieces
limit: 1
unit: count
review: "{raceway.length as ft-in} takes {pieces} pieces of {piece as ft-in}"
pass: "{raceway.length as ft-in} of {piece as ft-in}"
fixes:
  - "shorten it by {raceway.length - piece as ft-in}, or let a box divide it"

cite:
  any: common practice             # or nec-2017:, nec-2020:, nec-2023:

sources:
  - where the requirement was read

# The examples may also stand in a file beside this one, called {id}.examples.yaml.
sample:
  boxes: [{id: A, kind: junction}, {id: B, kind: junction}]
  raceways:
    - {id: R1, method: EMT, size: 3/4, from: A, to: B, length: 10 ft}

examples:
  - name: exactly one piece
    on: R1
    expect: pass
    measure: "1"
    limit: "1"
    source: arithmetic
  - name: an inch more
    on: R1
    set: {raceways.R1.length: 10 ft 1 in}
    expect: review
    measure: "2"
    steps: {pieces: "2"}
    source: arithmetic
  - name: no length stated
    on: R1
    remove: [raceways.R1.length]
    expect: open
  - name: flexible conduit
    on: R1
    set: {raceways.R1.method: FMC}
    expect: notApplicable
"""

DECISIONS = """\
# yaml-language-server: $schema={schema}
#
# What was decided on findings of one assembly.  No decision removes a finding: an accepted one
# stays in every report with its reason, and comes back when its measure worsens, its rule changes
# or the decision runs out.  Judged on `--as-of`; the clock is not read.

decisions_for: {id}                # the assembly's id

decisions: []
# `pullpoint explain FILE RULE ELEMENT` prints measure and limit.  In place of the `[]` above:
#
#  - rule: joint-pulled-in-shop
#    element: WTX
#    disposition: accepted         # or corrected_in_field, not_applicable_here
#    measure: "2"                  # as decided; a worse one is a new finding
#    limit: "0"
#    authority: {name: Kestrel County Building Department, reference: letter of 2026-02-20}
#    person: the name of who records it
#    role: project engineer
#    date: 2026-02-23
#    expires: 2026-12-31           # the last day on which it holds; may be left out
#    reason: The pull stays loose in its coils until the site couples the raceways.
"""
