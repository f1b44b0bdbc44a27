"""Arrays that grow at their end."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt


class Column:
    """A one-dimensional array that grows at its end and can be cut back."""

    __slots__ = ("_data", "size")

    def __init__(self, dtype: npt.DTypeLike) -> None:
        self._data: npt.NDArray[Any] = np.empty(64, dtype)
        self.size = 0

    @property
    def values(self) -> npt.NDArray[Any]:
        """A view of what is there, shape (size,)."""
        return self._data[: self.size]

    def copy(self) -> Column:
        """An independent copy."""
        twin = Column(self._data.dtype)
        twin._data, twin.size = self._data.copy(), self.size
        return twin

    def extend(self, values: npt.ArrayLike, count: int) -> None:
        """Append ``count`` values (an array of that length, or one value for all)."""
        end = self.size + count
        if end > len(self._data):
            grown = np.empty(max(end, len(self._data) * 2), self._data.dtype)
            grown[: self.size] = self.values
            self._data = grown
        self._data[self.size : end] = values
        self.size = end
