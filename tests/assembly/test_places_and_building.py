"""How high a box is placed, and what the basis says of the building; amendments ask for both."""

from __future__ import annotations

from drawing import draw, named

from checker.documents.missing import Missing, known

BOXES = """
sections: [{id: S, width: 10 ft, height: 9 ft}]
boxes:
  - {id: B1, kind: outlet, section: S, at: [3 ft, 18 in]}
  - {id: B2, kind: outlet, section: S, at: [3 ft, -2 in]}
  - {id: B3, kind: outlet, section: S}
"""


def test_elevation_is_the_upper_coordinate() -> None:
    assembly = draw(BOXES)
    assert named(assembly.boxes, "B1").elevation == 18
    assert named(assembly.boxes, "B2").elevation == -2


def test_without_a_place_the_elevation_lacks_it() -> None:
    lack = named(draw(BOXES).boxes, "B3").elevation
    assert isinstance(lack, Missing)
    assert lack.field == "at"


def test_what_is_not_said_of_the_building_is_not_known() -> None:
    assert not known(draw("basis: {health_care: true}").basis.building)
    assert draw("basis: {building: []}").basis.building == ()
    assert draw("basis: {building: [fire zone]}").basis.building == ("fire zone",)
