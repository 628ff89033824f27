"""Columns of numbers and of places."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import ArrayLike

from .._dividing import _float_of
from .._errors import InconsistentError

_MOST = 2**62
_ARCSEC = 3600 * 180 / math.pi


def _column(values: object, name: str, *, missing: bool = False) -> list[float]:
    """A list of floats of a list or an array of one dimension. None and NaN
    stand for missing values where those are allowed."""
    if isinstance(values, (str, bytes, Mapping)):
        raise TypeError(f"{name}: an array of numbers is wanted, not {type(values).__name__}")
    try:
        array = np.asarray(values)
        if missing and array.dtype == object:
            array = np.asarray(values, dtype=np.float64)
    except (ValueError, TypeError):
        raise TypeError(f"{name}: an array of numbers is wanted") from None
    if array.dtype.kind not in "fiu" and array.size:
        raise TypeError(f"{name}: an array of numbers is wanted, not one of {array.dtype}")
    if array.ndim != 1:
        raise InconsistentError(
            f"an array of {array.ndim} dimensions; accepted: one dimension", name
        )
    column: list[float] = array.astype(np.float64).tolist()
    return column


def _places(places: object, count: int) -> list[int]:
    """Numbers of places; None for 0, 1, 2 …"""
    if places is None:
        return list(range(count))
    array = np.asarray(places)
    if array.ndim != 1 or (array.size and array.dtype.kind not in "iu"):
        raise TypeError("place: an array of whole numbers is wanted")
    return [int(it) for it in array]


def _stated(values: ArrayLike, name: str, count: int) -> list[float]:
    """A column of uncertainties: as many as given, or one for all."""
    if np.ndim(values) == 0:
        return [_float_of(values, name)] * count  # type: ignore[arg-type]
    return _column(values, name)


def _same_length(**columns: Sequence[object]) -> None:
    lengths = {name: len(column) for name, column in columns.items()}
    if len(set(lengths.values())) > 1:
        said = ", ".join(f"{name} has {length}" for name, length in lengths.items())
        raise InconsistentError(f"columns of unequal length: {said}", next(iter(lengths)))


def _second(device: object) -> bool:
    if device not in ("first", "second"):
        raise InconsistentError(
            f"{device!r} is no device; accepted: first, second", "device"
        )
    return device == "second"
