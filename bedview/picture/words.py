"""The bed in words, for those who do not see the picture."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt

from bedview.bed.needles import Position, Side, needle_name, runs
from bedview.language import gettext as _
from bedview.language import marked, ngettext, number
from bedview.picture.bed_scene import PLAIN_LABELS, BedScene, TouchKind

_SAID = {
    Position.WORK: marked("working"),
    Position.UPPER: marked("upper working"),
    Position.HOLD: marked("hold"),
}

_TO_TOUCH = marked("to be touched now")
_MARKED = {TouchKind.CHOOSE: marked("chosen"), TouchKind.POINT: marked("pointed out")}


def needles_in_words(indices: Iterable[int], needles: int) -> str:
    """Needles as one says them: ``L10 to R4, R7``; ``no needles`` for none."""
    parts = []
    for first, last in runs(indices):
        name = needle_name(first, needles)
        if first != last:
            name = _("{first} to {last}").format(first=name, last=needle_name(last, needles))
        parts.append(name)
    return ", ".join(parts) or _("no needles")


def bed_in_words(scene: BedScene) -> str:
    """Positions from the left, what needles bear, carriage, yarn and row, in one line.

    That a needle not out of work bears one loop goes without saying.
    """
    parts = [*_stretches(scene), *_loops(scene), *_wraps(scene)]
    if not parts:
        parts = [_("all needles out of work")]
    is_left = scene.carriage is Side.LEFT
    parts.append(_("carriage on the left") if is_left else _("carriage on the right"))
    parts.append(_("hold cams on") if scene.hold_cams else _("hold cams off"))
    if scene.feeder >= 0:
        parts.append(_("{yarn} in the feeder").format(yarn=scene.yarns[scene.feeder].name))
    else:
        parts.append(_("no yarn in the feeder"))
    if scene.tip >= 0:
        name = needle_name(scene.tip, scene.needles)
        parts.append(_("the yarn leaves from {needle}").format(needle=name))
    if scene.dial is not None:
        parts.append(_("dial at {dial}").format(dial=number(scene.dial)))
    parts.append(_("row {row}").format(row=scene.row))
    return ", ".join(parts)


def _stretches(scene: BedScene) -> list[str]:
    """Stretches of needles that are not out of work, from the left."""
    said = []
    for first, last in _equal_stretches(scene.positions.tolist()):
        position = Position(int(scene.positions[first]))
        if position is not Position.OUT:
            needles = needles_in_words(range(first, last + 1), scene.needles)
            said.append(f"{needles} {_name_of(scene, position)}")
    return said


def _equal_stretches(values: Sequence[int]) -> list[tuple[int, int]]:
    """First and last index of every stretch of equal values."""
    edges = [place for place in range(1, len(values)) if values[place] != values[place - 1]]
    return list(zip([0, *edges], [edge - 1 for edge in [*edges, len(values)]], strict=True))


def _loops(scene: BedScene) -> list[str]:
    """Needles that bear none though they could, or several, or loops of one yarn where there are others."""
    bears = scene.loops > 0
    empty = (scene.positions != Position.OUT) & ~bears
    kinds = [
        (_("no loop on {needles}"), empty),
        (_("a loop on {needles} all the same"), (scene.positions == Position.OUT) & bears),
        (_("several loops on {needles}"), scene.loops > 1),
    ]
    said = [text.format(needles=_needles_where(scene, where)) for text, where in kinds if where.any()]
    for yarn in sorted(_yarns_on_bed(scene)) if _several_yarns(scene) else ():
        named = _("loops of {yarn} on {needles}")
        where = _needles_where(scene, scene.loop_yarn == yarn)
        said.append(named.format(yarn=scene.yarns[yarn].name, needles=where))
    return said


def _needles_where(scene: BedScene, where: npt.NDArray[np.bool_]) -> str:
    return needles_in_words(np.flatnonzero(where).tolist(), scene.needles)


def _yarns_on_bed(scene: BedScene) -> set[int]:
    """Indices of the yarns of which loops hang on needles."""
    return {int(yarn) for yarn in np.unique(scene.loop_yarn) if yarn >= 0}


def _several_yarns(scene: BedScene) -> bool:
    return len(_yarns_on_bed(scene)) > 1


def _wraps(scene: BedScene) -> list[str]:
    wrapped = np.flatnonzero(scene.wraps).tolist()
    return (
        [_("wraps on {needles}").format(needles=needles_in_words(wrapped, scene.needles))] if wrapped else []
    )


def _name_of(scene: BedScene, position: Position) -> str:
    """What a position is called: as the machine at hand calls it, or else the trade's word."""
    label = scene.view.labels[position]
    return label if label != PLAIN_LABELS[position] else _(_SAID.get(position, marked("out of work")))


def yarns_in_words(scene: BedScene, needle: int) -> str:
    """The yarn of what a needle bears; empty for nothing."""
    parts = []
    if scene.loops[needle]:
        parts.append(_count_of_loops(scene, needle, named=True))
    wraps = int(scene.wraps[needle])
    if wraps:
        text = ngettext("one wrap of {yarn}", "{count} wraps of {yarn}", wraps)
        parts.append(text.format(count=wraps, yarn=scene.yarns[scene.wrap_yarn[needle]].name))
    return ", ".join(parts)


def _count_of_loops(scene: BedScene, needle: int, *, named: bool) -> str:
    loops = int(scene.loops[needle])
    if not named:
        return ngettext("one loop", "{count} loops", loops).format(count=loops)
    text = ngettext("one loop of {yarn}", "{count} loops of {yarn}", loops)
    return text.format(count=loops, yarn=scene.yarns[scene.loop_yarn[needle]].name)


def _marked_as(scene: BedScene, needle: int) -> list[str]:
    """What a needle is marked as: chosen, pointed out, or the next that hands touch."""
    said = {_MARKED.get(touch.kind, _TO_TOUCH) for touch in scene.touches if needle in touch.needles}
    if any(touch.target == needle for touch in scene.touches):
        said.add(_TO_TOUCH)
    return sorted(said)


def needle_in_words(scene: BedScene, needle: int) -> str:
    """One needle: its name, where it stands and what it bears."""
    position = Position(int(scene.positions[needle]))
    parts = [needle_name(needle, scene.needles), _name_of(scene, position)]
    loops, wraps = int(scene.loops[needle]), int(scene.wraps[needle])
    named = _several_yarns(scene)
    parts.append(_count_of_loops(scene, needle, named=named) if loops else _("no loop"))
    if wraps:
        parts.append(ngettext("one wrap", "{count} wraps", wraps).format(count=wraps))
    if needle == scene.tip:
        parts.append(_("the yarn leaves from here"))
    parts.extend(_(said) for said in _marked_as(scene, needle))
    return ", ".join(parts)
