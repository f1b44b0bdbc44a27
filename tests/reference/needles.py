"""Names of needles: ``L10-R4`` and lists of such, as indices counted from 0 at the left end of the bed."""

import re

RANGE = re.compile(r"([LR])([1-9][0-9]*)(?:-([LR])([1-9][0-9]*))?")


class BadNeedles(ValueError):
    """A needle list that does not read: nothing was done with it."""


def needle_name(needle: int, needles_on_bed: int) -> str:
    """The name of one needle, given its index from the left end (0-based)."""
    half = needles_on_bed // 2
    if needle < half:
        return f"L{half - needle}"
    return f"R{needle - half + 1}"


def needle_index(side: str, number: int, needles_on_bed: int) -> int:
    """The index from the left end of needle ``number`` of one side."""
    half = needles_on_bed // 2
    if number > half:
        raise BadNeedles(f"{side}{number} is beyond the bed")
    return half - number if side == "L" else half + number - 1


def read_needles(text: str, needles_on_bed: int) -> list[int]:
    """The needles a list names, from left to right.

    Args:
        text: names and ranges joined by commas, such as ``L10-L8,R3``.
        needles_on_bed: how many needles the bed has.

    Returns:
        Indices from the left end, 0-based, ascending whatever the order of the parts.

    Raises:
        BadNeedles: the list is empty, a range runs backwards, a needle is beyond the bed or named twice.
    """
    found: list[int] = []
    for part in text.split(","):
        match = RANGE.fullmatch(part)
        if match is None:
            raise BadNeedles(f"{part!r} names no needle")
        first = needle_index(match[1], int(match[2]), needles_on_bed)
        last = first
        if match[3] is not None:
            last = needle_index(match[3], int(match[4]), needles_on_bed)
        if last < first:
            raise BadNeedles(f"{part} is written backwards")
        found.extend(range(first, last + 1))
    if len(set(found)) != len(found):
        raise BadNeedles(f"{text} names a needle twice")
    return sorted(found)


def write_needles(needles: list[int], needles_on_bed: int) -> str:
    """The shortest list that names these needles (ascending indices)."""
    parts: list[str] = []
    start = 0
    for k, needle in enumerate(needles):
        if k + 1 < len(needles) and needles[k + 1] == needle + 1:
            continue
        first = needle_name(needles[start], needles_on_bed)
        last = needle_name(needle, needles_on_bed)
        parts.append(first if start == k else f"{first}-{last}")
        start = k + 1
    return ",".join(parts)
