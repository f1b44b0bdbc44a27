"""Random shaping done the right way: heels, wedges and set-asides in which nothing is lost.

No finding of severity ``error`` may come of these, whatever warnings do.
"""

from random import Random

from tests.reference.bed import Bed
from tests.reference.needles import needle_name, write_needles
from tests.reference.simulator import do_action
from tests.reference.steps import Action, Piece

YARNS = (
    {"id": "main", "role": "fabric"},
    {"id": "scrap", "role": "waste"},
    {"id": "cord", "role": "ravel"},
)


class Knitter:
    """Knits carefully: a strand of main, all of the fabric in work between two shapings."""

    def __init__(self, seed: int) -> None:
        self.rng = Random(seed)  # noqa: S311 - the same procedure again for the same seed
        needles = 2 * self.rng.randint(6, 20)
        self.actions: list[Action] = []
        self.piece: Piece = {
            "format": 1,
            "title": f"sound shaping {seed}",
            "bed": {"needles": needles, "pitch_mm": 4.5, "carriage": self.rng.choice(["left", "right"])},
            "yarns": [dict(yarn) for yarn in YARNS],
            "segments": [{"kind": "actions", "title": "all of it", "actions": self.actions}],
        }
        self.bed = Bed(self.piece)
        width = self.rng.randint(10, needles)
        self.first = self.rng.randint(0, needles - width)
        self.last = self.first + width - 1
        self.do(thread="main")
        self.act({"do": "cast_on", "needles": self.names(self.first, self.last)})
        self.act({"do": "hold_cams", "on": True})

    # -- words ----------------------------------------------------------------

    def act(self, words: Action) -> None:
        """Do it on the bed and write it down."""
        do_action(self.bed, len(self.actions), 0, words)
        self.actions.append(words)

    def do(self, **only: str) -> None:
        """Thread or resume a yarn."""
        for what, yarn in only.items():
            self.act({"do": what, "yarn": yarn})

    def names(self, first: int, last: int) -> str:
        return write_needles(list(range(first, last + 1)), self.bed.needles)

    def place(self, first: int, last: int, position: str) -> None:
        """Move a range of needles."""
        self.act({"do": "place", "needles": self.names(first, last), "position": position})

    def wrap(self, needle: int) -> None:
        self.act({"do": "wrap", "needle": needle_name(needle, self.bed.needles)})

    def knit(self, rows: int) -> None:
        """So many rows, now and then with the side told."""
        words: Action = {"do": "knit", "rows": rows}
        if self.rng.random() < 0.3:
            words["from"] = self.bed.carriage
        self.act(words)

    @property
    def on_right(self) -> bool:
        """Whether the carriage stands on the right."""
        return self.bed.carriage == "right"

    # -- shapings -------------------------------------------------------------

    def plain(self) -> None:
        """A few rows over all needles."""
        self.knit(self.rng.randint(1, 5))

    def heel(self) -> None:
        """One needle to hold on the carriage's side each row, and back one each row on the far side."""
        low, high = self.first, self.last
        turn = self.rng.randint(3, high - low + 1)
        hand_wraps = self.rng.random() < 0.5
        while high - low + 1 > turn:
            if self.on_right:
                self.place(high, high, "hold")
                high -= 1
            else:
                self.place(low, low, "hold")
                low += 1
            self.knit(1)
        while low > self.first or high < self.last:
            nearest_held = high + 1 if self.on_right else low - 1
            if self.on_right and low > self.first:
                low -= 1
                self.place(low, low, "upper")
            elif not self.on_right and high < self.last:
                high += 1
                self.place(high, high, "upper")
            if hand_wraps and self.first <= nearest_held <= self.last and not low <= nearest_held <= high:
                self.wrap(nearest_held)
            self.knit(1)

    def wedge(self) -> None:
        """Groups to hold on the far side, two rows after each, wrapped one way or not at all; all back."""
        low, high = self.first, self.last
        step = self.rng.randint(2, 4)
        wraps = self.rng.choice(["none", "hand", "automatic"])
        far_is_left = self.on_right
        while high - low + 1 > step + 2:
            group = (low, low + step - 1) if far_is_left else (high - step + 1, high)
            nearest = group[1] if far_is_left else group[0]
            low, high = (low + step, high) if far_is_left else (low, high - step)
            if wraps == "automatic":
                outer = (group[0], group[1] - 1) if far_is_left else (group[0] + 1, group[1])
                self.place(*outer, "hold")
            else:
                self.place(*group, "hold")
            self.knit(1)
            if wraps == "hand":
                self.wrap(nearest)
            if wraps == "automatic":
                self.place(nearest, nearest, "hold")
            self.knit(1)
        self.place(self.first, self.last, "upper")

    def set_aside(self) -> None:
        """A group at the far side waits in hold, the rest knits, the group comes back."""
        size = self.rng.randint(1, (self.last - self.first) // 2)
        group = (self.first, self.first + size - 1) if self.on_right else (self.last - size + 1, self.last)
        self.place(*group, "hold")
        self.knit(2 * self.rng.randint(1, 4))
        self.place(*group, "upper")

    def scrap_off_and_hang(self) -> None:
        """A group leaves the bed in enough rows of waste and is hung again where it was, all at once."""
        size = self.rng.randint(2, (self.last - self.first) // 2)
        start = self.rng.randint(self.first, self.last - size + 1)
        self.act({"do": "park"})
        self.place(self.first, self.last, "hold")
        self.place(start, start + size - 1, "upper")
        self.do(thread=self.rng.choice(["scrap", "cord"]))
        self.knit(self.rng.randint(5, 8))
        self.act({"do": "cut"})
        self.knit(1)
        group = self.names(start, start + size - 1)
        if self.rng.random() < 0.5:
            self.act({"do": "free_move"})
        self.act({"do": "hang", "needles": group, "edge": {"open": group}})
        self.place(self.first, self.last, "upper")
        self.do(resume="main")

    def narrow(self) -> None:
        """One stitch fewer at each end by a transfer, the empty needles out of work."""
        if self.last - self.first < 12:
            return
        for end, inward in ((self.first, 1), (self.last, -1)):
            outermost = needle_name(end, self.bed.needles)
            self.act({"do": "transfer", "from": outermost, "to": needle_name(end + inward, self.bed.needles)})
            self.act({"do": "place", "needles": outermost, "position": "out"})
        self.first += 1
        self.last -= 1
        self.knit(2)

    def finish(self) -> None:
        """Bind off, or leave the loops open in enough waste."""
        if self.rng.random() < 0.5:
            self.act({"do": "bind_off", "needles": self.names(self.first, self.last)})
            self.act({"do": "cut", "tail_cm": 20})
            return
        self.act({"do": "cut", "tail_cm": 60})
        self.do(thread="scrap")
        self.knit(8)
        self.act({"do": "cut"})
        self.knit(1)


def sound_piece(seed: int) -> Piece:
    """A random piece of sound shaping on 12 to 40 needles; the same for the same seed."""
    knitter = Knitter(seed)
    shapings = (
        knitter.heel,
        knitter.wedge,
        knitter.set_aside,
        knitter.scrap_off_and_hang,
        knitter.narrow,
    )
    knitter.plain()
    for _ in range(knitter.rng.randint(2, 5)):
        knitter.rng.choice(shapings)()
        knitter.plain()
    knitter.finish()
    return knitter.piece
