"""A list of actions by itself, as a command or a lesson takes it: ``[{"do": "knit", "rows": 4}]``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from pydantic import TypeAdapter, ValidationError

from bedview.bed.actions import Action
from bedview.plan.actions_file import ActionList, AnyAction, to_action
from bedview.plan.fields import STRICT, BedNeedles
from bedview.plan.problems import first_problem
from bedview.store.json_text import collecting_paused, parse_json

_ACTIONS: Final[TypeAdapter[tuple[AnyAction, ...]]] = TypeAdapter(ActionList, config=STRICT)


def parse_actions(data: bytes, bed_needles: int) -> Sequence[Action]:
    """The actions that a JSON list says.

    Args:
        data: the list, UTF-8.
        bed_needles: how many needles the bed has that they are for.

    Raises:
        PieceError: if they cannot be used; the first thing wrong is named, as in ``[3].rows``.
    """
    with collecting_paused():
        document = parse_json(data)
        try:
            items = _ACTIONS.validate_python(document, context=BedNeedles(bed_needles))
        except ValidationError as error:
            raise first_problem(error, document, _ACTIONS.json_schema) from None
    return [to_action(item, bed_needles) for item in items]
