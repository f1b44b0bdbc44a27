"""Rules for sewing unequal edges: small numbers to remember, and little left over."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedview.finish.easing import MOST_REMEMBERED, EasingRule, easing_rule
from bedview.finish.making_up import making_up
from tests.finish.pieces import flat, planned


@pytest.mark.parametrize(
    ("longer", "shorter", "rule"),
    [
        # 60 rows to 40 stitches: 1 and 2 rows in turn, nothing over.
        (60, 40, EasingRule(3, 2, (1, 2), 0, 0)),
        # 64 rows to 40: the same takes up 60 of them; of the other 4 one every 10 stitches.
        (64, 40, EasingRule(3, 2, (1, 2), 4, 10)),
        (20, 20, EasingRule(1, 1, (1,), 0, 0)),
        (7, 5, EasingRule(4, 3, (1, 1, 2), 1, 0)),
    ],
)
def test_rules_counted_by_hand(longer: int, shorter: int, rule: EasingRule) -> None:
    assert easing_rule(longer, shorter) == rule


@given(shorter=st.integers(1, 400), more=st.integers(0, 400))
def test_a_rule_uses_up_the_longer_edge_and_no_more(shorter: int, more: int) -> None:
    longer = shorter + more
    rule = easing_rule(longer, shorter)
    assert sum(rule.by_turns) == rule.longer
    assert len(rule.by_turns) == rule.shorter <= MOST_REMEMBERED
    assert shorter * rule.longer // rule.shorter + rule.more == longer
    # Less than one more to each: else every one of the shorter would take it.
    assert 0 <= rule.more < max(shorter, 1)


@pytest.mark.parametrize(("longer", "shorter"), [(3, 4), (3, 0)])
def test_counts_the_other_way_round_are_refused(longer: int, shorter: int) -> None:
    with pytest.raises(ValueError, match="from a longer edge"):
        easing_rule(longer, shorter)


def test_a_side_sewn_to_a_course_says_how_many_rows_to_how_many_loops() -> None:
    seam = {
        "kind": "overcast",
        "a": {"side": "left", "passes": [1, 15]},
        "b": {"made_in_pass": 30, "needles": "L5-R5"},
    }
    (step,) = [step for step in making_up(planned(flat(30), [seam])) if step.seam == 0]
    assert "Ease evenly: take 3 rows to 2 loops, 1 and 2 in turn." in step.details
    more = {**seam, "a": {"side": "left", "passes": [1, 17]}}
    (step,) = [step for step in making_up(planned(flat(30), [more])) if step.seam == 0]
    assert (
        "Ease evenly: take 5 rows to 3 loops, 1, 2 and 2 in turn. 1 row more, near the middle."
        in step.details
    )
