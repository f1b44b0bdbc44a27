"""Random procedures: nonsense as knitting, but every action but the last of a refused one can be done.

A generator keeps a slow bed beside it and asks the bed about each action before writing it down.
"""

from collections.abc import Callable
from random import Random
from typing import Any

from tests.reference.bed import POSITIONS, Bed
from tests.reference.edges import edge_loops
from tests.reference.needles import needle_name, write_needles
from tests.reference.simulator import do_action
from tests.reference.steps import Action, CannotDo, Piece

YARNS = (
    {"id": "main", "name": "Main", "role": "fabric"},
    {"id": "contrast", "name": "Contrast", "role": "fabric"},
    {"id": "scrap", "name": "Scrap", "role": "waste"},
    {"id": "cord", "name": "Cord", "role": "ravel"},
)
PITCHES_MM = (3.6, 4.5, 5.0, 6.5, 7.0, 9.0, 12.5)
QUIETABLE = (
    "opening",
    "long-float",
    "laid-in-run",
    "held-knitted",
    "latch-closes",
    "unsecured-stitches",
    "stitches-left",
)
ACTIONS_A_PIECE = 70
# How often each move is tried, out of the sum of all.
MOVES = {
    "place": 32,
    "knit": 30,
    "thread": 6,
    "wrap": 9,
    "transfer": 5,
    "hold_cams": 2,
    "hang": 5,
    "cast_on": 3,
    "park": 2,
    "resume": 6,
    "note": 1,
    "counter": 1,
    "cut": 1,
    "tension": 1,
    "free_move": 1,
    "bind_off": 1,
    "scrap_off": 1,
    "set_aside": 2,
    "bare_pass": 1,
}


class Maker:
    """Writes down random actions that the bed accepts."""

    def __init__(self, seed: int) -> None:
        self.rng = Random(seed)  # noqa: S311 - the same procedure again for the same seed
        needles = 2 * self.rng.randint(4, 20)
        self.piece: Piece = {
            "format": 1,
            "title": f"random procedure {seed}",
            "bed": {
                "needles": needles,
                "pitch_mm": self.rng.choice(PITCHES_MM),
                "carriage": self.rng.choice(["left", "right"]),
            },
            "yarns": [dict(yarn) for yarn in YARNS],
            "segments": [],
        }
        self.bed = Bed(self.piece)
        self.count = 0
        self.middle = self.rng.randint(needles // 4, 3 * needles // 4)

    # -- writing down ---------------------------------------------------------

    def new_segment(self) -> None:
        """Begin a segment, sometimes one that means what it does."""
        segment: dict[str, Any] = {"kind": "actions", "title": "some of it", "actions": []}
        if self.rng.random() < 0.4:
            segment["meant"] = self.rng.sample(QUIETABLE, self.rng.randint(1, 3))
        self.piece["segments"].append(segment)

    def offer(self, words: Action) -> bool:
        """Do an action if the bed lets it, and write it down; says whether it did."""
        segments = self.piece["segments"]
        try:
            do_action(self.bed, self.count, len(segments) - 1, words)
        except CannotDo:
            return False
        segments[-1]["actions"].append(words)
        self.count += 1
        return True

    # -- choosing -------------------------------------------------------------

    def name(self, needle: int) -> str:
        return needle_name(needle, self.bed.needles)

    def names(self, needles: list[int]) -> str:
        return write_needles(sorted(needles), self.bed.needles)

    def a_range(self, longest: int) -> list[int]:
        """Some needles side by side, most often where the fabric is."""
        length = self.rng.randint(1, min(longest, self.bed.needles))
        first = self.rng.randint(0, self.bed.needles - length)
        if self.rng.random() < 0.6:
            first = max(0, min(self.bed.needles - length, self.middle + self.rng.randint(-length - 4, 4)))
        return list(range(first, first + length))

    def some_needles(self, longest: int) -> list[int]:
        """A range, or a range with a hole in it."""
        chosen = self.a_range(longest)
        if len(chosen) > 2 and self.rng.random() < 0.2:
            chosen.remove(self.rng.choice(chosen[1:-1]))
        return chosen

    def an_edge(self) -> dict[str, Any]:
        """An edge that may be there."""
        kind = self.rng.choice(["open", "open", "made", "made", "side"])
        if kind == "open":
            edge: dict[str, Any] = {"open": self.names(self.some_needles(4))}
            drops = [step for step in self.bed.steps if step.dropped]
            if drops and self.rng.random() < 0.8:
                step = self.rng.choice(drops)
                dropped = sorted(step.dropped)
                start = self.rng.randrange(len(dropped))
                edge["open"] = self.names(dropped[start : start + self.rng.randint(1, 4)])
                if self.rng.random() < 0.5:
                    edge["pass"] = step.passes
            return edge
        if kind == "made":
            edge = {
                "made_in_pass": self.rng.randint(0, self.bed.passes),
                "needles": self.names(self.some_needles(4)),
            }
            if self.rng.random() < 0.2:
                edge["by"] = self.rng.choice(["pass", "cast_on", "bind_off"])
            return edge
        last = self.rng.randint(1, max(1, self.bed.passes))
        first = max(1, last - self.rng.randint(0, 6))
        return {"side": self.rng.choice(["left", "right"]), "passes": [first, last]}

    # -- moves ----------------------------------------------------------------

    def move(self, what: str) -> None:
        """One random move of this kind: an action, or a few that go together."""
        simple: dict[str, Callable[[], Action]] = {
            "place": self.some_place,
            "knit": self.some_knit,
            "thread": lambda: {"do": "thread", "yarn": self.rng.choice(YARNS)["id"]},
            "resume": lambda: {"do": "resume", "yarn": self.rng.choice(YARNS)["id"]},
            "wrap": self.some_wrap,
            "transfer": self.some_transfer,
            "hold_cams": lambda: {"do": "hold_cams", "on": self.rng.random() < 0.85},
            "cast_on": lambda: {"do": "cast_on", "needles": self.names(self.some_needles(4))},
            "park": lambda: {"do": "park"},
            "cut": lambda: {"do": "cut", "tail_cm": self.rng.randint(10, 60)},
            "note": lambda: {"do": "note", "text": "move the weights up"},
            "counter": lambda: {"do": "counter", "value": self.rng.randint(0, 9999)},
            "tension": lambda: {"do": "tension", "dial": self.rng.choice([4, 6, 7.5, 9])},
            "free_move": lambda: {"do": "free_move"},
            "bind_off": lambda: {"do": "bind_off", "needles": self.names(self.some_needles(3))},
        }
        if what in simple:
            self.offer(simple[what]())
            if what in ("cut", "park") and self.rng.random() < 0.8:
                self.offer({"do": "thread", "yarn": self.rng.choice(YARNS)["id"]})
        elif what == "hang":
            self.hang_an_edge()
        elif what == "set_aside":
            self.set_aside()
        elif what == "scrap_off":
            self.scrap_off()
        elif self.rng.random() < 0.5 and self.offer({"do": "park"}):
            self.offer({"do": "knit", "rows": 1})

    def some_place(self) -> Action:
        position = self.rng.choices(POSITIONS, weights=[2, 5, 5, 8])[0]
        longest = 2 if position == "out" else 5
        return {"do": "place", "needles": self.names(self.some_needles(longest)), "position": position}

    def some_knit(self) -> Action:
        words: Action = {"do": "knit", "rows": self.rng.choices([1, 2, 3, 4], weights=[8, 3, 1, 1])[0]}
        if self.rng.random() < 0.2:
            words["from"] = (
                self.bed.carriage if self.rng.random() < 0.8 else self.rng.choice(["left", "right"])
            )
        return words

    def some_wrap(self) -> Action:
        held = [needle for needle, position in enumerate(self.bed.positions) if position == "hold"]
        return {"do": "wrap", "needle": self.name(self.rng.choice(held or [self.middle]))}

    def some_transfer(self) -> Action:
        bearing = [needle for needle, stack in enumerate(self.bed.stacks) if stack]
        source = self.rng.choice(bearing or [self.middle])
        target = max(0, min(self.bed.needles - 1, source + self.rng.choice([-3, -2, -1, 1, 2, 3])))
        return {"do": "transfer", "from": self.name(source), "to": self.name(target)}

    def hang_an_edge(self) -> None:
        """Try some edges until one can be hung."""
        for _ in range(8):
            edge = self.an_edge()
            try:
                loops = edge_loops(edge, self.bed.needles, self.bed.stacks, self.bed.loops, self.bed.steps)
            except CannotDo:
                continue
            first = self.rng.randint(0, max(0, self.bed.needles - len(loops)))
            words: Action = {
                "do": "hang",
                "needles": self.names(list(range(first, min(self.bed.needles, first + len(loops))))),
                "edge": edge,
            }
            if self.rng.random() < 0.5:
                words["turned"] = self.rng.random() < 0.7
            if self.offer(words):
                return

    def set_aside(self) -> None:
        """A group at one end of the fabric to hold, and a few rows on the rest."""
        bearing = [needle for needle, stack in enumerate(self.bed.stacks) if stack]
        size = self.rng.randint(1, max(1, len(bearing) // 2))
        group = bearing[:size] if self.rng.random() < 0.5 else bearing[-size:]
        self.offer({"do": "hold_cams", "on": True})
        if group:
            self.offer({"do": "place", "needles": self.names(group), "position": "hold"})
        self.offer({"do": "knit", "rows": self.rng.randint(1, 3)})

    def scrap_off(self) -> None:
        """Some rows of waste, mostly on a part only, then a pass without yarn; the fabric's strand waits."""
        if self.rng.random() < 0.8:
            self.set_aside()
        self.offer({"do": "park"})
        self.offer({"do": "thread", "yarn": self.rng.choice(["scrap", "cord"])})
        self.offer({"do": "knit", "rows": self.rng.randint(2, 6)})
        if self.rng.random() < 0.3:
            self.offer(self.some_transfer())
        self.offer({"do": "cut"})
        self.offer({"do": "knit", "rows": 1})
        if self.rng.random() < 0.8:
            self.offer({"do": "resume", "yarn": self.rng.choice(["main", "contrast"])})


def make(seed: int) -> Maker:
    """A maker that has written its procedure."""
    maker = Maker(seed)
    maker.new_segment()
    width = maker.rng.randint(3, max(3, maker.bed.needles - 2))
    first = max(0, min(maker.bed.needles - width, maker.middle - width // 2))
    for words in (
        {"do": "thread", "yarn": "main"},
        {"do": "cast_on", "needles": maker.names(list(range(first, first + width)))},
        {"do": "hold_cams", "on": True},
    ):
        maker.offer(words)
    while maker.count < ACTIONS_A_PIECE:
        if maker.rng.random() < 0.04:
            maker.new_segment()
        maker.move(maker.rng.choices(list(MOVES), weights=list(MOVES.values()))[0])
    return maker


def random_piece(seed: int) -> Piece:
    """About 70 random actions on 8 to 40 needles, none of them refused; the same for the same seed."""
    return make(seed).piece


def refusable(maker: Maker) -> list[Action]:
    """Actions that a bed may refuse, one of each reason at least, in random order."""
    last = maker.name(maker.bed.needles - 1)
    bearing = [needle for needle, stack in enumerate(maker.bed.stacks) if stack]
    empty = [needle for needle, stack in enumerate(maker.bed.stacks) if not stack]
    somewhere = maker.name(maker.rng.randrange(maker.bed.needles))
    chosen: list[Action] = [
        {"do": "thread", "yarn": "nobody's"},
        {"do": "cut"},
        {"do": "park"},
        {"do": "resume", "yarn": "contrast"},
        {"do": "place", "needles": f"{last[0]}{int(last[1:]) + 1}", "position": "work"},
        {"do": "wrap", "needle": somewhere},
        {"do": "transfer", "from": somewhere, "to": somewhere},
        {"do": "knit", "rows": 0},
        {"do": "hang", "needles": "L1-R1", "edge": {"open": "L1"}},
        {"do": "hang", "needles": "L1-R1", "edge": maker.an_edge()},
        {"do": "hang", "needles": somewhere, "edge": maker.an_edge()},
    ]
    if bearing:
        chosen.append({"do": "cast_on", "needles": maker.name(maker.rng.choice(bearing))})
    if empty:
        chosen.append({"do": "bind_off", "needles": maker.name(maker.rng.choice(empty))})
        chosen.append({"do": "transfer", "from": maker.name(maker.rng.choice(empty)), "to": "L1"})
    maker.rng.shuffle(chosen)
    return chosen


def random_refused_piece(seed: int) -> Piece:
    """A random procedure whose last action, and no other, is refused."""
    maker = make(seed)
    for words in refusable(maker):
        if not maker.offer(words):
            maker.piece["segments"][-1]["actions"].append(words)
            break
    return maker.piece
