"""What things of the making up are called in a sentence."""

from __future__ import annotations

from dataclasses import replace

from bedview.bed.actions import SideEdge
from bedview.bed.needles import Side
from bedview.finish.finish_plan import FinishPlan
from bedview.finish.open_groups import OpenGroup, Where
from bedview.finish.seam_plan import SeamPlan, SeamSide
from bedview.finish.sewing_order import Place
from bedview.finish.strand_ends import StrandEnd
from bedview.language import filled


class Names:
    """Names of the groups, edges, places and tails of one piece, in the words of its procedure."""

    def __init__(self, plan: FinishPlan) -> None:
        self._plan = plan
        self._words = plan.procedure.words
        self.gettext = self._words.gettext
        self.ngettext = self._words.ngettext

    def loops(self, count: int) -> str:
        """A number of loops: "16 loops"."""
        return self.ngettext("{count} loop", "{count} loops", count).format(count=count)

    def rows(self, count: int) -> str:
        """A number of rows: "5 rows"."""
        return self.ngettext("{count} row", "{count} rows", count).format(count=count)

    def needles(self, needles: tuple[int, ...]) -> str:
        """Needles, wherever they come from: "L8 to R8"."""
        return self._words.needles(sorted(needles))

    def group(self, group: OpenGroup) -> str:
        """A group: its name, or where it hangs: "“toe”"."""
        _ = self.gettext
        if group.name:
            return _("“{name}”").format(name=_(group.name))
        needles = self.needles(group.needles)
        if group.where is Where.WASTE_START:
            return _("the first row ({needles})").format(needles=needles)
        if group.where is Where.BED:
            return _("the loops on {needles}").format(needles=needles)
        return _("the open loops of {needles}").format(needles=needles)

    def side(self, side: SeamSide) -> str:
        """An edge, short: the group it takes loops of, or the edge itself."""
        if side.group is not None:
            return self.group(self._plan.groups[side.group])
        return self._words.edge(side.edge)

    def title(self, seam: SeamPlan) -> str:
        """A seam: "Graft “one flap” to “toe”"."""
        a, b = self.short(seam.a, seam.b), self.short(seam.b, seam.a)
        if seam.a.group is not None and seam.a.group == seam.b.group:
            group = self._plan.groups[seam.a.group]
            name = self.gettext("the first row") if group.where is Where.WASTE_START else self.group(group)
            return self.gettext("Graft {group} to itself: {a} and {b}").format(group=name, a=a, b=b)
        text = {
            "graft": self.gettext("Graft {a} to {b}"),
            "mattress": self.gettext("Sew {a} to {b}"),
            "overcast": self.gettext("Overcast {a} and {b}"),
        }[seam.kind]
        return text.format(a=a, b=b)

    def short(self, side: SeamSide, other: SeamSide) -> str:
        """An edge beside the other of its seam, with no more than what tells the two apart."""
        _ = self.gettext
        if side.group is not None and side.group == other.group:
            return self.needles(side.needles)
        if not isinstance(side.edge, SideEdge):
            return self.side(side)
        here, there = side.edge, other.edge
        name = _("the left edge") if here.side is Side.LEFT else _("the right edge")
        if there == replace(here, side=here.side.other):
            return name
        return _("{edge} (rows {first} to {last})").format(edge=name, first=here.first, last=here.last)

    def corner(self, seam: SeamPlan, places: tuple[Place, Place]) -> str:
        """Where both edges of a seam meet: "L9 and L8", "row 1 of both edges"."""
        _ = self.gettext
        a, b = places
        if seam.a.is_side and seam.b.is_side:
            if abs(a.passes - b.passes) <= 1:
                return _("row {row} of both edges").format(row=min(a.passes, b.passes))
            return _("row {a} and row {b}").format(a=a.passes, b=b.passes)
        one, other = self._corner(seam.a, a), self._corner(seam.b, b)
        if one == other:
            return _("{place} of both edges").format(place=one)
        return _("{a} and {b}").format(a=one, b=other)

    def _corner(self, side: SeamSide, place: Place) -> str:
        if side.is_side:
            return self.gettext("row {row}").format(row=place.passes)
        return self._words.needles([place.needle])

    def yarn(self, yarn: int) -> str:
        """A yarn by its index in the piece."""
        return self._words.yarn(self._plan.piece.yarns[yarn].id)

    def end(self, end: StrandEnd) -> str:
        """An end of a strand: "the end of the blue wool at R8, row 114 (60 cm)"."""
        _ = self.gettext
        text = _("the end of {yarn} at {needle}, row {row}")
        if end.is_start:
            text = _("the beginning of {yarn} at {needle}, row {row}")
            if not end.passes:
                text = _("the tail from casting on at {needle}")
        said = text.format(yarn=self.yarn(end.yarn), needle=self._words.needles([end.needle]), row=end.passes)
        return said if end.cm is None else filled(_("{end} ({cm:g} cm)"), end=said, cm=end.cm)

    def listed(self, parts: list[str]) -> str:
        """Things in a row: "a, b and c"."""
        if len(parts) < 2:
            return "".join(parts)
        return self.gettext("{first} and {last}").format(first=", ".join(parts[:-1]), last=parts[-1])

    def opening(self, sentence: str) -> str:
        """A sentence with a capital in front, if it begins with a letter."""
        return sentence[:1].upper() + sentence[1:]
