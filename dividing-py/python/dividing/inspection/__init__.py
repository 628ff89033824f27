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

from .._enums import Decision, Reference, Sense
from ._measurement import Measurement
from ._report import ClosureResult, InspectionReport
from ._results import (
    CircleFit,
    CoordinateResult,
    Eccentricity,
    Harmonic,
    PitchDeviations,
    PitchExtreme,
    PitchGrade,
    ResidualTest,
    RingDeviations,
)
from ._use import (
    Choice,
    Corrections,
    PairChoice,
    ShiftPlan,
    angles_about_axis,
    bar_deviation_rad,
    choose_list,
    choose_pairs,
    choose_start,
    correction_table,
    fit_circle,
    plan_shifts,
)
from ._verdicts import GroundedDecision, PartCheck, PartVerdict, decide

__all__ = [
    "Choice",
    "CircleFit",
    "ClosureResult",
    "CoordinateResult",
    "Corrections",
    "Decision",
    "GroundedDecision",
    "Eccentricity",
    "Harmonic",
    "InspectionReport",
    "Measurement",
    "Sense",
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
    "angles_about_axis",
    "bar_deviation_rad",
    "choose_list",
    "choose_pairs",
    "choose_start",
    "correction_table",
    "decide",
    "fit_circle",
    "plan_shifts",
]

# Tracebacks, pickles and help() name the room, not its private files.
for _name in __all__:
    _thing = globals()[_name]
    if isinstance(_thing, type) and _thing.__module__.startswith(f"{__name__}."):
        _thing.__module__ = __name__
del _name, _thing
