"""Readings of a plate, a part or two dividing devices."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from numpy.typing import ArrayLike

from .._codec import text_of_record
from .._dividing import (
    _angle_of,
    _float_of,
    _whole_of,
    _length_mm_of,
    _measurement,
    _readings_from_csv,
    _text_of,
)
from .._documents import text_of
from .._enums import Sense
from .._errors import InconsistentError
from .._values import AngleLike, LengthLike, choice
from ._columns import _MOST, _column, _places, _same_length

if TYPE_CHECKING:
    from ._report import InspectionReport


@dataclass(frozen=True, slots=True, init=False, repr=False)
class Measurement:
    """Readings of a plate, a part or two dividing devices, with what is said of
    them. Made by ``coordinates``, ``angles``, ``deviations``, ``chords``,
    ``closure``, the same names with ``_csv``, ``stations``, ``from_json`` or
    ``from_dict``.

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
        numbering: Sense | Literal["counter_clockwise", "clockwise"] = "counter_clockwise",
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
        numbering: Sense | Literal["counter_clockwise", "clockwise"] = "counter_clockwise",
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
        count = len(points) if places is None else _whole_of(places, "places", 0, _MOST)
        sense = choice(Sense, numbering, "numbering")
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
        numbering: Sense | Literal["counter_clockwise", "clockwise"] = "counter_clockwise",
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
        read = _angles(angles, "angles")
        numbers = _places(place, len(read))
        _same_length(angles=read, place=numbers)
        readings = [
            {"place": number, "angle": angle}
            for number, angle in zip(numbers, read, strict=True)
        ]
        fields = _ring(places, radius, standard_uncertainty_arcsec, readings)
        sense = choice(Sense, numbering, "numbering")
        return Measurement._of({"angles": {**fields, "numbering": sense}}, said)

    @staticmethod
    def angles_csv(
        text: str,
        *,
        places: int | None = None,
        numbering: Sense | Literal["counter_clockwise", "clockwise"] = "counter_clockwise",
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
        sense = choice(Sense, numbering, "numbering")
        return Measurement._of({"angles": {**fields, "numbering": sense}}, said)

    @staticmethod
    def stations(
        angles: Iterable[AngleLike],
        *,
        stations: Iterable[AngleLike],
        place: ArrayLike | None = None,
        numbering: Sense | Literal["counter_clockwise", "clockwise"] = "counter_clockwise",
        standard_uncertainty_arcsec: float | None = None,
        **said: str | None,
    ) -> Measurement:
        """Angles at which the stations of a vernier indexer stand, about the axis of
        its spindle, each an angle with its unit; `angles_about_axis` gives them from
        coordinates. ``stations`` are the angles where they should stand, as the
        indexer lists them, 2 to 1000, spaced in any way; their own zero and that of
        the readings do not matter.

        Other arguments as `coordinates`. ``measured`` gives the field
        ``measured_stations``; the report has no ring.

        Raises TextError, InconsistentError, TypeError.

        >>> from dividing.inspection import Measurement
        >>> it = Measurement.stations(
        ...     ["10°", "43°00'09\\"", "80°"], stations=["0°", "33°", "70°"])
        >>> round(it.measured()["deviations"][1]["deviation_arcsec"], 6)
        6.0
        """
        read, nominal = _angles(angles, "angles"), _angles(stations, "stations")
        numbers = _places(place, len(read))
        _same_length(angles=read, place=numbers)
        fields: dict[str, Any] = {
            "stations": nominal,
            "numbering": choice(Sense, numbering, "numbering"),
            "readings": [
                {"place": number, "angle": angle}
                for number, angle in zip(numbers, read, strict=True)
            ],
        }
        if standard_uncertainty_arcsec is not None:
            name = "standard_uncertainty_arcsec"
            fields[name] = _float_of(standard_uncertainty_arcsec, name)
        return Measurement._of({"stations": fields}, said)

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
            "places": len(readings) if places is None else _whole_of(places, "places", 0, _MOST),
            "span": _whole_of(span, "span", 0, _MOST),
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
        count = _whole_of(positions, "positions", 0, _MOST)
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
        from ._report import InspectionReport

        return InspectionReport(self)

    def measured(self) -> dict[str, Any]:
        """The ``measured`` field of a hole circle or a dial, or the
        ``measured_stations`` of a vernier indexer, for a workshop.

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


def _angles(values: Iterable[AngleLike], name: str) -> list[str]:
    if isinstance(values, (str, bytes)) or not isinstance(values, Iterable):
        raise TypeError(f"{name}: a list of angles is wanted, not {type(values).__name__}")
    return [str(_angle_of(it, f"{name}[{index}]")) for index, it in enumerate(values)]


def _ring(
    places: int | None,
    radius: LengthLike | None,
    standard_uncertainty_arcsec: float | None,
    readings: list[dict[str, Any]],
) -> dict[str, Any]:
    count = len(readings) if places is None else _whole_of(places, "places", 0, _MOST)
    fields: dict[str, Any] = {"places": count, "readings": readings}
    if radius is not None:
        fields["radius"] = _length_mm_of(radius, "radius")
    if standard_uncertainty_arcsec is not None:
        name = "standard_uncertainty_arcsec"
        fields[name] = _float_of(standard_uncertainty_arcsec, name)
    return fields
