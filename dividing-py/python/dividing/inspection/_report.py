"""An evaluated measurement."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, Literal

from .._arrays import Floats, frozen
from .._dividing import (
    Drawing,
    _float_of,
    _inspect,
    _Inspection,
    _whole_of,
    _length_mm_of,
)
from .._errors import InconsistentError
from .._html import beside, grid
from .._values import LengthLike
from ..accuracy._rules import DecisionRule, GuardBand, _rule
from ._columns import _ARCSEC, _MOST, _second
from ._measurement import Measurement
from ._results import (
    CoordinateResult,
    PitchGrade,
    ResidualTest,
    RingDeviations,
    _coordinate_result,
    _ring_of,
)
from ._verdicts import PartVerdict, _verdict_of


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
    the centre; None for a closure and for stations."""
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
        self.name = document["measurement"].get("name", "")
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
        >>> report.check_ring(cumulative_pitch_rad=1e-5, rule="simple_acceptance").decision.value
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
            datum_place = _whole_of(datum_place, "datum_place", 0, _MOST)
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
        >>> report.check_position(0.1).decision.value
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
        """The deviations round the circle, as SVG; None for a closure and for stations.

        >>> from dividing.inspection import Measurement
        >>> Measurement.deviations([3, -1, -2, 0]).inspect().drawing.svg[:4]
        '<svg'
        """
        svg = self._native.picture(self.name)
        return None if svg is None else Drawing(svg)

    def _repr_html_(self) -> str:
        facts = [("Readings", next(iter(self.measurement.to_dict()["readings"])))]
        document = self.to_dict()["measurement"]
        for label in ("measured_by", "measured_on", "instrument", "temperature"):
            if label in document:
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
        table = grid(f"Inspection: {self.name or 'not named'}", head, rows, facts)
        drawing = self.drawing
        return beside(None if drawing is None else drawing.svg, table)

    def __str__(self) -> str:
        return self._native.text()

    def __repr__(self) -> str:
        return f"<InspectionReport of {self.name!r}>"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, InspectionReport) and self.measurement == other.measurement

    __hash__ = None  # type: ignore[assignment]

    def __reduce__(self) -> tuple[type[InspectionReport], tuple[Measurement]]:
        return InspectionReport, (self.measurement,)
