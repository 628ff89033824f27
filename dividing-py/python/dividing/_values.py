"""How typed values read their arguments and are written in documents."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import FrozenInstanceError
from enum import StrEnum
from fractions import Fraction
from typing import Any, ClassVar, Self, TypeAlias, TypeVar, dataclass_transform

from ._dividing import (
    Angle,
    _angle_of,
    _float_of,
    _length_mm_of,
    _ratio_of,
    _text_of,
    _whole_of,
)
from ._documents import text_of
from ._errors import OutOfRangeError

AngleLike: TypeAlias = Angle | str | Fraction | int
"""An angle: an Angle, text with its unit, or a Fraction or int of turns."""
LengthLike: TypeAlias = float | str
"""A length: a number of millimetres, or text with its unit (mm, in, um)."""
RatioLike: TypeAlias = Fraction | int | str
"""A ratio above zero: a Fraction, an int, or text such as ``"81/2"``."""

ZERO = Angle(0)
Item = TypeVar("Item")
Choice = TypeVar("Choice", bound=StrEnum)
Read: TypeAlias = Callable[[Any, str], Item]


@dataclass_transform(frozen_default=True)
class Value:
    """A frozen value made of checked arguments.

    A field ``x_mm`` is the argument ``x``; documents name it as the argument. The
    annotations of a class are its fields, and what they are set to is their value
    where nothing is given. (A class of its own instead of dataclasses: these write
    and compile the methods of each, which makes importing many of them slow.)
    """

    _renamed: ClassVar[Mapping[str, str]] = {}
    """Names of arguments that documents write differently."""
    _positional: ClassVar[int] = 1
    """Arguments that a representation gives without their names."""
    _bare: ClassVar[bool] = False
    """Whether the first argument alone will do in a list, where no more is given."""
    _names: ClassVar[tuple[str, ...]] = ()
    """The fields, in their order."""

    def __init_subclass__(cls) -> None:
        own = (
            name
            for name, kind in cls.__dict__.get("__annotations__", {}).items()
            if not kind.startswith("ClassVar") and name not in cls._names
        )
        cls._names = (*cls._names, *tuple(own))
        setattr(cls, "__match_args__", cls._names)

    def _put(self, **values: object) -> None:
        for name, value in values.items():
            object.__setattr__(self, name, value)

    def __setattr__(self, name: str, value: object) -> None:
        raise FrozenInstanceError(f"{name}: a {type(self).__name__} does not change")

    def __delattr__(self, name: str) -> None:
        raise FrozenInstanceError(f"{name}: a {type(self).__name__} does not change")

    def _values(self) -> tuple[object, ...]:
        return tuple(getattr(self, name) for name in self._names)

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        return self._values() == other._values()

    def __hash__(self) -> int:
        return hash((type(self), self._values()))

    def _arguments(self) -> dict[str, Any]:
        """What is not as where it is not given, by the names of the arguments."""
        usual = vars(type(self))
        return {
            name.removesuffix("_mm"): value
            for name, value in zip(self._names, self._values(), strict=True)
            if value != usual.get(name, ...) or type(value) is not type(usual.get(name, ...))
        }

    def replace(self, **changes: Any) -> Self:
        """The same with some arguments changed, checked anew."""
        return type(self)(**{**self._arguments(), **changes})

    def to_dict(self) -> dict[str, Any]:
        """The value as documents write it: plain values only."""
        return {
            self._renamed.get(name, name): plain(value)
            for name, value in self._arguments().items()
        }

    def __repr__(self) -> str:
        unnamed = [name.removesuffix("_mm") for name in self._names[: self._positional]]
        parts: list[str] = []
        for name, value in self._arguments().items():
            lead = unnamed[len(parts) : len(parts) + 1] == [name]
            parts.append(shown(value) if lead else f"{name}={shown(value)}")
        return f"{type(self).__name__}({', '.join(parts)})"


def shown(value: object) -> str:
    """A value as source text."""
    if isinstance(value, StrEnum):
        return repr(str(value))
    if isinstance(value, tuple):
        return f"[{', '.join(shown(_bared(item)) for item in value)}]"
    if isinstance(value, Fraction):
        return str(value) if value.denominator == 1 else f"'{value}'"
    return repr(value)


def _bared(item: object) -> object:
    """An entry of a list as it is shortest written."""
    if isinstance(item, Value) and item._bare and len(item._arguments()) == 1:
        return item._values()[0]
    return item


def told(value: Value, *, without: str = "") -> Iterator[str]:
    """What was given of a value, in words to read."""
    for name, item in value._arguments().items():
        if name != without:
            unit = " mm" if f"{name}_mm" in value._names else ""
            yield f"{name.replace('_', ' ')} {in_words(item)}{unit}"


def in_words(value: object) -> str:
    """A value as text to read: angles in degrees, minutes and seconds."""
    match value:
        case Value():
            lead = value._names[0] if value._positional else ""
            first = in_words(getattr(value, lead)) if lead else ""
            rest = ", ".join(told(value, without=lead.removesuffix("_mm")))
            return f"{first} ({rest})" if first and rest else first or f"({rest})"
        case tuple() if len(value) > 40:
            return f"{in_words(value[:3])} … ({len(value)} in all)"
        case tuple():
            return ", ".join(map(in_words, value))
        case Angle():
            whole_degrees = value.degrees.denominator == 1
            return str(value) if whole_degrees else value.format("degrees_minutes_seconds", 1)
        case StrEnum():
            return str(value).replace("_", " ")
        case bool():
            return "yes" if value else "no"
        case float():
            return f"{value:.10g}"
    return str(value)


def plain(value: object) -> Any:
    """A value as documents write it."""
    if isinstance(value, Value):
        return value.to_dict()
    if isinstance(value, StrEnum):
        return str(value)
    if isinstance(value, tuple):
        return [plain(item) for item in value]
    if isinstance(value, Fraction):
        return int(value) if value.denominator == 1 else str(value)
    if isinstance(value, Angle):
        return str(value)
    return value


def document(key: str, value: object) -> str:
    """JSON text of ``{key: value}``."""
    return text_of({key: plain(value)}, key)


def wrong(name: str, wanted: str, value: object) -> TypeError:
    """The error for an argument of a wrong type."""
    return TypeError(f"{name}: {wanted} is wanted, not {type(value).__name__}")


text: Read[str] = _text_of
angle: Read[Angle] = _angle_of
length: Read[float] = _length_mm_of
number: Read[float] = _float_of
ratio: Read[Fraction] = _ratio_of


def whole(value: Any, name: str) -> int:
    """A whole number from 0 to the largest that documents hold."""
    return _whole_of(value, name, 0, 2**32 - 1)


def flag(value: Any, name: str) -> bool:
    """True or False."""
    if not isinstance(value, bool):
        raise wrong(name, "a bool", value)
    return value


def optional(read: Read[Item], value: Any, name: str) -> Item | None:
    """What is read, or None."""
    return None if value is None else read(value, name)


def choice(kind: type[Choice], value: Any, name: str) -> Choice:
    """A member of an enumeration, or its text."""
    if isinstance(value, kind):
        return value
    if not isinstance(value, str):
        raise wrong(name, f"a {kind.__name__} or its text", value)
    try:
        return kind(value)
    except ValueError:
        accepted = ", ".join(kind)
        raise OutOfRangeError(
            f"{value[:60]!a} is out of range; accepted: {accepted}", name
        ) from None


def several(
    read: Read[Item], values: Iterable[Any], name: str, most: int = 100_000
) -> tuple[Item, ...]:
    """A tuple of what is read from each entry."""
    if isinstance(values, (str, bytes, Mapping)):
        raise wrong(name, "a list", values)
    try:
        entries = iter(values)
    except TypeError:
        raise wrong(name, "a list", values) from None
    found = []
    for index, value in enumerate(entries):
        if index == most:
            raise OutOfRangeError(
                f"a list of more than {most} entries; accepted: at most {most}", name
            )
        found.append(read(value, f"{name}[{index}]"))
    return tuple(found)


def entry(value: Any, name: str, kinds: Iterable[str]) -> tuple[str, Any]:
    """The one entry of a mapping ``{kind: fields}``."""
    if isinstance(value, Mapping) and len(value) == 1:
        ((kind, fields),) = value.items()
        if kind in kinds:
            return kind, fields
    raise wrong(name, f"an object of one of {', '.join(kinds)}", value)


def made(kind: type[Item], value: Any, name: str) -> Item:
    """An object of a class; from a document also a mapping of its fields."""
    if isinstance(value, kind):
        return value
    if isinstance(value, Mapping):
        renamed: Mapping[str, str] = getattr(kind, "_renamed", {})
        names: dict[object, str] = {theirs: ours for ours, theirs in renamed.items()}
        fields = {names.get(key, str(key)): item for key, item in value.items()}
        try:
            return kind(**fields)
        except TypeError as error:
            raise TypeError(f"{name}: {error}") from None
    raise wrong(name, f"a {kind.__name__}", value)


def settle(names: Mapping[str, Any]) -> None:
    """Lets classes say that they live in the package, not in its private files: so
    name them tracebacks, pickles and help()."""
    for thing in [*names.values()]:
        if isinstance(thing, type) and thing.__module__.startswith("dividing._"):
            thing.__module__ = "dividing"
