"""What is the same for all loops of one pass or hand action, written once: the table of courses."""

from __future__ import annotations

from typing import Any, Final, NamedTuple

import numpy as np
import numpy.typing as npt

from bedview.bed.column import Column

ROWS_WAITING: Final = 1 << 10
"""So many rows may wait: as tuples they take ten times the memory."""

Ascending = npt.NDArray[np.int32]


class CourseTable(NamedTuple):
    """Some courses, a column an attribute; as in :class:`Courses`."""

    first: npt.NDArray[np.int64]
    strand: npt.NDArray[np.int32]
    action: npt.NDArray[np.int32]
    pass_number: npt.NDArray[np.int32]
    tip: npt.NDArray[np.int32]


class Courses:
    """A row a course, in order of making.

    A new row waits in a list until somebody reads: rows come one by one, and writing numpy arrays one number
    at a time would cost more than all the loops of a pass.
    """

    def __init__(self) -> None:
        self._first = Column(np.int64)
        self._strand = Column(np.int32)
        self._action = Column(np.int32)
        self._pass = Column(np.int32)
        self._tip = Column(np.int32)
        self._new: list[tuple[int, int, int, int, int]] = []

    def _columns(self) -> tuple[Column, Column, Column, Column, Column]:
        """All columns, with every row written."""
        columns = self._first, self._strand, self._action, self._pass, self._tip
        if self._new:
            count = len(self._new)
            for column, values in zip(columns, np.array(self._new).T, strict=True):
                column.extend(values, count)
            self._new.clear()
        return columns

    @property
    def first(self) -> npt.NDArray[np.int64]:
        """First loop of each course."""
        return self._columns()[0].values

    @property
    def strand(self) -> npt.NDArray[np.int32]:
        """The strand it is made of."""
        return self._columns()[1].values

    @property
    def action(self) -> npt.NDArray[np.int32]:
        """Number of the action that made it."""
        return self._columns()[2].values

    @property
    def pass_number(self) -> npt.NDArray[np.int32]:
        """Passes made when it was done."""
        return self._columns()[3].values

    @property
    def tip(self) -> npt.NDArray[np.int32]:
        """The strand's last loop before it, or -1."""
        return self._columns()[4].values

    def open(self, first: int, strand: int, action: int, pass_number: int, tip: int) -> None:
        """Begin a course at the loop ``first``."""
        self._new.append((first, strand, action, pass_number, tip))
        if len(self._new) >= ROWS_WAITING:
            self._columns()

    def open_rows(
        self, first: int, strand: int, action: int, pass_number: int, tip: int, *, rows: int, loops: int
    ) -> None:
        """Begin ``rows`` courses of ``loops`` loops each, one a pass from ``pass_number`` on."""
        firsts = first + loops * np.arange(rows)
        tips = firsts - 1
        tips[0] = tip
        passes = pass_number + np.arange(rows)
        values: tuple[Any, ...] = (firsts, strand, action, passes, tips)
        for column, each in zip(self._columns(), values, strict=True):
            column.extend(each, rows)

    def between(self, start: int, stop: int) -> CourseTable:
        """Copies of the courses that begin from the loop ``start`` on and before the loop ``stop``."""
        low, high = np.searchsorted(self.first, (start, stop)).tolist()
        return CourseTable(*(column.values[low:high].copy() for column in self._columns()))

    def loops_between(self, column: Ascending, low: int, high: int, end: int) -> tuple[int, int]:
        """First loop and end of the courses whose number in a column is from ``low`` to ``high`` - 1.

        Args:
            column: :attr:`action` or :attr:`pass_number`.
            low: the first number.
            high: the number behind the last.
            end: how many loops there are.
        """
        firsts = self.first
        # Numbers of another type would make numpy copy the whole column.
        start, stop = np.searchsorted(column, np.array((low, high), column.dtype)).tolist()
        first = int(firsts[start]) if start < len(firsts) else end
        return first, int(firsts[stop]) if stop < len(firsts) else end

    def extend(self, more: CourseTable) -> None:
        """Append courses."""
        columns: tuple[npt.NDArray[Any], ...] = more
        for column, values in zip(self._columns(), columns, strict=True):
            column.extend(values, len(values))

    def cut_back(self, loops: int) -> None:
        """Forget the courses that begin at or behind the loop ``loops``."""
        kept = int(np.searchsorted(self.first, loops))
        for column in self._columns():
            column.size = kept

    def copy(self) -> Courses:
        """An independent copy."""
        twin = Courses()
        names = ("_first", "_strand", "_action", "_pass", "_tip")
        for name, column in zip(names, self._columns(), strict=True):
            setattr(twin, name, column.copy())
        return twin
