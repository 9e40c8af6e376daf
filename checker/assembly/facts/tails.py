"""What a tail that is coiled at a joint has to reach."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from checker.documents.missing import Missing, known

from ..records import Coupling
from ..structure import Index
from .gaps import describe, gap, sum_of


def tail_facts(index: Index) -> None:
    """For each pull, the length of its route beyond the first joint that it crosses."""
    for pull in index.assembly.pulls:
        route = index.routes[pull]
        at = next(
            (
                number
                for number, place in enumerate(route.places)
                if isinstance(place, Coupling) and index.joint_of(place) is not None
            ),
            None,
        )
        if at is None:
            pull.beyond_joint = Missing("through", f"a joint on the route of {describe(pull)}")
            continue
        lengths = [w.length if known(w.length) else gap(w, "length") for w in route.ways[at:]]
        pull.beyond_joint = sum_of(lengths)
