"""What readings say."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from .._arrays import Compared, Floats, Ints, frozen, frozen_ints
from ._columns import _ARCSEC


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
