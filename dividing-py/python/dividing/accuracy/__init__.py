"""How far off each feature will be, why, and what to change.

Contributors add up to a worst case or to an uncertainty budget:

>>> from dividing import accuracy
>>> parts = [
...     accuracy.Contributor("hole position", 0.010, sensitivity=1 / 50),
...     accuracy.Contributor("pin clearance", 0.010, sensitivity=1 / 50)]
>>> round(accuracy.total_rad(parts), 9)
0.0004
>>> budget = accuracy.Budget.of_contributors("hole 1", parts)
>>> round(budget.expanded_uncertainty, 2), budget.unit
(58.34, 'arcsec')

The same of a whole plan, and what would have to change:

>>> model = accuracy.ErrorModel(plans[0])
>>> model.conformance(0).decision.value
'pass'

Many clearances, tolerances and radii at once, as NumPy arrays:

>>> accuracy.plunger_worst_case_rad([40.0, 50.0], clearance_mm=0.02).round(9)
array([0.00025, 0.0002 ])
"""

from __future__ import annotations

from .._dividing import (
    bar_on_fixed_pins_rad,
    bar_on_loose_pins_rad,
    baseline_mm,
    clopper_pearson,
    conformance_probability,
    eccentricity_between_rad,
    eccentricity_error_rad,
    eccentricity_peak_to_peak_rad,
    guard_band_factor,
    least_baseline_mm,
    least_pitch_radius_mm,
    loosest_clearance_mm,
    pin_play_rad,
    plunger_standard_uncertainty_rad,
    plunger_worst_case_rad,
    position_diameter_mm,
    student_factor,
)
from .._enums import (
    AngularClass,
    Decision,
    Distribution,
    InputUnit,
    LocatedFrom,
    Persistence,
    PitchRounding,
)
from .._records import Contributor, Normal, Samples
from ._budget import (
    Budget,
    BudgetLine,
    Correlation,
    SecondOrderTerm,
    UncertainInput,
    UncertaintyModel,
    numerical_sensitivities,
)
from ._geometry import (
    BarSupport,
    Entry,
    EntryFinding,
    FeatureShift,
    PinPair,
    bar_tilt_rad,
    best_pin_pairs,
    carried,
    drilled_by_coordinates,
    feature_shift,
    position_zone_mm,
)
from ._model import ErrorModel, FeatureConformance, ModelFeature, PlanTradeOff
from ._report import ErrorReport
from ._rules import (
    CoverageFactor,
    CoverageProbability,
    ExpandedUncertainty,
    GuardBand,
    Limits,
    decide,
)
from ._standards import (
    PitchGrades,
    RangeConstants,
    angular_class_met_by,
    angular_limit_rad,
    permitted_diameter_mm,
    range_constants,
)
from ._sums import TradeOff, least_radius_mm, loosest_limit, total_rad, trade_offs

__all__ = [
    "AngularClass",
    "BarSupport",
    "Budget",
    "BudgetLine",
    "Contributor",
    "Correlation",
    "CoverageFactor",
    "CoverageProbability",
    "Decision",
    "Distribution",
    "Entry",
    "EntryFinding",
    "ErrorModel",
    "ErrorReport",
    "ExpandedUncertainty",
    "FeatureConformance",
    "FeatureShift",
    "GuardBand",
    "InputUnit",
    "Limits",
    "LocatedFrom",
    "ModelFeature",
    "Normal",
    "Persistence",
    "PinPair",
    "PitchGrades",
    "PitchRounding",
    "PlanTradeOff",
    "RangeConstants",
    "Samples",
    "SecondOrderTerm",
    "TradeOff",
    "UncertainInput",
    "UncertaintyModel",
    "angular_class_met_by",
    "angular_limit_rad",
    "bar_on_fixed_pins_rad",
    "bar_on_loose_pins_rad",
    "bar_tilt_rad",
    "baseline_mm",
    "best_pin_pairs",
    "carried",
    "clopper_pearson",
    "conformance_probability",
    "decide",
    "drilled_by_coordinates",
    "eccentricity_between_rad",
    "eccentricity_error_rad",
    "eccentricity_peak_to_peak_rad",
    "feature_shift",
    "guard_band_factor",
    "least_baseline_mm",
    "least_pitch_radius_mm",
    "least_radius_mm",
    "loosest_clearance_mm",
    "loosest_limit",
    "numerical_sensitivities",
    "permitted_diameter_mm",
    "pin_play_rad",
    "plunger_standard_uncertainty_rad",
    "plunger_worst_case_rad",
    "position_diameter_mm",
    "position_zone_mm",
    "range_constants",
    "student_factor",
    "total_rad",
    "trade_offs",
]

# Tracebacks, pickles and help() name the room, not its private files.
for _name in __all__:
    _thing = globals()[_name]
    if isinstance(_thing, type) and _thing.__module__.startswith(f"{__name__}."):
        _thing.__module__ = __name__
del _name, _thing
