"""What the bed makes: loops and the strands they lie on, as plain objects that point at each other."""

from dataclasses import dataclass, field


@dataclass(eq=False)
class Strand:
    """One length of yarn from threading to cutting; its tip is its last loop."""

    number: int
    yarn: str
    is_fabric: bool
    loops: "list[Loop]" = field(default_factory=list)


@dataclass(eq=False)
class Loop:
    """One bend of yarn.

    ``kind`` is ``cast_on``, ``knit``, ``laid_in``, ``wrap`` or ``bind``. ``column`` is the needle it was made
    on (index from the left, 0-based). ``passes`` is the pass that made it, or for one made by hand the passes
    made by then. ``beginnings`` is how many times its column had begun when it was made, this one counted.
    ``parents`` are the loops it is drawn through now (a hung loop is let go of), ``drawn_through`` those it
    was made through; ``children`` are the loops drawn through it now.
    ``latest_drop`` is (needle, pass) of the last time it dropped.
    """

    number: int
    kind: str
    column: int
    strand: Strand
    parents: "list[Loop]"
    level: int
    passes: int
    by_hand: bool
    step: int
    beginnings: int
    drawn_through: "tuple[Loop, ...]" = ()
    children: "list[Loop]" = field(default_factory=list)
    latest_drop: tuple[int, int] | None = None

    @property
    def is_wrap(self) -> bool:
        """Whether it lies round a needle instead of being drawn through."""
        return self.kind == "wrap"

    @property
    def is_fabric(self) -> bool:
        """Whether its yarn stays in the piece."""
        return self.strand.is_fabric


def without_wraps(stack: list[Loop]) -> list[Loop]:
    """The loops of a stack that are not wraps, bottom first."""
    return [loop for loop in stack if not loop.is_wrap]


def rows_of_waste(waste_loop: Loop) -> int | None:
    """How many rows of waste lie over the fabric, this loop's counted; None where no fabric lies below.

    From each loop the uppermost parent that is no wrap is followed, and no other.
    """
    rows = 0
    loop = waste_loop
    while not loop.is_fabric:
        rows += 1
        below = without_wraps(loop.parents)
        if not below:
            return None
        loop = below[-1]
    return rows


def fabric_under(waste_loop: Loop) -> Loop | None:
    """The uppermost fabric loop this waste was drawn through, wraps aside, through more waste if need be."""
    for below in reversed(without_wraps(waste_loop.parents)):
        found = below if below.is_fabric else fabric_under(below)
        if found is not None:
            return found
    return None
