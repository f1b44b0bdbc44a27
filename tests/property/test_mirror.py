"""Left and right are alike: a mirrored procedure gives the mirrored trace, fabric and findings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import numpy as np
from hypothesis import given, settings

from bedview.bed.openings import Opening
from bedview.checks.judge import judge
from bedview.export.fabric_counts import fabric_counts
from bedview.export.trace import trace_lines
from tests.property.mirroring import mirrored, mirrored_line
from tests.property.procedures import Procedure, procedures


@settings(deadline=None, max_examples=80)
@given(procedures())
def test_everything_mirrors(procedure: Procedure) -> None:
    one, other = procedure.run(), mirrored(procedure).run()
    assert [mirrored_line(line) for line in trace_lines(one)] == list(trace_lines(other))
    assert fabric_counts(one) == fabric_counts(other)
    last = procedure.bed.needles - 1
    assert np.array_equal(one.fabric.needle, last - other.fabric.needle.astype(int))
    for name in ("kind", "level", "begun"):
        assert np.array_equal(getattr(one.fabric, name), getattr(other.fabric, name))
    # Loops are hung from left to right, so the nodes of moved loops have other numbers.
    below = one.fabric.loops_of(one.fabric.under)
    assert np.array_equal(below, other.fabric.loops_of(other.fabric.under))

    def faces(openings: Iterable[Opening], *, turned: bool) -> set[tuple[int, int, bool, int]]:
        return {
            (last - 1 - each.boundary if turned else each.boundary, each.size, each.wrapped, each.loop)
            for each in openings
        }

    assert faces(one.openings.openings(), turned=True) == faces(other.openings.openings(), turned=False)
    assert one.openings.floats() == other.openings.floats()
    expected = Counter(
        (each.rule, each.severity, each.action, each.pass_number, tuple(last - n for n in each.needles[::-1]))
        for each in judge(one)
    )
    assert expected == Counter(
        (each.rule, each.severity, each.action, each.pass_number, each.needles) for each in judge(other)
    )


@settings(deadline=None, max_examples=60)
@given(procedures())
def test_a_mirror_in_a_mirror(procedure: Procedure) -> None:
    assert mirrored(mirrored(procedure)) == procedure
