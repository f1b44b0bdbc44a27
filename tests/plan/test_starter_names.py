from bedview.plan.starters import STARTERS
from bedview.plan.starters.names import _NAMES


def test_everything_a_starter_asks_has_a_name_and_no_name_is_left_over() -> None:
    asked = {parameter.key for starter in STARTERS for parameter in starter.parameters}
    assert set(_NAMES) == asked
