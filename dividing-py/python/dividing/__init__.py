"""Dividing: exact angles round a part, with the equipment a shop owns.

Describe the workshop and the job, and ask one of five questions:

=================================  =============================================
the question                       the call
=================================  =============================================
Reach: which of my things hits     ``plans = plan(workshop, job)``, best first:
these angles, with which setting?  ``plans[0].exact``, ``plans[0].placements``
If none does: why not, how near,   ``plans[0].shortfall``,
what would do it?                  ``plans[0].largest_residual``
Every number of divisions at once  ``indexing_table(workshop, 2, 400)``
Gears for a ratio or a helix       ``TrainSearch(gears).nearest(ratio)``,
                                   ``TrainSearch(gears).lead(...)``
Pattern: which holes must a plate  ``design_plate(PlateBrief(...))``,
have to serve my list?             ``plate.drill_table().csv``
Error: how far off may each        ``plans[0].worst_deg``,
feature be, will it pass?          ``plans[0].contributors``, ``plans[0].verdict``
                                   ``plans[0].margin_deg``,
                                   ``plans[0].error_model()``
Sheet: what do I set, step by      ``print(plans[0].sheet)``,
step?                              ``plans[0].drawing``
Proof: I measured it, can I use    ``inspection.Measurement.coordinates(...)``,
it better now?                     its ``inspect()`` the report; its ``measured()``
                                   goes into ``HoleCircle(60, measured=...)`` of
                                   the workshop, then ``plan`` again
=================================  =============================================

An example from question to sheet:

>>> import dividing
>>> from dividing import FacedBlock, IndexPlate, PinInHole, WormHead
>>> workshop = dividing.Workshop("Bench", [
...     WormHead("head", worm_ratio=40, worm_error="0°01'",
...              plates=[IndexPlate("plate 1", circles=[15, 16, 17, 18, 19, 20])],
...              registration=PinInHole(pin_diameter=5.98, hole_diameter=6,
...                                     hole_position_tolerance=0.02),
...              smallest_pitch_radius=38),
...     FacedBlock("square block", faces=4)])
>>> job = dividing.Job("Nine slots", divisions=9, called="slot", tolerance="0.05 deg")
>>> plans = dividing.plan(workshop, job)
>>> plans[0].equipment, plans[0].exact, plans[0].verdict.value
('head', True, 'pass')
>>> print(plans[0].placements[1].setting)
Crank(plate=0, back=False, circle=18, turns=4, hole=8)
>>> sheet = plans[0].sheet  # print(sheet) for the bench; sheet.html to print or show
>>> for row in sheet.rows[:2]:
...     print(*row, sep=" | ")
1 | 0.0000° | zero | start
2 | 40.0000° | 4 turns + 8 holes | 4 turns + 8 holes

In a notebook, ``plans[0]`` alone shows its sheet and its picture. Your own
equipment and jobs go by these names; what a shop owns is kept as a document with
``workshop.to_json()`` and read with ``Workshop.from_json(text)``:

=================================  =============================================
what you have                      the call
=================================  =============================================
Dividing head, worm and plates     ``WormHead``, with ``IndexPlate`` and, where
                                   owned, ``ChangeGears``
Rotary table with a dial           ``GraduatedDial``
Index plate on the spindle         ``DirectPlate``, with ``HoleCircle``
Spin indexer, holes and stations   ``VernierIndexer``
Collet block, V-block              ``FacedBlock``, ``VeeBlock``
Plate with pins and a level bar    ``PinPlate``
Sine bar, angle blocks, protractor ``SineBar``, ``AngleBlocks``, ``Protractor``
Stop, finished feature as datum    ``PartReference``
One thing on top of another        ``Stack``
Equal parts of any kind            ``Job(name, divisions=9)``
Bolt circle, flats                 ``Job.bolt_circle(...)``, ``Job.flats(...)``
Angles as listed on the drawing    ``Job.angles(name, ["0 deg", "17.5 deg"])``
Slots, teeth, graduations and all  ``Job.of(name, Slots(9, width=3, depth=4,
else with its sizes                outside_diameter=50))``, ``Teeth``,
                                   ``Graduations``
=================================  =============================================

The examples of all other help texts go on with these names, with this plate and
this search for trains of change gears:

>>> plate = dividing.design_plate(dividing.PlateBrief(dividing.Disc(100), divisions=[9],
...     hole_diameter=6, least_web=2, least_edge_distance=3))
>>> search = dividing.TrainSearch([24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100])

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

import typing as _typing
from importlib import import_module as _import_module

from ._dividing import (
    Angle,
    Drawing,
    Job,
    OrientationSet,
    Pattern,
    Plan,
    Plans,
    Sheet,
    TrainSearch,
    Way,
    Workshop,
    __version__,
    across_corners_mm,
    bolt_circle_chord_mm,
    crank_turns,
    design_plate,
    exact_table,
    flat_width_mm,
    indexing_table,
    length_mm,
    plan,
    sine_bar_angle_deg,
    sine_bar_height_mm,
    stepping_table,
    swivel_deg,
    vee_seat,
    ways,
)
from ._enums import (
    AngleBlockSetName,
    AngleStyle,
    AngleUnit,
    AngularClass,
    BarPlace,
    BlockSetName,
    BlockUnit,
    Decision,
    Distribution,
    IdlerConvention,
    InputUnit,
    LengthUnit,
    LocatedFrom,
    MachineAxis,
    OppositeMeasure,
    Persistence,
    PinHold,
    PitchRounding,
    ReferenceFrom,
    Seating,
    Sense,
    SupplierKind,
    TableMethod,
    Verdict,
)
from ._equipment import (
    AngleBlocks,
    ChangeGears,
    CovarianceByDifference,
    CovarianceLowerTriangle,
    DirectPlate,
    DrilledByCoordinates,
    DrilledHole,
    DrilledOnHead,
    Equipment,
    FacedBlock,
    FlatAgainstBlock,
    GraduatedDial,
    HoleCircle,
    IndexPlate,
    Levelling,
    MeasuredPlace,
    MeasuredRing,
    PartReference,
    Piece,
    PinInHole,
    PinPlate,
    PlateCircle,
    Protractor,
    SineBar,
    Stack,
    VeeBlock,
    VernierIndexer,
    WormHead,
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
    UnknownNameError,
    UnreadableTextError,
    WorkLimitError,
)
from ._features import (
    AngleList,
    BoltCircle,
    EqualDivisions,
    Features,
    FeatureSet,
    Flats,
    FlatsGeometry,
    Graduations,
    MachineAxes,
    Slots,
    SlotsGeometry,
    Teeth,
    TeethGeometry,
)
from ._gauge_blocks import (
    AngleBlockSet,
    AngleStack,
    BlockSet,
    BlockStack,
    DifferenceStack,
    SineBarHeight,
)
from ._gearing import (
    ExactTrains,
    GearSet,
    LeadGearing,
    NearestProof,
    NearestTrain,
    Train,
)
from ._inputs import (
    AngularClassTolerance,
    Clocked,
    FeatureTolerance,
    MaximumMaterial,
    PartEccentricity,
    PitchGradeTolerance,
    PitchTolerance,
    PositionDiameter,
    Tolerance,
)
from ._tables import Columns, IndexingTable, TableSection
from ._values import AngleLike, LengthLike, RatioLike
from ._values import settle as _settle

if _typing.TYPE_CHECKING:
    from ._records import (
        AtStop,
        BarAcrossRings,
        BarOnBlocks,
        BarOnPins,
        CompoundCrank,
        Contributor,
        Crank,
        FaceDown,
        FacesInVee,
        Finding,
        FromLast,
        Handling,
        Hole,
        HoleAtStation,
        Inclination,
        Normal,
        OtherSetting,
        PitchFigure,
        Placement,
        Reach,
        Reading,
        Samples,
        Setting,
        Shortfall,
        StackedBlocks,
        StackedSettings,
        SteppingError,
        Supplier,
        VeeSeat,
        WrungAngleBlocks,
    )
    from ._patterns import (
        AngleWish,
        BarRoom,
        Certificate,
        CheckDimension,
        CircleOnPlate,
        Disc,
        DivisionWish,
        DrillRow,
        DrillTable,
        FixedRing,
        ForPins,
        ForPlunger,
        ForVernierPair,
        ForWormHead,
        ListWish,
        PartRoom,
        PartUnderBar,
        PinPair,
        PlateBrief,
        PlateCheck,
        PlateDoesNotFitError,
        PlateHole,
        PlateRing,
        PlateShortfall,
        PlateUse,
        Polygon,
        Served,
        Wish,
    )
    from . import accuracy as accuracy
    from . import fits as fits
    from . import inspection as inspection
    from . import simulation as simulation

__all__ = [
    "Angle",
    "AngleBlockSet",
    "AngleBlockSetName",
    "AngleBlocks",
    "AngleLike",
    "AngleList",
    "AngleStack",
    "AngleStyle",
    "AngleUnit",
    "AngleWish",
    "AngularClass",
    "AngularClassTolerance",
    "AtStop",
    "BarAcrossRings",
    "BarOnBlocks",
    "BarOnPins",
    "BarPlace",
    "BarRoom",
    "BlockSet",
    "BlockSetName",
    "BlockStack",
    "BlockUnit",
    "BoltCircle",
    "CancelledError",
    "Certificate",
    "ChangeGears",
    "CheckDimension",
    "CircleOnPlate",
    "Clocked",
    "Columns",
    "CompoundCrank",
    "Contributor",
    "CovarianceByDifference",
    "CovarianceLowerTriangle",
    "Crank",
    "Decision",
    "DifferenceStack",
    "DirectPlate",
    "Disc",
    "Distribution",
    "DividingError",
    "DivisionByZeroError",
    "DivisionWish",
    "DocumentError",
    "Drawing",
    "DrillRow",
    "DrillTable",
    "DrilledByCoordinates",
    "DrilledHole",
    "DrilledOnHead",
    "DuplicateError",
    "EmptyListError",
    "EqualDivisions",
    "Equipment",
    "ExactOverflowError",
    "ExactTrains",
    "FaceDown",
    "FacedBlock",
    "FacesInVee",
    "FeatureSet",
    "FeatureTolerance",
    "Features",
    "Finding",
    "FixedRing",
    "FlatAgainstBlock",
    "Flats",
    "FlatsGeometry",
    "ForPins",
    "ForPlunger",
    "ForVernierPair",
    "ForWormHead",
    "FromLast",
    "GearSet",
    "GraduatedDial",
    "Graduations",
    "Handling",
    "Hole",
    "HoleAtStation",
    "HoleCircle",
    "IdlerConvention",
    "Inclination",
    "InconsistentError",
    "IndexPlate",
    "IndexingTable",
    "InexactUnitError",
    "InputUnit",
    "InternalError",
    "InvalidFieldError",
    "InvalidValueError",
    "Job",
    "LeadGearing",
    "LengthLike",
    "LengthUnit",
    "Levelling",
    "ListWish",
    "LocatedFrom",
    "MachineAxes",
    "MachineAxis",
    "MalformedJsonError",
    "MaximumMaterial",
    "MeasuredPlace",
    "MeasuredRing",
    "MissingUnitError",
    "NearestProof",
    "NearestTrain",
    "Normal",
    "NotFiniteError",
    "NotFoundError",
    "OppositeMeasure",
    "OrientationSet",
    "OtherSetting",
    "OutOfRangeError",
    "PartEccentricity",
    "PartReference",
    "PartRoom",
    "PartUnderBar",
    "Pattern",
    "Persistence",
    "Piece",
    "PinHold",
    "PinInHole",
    "PinPair",
    "PinPlate",
    "PitchFigure",
    "PitchGradeTolerance",
    "PitchRounding",
    "PitchTolerance",
    "Placement",
    "Plan",
    "Plans",
    "PlateBrief",
    "PlateCheck",
    "PlateCircle",
    "PlateDoesNotFitError",
    "PlateHole",
    "PlateRing",
    "PlateShortfall",
    "PlateUse",
    "Polygon",
    "PositionDiameter",
    "Protractor",
    "RatioLike",
    "Reach",
    "Reading",
    "ReferenceFrom",
    "Samples",
    "Seating",
    "Sense",
    "Served",
    "Setting",
    "Sheet",
    "Shortfall",
    "SineBar",
    "SineBarHeight",
    "Slots",
    "SlotsGeometry",
    "Stack",
    "StackedBlocks",
    "StackedSettings",
    "SteppingError",
    "Supplier",
    "SupplierKind",
    "TableMethod",
    "TableSection",
    "Teeth",
    "TeethGeometry",
    "TextError",
    "Tolerance",
    "Train",
    "TrainSearch",
    "UndeterminedError",
    "UnknownFieldError",
    "UnknownFormatError",
    "UnknownNameError",
    "UnreadableTextError",
    "VeeBlock",
    "VeeSeat",
    "Verdict",
    "VernierIndexer",
    "Way",
    "Wish",
    "WorkLimitError",
    "Workshop",
    "WormHead",
    "WrungAngleBlocks",
    "__version__",
    "accuracy",
    "across_corners_mm",
    "bolt_circle_chord_mm",
    "crank_turns",
    "design_plate",
    "exact_table",
    "fits",
    "flat_width_mm",
    "indexing_table",
    "inspection",
    "length_mm",
    "plan",
    "simulation",
    "sine_bar_angle_deg",
    "sine_bar_height_mm",
    "stepping_table",
    "swivel_deg",
    "vee_seat",
    "ways",
]

_ROOMS = frozenset({"accuracy", "fits", "inspection", "plot", "simulation"})
"""The modules that are loaded when they are first used."""


if not _typing.TYPE_CHECKING:

    def __getattr__(name):
        if name in _ROOMS:
            return _import_module(f"{__name__}.{name}")
        # What results are made of is loaded when one of its names is first used.
        if name in __all__:
            for part in ("_records", "_patterns"):
                found = getattr(_import_module(f"{__name__}.{part}"), name, None)
                if found is not None:
                    return found
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted({*globals(), *_ROOMS})


_settle(globals())
