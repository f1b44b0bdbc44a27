"""The shelf of swatches beside every piece: what was counted and weighed before, and the yarn at hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from psygnal import Signal

from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.problems import PieceError
from bedview.plan.swatch import KnittedSwatch, SwatchBook, pooled_gauge, same_yarn
from bedview.session import editing
from bedview.store.swatches import SwatchFile
from bedview.store.whole_file import OutputError


class SwatchShelf:
    """Swatches and yarn at hand, as they are kept on this machine.

    Args:
        file: where they are kept; nowhere if left out, and then they last as long as the program.

    Signals:
        changed: there is more, or less, or something else on it.
        told: one sentence why something was not kept.
    """

    changed = Signal()
    told = Signal(str)

    def __init__(self, file: SwatchFile | None = None) -> None:
        self._file = file
        self.book = SwatchBook()
        self.trouble = ""
        if file is not None:
            try:
                self.book = file.load()
            except PieceError as error:
                self.trouble = _unusable(error)

    # -- what is there ------------------------------------------------------------------------------------

    def of_piece(self, piece: Piece) -> tuple[KnittedSwatch, ...]:
        """The swatches of the piece's yarns, each under the yarn's id there."""
        return self.book.of_yarns(piece.yarns)

    def of_yarn(self, name: str) -> list[KnittedSwatch]:
        """The swatches of a yarn by its name, from the lowest dial to the highest."""
        found = [each for each in self.book.swatches if same_yarn(each.yarn, name)]
        return sorted(found, key=lambda each: each.tension)

    def of_others(self, name: str) -> list[KnittedSwatch]:
        """The swatches of all other yarns, yarn by yarn."""
        found = [each for each in self.book.swatches if not same_yarn(each.yarn, name)]
        return sorted(found, key=lambda each: (each.yarn.casefold(), each.tension))

    # -- what is done -------------------------------------------------------------------------------------

    def put(self, swatch: KnittedSwatch, old: KnittedSwatch | None = None) -> bool:
        """Keep a swatch, in the place of another if one is given. Returns whether it is kept."""
        return self._change(lambda book: book.with_swatch(swatch, old))

    def take_out(self, swatch: KnittedSwatch) -> bool:
        """Keep a swatch no longer. Returns whether it is gone."""
        return self._change(lambda book: book.without(swatch))

    def put_balls(self, yarn: str, balls: str) -> bool:
        """Keep what lies at hand of a yarn. Returns whether it is kept."""
        if balls == self.book.balls_of(yarn):
            return True
        return self._change(lambda book: book.with_balls(yarn, balls))

    def _change(self, change: Callable[[SwatchBook], SwatchBook]) -> bool:
        try:
            self.book = change(self.book) if self._file is None else self._file.change(change)
        except PieceError as error:
            self.told.emit(_unusable(error))
            return False
        except OutputError as error:
            self.told.emit(_("Not kept for the next piece: {why}.").format(why=error.what))
            return False
        self.trouble = ""
        self.changed.emit()
        return True


def with_swatches(piece: Piece, place: int, swatches: Sequence[KnittedSwatch]) -> Piece:
    """The piece with swatches as the gauge of one of its yarns.

    Swatches of another yarn, by its name, make the yarn of the piece that one; its tex comes with it.

    Args:
        piece: the piece.
        place: of the yarn in the piece.
        swatches: of one yarn and dial, at least one of them measured.

    Raises:
        EditError: if it would be no piece.
    """
    yarn, first = piece.yarns[place], swatches[0]
    tex = next((each.tex for each in reversed(swatches) if each.tex is not None), None)
    if not same_yarn(first.yarn, yarn.name):
        # A swatch of another yarn, or the first that gives this one a name.
        piece = editing.with_yarn(piece, place, {"name": first.yarn, "tex": tex})
    elif yarn.tex is None and tex is not None:
        piece = editing.with_yarn(piece, place, {"tex": tex})
    gauge = pooled_gauge(swatches).model_copy(update={"yarn": yarn.id})
    return editing.with_gauge(piece, gauge.model_dump(exclude_unset=True))


def _unusable(error: PieceError) -> str:
    said = _("The swatch book of this machine can't be used: {where} {what}. It stays as it is.")
    return said.format(where=error.where, what=error.what)
