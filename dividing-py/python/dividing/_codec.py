"""Records of Python as documents of the core, and back."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from ._dividing import Angle
from ._errors import NotFiniteError


def plain(value: object) -> Any:
    """A record, or anything made of records, as JSON has it."""
    if isinstance(value, (str, int, float, type(None))):
        return value
    if isinstance(value, Angle):
        return str(value)
    if isinstance(value, Fraction):
        return f"{value} turn"
    if hasattr(value, "_document"):
        return plain(value._document())
    if isinstance(value, Mapping):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(item) for item in value]
    if hasattr(value, "tolist"):
        return value.tolist()
    if dataclasses.is_dataclass(value):
        return {
            field.name: plain(getattr(value, field.name))
            for field in dataclasses.fields(value)
        }
    raise TypeError(f"a {type(value).__name__} cannot stand in a document")


def text_of_record(value: object, name: str) -> str:
    """A record as JSON text."""
    try:
        return json.dumps(plain(value), allow_nan=False)
    except ValueError:
        raise NotFiniteError(
            "a number that is NaN or infinite; accepted: finite numbers",
            name or _not_finite_in(value),
        ) from None


def _not_finite_in(value: object) -> str:
    """The name of the field that is not finite."""
    document = plain(value)
    if isinstance(document, Mapping):
        for name, item in document.items():
            try:
                json.dumps(item, allow_nan=False)
            except ValueError:
                return str(name)
    return ""
