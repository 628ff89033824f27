"""Results that hold arrays."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class Compared:
    """Records with arrays: equal when all fields are; NaN equals NaN. They have
    no hash."""

    __slots__ = ()

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other):
            return NotImplemented
        fields = (field for field in dataclasses.fields(self) if field.compare)  # type: ignore[arg-type]
        return all(
            _same(getattr(self, field.name), getattr(other, field.name)) for field in fields
        )

    __hash__ = None  # type: ignore[assignment]


def _same(one: object, other: object) -> bool:
    if isinstance(one, np.ndarray):
        return isinstance(other, np.ndarray) and np.array_equal(one, other, equal_nan=True)
    return bool(one == other)


def frozen(values: Any) -> Floats:
    """An array of floats that nobody changes; None becomes NaN."""
    array = np.array(values, dtype=np.float64)
    array.setflags(write=False)
    return array


def frozen_ints(values: Any) -> Ints:
    """An array of whole numbers that nobody changes."""
    array = np.array(values, dtype=np.int64)
    array.setflags(write=False)
    return array
