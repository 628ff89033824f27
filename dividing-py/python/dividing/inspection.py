"""What a measured plate or part is really worth, and how to use it better.

>>> from dividing import inspection
>>> import numpy as np
>>> angle = np.arange(8) * np.pi / 4
>>> plate = inspection.Measurement.coordinates(
...     40.01 * np.cos(angle) + 0.003, 40.01 * np.sin(angle),
...     axis=(0, 0), standard_uncertainty=0.001, name="plate of 8")
>>> result = plate.inspect()
>>> round(result.coordinates.eccentricity.amount_mm, 6)
0.003
>>> result.ring.deviations_arcsec.shape
(8,)

Deviations are where a place stands less where it should stand, about the mean
of all measured places, positive in the sense of the numbering. Uncertainties
are standard uncertainties. Arrays of results cannot be changed.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike

from ._arrays import Compared, Floats, Ints, frozen, frozen_ints
from ._codec import choice, text_of_record
from ._dividing import (
    Drawing,
    _bar_deviation_rad,
    _choose_list,
    _choose_pairs,
    _choose_start,
    _correction_table,
    _decide_measured,
    _fit_circle,
    _float_of,
    _html_picture,
    _html_table,
    _inspect,
    _Inspection,
    _int_of,
    _length_mm_of,
    _measurement,
    _plan_shifts,
    _readings_from_csv,
    _text_of,
)
from ._documents import text_of
from ._enums import Numbering, Reference, Verdict
from ._errors import InconsistentError
from ._inputs import AngleLike, LengthLike
from .accuracy import DecisionRule, GuardBand, _rule

__all__ = [
    "Choice",
    "CircleFit",
    "ClosureResult",
    "CoordinateResult",
    "Corrections",
    "Decision",
    "Eccentricity",
    "Harmonic",
    "InspectionReport",
    "Measurement",
    "Numbering",
    "PairChoice",
    "PartCheck",
    "PartVerdict",
    "PitchDeviations",
    "PitchExtreme",
    "PitchGrade",
    "Reference",
    "ResidualTest",
    "RingDeviations",
    "ShiftPlan",
    "bar_deviation_rad",
    "choose_list",
    "choose_pairs",
    "choose_start",
    "correction_table",
    "decide",
    "fit_circle",
    "plan_shifts",
]

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


@dataclass(frozen=True, slots=True, init=False, repr=False)
class Measurement:
    """Readings of a plate, a part or two dividing devices, with what is said of
    them. Made by ``coordinates``, ``angles``, ``deviations``, ``chords``,
    ``closure``, the same names with ``_csv``, ``from_json`` or ``from_dict``.

    All take ``name``, ``measured_by``, ``measured_on``, ``instrument`` and
    ``temperature``, as texts for the report. Raises DocumentError with the path
    to the field, TypeError; readings are checked when they are evaluated.

    >>> from dividing.inspection import Measurement
    >>> Measurement.deviations([3, -1, -2, 0], standard_uncertainty_arcsec=0.5)
    <Measurement of deviations: 4 readings>
    """

    _text: str

    @staticmethod
    def from_json(text: str) -> Measurement:
        """Reads a measurement from JSON text.

        Raises MalformedJsonError, UnknownFormatError, UnknownFieldError and
        InvalidFieldError, each with the path to the field; TypeError.

        >>> from dividing.inspection import Measurement
        >>> ring = Measurement.deviations([3, -1, -2, 0])
        >>> Measurement.from_json(ring.to_json()) == ring
        True
        """
        measurement = object.__new__(Measurement)
        object.__setattr__(measurement, "_text", _measurement(_text_of(text, "text")))
        return measurement

    @staticmethod
    def from_dict(document: Mapping[str, Any]) -> Measurement:
        """Reads a measurement from a dict as `json.load` gives it.

        Raises as `from_json`.

        >>> from dividing.inspection import Measurement
        >>> ring = Measurement.deviations([3, -1, -2, 0])
        >>> Measurement.from_dict(ring.to_dict()) == ring
        True
        """
        return Measurement.from_json(text_of(document, "document"))

    @staticmethod
    def _of(readings: dict[str, Any], said: Mapping[str, str | None]) -> Measurement:
        for name, value in said.items():
            if name not in ("name", "measured_by", "measured_on", "instrument", "temperature"):
                raise TypeError(f"there is no argument {name!r}")
            if value is not None:
                _text_of(value, name)
        given = {name: value for name, value in said.items() if value is not None}
        document = {"format": 1, **given, "readings": readings}
        return Measurement.from_json(text_of_record(document, "readings"))

    @staticmethod
    def coordinates(
        x_mm: ArrayLike,
        y_mm: ArrayLike,
        *,
        places: int | None = None,
        place: ArrayLike | None = None,
        numbering: Numbering | Literal["counter_clockwise", "clockwise"] = "counter_clockwise",
        axis: tuple[LengthLike, LengthLike] | None = None,
        nominal_radius: LengthLike | None = None,
        standard_uncertainty: LengthLike | tuple[LengthLike, LengthLike] | None = None,
        **said: str | None,
    ) -> Measurement:
        """Centres of holes, in millimetres: arrays of one dimension.

        ``places`` is how many the full ring has (as many as given, by default),
        ``place`` the number of each (0, 1, 2 … by default), ``axis`` the
        coordinates of the axis that counts, ``standard_uncertainty`` that of
        each coordinate, one length or one for x and one for y.

        Raises InconsistentError for columns of unequal length, TypeError.

        >>> from dividing.inspection import Measurement
        >>> Measurement.coordinates([40, 0, -40, 0], [0, 40, 0, -40])
        <Measurement of coordinates: 4 readings>
        """
        x, y = _column(x_mm, "x_mm"), _column(y_mm, "y_mm")
        numbers = _places(place, len(x))
        _same_length(x_mm=x, y_mm=y, place=numbers)
        points: list[dict[str, Any]] = [
            {"place": number, "x": one, "y": other}
            for number, one, other in zip(numbers, x, y, strict=True)
        ]
        return Measurement._coordinates(
            points, places, numbering, axis, nominal_radius, standard_uncertainty, said
        )

    @staticmethod
    def coordinates_csv(
        text: str,
        *,
        places: int | None = None,
        numbering: Numbering | Literal["counter_clockwise", "clockwise"] = "counter_clockwise",
        axis: tuple[LengthLike, LengthLike] | None = None,
        nominal_radius: LengthLike | None = None,
        standard_uncertainty: LengthLike | tuple[LengthLike, LengthLike] | None = None,
        **said: str | None,
    ) -> Measurement:
        """As `coordinates`, from text with the columns place, x_mm (or x_in), y_mm
        (or y_in) and, where known, their uncertainties.

        Raises TextError with line and column; as `coordinates`.

        >>> from dividing.inspection import Measurement
        >>> Measurement.coordinates_csv("place,x_mm,y_mm\\n0,40,0\\n1,-20,34.64\\n2,-20,-34.64\\n")
        <Measurement of coordinates: 3 readings>
        """
        points = json.loads(_readings_from_csv("coordinates", _text_of(text, "text"), 0))
        return Measurement._coordinates(
            points, places, numbering, axis, nominal_radius, standard_uncertainty, said
        )

    @staticmethod
    def _coordinates(
        points: list[dict[str, Any]],
        places: int | None,
        numbering: str,
        axis: tuple[LengthLike, LengthLike] | None,
        nominal_radius: LengthLike | None,
        standard_uncertainty: LengthLike | tuple[LengthLike, LengthLike] | None,
        said: Mapping[str, str | None],
    ) -> Measurement:
        count = len(points) if places is None else _int_of(places, "places", 0, _MOST)
        sense = choice(Numbering, numbering, "numbering")
        fields: dict[str, Any] = {"places": count, "numbering": sense}
        if axis is not None:
            x, y = axis
            fields["axis"] = [_length_mm_of(x, "axis[0]"), _length_mm_of(y, "axis[1]")]
        if nominal_radius is not None:
            fields["nominal_radius"] = _length_mm_of(nominal_radius, "nominal_radius")
        if standard_uncertainty is not None:
            both = standard_uncertainty
            x, y = both if isinstance(both, tuple) else (both, both)
            fields["standard_uncertainty"] = {
                "x": _length_mm_of(x, "standard_uncertainty"),
                "y": _length_mm_of(y, "standard_uncertainty"),
            }
        return Measurement._of({"coordinates": {**fields, "points": points}}, said)

    @staticmethod
    def angles(
        angles: Iterable[AngleLike],
        *,
        places: int | None = None,
        place: ArrayLike | None = None,
        numbering: Numbering | Literal["counter_clockwise", "clockwise"] = "counter_clockwise",
        radius: LengthLike | None = None,
        standard_uncertainty_arcsec: float | None = None,
        **said: str | None,
    ) -> Measurement:
        """Angles at which the places stand, each an angle with its unit.

        Other arguments as `coordinates`; ``radius`` turns angles into lengths.

        Raises TextError, InconsistentError, TypeError.

        >>> from dividing.inspection import Measurement
        >>> Measurement.angles(["0°", "120°00'03\\"", "239°59'58\\""])
        <Measurement of angles: 3 readings>
        """
        from ._dividing import _angle_of

        if isinstance(angles, (str, bytes)) or not isinstance(angles, Iterable):
            raise TypeError(f"angles: a list of angles is wanted, not {type(angles).__name__}")
        read = [str(_angle_of(it, f"angles[{index}]")) for index, it in enumerate(angles)]
        numbers = _places(place, len(read))
        _same_length(angles=read, place=numbers)
        readings = [
            {"place": number, "angle": angle}
            for number, angle in zip(numbers, read, strict=True)
        ]
        fields = _ring(places, radius, standard_uncertainty_arcsec, readings)
        sense = choice(Numbering, numbering, "numbering")
        return Measurement._of({"angles": {**fields, "numbering": sense}}, said)

    @staticmethod
    def angles_csv(
        text: str,
        *,
        places: int | None = None,
        numbering: Numbering | Literal["counter_clockwise", "clockwise"] = "counter_clockwise",
        radius: LengthLike | None = None,
        standard_uncertainty_arcsec: float | None = None,
        **said: str | None,
    ) -> Measurement:
        """As `angles`, from text with the columns place and angle.

        Raises TextError with line and column; as `angles`.

        >>> from dividing.inspection import Measurement
        >>> Measurement.angles_csv("place,angle\\n0,0 deg\\n1,120 deg\\n2,240 deg\\n")
        <Measurement of angles: 3 readings>
        """
        readings = json.loads(_readings_from_csv("angles", _text_of(text, "text"), 0))
        fields = _ring(places, radius, standard_uncertainty_arcsec, readings)
        sense = choice(Numbering, numbering, "numbering")
        return Measurement._of({"angles": {**fields, "numbering": sense}}, said)

    @staticmethod
    def deviations(
        deviations_arcsec: ArrayLike,
        *,
        places: int | None = None,
        place: ArrayLike | None = None,
        radius: LengthLike | None = None,
        standard_uncertainty_arcsec: float | None = None,
        **said: str | None,
    ) -> Measurement:
        """Deviations of the places, in seconds of arc: an array of one dimension.

        Other arguments as `angles`. Raises InconsistentError, TypeError.

        >>> from dividing.inspection import Measurement
        >>> Measurement.deviations([3, -1, -2, 0], radius="2 in").to_dict()["readings"]["deviations"]["radius"]
        50.8
        """
        column = _column(deviations_arcsec, "deviations_arcsec")
        numbers = _places(place, len(column))
        _same_length(deviations_arcsec=column, place=numbers)
        readings = [
            {"place": number, "deviation_arcsec": value}
            for number, value in zip(numbers, column, strict=True)
        ]
        fields = _ring(places, radius, standard_uncertainty_arcsec, readings)
        return Measurement._of({"deviations": fields}, said)

    @staticmethod
    def deviations_csv(
        text: str,
        *,
        places: int | None = None,
        radius: LengthLike | None = None,
        standard_uncertainty_arcsec: float | None = None,
        **said: str | None,
    ) -> Measurement:
        """As `deviations`, from text with the columns place and deviation_arcsec.

        Raises TextError with line and column; as `deviations`.

        >>> from dividing.inspection import Measurement
        >>> Measurement.deviations_csv("place,deviation_arcsec\\n0,3\\n1,-1\\n2,-2\\n")
        <Measurement of deviations: 3 readings>
        """
        readings = json.loads(_readings_from_csv("deviations", _text_of(text, "text"), 0))
        fields = _ring(places, radius, standard_uncertainty_arcsec, readings)
        return Measurement._of({"deviations": fields}, said)

    @staticmethod
    def chords(
        over_pins_mm: ArrayLike,
        *,
        pin_diameter: LengthLike,
        span: int = 1,
        places: int | None = None,
        place: ArrayLike | None = None,
        standard_uncertainty: LengthLike | None = None,
        **said: str | None,
    ) -> Measurement:
        """Lengths over two pins, in millimetres: ``place`` is the first of the two
        places, ``span`` how many places on the other is.

        Raises InconsistentError, TypeError.

        >>> from dividing.inspection import Measurement
        >>> Measurement.chords([46.0, 46.002, 45.998, 46.0, 46.001, 45.999], pin_diameter=6)
        <Measurement of chords: 6 readings>
        """
        column = _column(over_pins_mm, "over_pins_mm")
        numbers = _places(place, len(column))
        _same_length(over_pins_mm=column, place=numbers)
        readings = [
            {"place": number, "over_pins": value}
            for number, value in zip(numbers, column, strict=True)
        ]
        return Measurement._chords(
            readings, pin_diameter, span, places, standard_uncertainty, said
        )

    @staticmethod
    def chords_csv(
        text: str,
        *,
        pin_diameter: LengthLike,
        span: int = 1,
        places: int | None = None,
        standard_uncertainty: LengthLike | None = None,
        **said: str | None,
    ) -> Measurement:
        """As `chords`, from text with the columns place and over_pins_mm (or
        over_pins_in).

        Raises TextError with line and column; as `chords`.

        >>> from dividing.inspection import Measurement
        >>> text = "place,over_pins_mm\\n0,46\\n1,46.002\\n2,45.998\\n"
        >>> Measurement.chords_csv(text, pin_diameter=6)
        <Measurement of chords: 3 readings>
        """
        readings = json.loads(_readings_from_csv("chords", _text_of(text, "text"), 0))
        return Measurement._chords(
            readings, pin_diameter, span, places, standard_uncertainty, said
        )

    @staticmethod
    def _chords(
        readings: list[dict[str, Any]],
        pin_diameter: LengthLike,
        span: int,
        places: int | None,
        standard_uncertainty: LengthLike | None,
        said: Mapping[str, str | None],
    ) -> Measurement:
        fields: dict[str, Any] = {
            "places": len(readings) if places is None else _int_of(places, "places", 0, _MOST),
            "span": _int_of(span, "span", 0, _MOST),
            "pin_diameter": _length_mm_of(pin_diameter, "pin_diameter"),
            "readings": readings,
        }
        if standard_uncertainty is not None:
            found = _length_mm_of(standard_uncertainty, "standard_uncertainty")
            fields["standard_uncertainty"] = found
        return Measurement._of({"chords": fields}, said)

    @staticmethod
    def closure(
        readings_arcsec: ArrayLike,
        shifts: ArrayLike,
        *,
        standard_uncertainty_arcsec: float | None = None,
        **said: str | None,
    ) -> Measurement:
        """Two dividing devices compared: one row of readings for each shift, in
        seconds of arc, one column a position; NaN for a reading that is missing.

        Raises InconsistentError for an array of another shape, TypeError.

        >>> from dividing.inspection import Measurement
        >>> Measurement.closure([[0, 1, -1], [1, -1, 0], [-1, 0, 1]], [0, 1, 2])
        <Measurement of closure: 3 readings>
        """
        try:
            table = np.asarray(readings_arcsec, dtype=np.float64)
        except (TypeError, ValueError):
            raise TypeError("readings_arcsec: an array of numbers is wanted") from None
        numbers = _places(shifts, 0)
        if table.ndim != 2 or len(table) != len(numbers):
            raise InconsistentError(
                f"readings of shape {table.shape} with {len(numbers)} shifts; "
                "accepted: one row for each shift",
                "readings_arcsec",
            )
        rows = ([None if math.isnan(it) else it for it in row] for row in table.tolist())
        setups = [
            {"shift": shift, "readings_arcsec": row}
            for shift, row in zip(numbers, rows, strict=True)
        ]
        fields: dict[str, Any] = {"positions": table.shape[1], "setups": setups}
        return Measurement._closure(fields, standard_uncertainty_arcsec, said)

    @staticmethod
    def closure_csv(
        text: str,
        *,
        positions: int,
        standard_uncertainty_arcsec: float | None = None,
        **said: str | None,
    ) -> Measurement:
        """As `closure`, from text with the columns setup, shift, position and
        reading_arcsec.

        Raises TextError with line and column; as `closure`.

        >>> from dividing.inspection import Measurement
        >>> text = "setup,shift,position,reading_arcsec\\n0,0,0,1\\n0,0,1,-1\\n1,1,0,-1\\n1,1,1,1\\n"
        >>> Measurement.closure_csv(text, positions=2)
        <Measurement of closure: 2 readings>
        """
        count = _int_of(positions, "positions", 0, _MOST)
        setups = json.loads(_readings_from_csv("closure", _text_of(text, "text"), count))
        fields: dict[str, Any] = {"positions": count, "setups": setups}
        return Measurement._closure(fields, standard_uncertainty_arcsec, said)

    @staticmethod
    def _closure(
        fields: dict[str, Any],
        standard_uncertainty_arcsec: float | None,
        said: Mapping[str, str | None],
    ) -> Measurement:
        if standard_uncertainty_arcsec is not None:
            name = "standard_uncertainty_arcsec"
            fields[name] = _float_of(standard_uncertainty_arcsec, name)
        return Measurement._of({"closure": fields}, said)

    def to_json(self) -> str:
        """The measurement as JSON text; reading it back gives an equal one.

        >>> from dividing.inspection import Measurement
        >>> '"deviations"' in Measurement.deviations([3, -1, -2, 0]).to_json()
        True
        """
        return self._text

    def to_dict(self) -> dict[str, Any]:
        """The measurement as a dict of plain values.

        >>> from dividing.inspection import Measurement
        >>> Measurement.deviations([3, -1, -2, 0]).to_dict()["format"]
        1
        """
        document: dict[str, Any] = json.loads(self._text)
        return document

    def inspect(self) -> InspectionReport:
        """Evaluates the readings, of whichever kind they are. The interpreter lock
        is released and Ctrl-C is heard.

        Raises UndeterminedError where the readings cannot tell, OutOfRangeError,
        DuplicateError, InconsistentError, each with the path to the field;
        WorkLimitError.

        >>> from dividing.inspection import Measurement
        >>> report = Measurement.deviations([3, -1, -2, 0]).inspect()
        >>> round(report.ring.pitch.total_cumulative.deviation_rad * 206265, 3)
        5.0
        """
        return InspectionReport(self)

    def measured(self) -> dict[str, Any]:
        """The ``measured`` field of a hole circle or a dial, for a workshop.

        Raises as `inspect`; InconsistentError for a closure, which measures two
        devices.

        >>> from dividing.inspection import Measurement
        >>> field = Measurement.deviations([3, -1, -2, 0]).measured()
        >>> field["places"], round(field["deviations"][0]["deviation_arcsec"], 9)
        (4, 3.0)
        """
        report = self.inspect()
        if report.closure is not None:
            raise InconsistentError(
                "a closure calibration measures two devices; "
                "accepted: report.closure.measured(device)",
                "readings.closure",
            )
        field: dict[str, Any] = json.loads(report._native.measured(False))
        return field

    def __repr__(self) -> str:
        ((kind, fields),) = self.to_dict()["readings"].items()
        for name in ("points", "readings", "setups"):
            if name in fields:
                return f"<Measurement of {kind}: {len(fields[name])} readings>"
        return f"<Measurement of {kind}>"


def _ring(
    places: int | None,
    radius: LengthLike | None,
    standard_uncertainty_arcsec: float | None,
    readings: list[dict[str, Any]],
) -> dict[str, Any]:
    count = len(readings) if places is None else _int_of(places, "places", 0, _MOST)
    fields: dict[str, Any] = {"places": count, "readings": readings}
    if radius is not None:
        fields["radius"] = _length_mm_of(radius, "radius")
    if standard_uncertainty_arcsec is not None:
        name = "standard_uncertainty_arcsec"
        fields[name] = _float_of(standard_uncertainty_arcsec, name)
    return fields


# Results.


@dataclass(frozen=True, slots=True)
class Harmonic:
    """One harmonic of deviations over the turn.

    >>> from dividing.inspection import Measurement
    >>> Measurement.deviations([3, -1, -2, 0]).inspect().ring.first_harmonic.order
    1
    """

    order: int
    """Waves over the turn."""
    amplitude_rad: float
    """Amplitude, in radians."""
    phase_rad: float
    """Where its maximum stands, in radians."""


@dataclass(frozen=True, slots=True)
class PitchExtreme:
    """The largest deviation of a pitch.

    >>> from dividing.inspection import Measurement
    >>> pitch = Measurement.deviations([3, -1, -2, 0]).inspect().ring.pitch
    >>> pitch.largest_single.from_place, pitch.largest_single.to_place
    (0, 1)
    """

    from_place: int
    """The place it starts from."""
    to_place: int
    """The place it ends at."""
    deviation_rad: float
    """The deviation, in radians."""
    standard_uncertainty_rad: float | None
    """Its standard uncertainty, in radians; None where not known."""


@dataclass(frozen=True, slots=True, eq=False)
class PitchDeviations(Compared):
    """Single and cumulative pitch, in radians.

    >>> from dividing.inspection import Measurement
    >>> Measurement.deviations([3, -1, -2, 0]).inspect().ring.pitch.single_rad.shape
    (4,)
    """

    single_rad: Floats
    """From each place to the next; NaN where one of them is missing."""
    cumulative_rad: Floats
    """From place 0 to each; NaN for a missing place."""
    largest_single: PitchExtreme | None
    """The largest single pitch deviation either way."""
    total_cumulative: PitchExtreme
    """Largest less smallest deviation."""


@dataclass(frozen=True, slots=True, eq=False)
class RingDeviations(Compared):
    """The deviations of a ring of equally spaced places, in radians. Arrays have
    one entry for each measured place, in growing number.

    >>> from dividing.inspection import Measurement
    >>> Measurement.deviations([3, -1, -2, 0]).inspect().ring.place
    array([0, 1, 2, 3])
    """

    places: int
    """Places round the turn, measured or not."""
    radius_mm: float | None
    """Radius that turns angles into lengths along the circle."""
    place: Ints
    """Numbers of the measured places."""
    deviations_rad: Floats
    """Where the places stand less where they should, about the mean."""
    rest_rad: Floats
    """The same without the first harmonic."""
    standard_uncertainties_rad: Floats | None
    """Standard uncertainties; None where not stated."""
    first_harmonic: Harmonic
    """The first harmonic: what an eccentric part or axis gives."""
    first_harmonic_uncertainty_rad: float | None
    """Standard uncertainty of its amplitude; None where not stated."""
    harmonic_orders: Ints
    """Orders 1 to n/2; empty when a place is missing."""
    harmonic_amplitudes_rad: Floats
    """Their amplitudes."""
    harmonic_phases_rad: Floats
    """Their phases."""
    pitch: PitchDeviations
    """Single and cumulative pitch as measured."""
    rest_pitch: PitchDeviations
    """The same without the first harmonic."""
    findings: tuple[str, ...]
    """What was noticed, as sentences."""

    @property
    def deviations_arcsec(self) -> Floats:
        """The deviations in seconds of arc.

        >>> from dividing.inspection import Measurement
        >>> ring = Measurement.deviations([3, -1, -2, 0]).inspect().ring
        >>> ring.deviations_arcsec[:3].round(6)
        array([ 3., -1., -2.])
        """
        return frozen(self.deviations_rad * _ARCSEC)

    @property
    def known(self) -> tuple[Floats, Floats]:
        """Deviations and standard uncertainties of all places, in radians, NaN
        for a place that was not measured: what `choose_start` takes.

        >>> from dividing.inspection import Measurement
        >>> ring = Measurement.deviations([3, -1, -2], places=4).inspect().ring
        >>> ring.known[0].shape
        (4,)
        """
        deviations, uncertainties = np.full((2, self.places), np.nan)
        deviations[self.place] = self.deviations_rad
        stated = self.standard_uncertainties_rad
        uncertainties[self.place] = 0.0 if stated is None else stated
        return frozen(deviations), frozen(uncertainties)


@dataclass(frozen=True, slots=True, eq=False)
class CircleFit(Compared):
    """A least-squares circle.

    >>> fit = dividing.inspection.fit_circle([40, 0, -40, 0.0], [0, 40.0, 0, -40])
    >>> round(fit.radius_mm, 9)
    40.0
    """

    x_mm: float
    """Centre."""
    y_mm: float
    """Centre."""
    radius_mm: float
    """Radius."""
    residuals_mm: Floats
    """Radial residuals of the points."""
    degrees_of_freedom: int
    """Points less three."""
    covariance_mm2: Floats | None
    """Covariance of x, y and radius, shape (3, 3): of the stated uncertainties,
    else of the scatter; None when neither tells."""
    chi_square: float | None
    """Sum of squares of the residuals in standard uncertainties; None where these
    are not stated."""
    standard_deviation_mm: float | None
    """Standard deviation of the residuals; None for three points."""


@dataclass(frozen=True, slots=True)
class Eccentricity:
    """The centre of the circle from the axis.

    >>> from dividing.inspection import Measurement
    >>> it = Measurement.coordinates([40.01, 0.01, -39.99, 0.01], [0, 40, 0, -40], axis=(0, 0))
    >>> round(it.inspect().coordinates.eccentricity.amount_mm, 9)
    0.01
    """

    x_mm: float
    """In x."""
    y_mm: float
    """In y."""
    amount_mm: float
    """How far."""
    direction_rad: float
    """In which direction, in radians."""
    amount_uncertainty_mm: float | None
    """Standard uncertainty of the amount."""
    direction_uncertainty_rad: float | None
    """Standard uncertainty of the direction."""


@dataclass(frozen=True, slots=True, eq=False)
class CoordinateResult(Compared):
    """What centres of holes say.

    >>> from dividing.inspection import Measurement
    >>> report = Measurement.coordinates([40, 0, -40, 0], [0, 40, 0, -40]).inspect()
    >>> report.coordinates.about_axis is None
    True
    """

    circle: CircleFit
    """The fitted circle."""
    eccentricity: Eccentricity | None
    """Its centre from the axis; None without an axis."""
    about_axis: RingDeviations | None
    """Deviations about the axis; None without one."""
    about_centre: RingDeviations
    """Deviations about the centre of the fitted circle."""
    radial_mm: Floats
    """How far out each place stands, about the centre."""
    radial_about_axis_mm: Floats
    """The same about the axis; empty without one."""
    radial_uncertainty_mm: Floats
    """Standard uncertainties of these; empty where not stated."""
    findings: tuple[str, ...]
    """What was noticed, as sentences."""


@dataclass(frozen=True, slots=True)
class ResidualTest:
    """How well the readings of a closure agree.

    >>> from dividing.inspection import Measurement
    >>> table = [[0, 1, -1], [1, -1, 0], [-1, 0, 1]]
    >>> Measurement.closure(table, [0, 1, 2]).inspect().closure.residuals.degrees_of_freedom
    2
    """

    degrees_of_freedom: int
    """Readings less unknowns."""
    sum_of_squares_rad2: float
    """Sum of the squares of the residuals."""
    standard_deviation_rad: float | None
    """Standard deviation of a reading, by the residuals."""
    chi_square: float | None
    """Chi square; None without a stated uncertainty."""
    probability: float | None
    """Probability of a chi square as large."""
    largest: tuple[int, int, float] | None
    """Set-up, position and size in standard deviations of the largest residual."""


class ClosureResult:
    """The errors of two dividing devices, found by comparing them in shifted
    positions; each sums to zero over the turn.

    >>> from dividing.inspection import Measurement
    >>> table = [[0, 1, -1], [1, -1, 0], [-1, 0, 1]]
    >>> closure = Measurement.closure(
    ...     table, [0, 1, 2], standard_uncertainty_arcsec=0.1).inspect().closure
    >>> bool(abs(closure.first_rad.sum()) < 1e-15)
    True
    """

    __slots__ = ("_measurement", "_native", "first_rad", "offset_rad", "residuals", "second_rad")

    _measurement: Measurement
    _native: _Inspection
    first_rad: Floats
    """Deviations of the first device, in radians."""
    second_rad: Floats
    """Deviations of the second device, in radians."""
    offset_rad: Floats
    """The constant of each set-up, in radians."""
    residuals: ResidualTest
    """How well the readings agree."""

    def __init__(self, measurement: Measurement) -> None:
        report = InspectionReport(measurement)
        if report.closure is None:
            raise InconsistentError("readings that are no closure", "readings")
        for name in self.__slots__:
            setattr(self, name, getattr(report.closure, name))

    @staticmethod
    def _of(
        measurement: Measurement, native: _Inspection, document: Mapping[str, Any]
    ) -> ClosureResult:
        result = object.__new__(ClosureResult)
        result._measurement = measurement
        result._native = native
        for name in ("first_rad", "second_rad", "offset_rad"):
            setattr(result, name, frozen(document[name]))
        fields = dict(document["residuals"])
        if fields["largest"] is not None:
            fields["largest"] = tuple(fields["largest"])
        result.residuals = ResidualTest(**fields)
        return result

    @property
    def reading_uncertainty_rad(self) -> float | None:
        """Standard uncertainty of a reading that the others rest on: the stated
        one, else the estimate from the residuals.

        >>> from dividing.inspection import Measurement
        >>> it = Measurement.closure([[0, 1, -1], [1, -1, 0], [-1, 0, 1]], [0, 1, 2],
        ...     standard_uncertainty_arcsec=0.1).inspect().closure
        >>> round(it.reading_uncertainty_rad * 206265, 6)
        0.1
        """
        return self._native.closure_uncertainties_rad(False)[0]

    def uncertainties_rad(self, device: Literal["first", "second"] = "first") -> Floats | None:
        """Standard uncertainties of the deviations of one device, in radians;
        None when nothing tells them.

        >>> from dividing.inspection import Measurement
        >>> it = Measurement.closure([[0, 1, -1], [1, -1, 0], [-1, 0, 1]], [0, 1, 2],
        ...     standard_uncertainty_arcsec=0.1).inspect().closure
        >>> (it.uncertainties_rad() * 206265).round(4)
        array([0.0471, 0.0471, 0.0471])
        """
        found = self._native.closure_uncertainties_rad(_second(device))[1]
        return None if found is None else frozen(found)

    def covariance_rad2(self) -> Floats | None:
        """Covariances of all deviations, first the first device's positions and
        then the second's, in rad²: shape (2n, 2n); None when nothing tells them.

        Raises OutOfRangeError for more than 5,000 positions.

        >>> from dividing.inspection import Measurement
        >>> it = Measurement.closure([[0, 1, -1], [1, -1, 0], [-1, 0, 1]], [0, 1, 2],
        ...     standard_uncertainty_arcsec=0.1).inspect().closure
        >>> it.covariance_rad2().shape
        (6, 6)
        """
        return self._native.closure_covariance_rad2()

    def measured(self, device: Literal["first", "second"] = "first") -> dict[str, Any]:
        """One device as the ``measured`` field of equipment.

        Raises OutOfRangeError for deviations beyond 10°.

        >>> from dividing.inspection import Measurement
        >>> table = [[0, 1, -1], [1, -1, 0], [-1, 0, 1]]
        >>> Measurement.closure(table, [0, 1, 2]).inspect().closure.measured("second")["places"]
        3
        """
        field: dict[str, Any] = json.loads(self._native.measured(_second(device)))
        return field

    def __eq__(self, other: object) -> bool:
        return isinstance(other, ClosureResult) and self._measurement == other._measurement

    __hash__ = None  # type: ignore[assignment]

    def __reduce__(self) -> tuple[type[ClosureResult], tuple[Measurement]]:
        return ClosureResult, (self._measurement,)

    def __repr__(self) -> str:
        return f"<ClosureResult of {len(self.first_rad)} positions>"


def _second(device: object) -> bool:
    if device not in ("first", "second"):
        raise InconsistentError(
            f"{device!r} is no device; accepted: first, second", "device"
        )
    return device == "second"


@dataclass(frozen=True, slots=True)
class Decision:
    """A decision on a measured value and its grounds, in the unit of the value.

    >>> dividing.inspection.decide(9.5, 0.5, upper=10).guard_band
    1.0
    """

    verdict: Verdict
    """Pass, not proven or fail."""
    margin: float
    """Distance to the nearer limit, above 0 inside."""
    guard_band: float
    """Guard band that was kept from each limit."""
    conformance_probability: float | None
    """Probability that the true value conforms (JCGM 106:2012, 7.2 to 7.4); None
    when the uncertainty is not known."""


@dataclass(frozen=True, slots=True)
class PartCheck:
    """One check of a part.

    >>> from dividing.inspection import Measurement
    >>> report = Measurement.deviations([3, -1, -2, 0]).inspect()
    >>> report.check_ring(single_pitch_rad=1e-4).checks[0].checked
    'single_pitch'
    """

    checked: Literal["angle", "single_pitch", "cumulative_pitch", "position"]
    """What was checked: angles in radians, positions in millimetres."""
    place: int | None
    """The place, or the one a pitch starts from; None for the whole ring."""
    value: float
    """The measured value."""
    standard_uncertainty: float | None
    """Its standard uncertainty; None where not known."""
    decision: Decision
    """The decision."""


@dataclass(frozen=True, slots=True)
class PartVerdict:
    """All checks of a part and what follows from them. Notebooks show a table.

    >>> from dividing.inspection import Measurement
    >>> report = Measurement.deviations(
    ...     [3, -1, -2, 0], standard_uncertainty_arcsec=0.1).inspect()
    >>> report.check_ring(single_pitch_rad=1e-4).verdict.value
    'pass'
    """

    verdict: Verdict
    """Pass when every check passes, fail when one fails, else not proven."""
    checks: tuple[PartCheck, ...]
    """The checks in the order of the places."""
    missing_places: tuple[int, ...]
    """Places that were not measured; a part with any can fail but not pass."""

    def _repr_html_(self) -> str:
        def row(it: PartCheck) -> list[str]:
            in_mm = it.checked == "position"

            def size(value: float) -> str:
                return f"{value:.4f} mm" if in_mm else f"{value * _ARCSEC:.2f} arcsec"

            chance = it.decision.conformance_probability
            return [
                it.checked.replace("_", " "),
                "" if it.place is None else str(it.place),
                size(it.value),
                size(it.decision.margin),
                "" if chance is None else f"{chance:.4%}",
                str(it.decision.verdict).replace("_", " "),
            ]

        head = ["Checked", "Place", "Measured", "Margin", "Conforms", "Verdict"]
        title = f"Verdict: {str(self.verdict).replace('_', ' ')}"
        missing = ", ".join(map(str, self.missing_places))
        facts = [("Not measured", missing)] if missing else []
        return _html_table(title, facts, head, [row(it) for it in self.checks])


@dataclass(frozen=True, slots=True)
class PitchGrade:
    """The flank tolerance class of ISO 1328-1:2013 that a ring meets, by its pitch
    alone: a plate is no gear.

    >>> from dividing.inspection import Measurement
    >>> report = Measurement.deviations([3, -1, -2, 0]).inspect()
    >>> report.pitch_grade(module_mm=2, reference_diameter_mm=100).grade >= 1
    True
    """

    single_um: float
    """Largest single pitch deviation along the reference circle, in micrometres."""
    cumulative_um: float
    """Total cumulative pitch deviation, in micrometres."""
    single_grade: int | None
    """Class by single pitch; None beyond the last."""
    cumulative_grade: int | None
    """Class by cumulative pitch; None beyond the last."""
    grade: int | None
    """Class by both; None beyond the last."""


class InspectionReport:
    """An inspection. ``print`` shows it as text, notebooks as a table with the
    picture of the deviations.

    >>> from dividing.inspection import Measurement
    >>> report = Measurement.deviations([3, -1, -2, 0], name="dial").inspect()
    >>> str(report).splitlines()[1]
    'INSPECTION  dial'
    """

    __slots__ = ("_native", "closure", "coordinates", "measurement", "name", "ring")

    measurement: Measurement
    """What was evaluated."""
    name: str
    """What was measured."""
    ring: RingDeviations | None
    """The deviations that count: about the axis where one was given, else about
    the centre; None for a closure."""
    coordinates: CoordinateResult | None
    """What centres of holes say; None for other readings."""
    closure: ClosureResult | None
    """What the comparison of two devices says; None for other readings."""

    def __init__(self, measurement: Measurement) -> None:
        if not isinstance(measurement, Measurement):
            raise TypeError(
                f"measurement: a Measurement is wanted, not {type(measurement).__name__}"
            )
        self.measurement = measurement
        self._native = _inspect(measurement.to_json())
        document = json.loads(self._native.figures())
        self.name = document["name"] or ""
        self.ring = None
        self.coordinates = None
        self.closure = None
        ((kind, result),) = document["result"].items()
        match kind:
            case "coordinates":
                self.coordinates = _coordinate_result(result)
                about = self.coordinates.about_axis
                self.ring = self.coordinates.about_centre if about is None else about
            case "ring":
                self.ring = _ring_of(result)
            case "closure":
                self.closure = ClosureResult._of(measurement, self._native, result)

    def _about_axis(self) -> bool:
        return self.coordinates is not None and self.coordinates.about_axis is not None

    def covariance_rad2(self) -> Floats | None:
        """Covariances of the deviations of ``ring``, in rad², shape (n, n) with a
        row for each measured place; None without stated uncertainty.

        Raises OutOfRangeError for more than 10,000 places.

        >>> from dividing.inspection import Measurement
        >>> report = Measurement.deviations(
        ...     [3, -1, -2, 0], standard_uncertainty_arcsec=0.5).inspect()
        >>> bool(abs(report.covariance_rad2().sum()) < 1e-20)  # about the mean
        True
        """
        return self._native.covariance_rad2(self._about_axis())

    def check_ring(
        self,
        *,
        angle_rad: float | None = None,
        datum_place: int | None = None,
        single_pitch_rad: float | None = None,
        cumulative_pitch_rad: float | None = None,
        rule: DecisionRule = GuardBand(1.0),
    ) -> PartVerdict:
        """Whether ``ring`` keeps limits, in radians; a limit that is None is not
        asked. ``datum_place`` is the feature the others are clocked to.

        Raises InconsistentError without a limit, OutOfRangeError, NotFoundError,
        TypeError. Source: JCGM 106:2012, ISO 14253-1.

        >>> from dividing.inspection import Measurement
        >>> report = Measurement.deviations([3, -1, -2, 0]).inspect()
        >>> report.check_ring(cumulative_pitch_rad=1e-5, rule="simple_acceptance").verdict.value
        'fail'
        """
        limits = [
            None if value is None else _float_of(value, name)
            for name, value in (
                ("angle_rad", angle_rad),
                ("single_pitch_rad", single_pitch_rad),
                ("cumulative_pitch_rad", cumulative_pitch_rad),
            )
        ]
        if datum_place is not None:
            datum_place = _int_of(datum_place, "datum_place", 0, _MOST)
        return _verdict_of(
            self._native.check_ring(self._about_axis(), limits, datum_place, _rule(rule))
        )

    def check_position(
        self, zone_diameter: LengthLike, rule: DecisionRule = GuardBand(1.0)
    ) -> PartVerdict:
        """Whether every place lies in its position zone, a length.

        Raises InconsistentError for other readings than coordinates, and without
        axis or nominal radius; TypeError. Source: ISO 1101, JCGM 106:2012.

        >>> from dividing.inspection import Measurement
        >>> report = Measurement.coordinates([40.01, 0, -40, 0], [0, 40, 0, -40], axis=(0, 0),
        ...     nominal_radius=40, standard_uncertainty=0.001).inspect()
        >>> report.check_position(0.1).verdict.value
        'pass'
        """
        zone = _length_mm_of(zone_diameter, "zone_diameter")
        return _verdict_of(self._native.check_position(zone, _rule(rule)))

    def pitch_grade(self, *, module_mm: float, reference_diameter_mm: float) -> PitchGrade:
        """The pitch grade that ``ring`` meets.

        Raises OutOfRangeError, InconsistentError for a closure, TypeError.
        Source: ISO 1328-1:2013.

        >>> from dividing.inspection import Measurement
        >>> report = Measurement.deviations([30, -10, -20, 0]).inspect()
        >>> round(report.pitch_grade(module_mm=2, reference_diameter_mm=100).cumulative_um, 2)
        12.12
        """
        module = _float_of(module_mm, "module_mm")
        diameter = _float_of(reference_diameter_mm, "reference_diameter_mm")
        return PitchGrade(*self._native.pitch_grade(self._about_axis(), module, diameter))

    def to_dict(self) -> dict[str, Any]:
        """The report as a dict of plain values, angles in radians.

        >>> from dividing.inspection import Measurement
        >>> Measurement.deviations([3, -1, -2, 0]).inspect().to_dict()["format"]
        1
        """
        document: dict[str, Any] = json.loads(self._native.document())
        return document

    @property
    def drawing(self) -> Drawing | None:
        """The deviations round the circle, as SVG; None for a closure.

        >>> from dividing.inspection import Measurement
        >>> Measurement.deviations([3, -1, -2, 0]).inspect().drawing.svg[:4]
        '<svg'
        """
        svg = self._native.picture(self.name)
        return None if svg is None else Drawing(svg)

    def _repr_html_(self) -> str:
        facts = [("Readings", next(iter(self.measurement.to_dict()["readings"])))]
        document = self.to_dict()
        for label in ("measured_by", "measured_on", "instrument", "temperature"):
            if document[label]:
                facts.append((label.replace("_", " ").capitalize(), document[label]))
        head, rows = ["Place", "Deviation", "Standard uncertainty", "Without eccentricity"], []
        if self.coordinates is not None:
            circle, off = self.coordinates.circle, self.coordinates.eccentricity
            facts.append(("Radius", f"{circle.radius_mm:.4f} mm"))
            if off is not None:
                facts.append(("Eccentricity", f"{off.amount_mm:.4f} mm"))
        if self.ring is not None:
            total = self.ring.pitch.total_cumulative.deviation_rad
            facts.append(("Cumulative pitch", f"{total * _ARCSEC:.2f} arcsec"))
            single = self.ring.pitch.largest_single
            if single is not None:
                facts.append(("Single pitch", f"{single.deviation_rad * _ARCSEC:.2f} arcsec"))
            stated = self.ring.standard_uncertainties_rad
            for index, place in enumerate(self.ring.place):
                unsure = "" if stated is None else f"{stated[index] * _ARCSEC:.2f}"
                deviation, rest = (
                    f"{column[index] * _ARCSEC:+.2f}"
                    for column in (self.ring.deviations_rad, self.ring.rest_rad)
                )
                rows.append([str(place), deviation, unsure, rest])
        if self.closure is not None:
            head = ["Position", "First device", "Second device"]
            pairs = zip(self.closure.first_rad, self.closure.second_rad, strict=True)
            for place, (first, second) in enumerate(pairs):
                rows.append([str(place), *(f"{it * _ARCSEC:+.2f}" for it in (first, second))])
        facts.append(("Deviations", "in seconds of arc"))
        table = _html_table(f"Inspection: {self.name or 'not named'}", facts, head, rows)
        drawing = self.drawing
        picture = "" if drawing is None else _html_picture(drawing.svg)
        return f'<div style="max-width:76em">\n{picture}{table}</div>\n'

    def __str__(self) -> str:
        return self._native.text()

    def __repr__(self) -> str:
        return f"<InspectionReport of {self.name!r}>"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, InspectionReport) and self.measurement == other.measurement

    __hash__ = None  # type: ignore[assignment]

    def __reduce__(self) -> tuple[type[InspectionReport], tuple[Measurement]]:
        return InspectionReport, (self.measurement,)


def _pitch_of(document: Mapping[str, Any]) -> PitchDeviations:
    single = document["largest_single"]
    return PitchDeviations(
        frozen(document["single_rad"]),
        frozen(document["cumulative_rad"]),
        None if single is None else PitchExtreme(**single),
        PitchExtreme(**document["total_cumulative"]),
    )


def _ring_of(document: Mapping[str, Any]) -> RingDeviations:
    lines, spectrum = document["deviations"], document["spectrum"]
    stated = [line["standard_uncertainty_rad"] for line in lines]
    return RingDeviations(
        places=document["places"],
        radius_mm=document["radius_mm"],
        place=frozen_ints([line["place"] for line in lines]),
        deviations_rad=frozen([line["deviation_rad"] for line in lines]),
        rest_rad=frozen([line["rest_rad"] for line in lines]),
        standard_uncertainties_rad=None if None in stated else frozen(stated),
        first_harmonic=Harmonic(**document["first_harmonic"]),
        first_harmonic_uncertainty_rad=document["first_harmonic_uncertainty_rad"],
        harmonic_orders=frozen_ints([it["order"] for it in spectrum]),
        harmonic_amplitudes_rad=frozen([it["amplitude_rad"] for it in spectrum]),
        harmonic_phases_rad=frozen([it["phase_rad"] for it in spectrum]),
        pitch=_pitch_of(document["pitch"]),
        rest_pitch=_pitch_of(document["rest_pitch"]),
        findings=tuple(document["findings"]),
    )


def _coordinate_result(document: Mapping[str, Any]) -> CoordinateResult:
    circle = document["circle"]
    covariance = circle["covariance_mm2"]
    off, axis = document["eccentricity"], document["about_axis"]
    return CoordinateResult(
        circle=CircleFit(
            circle["x_mm"],
            circle["y_mm"],
            circle["radius_mm"],
            frozen(circle["residuals_mm"]),
            circle["degrees_of_freedom"],
            None if covariance is None else frozen(covariance),
            circle["chi_square"],
            circle["standard_deviation_mm"],
        ),
        eccentricity=None if off is None else Eccentricity(**off),
        about_axis=None if axis is None else _ring_of(axis),
        about_centre=_ring_of(document["about_centre"]),
        radial_mm=frozen([it for _, it in document["radial_mm"]]),
        radial_about_axis_mm=frozen([it for _, it in document["radial_about_axis_mm"]]),
        radial_uncertainty_mm=frozen(document["radial_uncertainty_mm"]),
        findings=tuple(document["findings"]),
    )


def _decision_of(document: Mapping[str, Any]) -> Decision:
    fields = dict(document)
    return Decision(Verdict(fields.pop("verdict")), **fields)


def _verdict_of(text: str) -> PartVerdict:
    document = json.loads(text)
    checks = []
    for it in document["checks"]:
        decision = _decision_of(it.pop("decision"))
        checks.append(PartCheck(decision=decision, **it))
    missing = tuple(document["missing_places"])
    return PartVerdict(Verdict(document["verdict"]), tuple(checks), missing)


# Calls on columns.


def decide(
    value: float,
    standard_uncertainty: float | None,
    *,
    lower: float | None = None,
    upper: float | None = None,
    rule: DecisionRule = GuardBand(1.0),
) -> Decision:
    """Decides whether a measured value conforms; numbers are in one unit. Without
    a known uncertainty a guard band proves nothing. The expanded uncertainty is
    twice the standard one.

    Raises InconsistentError without a limit or for limits in the wrong order,
    OutOfRangeError, NotFiniteError, TypeError. Source: JCGM 106:2012, 8.2 and 8.3.

    >>> dividing.inspection.decide(9.5, 0.5, upper=10).verdict.value
    'not_proven'
    """
    unsure, low, high = (
        None if it is None else _float_of(it, name)
        for name, it in (
            ("standard_uncertainty", standard_uncertainty),
            ("lower", lower),
            ("upper", upper),
        )
    )
    text = _decide_measured((_float_of(value, "value"), unsure), (low, high), _rule(rule))
    return _decision_of(json.loads(text))


def fit_circle(
    x_mm: ArrayLike,
    y_mm: ArrayLike,
    *,
    x_uncertainty_mm: ArrayLike | None = None,
    y_uncertainty_mm: ArrayLike | None = None,
) -> CircleFit:
    """The least-squares circle of points, in millimetres: arrays of one dimension;
    standard uncertainties are both given or neither, as numbers or arrays.

    Raises UndeterminedError for fewer than three points or points on a line,
    InconsistentError, OutOfRangeError, NotFiniteError, TypeError. Source:
    geometric distance, Gauss-Newton.

    >>> fit = dividing.inspection.fit_circle([40, 0, -40, 0.0], [0, 40.0, 0, -40],
    ...     x_uncertainty_mm=0.001, y_uncertainty_mm=0.001)
    >>> fit.covariance_mm2.shape
    (3, 3)
    """
    x, y = _column(x_mm, "x_mm"), _column(y_mm, "y_mm")
    _same_length(x_mm=x, y_mm=y)
    uncertainties = None
    if x_uncertainty_mm is not None or y_uncertainty_mm is not None:
        given = []
        for name, it in (
            ("x_uncertainty_mm", x_uncertainty_mm),
            ("y_uncertainty_mm", y_uncertainty_mm),
        ):
            if it is None:
                raise InconsistentError("the other uncertainty is missing too", name)
            column = _stated(it, name, len(x))
            _same_length(**{"x_mm": x, name: column})
            given.append(column)
        uncertainties = (given[0], given[1])
    (x0, y0, radius), residuals, freedom, covariance, chi_square, deviation = _fit_circle(
        x, y, uncertainties
    )
    return CircleFit(
        x0,
        y0,
        radius,
        frozen(residuals),
        freedom,
        None if covariance is None else frozen(covariance),
        chi_square,
        deviation,
    )


@dataclass(frozen=True, slots=True)
class ShiftPlan:
    """Which shifts to measure in a closure.

    >>> dividing.inspection.plan_shifts(12, 0.1, 0.05).readings > 0
    True
    """

    shifts: tuple[int, ...]
    """The shifts, one set-up each."""
    readings: int
    """Readings in all."""
    division_uncertainty_arcsec: float
    """Largest standard uncertainty of a deviation, in seconds of arc."""
    proved_fewest_setups: int
    """No plan with fewer set-ups reaches it; as many as planned means proved
    smallest."""


def plan_shifts(
    positions: int, reading_uncertainty_arcsec: float, wanted_uncertainty_arcsec: float
) -> ShiftPlan:
    """The fewest shifts of a closure that reach an uncertainty, in seconds of arc.

    Raises UndeterminedError where not even all shifts reach it, OutOfRangeError,
    WorkLimitError, TypeError.

    >>> plan = dividing.inspection.plan_shifts(12, 0.1, 0.05)
    >>> len(plan.shifts) * 12 == plan.readings
    True
    """
    shifts, readings, reached, fewest = _plan_shifts(
        _int_of(positions, "positions", 0, _MOST),
        _float_of(reading_uncertainty_arcsec, "reading_uncertainty_arcsec") / _ARCSEC,
        _float_of(wanted_uncertainty_arcsec, "wanted_uncertainty_arcsec") / _ARCSEC,
    )
    return ShiftPlan(tuple(shifts), readings, reached * _ARCSEC, fewest)


@dataclass(frozen=True, slots=True, eq=False)
class Choice(Compared):
    """The best of several choices, and what it is worth.

    >>> dividing.inspection.choose_start([0, 3e-5, 0, 1e-5, 0, 0], pattern=[0, 3]).best
    2
    """

    best: int
    """Which one: the start place, or the number of the list."""
    worst: float
    """Its worst deviation in radians, with its uncertainty times the coverage
    factor added; or the worst share of a limit where limits are given."""
    worst_feature: int
    """The feature that has it."""
    deviations_rad: Floats
    """Deviations of the features from the reference."""
    worst_choice: float
    """What the worst of all choices gives."""
    average_choice: float
    """What a choice gives on average."""
    choices: int
    """How many choices there were."""

    @property
    def gain_over_worst(self) -> float:
        """What the choice saves against the worst, in the same measure.

        >>> dividing.inspection.choose_start([0, 3e-5, 0, 0], pattern=[0, 2]).gain_over_worst > 0
        True
        """
        return self.worst_choice - self.worst


@dataclass(frozen=True, slots=True)
class PairChoice:
    """The best option for each feature, and what it is worth.

    >>> options = [[1e-5, 3e-5], [2e-5, 1e-5]]
    >>> dividing.inspection.choose_pairs(options, reference="given").options
    (0, 1)
    """

    options: tuple[int, ...]
    """For each feature the number of its option."""
    worst: float
    """The worst feature, as `Choice.worst`."""
    worst_choice: float
    """The worst that a choice could have done."""
    average_choice: float
    """The mean over all choices."""


def _known(
    deviations: object, uncertainties: object, *, missing: bool
) -> tuple[list[float], list[float]]:
    found = _column(deviations, "deviations_rad", missing=missing)
    if uncertainties is None:
        return found, [0.0] * len(found)
    if np.ndim(uncertainties) == 0:  # type: ignore[arg-type]
        one = _float_of(uncertainties, "standard_uncertainties_rad")  # type: ignore[arg-type]
        return found, [one] * len(found)
    stated = _column(uncertainties, "standard_uncertainties_rad", missing=missing)
    _same_length(deviations_rad=found, standard_uncertainties_rad=stated)
    return found, stated


def _judgement(
    reference: object, coverage_factor: object, limits_rad: object
) -> tuple[str, float, list[float] | None]:
    return (
        choice(Reference, reference, "reference"),
        _float_of(coverage_factor, "coverage_factor"),  # type: ignore[arg-type]
        None if limits_rad is None else _column(limits_rad, "limits_rad"),
    )


def _choice_of(
    found: tuple[int, float, int, list[float], float, float, int],
) -> Choice:
    best, worst, feature, deviations, worst_choice, average, choices = found
    return Choice(best, worst, feature, frozen(deviations), worst_choice, average, choices)


def choose_start(
    deviations_rad: ArrayLike,
    pattern: ArrayLike,
    *,
    standard_uncertainties_rad: ArrayLike | None = None,
    reference: Reference | Literal["given", "mean", "middle", "first_feature"] = "mean",
    coverage_factor: float = 0.0,
    limits_rad: ArrayLike | None = None,
) -> Choice:
    """The start place from which a pattern (places counted from the start) has
    the least worst deviation. NaN stands for a place that was not measured.

    Raises NotFoundError when every start needs a missing place, OutOfRangeError,
    DuplicateError, InvalidFieldError, TypeError.

    >>> choice = dividing.inspection.choose_start([0, 3e-5, 0, 1e-5, 0, 0], pattern=[0, 3])
    >>> choice.best, choice.worst
    (2, 0.0)
    """
    known = _known(deviations_rad, standard_uncertainties_rad, missing=True)
    places = _places(pattern, 0)
    judgement = _judgement(reference, coverage_factor, limits_rad)
    return _choice_of(_choose_start(known, places, judgement))


def choose_list(
    lists_rad: Sequence[ArrayLike],
    *,
    reference: Reference | Literal["given", "mean", "middle", "first_feature"] = "mean",
    coverage_factor: float = 0.0,
    limits_rad: ArrayLike | None = None,
) -> Choice:
    """The list of deviations whose worst is least: one ring of several for the
    same features. All lists have one length.

    Raises EmptyListError, InconsistentError, TypeError.

    >>> lists = [[0, 3e-5, 0], [1e-5, 0, 1e-5]]
    >>> dividing.inspection.choose_list(lists, reference="given").best
    1
    """
    lists = [_known(one, None, missing=False) for one in lists_rad]
    judgement = _judgement(reference, coverage_factor, limits_rad)
    return _choice_of(_choose_list(lists, judgement))


def choose_pairs(
    options_rad: Sequence[ArrayLike],
    *,
    reference: Reference | Literal["given", "mean", "middle", "first_feature"] = "middle",
    coverage_factor: float = 0.0,
    limits_rad: ArrayLike | None = None,
) -> PairChoice:
    """One option for each feature so that the worst feature is as good as can be:
    which pair of pins to lay the bar on. For each feature the deviations of its
    options.

    Raises EmptyListError, InconsistentError for the reference "mean", TypeError.

    >>> round(dividing.inspection.choose_pairs([[1e-5, 3e-5], [2e-5, 4e-5]]).worst, 9)
    5e-06
    """
    options = [_known(one, None, missing=False) for one in options_rad]
    judgement = _judgement(reference, coverage_factor, limits_rad)
    chosen, worst, worst_choice, average = _choose_pairs(options, judgement)
    return PairChoice(tuple(chosen), worst, worst_choice, average)


@dataclass(frozen=True, slots=True, eq=False)
class Corrections(Compared):
    """A table of corrections: arrays with one entry for each measured place.

    >>> dividing.inspection.correction_table([2.2e-5, -1e-5], 1e-5).graduations
    array([-2,  1])
    """

    place: Ints
    """Numbers of the places."""
    graduations: Ints
    """How many graduations to add."""
    correction_rad: Floats
    """The same as an angle, in radians."""
    left_rad: Floats
    """What is left, in radians."""
    standard_uncertainty_rad: Floats
    """Standard uncertainties of what is left, in radians."""


def correction_table(
    deviations_rad: ArrayLike,
    graduation_rad: float,
    *,
    standard_uncertainties_rad: ArrayLike | None = None,
) -> Corrections:
    """Corrections in whole graduations of a dial. NaN stands for a place that was
    not measured.

    Raises OutOfRangeError, NotFiniteError, TypeError.

    >>> dividing.inspection.correction_table([2.2e-5, -1e-5], 1e-5).left_rad.round(9)
    array([2.e-06, 0.e+00])
    """
    known = _known(deviations_rad, standard_uncertainties_rad, missing=True)
    place, graduations, correction, left, unsure = _correction_table(
        known, _float_of(graduation_rad, "graduation_rad")
    )
    return Corrections(
        frozen_ints(place),
        frozen_ints(graduations),
        frozen(correction),
        frozen(left),
        frozen(unsure),
    )


def bar_deviation_rad(nominal_mm: ArrayLike, measured_mm: ArrayLike) -> float:
    """How far a bar on two measured pins points from its nominal direction, in
    radians counter-clockwise. Both are the two centres, shape (2, 2), in
    millimetres.

    Raises InconsistentError when two centres coincide or for another shape,
    NotFiniteError, TypeError.

    >>> round(dividing.inspection.bar_deviation_rad(
    ...     [[-40, 0], [40, 0]], [[-40, -0.004], [40, 0.004]]), 9)
    0.0001
    """
    tables = []
    for name, it in (("nominal_mm", nominal_mm), ("measured_mm", measured_mm)):
        try:
            table = np.asarray(it, dtype=np.float64)
        except (TypeError, ValueError):
            raise TypeError(f"{name}: two centres are wanted, as numbers") from None
        if table.shape != (2, 2):
            raise InconsistentError(
                f"an array of shape {table.shape}; accepted: two centres, shape (2, 2)", name
            )
        tables.append(table.tolist())
    return _bar_deviation_rad(*tables)
