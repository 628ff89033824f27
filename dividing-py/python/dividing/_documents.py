"""Documents given as Python values, turned into JSON text."""

from __future__ import annotations

import json
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from ._dividing import Angle
from ._errors import InvalidFieldError, NotFiniteError


def _plain(value: object) -> object:
    """What JSON writes for a value that it does not know."""
    if isinstance(value, Angle):
        return str(value)
    if isinstance(value, Fraction):
        return f"{value} turn"
    if isinstance(value, Mapping):
        return dict(value)
    to_document = getattr(value, "to_document", None)
    if callable(to_document) and not isinstance(value, type):
        return to_document()
    raise TypeError(
        f"a {type(value).__name__} cannot stand in a document; accepted: "
        "str, int, float, bool, None, list, tuple, dict, Angle, Fraction (of turns)"
    )


def text_of(document: object, name: str) -> str:
    """JSON text of a document given as a mapping."""
    if not isinstance(document, Mapping):
        raise TypeError(f"{name}: a dict is wanted, not {type(document).__name__}")
    try:
        return json.dumps(dict(document), default=_plain, allow_nan=False)
    except (RecursionError, ValueError) as error:
        if "JSON compliant" in str(error):
            raise NotFiniteError(
                "a number that is NaN or infinite; accepted: finite numbers", name
            ) from None
        raise InvalidFieldError(
            "a list or dict that holds itself, or goes too deep", name
        ) from None
    except TypeError as error:
        raise TypeError(f"{name}: {error}") from None


def workshop_text(name: object, equipment: object) -> str:
    """JSON text of a workshop given by its name and its equipment."""
    if isinstance(equipment, (str, bytes, Mapping)) or not hasattr(
        equipment, "__iter__"
    ):
        raise TypeError(
            f"equipment: a list of equipment is wanted, not {type(equipment).__name__}"
        )
    document: dict[str, Any] = {"format": 1, "name": name, "equipment": list(equipment)}
    return text_of(document, "equipment")
