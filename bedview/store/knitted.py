"""What a procedure says up to each of its steps, as short digests.

Digests of a step are equal exactly if both procedures do the same to the bed up to there; so the journal can
tell whether a row that was knitted has been altered since. Notes do nothing to the bed, and a row is the same
whether its action knits four or forty: neither is part of a digest.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from typing import Final

from bedview.bed.actions import Action, Knit, Note
from bedview.bed.needles import Bed
from bedview.plan.actions_written import to_item

_DIGEST_BYTES: Final = 16


def step_digests(bed: Bed, steps: Iterable[Iterable[Action]]) -> Iterator[bytes]:
    """The running digest after each step.

    Args:
        bed: the bed of the procedure.
        steps: of each step its actions in order; a pass may be given as the ``Knit`` of many rows that it
            is one row of.

    Yields:
        16 bytes a step, each depending on all steps before it.
    """
    running = hashlib.blake2b(f"{bed.needles} {bed.carriage.value}".encode(), digest_size=_DIGEST_BYTES)
    for actions in steps:
        for action in actions:
            running.update(_words(action, bed.needles))
        running.update(b".")
        yield running.digest()


def _words(action: Action, needles: int) -> bytes:
    if isinstance(action, Note):
        return b""
    if isinstance(action, Knit):
        return b"knit"
    return json.dumps(to_item(action, needles), sort_keys=True).encode()
