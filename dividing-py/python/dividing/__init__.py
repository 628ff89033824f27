"""Dividing: exact angles round a part, with the equipment a shop owns.

Describe the workshop and the job, and ask:

=====================================  =======================================
the question                           the call
=====================================  =======================================
Which of my equipment hits these       ``plans = plan(workshop, job)``, best
angles exactly, with which setting?    first; ``plans[0].exact``,
                                       ``plans[0].placements``
If none can, why, and how near?        ``plans[0].shortfall``,
                                       ``plans[0].largest_residual``
How far off may each feature be?       ``plans[0].worst_deg``,
                                       ``plans[0].contributors``,
                                       ``plans[0].error_model()``
Will it pass the drawing?              ``plans[0].verdict``,
                                       ``plans[0].margin_deg``
What do I set, step by step?           ``print(plans[0].sheet)``,
                                       ``plans[0].drawing``
=====================================  =======================================

An example from question to sheet:

>>> import dividing
>>> workshop = dividing.Workshop("Bench", [
...     {"worm_head": {"name": "head", "worm_ratio": 40, "worm_error": "0°01'",
...                    "plates": [{"name": "plate 1",
...                                "circles": [15, 16, 17, 18, 19, 20]}],
...                    "registration": {"pin_diameter": 5.98, "hole_diameter": 6.0,
...                                     "hole_position_tolerance": 0.02},
...                    "smallest_pitch_radius": 38}},
...     {"faced_block": {"name": "square block", "faces": 4}}])
>>> job = dividing.Job("Nine slots", divisions=9, called="slot", tolerance="0.05 deg")
>>> plans = dividing.plan(workshop, job)
>>> plans[0].equipment, plans[0].exact, plans[0].verdict.value
('head', True, 'pass')
>>> print(plans[0].placements[1].setting)
Crank(plate=0, back=False, circle=18, turns=4, hole=8)

The examples of all other help texts go on with these names.

Five modules hold what goes deeper; each is loaded when it is first used:

==========================  ==================================================
``dividing.fits``           limits of size and clearances of ISO 286
``dividing.accuracy``       worst case, uncertainty budgets, trade-offs, verdicts
``dividing.simulation``     what happens trial by trial
``dividing.inspection``     what a measured plate or part is worth
``dividing.plot``           pictures by matplotlib, an optional extra
==========================  ==================================================

Angles are exact fractions of a turn. Wherever an angle is wanted an
:class:`Angle`, text with its unit (``"22.5 deg"``, ``"7°30'15\\""``,
``"1/9 turn"``), or a Fraction or int of turns will do. Lengths are numbers of
millimetres or text with a unit (``"0.250 in"``). Floats carry their unit in
their names: ``_deg``, ``_rad``, ``_arcsec``, ``_mm``.

Errors are subclasses of :class:`DividingError` and of the built-in exception
that fits, such as ValueError; arguments of a wrong type raise TypeError.
"""

from importlib import import_module as _import_module
from types import ModuleType as _ModuleType
from typing import TYPE_CHECKING as _TYPE_CHECKING

from ._dividing import (
    Angle,
    Drawing,
    Job,
    Plan,
    Plans,
    Sheet,
    Workshop,
    __version__,
    length_mm,
    plan,
)
from ._enums import (
    AngularClass,
    AngleStyle,
    AngleUnit,
    BarPlace,
    Distribution,
    InputUnit,
    LengthUnit,
    Persistence,
    PitchRounding,
    Verdict,
)
from ._errors import (
    CancelledError,
    DividingError,
    DivisionByZeroError,
    DocumentError,
    DuplicateError,
    EmptyListError,
    ExactOverflowError,
    InconsistentError,
    InexactUnitError,
    InternalError,
    InvalidFieldError,
    InvalidValueError,
    MalformedJsonError,
    MissingUnitError,
    NotFiniteError,
    NotFoundError,
    OutOfRangeError,
    TextError,
    UndeterminedError,
    UnknownFieldError,
    UnknownFormatError,
    UnreadableTextError,
    WorkLimitError,
)
from ._inputs import (
    AngleLike,
    AngularClassTolerance,
    Clocked,
    LengthLike,
    MaximumMaterial,
    PitchGradeTolerance,
    PitchTolerance,
    PositionDiameter,
    Tolerance,
)
from ._records import (
    BarOnPins,
    Contributor,
    Crank,
    FaceDown,
    FacesInVee,
    Finding,
    Handling,
    Hole,
    HoleAtStation,
    Normal,
    OtherSetting,
    PitchFigure,
    Placement,
    Reading,
    Setting,
    Shortfall,
)

if _TYPE_CHECKING:
    from . import accuracy as accuracy
    from . import fits as fits
    from . import inspection as inspection
    from . import simulation as simulation

__all__ = [
    "Angle",
    "AngleLike",
    "AngleStyle",
    "AngleUnit",
    "AngularClass",
    "AngularClassTolerance",
    "BarOnPins",
    "BarPlace",
    "CancelledError",
    "Clocked",
    "Contributor",
    "Crank",
    "Distribution",
    "DividingError",
    "DivisionByZeroError",
    "DocumentError",
    "Drawing",
    "DuplicateError",
    "EmptyListError",
    "ExactOverflowError",
    "FaceDown",
    "FacesInVee",
    "Finding",
    "Handling",
    "Hole",
    "HoleAtStation",
    "InconsistentError",
    "InexactUnitError",
    "InputUnit",
    "InternalError",
    "InvalidFieldError",
    "InvalidValueError",
    "Job",
    "LengthLike",
    "LengthUnit",
    "MalformedJsonError",
    "MaximumMaterial",
    "MissingUnitError",
    "Normal",
    "NotFiniteError",
    "NotFoundError",
    "OtherSetting",
    "OutOfRangeError",
    "Persistence",
    "PitchFigure",
    "PitchGradeTolerance",
    "PitchRounding",
    "PitchTolerance",
    "Placement",
    "Plan",
    "Plans",
    "PositionDiameter",
    "Reading",
    "Setting",
    "Sheet",
    "Shortfall",
    "TextError",
    "Tolerance",
    "UndeterminedError",
    "UnknownFieldError",
    "UnknownFormatError",
    "UnreadableTextError",
    "Verdict",
    "WorkLimitError",
    "Workshop",
    "__version__",
    "accuracy",
    "fits",
    "inspection",
    "length_mm",
    "plan",
    "simulation",
]

_ROOMS = frozenset({"accuracy", "fits", "inspection", "plot", "simulation"})
"""The modules that are loaded when they are first used."""


def __getattr__(name: str) -> _ModuleType:
    if name in _ROOMS:
        return _import_module(f"{__name__}.{name}")
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted({*globals(), *_ROOMS})


# Tracebacks, pickles and help() name the package, not its private files.
for _name in __all__:
    _thing = globals().get(_name)
    if isinstance(_thing, type) and _thing.__module__.startswith("dividing."):
        _thing.__module__ = "dividing"
del _name, _thing
