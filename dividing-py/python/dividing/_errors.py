"""The exceptions of the package: one base class, three groups of mistakes in
what was given, and one class for each kind."""

from __future__ import annotations

from typing import ClassVar


class DividingError(Exception):
    """Base class of every error that this package raises on purpose.

    Wrong types of arguments raise TypeError, as anywhere in Python.

    >>> try:
    ...     dividing.Job("Slots", divisions=1)
    ... except dividing.DividingError as error:
    ...     print(error.kind, error.code, error.field)
    out_of_range 200 divisions
    """

    kind: ClassVar[str] = ""
    """Name of the kind, the same in Rust, C and JSON; empty on the base class."""
    code: ClassVar[int] = 0
    """Number of the kind, the status code of the C interface."""

    field: str
    """Path to the argument or the field of the document; may be empty."""
    message: str
    """The sentence without the path."""

    def __init__(self, message: str = "", field: str = "") -> None:
        super().__init__(message, field)
        self.message = message
        self.field = field

    def __str__(self) -> str:
        return f"{self.field}: {self.message}" if self.field else self.message


class TextError(DividingError, ValueError):
    """A text that is no exact angle or no length.

    >>> issubclass(dividing.MissingUnitError, dividing.TextError)
    True
    """


class DocumentError(DividingError, ValueError):
    """A document that cannot be read.

    >>> issubclass(dividing.UnknownFieldError, dividing.DocumentError)
    True
    """


class InvalidValueError(DividingError, ValueError):
    """A value that makes no sense for its job.

    >>> issubclass(dividing.OutOfRangeError, dividing.InvalidValueError)
    True
    """


class UnreadableTextError(TextError):
    """A text could not be read as an angle or a length.

    >>> dividing.Angle("forty")  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.UnreadableTextError: ...
    """

    kind = "unreadable_text"
    code = 100


class MissingUnitError(TextError):
    """A number stands without the unit it needs.

    >>> dividing.Angle("22.5")  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.MissingUnitError: ...
    """

    kind = "missing_unit"
    code = 101


class InexactUnitError(TextError):
    """A unit that this library cannot keep exact, such as radians.

    >>> dividing.Angle("1 rad")  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.InexactUnitError: ...
    """

    kind = "inexact_unit"
    code = 102


class MalformedJsonError(DocumentError):
    """A document is not well-formed JSON.

    >>> dividing.Job.from_json("{")  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.MalformedJsonError: ...
    """

    kind = "malformed_json"
    code = 110


class UnknownFieldError(DocumentError):
    """A document holds a field that does not exist.

    >>> dividing.Workshop("Bench", [{"sundial": {}}])  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.UnknownFieldError: ...
    """

    kind = "unknown_field"
    code = 111


class InvalidFieldError(DocumentError):
    """A field of a document is missing, of the wrong type or unreadable.

    >>> dividing.Job.from_json("{}")  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.InvalidFieldError: ...
    """

    kind = "invalid_field"
    code = 112


class UnknownFormatError(DocumentError):
    """A document says a ``format`` number that this version cannot read.

    >>> dividing.Workshop.from_dict(  # doctest: +IGNORE_EXCEPTION_DETAIL
    ...     {"format": 99, "name": "Bench", "equipment": []})
    Traceback (most recent call last):
    dividing.UnknownFormatError: ...
    """

    kind = "unknown_format"
    code = 113


class OutOfRangeError(InvalidValueError):
    """A number lies outside its limits.

    >>> dividing.Job("Slots", divisions=1)  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.OutOfRangeError: divisions: 1 is out of range; accepted: 2 to 100000
    """

    kind = "out_of_range"
    code = 200


class DivisionByZeroError(OutOfRangeError, ZeroDivisionError):
    """A denominator or divisor of zero; an out_of_range of its own class so
    that ``except ZeroDivisionError`` finds it.

    >>> dividing.Angle("90 deg") / 0  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.DivisionByZeroError: ...
    """


class NotFiniteError(InvalidValueError):
    """A number is not finite (NaN or infinite).

    >>> dividing.length_mm(float("nan"))  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.NotFiniteError: ...
    """

    kind = "not_finite"
    code = 201


class EmptyListError(InvalidValueError):
    """A list that needs at least one entry has none.

    >>> dividing.Workshop("Bench", [])  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.EmptyListError: ...
    """

    kind = "empty_list"
    code = 202


class DuplicateError(InvalidValueError):
    """The same thing is named twice.

    >>> dividing.Job.angles("Detents", ["0 deg", "360 deg"])  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.DuplicateError: ...
    """

    kind = "duplicate"
    code = 203


class InconsistentError(InvalidValueError):
    """Two values that are fine alone do not go together.

    >>> dividing.Job.flats(  # doctest: +IGNORE_EXCEPTION_DETAIL
    ...     "Arbor", flats=5, across_flats=30, stock_diameter=24)
    Traceback (most recent call last):
    dividing.InconsistentError: ...
    """

    kind = "inconsistent"
    code = 204


class ExactOverflowError(DividingError, OverflowError):
    """An exact result needs more digits than the library carries.

    >>> dividing.Angle(1, 10**36)  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.ExactOverflowError: ...
    """

    kind = "overflow"
    code = 205


class NotFoundError(DividingError, IndexError):
    """What was asked for does not exist, such as the plan after the last.

    >>> plans[99]  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.NotFoundError: ...
    """

    kind = "not_found"
    code = 206


class UnknownNameError(NotFoundError, KeyError):
    """Nothing has the name that was asked for; a not_found of its own class so
    that ``except KeyError`` finds it.

    >>> workshop["lathe"]  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.UnknownNameError: ...
    """


class UndeterminedError(DividingError, ValueError):
    """The measured or given data cannot determine the answer.

    >>> dividing.UndeterminedError("two shifts are needed").code
    207
    """

    kind = "undetermined"
    code = 207


class WorkLimitError(DividingError, TimeoutError):
    """A search came to its limit of work before it was done.

    >>> dividing.plan(workshop, job, work_limit=1)  # doctest: +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    dividing.WorkLimitError: ...
    """

    kind = "work_limit"
    code = 300


class CancelledError(DividingError):
    """The caller stopped a search.

    From Python a search is stopped by Ctrl-C or by an exception of the
    progress function, and then that exception is raised, not this one.

    >>> dividing.CancelledError("stopped").kind
    'cancelled'
    """

    kind = "cancelled"
    code = 301


class InternalError(DividingError, RuntimeError):
    """A defect of this library; please report the message.

    >>> issubclass(dividing.InternalError, RuntimeError)
    True
    """

    kind = "internal"
    code = 900


BY_KIND: dict[str, type[DividingError]] = {
    error.kind: error
    for error in (
        UnreadableTextError,
        MissingUnitError,
        InexactUnitError,
        MalformedJsonError,
        UnknownFieldError,
        InvalidFieldError,
        UnknownFormatError,
        OutOfRangeError,
        NotFiniteError,
        EmptyListError,
        DuplicateError,
        InconsistentError,
        ExactOverflowError,
        NotFoundError,
        UndeterminedError,
        WorkLimitError,
        CancelledError,
        InternalError,
    )
}
"""The class for each kind; the native module raises through it."""


def error_of(kind: str, message: str, field: str) -> DividingError:
    """The exception for a kind; a kind this table lacks is a defect."""
    return BY_KIND.get(kind, InternalError)(message, field)
