"""What hands do at the bed. Each action looks first whether it can be done, and only then does it.

Decisions where the wording could be read two ways:

* Yarn is looked for before needles, and every needle of the list before the first is touched.
* A strand with no loop yet is cut, parked and resumed like any other.
* A ``place`` may move an empty needle anywhere.
* A loop that is hung is let go of by every waste loop drawn through it; fabric drawn through it stays.
"""

from collections.abc import Callable

from tests.reference.bed import OTHER_SIDE, POSITIONS, Bed
from tests.reference.edges import edge_loops
from tests.reference.fabric import Strand
from tests.reference.steps import Action, CannotDo


def thread(bed: Bed, words: Action) -> None:
    if words["yarn"] not in bed.roles:
        raise CannotDo(f"the piece has no yarn {words['yarn']}")
    is_fabric = bed.roles[words["yarn"]] == "fabric"
    bed.feeder = Strand(len(bed.strands), words["yarn"], is_fabric)
    bed.strands.append(bed.feeder)


def cut(bed: Bed, _words: Action) -> None:
    bed.threaded()
    bed.feeder = None


def park(bed: Bed, _words: Action) -> None:
    bed.waiting.append(bed.threaded())
    bed.feeder = None


def resume(bed: Bed, words: Action) -> None:
    found = [strand for strand in bed.waiting if strand.yarn == words["yarn"]]
    if not found:
        raise CannotDo(f"no strand of {words['yarn']} waits")
    bed.waiting.remove(found[-1])
    if bed.feeder is not None:
        bed.waiting.append(bed.feeder)
    bed.feeder = found[-1]


def hold_cams(bed: Bed, words: Action) -> None:
    bed.hold_cams = words["on"]


def free_move(bed: Bed, _words: Action) -> None:
    bed.carriage = OTHER_SIDE[bed.carriage]


def note(bed: Bed, words: Action) -> None:
    if "needles" in words:
        bed.read(words["needles"])


def tension(bed: Bed, words: Action) -> None:
    if not 0 <= words["dial"] <= 20:
        raise CannotDo("the dial goes from 0 to 20")
    bed.dial = words["dial"]


def counter(bed: Bed, words: Action) -> None:
    if not 0 <= words["value"] <= 9999:
        raise CannotDo("the counter goes from 0 to 9999")
    bed.row = words["value"]


def place(bed: Bed, words: Action) -> None:
    if words["position"] not in POSITIONS:
        raise CannotDo(f"there is no position {words['position']}")
    for needle in bed.read(words["needles"]):
        bed.positions[needle] = words["position"]


def cast_on(bed: Bed, words: Action) -> None:
    needles = bed.read(words["needles"])
    bed.threaded()
    for needle in needles:
        if bed.stacks[needle]:
            raise CannotDo(f"{bed.name(needle)} is not empty")
    if bed.carriage == "left":
        needles.reverse()
    for needle in needles:
        bed.beginnings[needle] += 1
        bed.stacks[needle] = [bed.make("cast_on", needle, [], 0, by_hand=True)]
        bed.positions[needle] = "work"


def wrap(bed: Bed, words: Action) -> None:
    needle = bed.read_one(words["needle"])
    bed.threaded()
    if bed.positions[needle] != "hold":
        raise CannotDo(f"{bed.name(needle)} is not in hold")
    if not bed.stacks[needle]:
        raise CannotDo(f"{bed.name(needle)} is empty")
    bed.lay_wrap(needle, by_hand=True)


def transfer(bed: Bed, words: Action) -> None:
    source = bed.read_one(words["from"])
    target = bed.read_one(words["to"])
    if source == target:
        raise CannotDo(f"{bed.name(source)} goes to itself")
    if not bed.stacks[source]:
        raise CannotDo(f"{bed.name(source)} is empty")
    if bed.positions[target] == "out":
        raise CannotDo(f"{bed.name(target)} is out of work")
    bed.put_on(target, bed.stacks[source])
    bed.stacks[source] = []


def bind_off(bed: Bed, words: Action) -> None:
    needles = bed.read(words["needles"])
    bed.threaded()
    for needle in needles:
        if not bed.stacks[needle]:
            raise CannotDo(f"{bed.name(needle)} is empty")
    if bed.carriage == "right":
        needles.reverse()
    for needle in needles:
        stack = bed.stacks[needle]
        bed.make("bind", needle, stack, 1 + max(loop.level for loop in stack), by_hand=True)
        bed.stacks[needle] = []
        bed.positions[needle] = "out"


def hang(bed: Bed, words: Action) -> None:
    needles = bed.read(words["needles"])
    loops = edge_loops(words["edge"], bed.needles, bed.stacks, bed.loops, bed.steps)
    if words.get("turned", False):
        loops.reverse()
    if len(loops) != len(needles):
        raise CannotDo(f"{len(loops)} loops for {len(needles)} needles")
    for k, loop in enumerate(loops):
        if loop in loops[:k]:
            raise CannotDo("the edge names a loop twice")
        stands = bed.standing_on(loop)
        if stands is not None:
            raise CannotDo(f"a loop of the edge stands on {bed.name(stands)}")
    for needle, loop in zip(needles, loops, strict=True):
        for drawn in list(loop.children):
            if not drawn.is_fabric:
                loop.children.remove(drawn)
                drawn.parents.remove(loop)
        bed.put_on(needle, [loop])
        bed.positions[needle] = "work"


HANDS: dict[str, Callable[[Bed, Action], None]] = {
    "thread": thread,
    "cut": cut,
    "park": park,
    "resume": resume,
    "note": note,
    "hold_cams": hold_cams,
    "tension": tension,
    "counter": counter,
    "place": place,
    "cast_on": cast_on,
    "wrap": wrap,
    "transfer": transfer,
    "bind_off": bind_off,
    "hang": hang,
    "free_move": free_move,
}


def do_by_hand(bed: Bed, words: Action) -> None:
    """Do one hand action.

    Raises:
        CannotDo: the action is refused; the bed stands as before.
    """
    if words["do"] not in HANDS:
        raise CannotDo(f"there is no action {words['do']}")
    HANDS[words["do"]](bed, words)
