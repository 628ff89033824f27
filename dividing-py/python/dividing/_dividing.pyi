from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any, Literal, SupportsFloat, final, overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ._enums import AngleStyle, AngleUnit, AngularClass, LengthUnit, Verdict
from ._equipment import Equipment, Piece
from ._features import Features, FeatureSet
from ._gearing import ExactTrains, GearSet, LeadGearing, NearestTrain, Train
from ._inputs import Clocked, FeatureTolerance, PartEccentricity, Tolerance
from ._patterns import (
    BarRoom,
    Certificate,
    CheckDimension,
    DrillTable,
    PartRoom,
    PlateBrief,
    PlateCheck,
    PlateRing,
    Served,
)
from ._records import (
    Contributor,
    Finding,
    Handling,
    PitchFigure,
    Placement,
    Reach,
    Setting,
    Shortfall,
    SteppingError,
    VeeSeat,
)
from ._tables import Columns, IndexingTable
from ._values import AngleLike, LengthLike, RatioLike
from .accuracy import (
    CoverageFactor,
    EntryFinding,
    ErrorModel,
    ErrorReport,
    FeatureShift,
)
from .accuracy._rules import Coverage, Criterion, DecisionRule

__all__ = [
    "Angle",
    "Drawing",
    "Job",
    "OrientationSet",
    "Pattern",
    "Plan",
    "Plans",
    "Sheet",
    "TrainSearch",
    "Way",
    "Workshop",
    "_ErrorModel",
    "_Inspection",
    "__version__",
    "_angle_of",
    "_angle_stack",
    "_angles_about_axis",
    "_angular_class_met_by",
    "_angular_limit_rad",
    "_bar_deviation_rad",
    "_bar_height_mm",
    "_bar_tilt_rad",
    "_best_pin_pairs",
    "_bolt_circle_chord",
    "_bolt_circle_places",
    "_budget",
    "_budget_of_contributors",
    "_budget_page",
    "_carried",
    "_check_brief",
    "_check_equipment",
    "_check_features",
    "_check_tolerance",
    "_checked_angle_blocks",
    "_checked_blocks",
    "_checked_gears",
    "_checked_train",
    "_choose_list",
    "_choose_pairs",
    "_choose_start",
    "_clearance",
    "_clearance_of_class",
    "_contributor_figures",
    "_correction_table",
    "_correlation",
    "_decide",
    "_decide_measured",
    "_difference",
    "_drilled_by_coordinates",
    "_drilled_zone_mm",
    "_entry",
    "_feature_angles",
    "_feature_angles_deg",
    "_feature_shift",
    "_fit",
    "_fit_circle",
    "_fit_class",
    "_float_of",
    "_geometry",
    "_idlers",
    "_inspect",
    "_least_radius_mm",
    "_length_mm_of",
    "_limit_deviations_um",
    "_limit_rad",
    "_limits",
    "_limits_from_deviations",
    "_limits_of_class",
    "_loads",
    "_loosest_limit",
    "_measurement",
    "_named_angle_blocks",
    "_named_blocks",
    "_nearest_units",
    "_panic_on_purpose",
    "_permitted_diameter_mm",
    "_pin_in_hole_of_fit",
    "_pitch_grade_met_by",
    "_pitch_tolerances_um",
    "_plan_shifts",
    "_position_zone_mm",
    "_range_constants",
    "_ratio_of",
    "_readings_from_csv",
    "_simulate",
    "_stack",
    "_text_of",
    "_tolerance_class",
    "_total_rad",
    "_trade_offs",
    "_two_stacks",
    "_units_of",
    "_whole_of",
    "across_corners_mm",
    "bar_on_fixed_pins_rad",
    "bar_on_loose_pins_rad",
    "baseline_mm",
    "bolt_circle_chord_mm",
    "clopper_pearson",
    "conformance_probability",
    "crank_turns",
    "design_plate",
    "eccentricity_between_rad",
    "eccentricity_error_rad",
    "eccentricity_peak_to_peak_rad",
    "exact_table",
    "flat_width_mm",
    "guard_band_factor",
    "indexing_table",
    "least_baseline_mm",
    "least_pitch_radius_mm",
    "length_mm",
    "loosest_clearance_mm",
    "pin_play_rad",
    "plan",
    "plunger_standard_uncertainty_rad",
    "plunger_worst_case_rad",
    "position_diameter_mm",
    "sine_bar_angle_deg",
    "sine_bar_height_mm",
    "stepping_table",
    "student_factor",
    "swivel_deg",
    "vee_seat",
    "ways",
]

__version__: str

def _angle_of(value: AngleLike, name: str) -> Angle: ...
def _length_mm_of(value: LengthLike, name: str) -> float: ...
def _text_of(value: str, name: str) -> str: ...
def _panic_on_purpose(message: str) -> None: ...
def length_mm(value: LengthLike) -> float: ...
def plan(
    workshop: Workshop,
    job: Job,
    *,
    work_limit: int | None = None,
    progress: Callable[[int], object] | None = None,
) -> Plans: ...

# Values, features, gauge blocks, gears, formulae.

_Progress = Callable[[int], object] | None

def _angle_stack(
    arcsec: list[int],
    angle: AngleLike,
    tolerance: AngleLike,
    work_limit: int | None,
    progress: _Progress,
) -> tuple[list[int], list[int], Angle, Angle]: ...
def _bar_height_mm(length: LengthLike, angle: AngleLike) -> float: ...
def _bolt_circle_chord(document: str, spaces: int) -> float: ...
def _bolt_circle_places(
    document: str,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]: ...
def _check_equipment(
    document: str, kind: str, inside: str, only: str
) -> None: ...
def _check_features(document: str) -> None: ...
def _check_tolerance(document: str) -> None: ...
def _checked_angle_blocks(arcsec: list[int]) -> list[int]: ...
def _checked_blocks(unit: str, units: list[int]) -> list[int]: ...
def _checked_gears(teeth: list[int]) -> list[int]: ...
def _checked_train(
    drivers: list[int], driven: list[int]
) -> tuple[Fraction, int | None]: ...
def _difference(
    unit: str,
    units: list[int],
    height: int,
    tolerance: int,
    work_limit: int | None,
    progress: _Progress,
) -> tuple[list[int], list[int], int]: ...
def _feature_angles(document: str) -> tuple[Angle, ...]: ...
def _feature_angles_deg(document: str) -> NDArray[np.float64]: ...
def _float_of(value: float, name: str) -> float: ...
def _geometry(document: str) -> Any: ...
def _idlers(drivers: list[int], driven: list[int], same_sense: bool) -> int: ...
def _limit_rad(document: str) -> float: ...
def _loads(text: str) -> Any: ...
def _named_angle_blocks(name: str) -> list[int]: ...
def _named_blocks(name: str) -> tuple[str, list[int]]: ...
def _nearest_units(unit: str, value: LengthLike, name: str) -> int: ...
def _pin_in_hole_of_fit(text: str) -> str: ...
def _ratio_of(value: RatioLike, name: str) -> Fraction: ...
def _stack(
    unit: str,
    units: list[int],
    height: int,
    tolerance: int,
    wear: int | None,
    work_limit: int | None,
    progress: _Progress,
) -> tuple[list[int], int]: ...
def _two_stacks(
    unit: str,
    units: list[int],
    height: int,
    tolerance: int,
    wear: int | None,
    work_limit: int | None,
    progress: _Progress,
) -> tuple[tuple[list[int], int], tuple[list[int], int]]: ...
def _units_of(unit: str, value: LengthLike, name: str) -> int: ...
def _whole_of(value: int, name: str, least: int, most: int) -> int: ...

_Many = Sequence[float] | Sequence[Sequence[float]] | NDArray[Any]

@overload
def across_corners_mm(  # type: ignore[overload-overlap]
    count: float, across_flats_mm: float, stock_diameter_mm: float
) -> float: ...
@overload
def across_corners_mm(
    count: float | _Many,
    across_flats_mm: float | _Many,
    stock_diameter_mm: float | _Many,
) -> NDArray[np.float64]: ...
@overload
def bolt_circle_chord_mm(  # type: ignore[overload-overlap]
    radius_mm: float, count: float, spaces: float = 1
) -> float: ...
@overload
def bolt_circle_chord_mm(
    radius_mm: float | _Many, count: float | _Many, spaces: float | _Many = 1
) -> NDArray[np.float64]: ...
def crank_turns(worm_ratio: int | Fraction, divisions: int) -> Fraction: ...
@overload
def flat_width_mm(  # type: ignore[overload-overlap]
    count: float, across_flats_mm: float, stock_diameter_mm: float
) -> float: ...
@overload
def flat_width_mm(
    count: float | _Many,
    across_flats_mm: float | _Many,
    stock_diameter_mm: float | _Many,
) -> NDArray[np.float64]: ...
@overload
def sine_bar_angle_deg(length_mm: float, height_mm: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def sine_bar_angle_deg(
    length_mm: float | _Many, height_mm: float | _Many
) -> NDArray[np.float64]: ...
@overload
def sine_bar_height_mm(length_mm: float, angle_deg: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def sine_bar_height_mm(
    length_mm: float | _Many, angle_deg: float | _Many
) -> NDArray[np.float64]: ...
@overload
def swivel_deg(diameter_mm: float, lead_mm: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def swivel_deg(
    diameter_mm: float | _Many, lead_mm: float | _Many
) -> NDArray[np.float64]: ...

@final
class TrainSearch:
    def __new__(
        cls,
        gears: GearSet | Iterable[int],
        *,
        most_pairs: int = 2,
        mesh_allowance: int | None = None,
        work_limit: int | None = None,
        progress: _Progress = None,
    ) -> TrainSearch: ...
    @property
    def gears(self) -> GearSet: ...
    @property
    def most_pairs(self) -> int: ...
    @property
    def mesh_allowance(self) -> int | None: ...
    @property
    def complete(self) -> bool: ...
    def exact(
        self,
        ratio: RatioLike,
        *,
        work_limit: int | None = None,
        progress: _Progress = None,
    ) -> ExactTrains: ...
    def nearest(
        self,
        ratio: RatioLike | float,
        *,
        work_limit: int | None = None,
        progress: _Progress = None,
    ) -> NearestTrain: ...
    def lead(
        self,
        lead: RatioLike,
        *,
        screw_pitch: RatioLike,
        diameter: LengthLike,
        worm_ratio: RatioLike = 40,
        hand: Literal["right", "left"] = "right",
        work_limit: int | None = None,
        progress: _Progress = None,
    ) -> LeadGearing: ...
    def ratios(
        self, *, work_limit: int | None = None, progress: _Progress = None
    ) -> dict[Fraction, Train]: ...
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...

# Patterns.

def _check_brief(document: str) -> None: ...
def design_plate(
    brief: PlateBrief,
    *,
    work_limit: int | None = None,
    progress: _Progress = None,
) -> Pattern: ...

@final
class Pattern:
    @staticmethod
    def from_json(text: str) -> Pattern: ...
    def to_json(self) -> str: ...
    def to_dict(self) -> dict[str, Any]: ...
    @property
    def brief(self) -> PlateBrief: ...
    @property
    def rings(self) -> tuple[PlateRing, ...]: ...
    @property
    def stations(self) -> tuple[Angle, ...]: ...
    @property
    def served(self) -> tuple[Served, ...]: ...
    @property
    def certificate(self) -> Certificate: ...
    @property
    def check(self) -> PlateCheck: ...
    @property
    def remarks(self) -> tuple[str, ...]: ...
    @property
    def hole_count(self) -> int: ...
    @property
    def holes(self) -> Columns: ...
    @property
    def drilling_order(self) -> Columns: ...
    def drill_table(
        self,
        *,
        digits: int = 3,
        unit: _TableUnit = "millimetre",
        datum: _Datum = "centre",
    ) -> DrillTable: ...
    @property
    def check_dimensions(self) -> tuple[CheckDimension, ...]: ...
    def drill_program(
        self,
        *,
        depth: LengthLike,
        feed: LengthLike,
        spindle_rpm: int,
        clearance_height: LengthLike = 5,
        style: Literal["cycle", "moves"] = "cycle",
        digits: int = 3,
        unit: _TableUnit = "millimetre",
        datum: _Datum = "centre",
    ) -> str: ...
    def dxf(self, *, unit: _TableUnit = "millimetre") -> str: ...
    @property
    def svg(self) -> str: ...
    def _repr_svg_(self) -> str: ...
    @property
    def bar_room(self) -> tuple[BarRoom, ...]: ...
    @property
    def part_room(self) -> PartRoom | None: ...
    def station_plate(self) -> Pattern | None: ...
    def equipment(self, name: str) -> tuple[Equipment, ...]: ...
    @staticmethod
    def label(ring: int, number: int) -> str: ...
    def __len__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __reduce__(self) -> tuple[Any, tuple[str]]: ...

_TableUnit = LengthUnit | Literal["millimetre", "inch"]
_Datum = Literal["centre", "left_and_lower_edge"]

# Reach and tables.

def exact_table(
    workshop: Workshop,
    first: int,
    last: int,
    *,
    work_limit: int | None = None,
    progress: _Progress = None,
) -> IndexingTable: ...
def indexing_table(
    workshop: Workshop,
    first: int,
    last: int,
    *,
    work_limit: int | None = None,
    progress: _Progress = None,
) -> IndexingTable: ...
def stepping_table(
    workshop: Workshop,
    first: int,
    last: int,
    *,
    work_limit: int | None = None,
    progress: _Progress = None,
) -> IndexingTable: ...
def vee_seat(faces: int, included_angle: AngleLike) -> VeeSeat: ...
def ways(
    workshop: Workshop,
    job: Job | None = None,
    *,
    work_limit: int | None = None,
    progress: _Progress = None,
) -> tuple[Way, ...]: ...

@final
class OrientationSet:
    def __new__(
        cls, cosets: Iterable[tuple[int, AngleLike]]
    ) -> OrientationSet: ...
    @staticmethod
    def equally_spaced(
        order: int, *, through: AngleLike = "0 deg"
    ) -> OrientationSet: ...
    @property
    def cosets(self) -> tuple[tuple[int, Angle], ...]: ...
    @property
    def count(self) -> int: ...
    @property
    def common_order(self) -> int: ...
    def orientations(self) -> tuple[Angle, ...]: ...
    def orientations_deg(self) -> NDArray[np.float64]: ...
    def shifted(self, by: AngleLike) -> OrientationSet: ...
    def starts_for(
        self,
        pattern: Iterable[AngleLike],
        *,
        work_limit: int | None = None,
        progress: _Progress = None,
    ) -> OrientationSet: ...
    def holds_pattern_from(
        self, pattern: Iterable[AngleLike], start: AngleLike
    ) -> bool: ...
    def __contains__(self, orientation: AngleLike, /) -> bool: ...
    def __bool__(self) -> bool: ...
    def __or__(self, other: OrientationSet, /) -> OrientationSet: ...
    def __ror__(self, other: OrientationSet, /) -> OrientationSet: ...
    def __and__(self, other: OrientationSet, /) -> OrientationSet: ...
    def __rand__(self, other: OrientationSet, /) -> OrientationSet: ...
    def __add__(self, other: OrientationSet, /) -> OrientationSet: ...
    def __radd__(self, other: OrientationSet, /) -> OrientationSet: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    def __le__(self, other: OrientationSet, /) -> bool: ...
    def __ge__(self, other: OrientationSet, /) -> bool: ...
    def __lt__(self, other: OrientationSet, /) -> bool: ...
    def __gt__(self, other: OrientationSet, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...

@final
class Way:
    @property
    def equipment(self) -> str: ...
    @property
    def kind(self) -> str: ...
    @property
    def held(self) -> OrientationSet: ...
    @property
    def zero(self) -> Angle: ...
    @property
    def full_order(self) -> int: ...
    @property
    def fine_deg(self) -> NDArray[np.float64] | None: ...
    @property
    def stepping(self) -> SteppingError | None: ...
    def setting(self, presented: AngleLike) -> Setting: ...
    def exact_starts(
        self,
        pattern: Iterable[AngleLike],
        *,
        work_limit: int | None = None,
        progress: _Progress = None,
    ) -> OrientationSet: ...
    def reach(
        self,
        job: Job,
        *,
        work_limit: int | None = None,
        progress: _Progress = None,
    ) -> Reach: ...
    def __eq__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...

# Angles, workshops, jobs, plans.

@final
class Angle:
    @overload
    def __new__(cls, value: AngleLike) -> Angle: ...
    @overload
    def __new__(cls, value: int, denominator: int | None = None) -> Angle: ...
    @staticmethod
    def from_degrees(degrees: int | Fraction | Decimal | str) -> Angle: ...
    @staticmethod
    def from_degrees_rounded(
        degrees: SupportsFloat, *, max_denominator: int = 1000000
    ) -> Angle: ...
    @staticmethod
    def from_radians_rounded(
        radians: SupportsFloat, *, max_denominator: int = 1000000
    ) -> Angle: ...
    @property
    def turns(self) -> Fraction: ...
    @property
    def degrees(self) -> Fraction: ...
    @property
    def numerator(self) -> int: ...
    @property
    def denominator(self) -> int: ...
    @property
    def turns_float(self) -> float: ...
    @property
    def degrees_float(self) -> float: ...
    @property
    def radians_float(self) -> float: ...
    @property
    def arcsec_float(self) -> float: ...
    def within_turn(self) -> Angle: ...
    def within_half_turn(self) -> Angle: ...
    def nearest_fraction(self, max_denominator: int) -> Angle: ...
    def format(
        self,
        style: AngleStyle
        | Literal["decimal_degrees", "degrees_minutes_seconds", "fraction_of_turn"] = "decimal_degrees",
        digits: int = 4,
    ) -> str: ...
    def __hash__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    def __lt__(self, other: Angle, /) -> bool: ...
    def __le__(self, other: Angle, /) -> bool: ...
    def __gt__(self, other: Angle, /) -> bool: ...
    def __ge__(self, other: Angle, /) -> bool: ...
    def __bool__(self) -> bool: ...
    def __neg__(self) -> Angle: ...
    def __pos__(self) -> Angle: ...
    def __abs__(self) -> Angle: ...
    def __add__(self, other: Angle, /) -> Angle: ...
    def __radd__(self, other: Angle, /) -> Angle: ...
    def __sub__(self, other: Angle, /) -> Angle: ...
    def __rsub__(self, other: Angle, /) -> Angle: ...
    def __mul__(self, factor: int | Fraction, /) -> Angle: ...
    def __rmul__(self, factor: int | Fraction, /) -> Angle: ...
    @overload
    def __truediv__(self, divisor: Angle, /) -> Fraction: ...
    @overload
    def __truediv__(self, divisor: int | Fraction, /) -> Angle: ...
    def __rtruediv__(self, other: Angle, /) -> Fraction: ...
    def __reduce__(self) -> tuple[type[Angle], tuple[int, int]]: ...

@final
class Workshop:
    def __new__(
        cls, name: str, equipment: Iterable[Piece | Mapping[str, Any]]
    ) -> Workshop: ...
    @staticmethod
    def from_json(text: str) -> Workshop: ...
    @staticmethod
    def from_dict(document: Mapping[str, Any]) -> Workshop: ...
    def to_json(self) -> str: ...
    def to_dict(self) -> dict[str, Any]: ...
    @property
    def name(self) -> str: ...
    @property
    def equipment(self) -> tuple[Equipment, ...]: ...
    @property
    def names(self) -> tuple[str, ...]: ...
    def __len__(self) -> int: ...
    def __getitem__(self, name: str, /) -> Equipment: ...
    def __contains__(self, name: object, /) -> bool: ...
    def __iter__(self) -> Iterator[Equipment]: ...
    def _repr_html_(self) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __reduce__(self) -> tuple[Any, tuple[str]]: ...

_Start = Clocked | Literal["free", "on_a_setting"]
_Tolerance = AngleLike | FeatureTolerance
_LengthUnit = LengthUnit | Literal["millimetre", "inch"]
_AngleUnit = AngleUnit | Literal["decimal_degrees", "degrees_minutes_seconds"]

@final
class Job:
    def __new__(
        cls,
        name: str,
        *,
        divisions: int,
        called: str = "feature",
        first_angle: AngleLike = "0 deg",
        tolerance: _Tolerance | None = None,
        start: _Start = "free",
        length_unit: _LengthUnit = "millimetre",
        angle_unit: _AngleUnit = "decimal_degrees",
    ) -> Job: ...
    @staticmethod
    def bolt_circle(
        name: str,
        *,
        holes: int,
        pitch_radius: LengthLike,
        hole_diameter: LengthLike | None = None,
        first_angle: AngleLike = "0 deg",
        clockwise: bool = False,
        tolerance: _Tolerance | None = None,
        start: _Start = "free",
        length_unit: _LengthUnit = "millimetre",
        angle_unit: _AngleUnit = "decimal_degrees",
    ) -> Job: ...
    @staticmethod
    def flats(
        name: str,
        *,
        flats: int,
        across_flats: LengthLike,
        stock_diameter: LengthLike,
        first_angle: AngleLike = "0 deg",
        tolerance: _Tolerance | None = None,
        start: _Start = "free",
        length_unit: _LengthUnit = "millimetre",
        angle_unit: _AngleUnit = "decimal_degrees",
    ) -> Job: ...
    @staticmethod
    def angles(
        name: str,
        angles: Iterable[AngleLike],
        *,
        called: str = "feature",
        tolerance: _Tolerance | None = None,
        start: _Start = "free",
        length_unit: _LengthUnit = "millimetre",
        angle_unit: _AngleUnit = "decimal_degrees",
    ) -> Job: ...
    @staticmethod
    def of(
        name: str,
        features: FeatureSet,
        *,
        tolerance: _Tolerance | None = None,
        start: _Start = "free",
        length_unit: _LengthUnit = "millimetre",
        angle_unit: _AngleUnit = "decimal_degrees",
    ) -> Job: ...
    @staticmethod
    def from_json(text: str) -> Job: ...
    @staticmethod
    def from_dict(document: Mapping[str, Any]) -> Job: ...
    def to_json(self) -> str: ...
    def to_dict(self) -> dict[str, Any]: ...
    @property
    def name(self) -> str: ...
    @property
    def called(self) -> str: ...
    @property
    def feature_count(self) -> int: ...
    @property
    def required_angles(self) -> tuple[Angle, ...]: ...
    @property
    def tolerance(self) -> Tolerance | None: ...
    def with_decision_rule(self, rule: DecisionRule) -> Job: ...
    @property
    def decision_rule(self) -> DecisionRule | None: ...
    def with_part_eccentricity(self, eccentricity: PartEccentricity) -> Job: ...
    @property
    def part_eccentricity(self) -> PartEccentricity | None: ...
    @property
    def features(self) -> Features: ...
    @property
    def start(self) -> _Start: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __reduce__(self) -> tuple[Any, tuple[str]]: ...

@final
class Plans:
    def __len__(self) -> int: ...
    @overload
    def __getitem__(self, index: int, /) -> Plan: ...
    @overload
    def __getitem__(self, index: slice, /) -> tuple[Plan, ...]: ...
    def __iter__(self) -> Iterator[Plan]: ...
    @property
    def workshop(self) -> Workshop: ...
    @property
    def job(self) -> Job: ...
    @property
    def complete(self) -> bool: ...
    @property
    def cut_short(self) -> dict[str, list[str]]: ...
    def to_json(self) -> str: ...
    def to_dict(self) -> dict[str, Any]: ...
    def _repr_html_(self) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...

@final
class Plan:
    def _error_model(self) -> _ErrorModel: ...
    def error_model(self) -> ErrorModel: ...
    @property
    def pitch(self) -> PitchFigure | None: ...
    @property
    def decision_rule(self) -> DecisionRule | None: ...
    @property
    def conformance_probability(self) -> float | None: ...
    @property
    def class_met(self) -> AngularClass | None: ...
    @property
    def grade_met(self) -> int | None: ...
    @property
    def feature_shift(self) -> FeatureShift | None: ...
    def entry_finding(self) -> EntryFinding | None: ...
    def _error_report(self, criterion: str, coverage: str) -> tuple[str, str, str]: ...
    def error_report(
        self,
        *,
        criterion: Criterion = "worst_case",
        coverage: Coverage = CoverageFactor(2.0),
    ) -> ErrorReport: ...
    @property
    def deviation_picture(self) -> Drawing: ...
    @property
    def index(self) -> int: ...
    @property
    def equipment(self) -> str: ...
    @property
    def equipment_kind(self) -> str: ...
    @property
    def method(self) -> str: ...
    @property
    def exact(self) -> bool: ...
    @property
    def start(self) -> Angle: ...
    @property
    def placements(self) -> tuple[Placement, ...]: ...
    @property
    def largest_residual(self) -> Angle: ...
    @property
    def shortfall(self) -> Shortfall | None: ...
    @property
    def verdict(self) -> Verdict: ...
    @property
    def limit_deg(self) -> float | None: ...
    @property
    def limit_rad(self) -> float | None: ...
    @property
    def margin_deg(self) -> float | None: ...
    @property
    def margin_rad(self) -> float | None: ...
    @property
    def worst_deg(self) -> float: ...
    @property
    def worst_rad(self) -> float: ...
    @property
    def root_sum_square_deg(self) -> float: ...
    @property
    def root_sum_square_rad(self) -> float: ...
    @property
    def contributors(self) -> tuple[Contributor, ...]: ...
    @property
    def unknown(self) -> tuple[str, ...]: ...
    @property
    def handling(self) -> Handling: ...
    @property
    def findings(self) -> tuple[Finding, ...]: ...
    @property
    def alternatives(self) -> tuple[str, ...]: ...
    @property
    def required_deg(self) -> NDArray[np.float64]: ...
    @property
    def attained_deg(self) -> NDArray[np.float64]: ...
    @property
    def residuals_deg(self) -> NDArray[np.float64]: ...
    @property
    def feature_worst_deg(self) -> NDArray[np.float64]: ...
    @property
    def feature_root_sum_square_deg(self) -> NDArray[np.float64]: ...
    @property
    def sheet(self) -> Sheet: ...
    @property
    def drawing(self) -> Drawing: ...
    def to_dict(self) -> dict[str, Any]: ...
    def _repr_html_(self) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...

@final
class Sheet:
    @property
    def title(self) -> str: ...
    @property
    def facts(self) -> tuple[tuple[str, str], ...]: ...
    @property
    def findings(self) -> tuple[str, ...]: ...
    @property
    def before(self) -> tuple[str, ...]: ...
    @property
    def head(self) -> tuple[str, ...]: ...
    @property
    def rows(self) -> tuple[tuple[str, ...], ...]: ...
    @property
    def checks(self) -> tuple[str, ...]: ...
    @property
    def error_sources(self) -> tuple[tuple[str, str], ...]: ...
    @property
    def alternatives(self) -> tuple[str, ...]: ...
    @property
    def cautions(self) -> tuple[str, ...]: ...
    @property
    def html(self) -> str: ...
    def _repr_html_(self) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...

@final
class Drawing:
    def __new__(cls, svg: str) -> Drawing: ...
    @property
    def svg(self) -> str: ...
    def _repr_svg_(self) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __reduce__(self) -> tuple[Any, tuple[str]]: ...

# Fits

_Floats = NDArray[np.float64]

def _tolerance_class(text: str) -> tuple[str, Literal["hole", "shaft"], str, int]: ...
def _fit_class(text: str) -> tuple[str, str]: ...
def _fit(text: str) -> tuple[float, float, float, float]: ...
def _limits(lower: LengthLike, upper: LengthLike) -> tuple[float, float]: ...
def _limits_from_deviations(
    nominal: LengthLike, lower: LengthLike, upper: LengthLike
) -> tuple[float, float]: ...
def _limit_deviations_um(
    text: str, nominal: LengthLike | ArrayLike
) -> tuple[Any, Any]: ...
def _limits_of_class(text: str, nominal: LengthLike | ArrayLike) -> tuple[Any, Any]: ...
def _clearance_of_class(
    fit: str, nominal: LengthLike | ArrayLike, sliding: bool
) -> tuple[Any, Any, Any]: ...
def _clearance(
    limits: tuple[float, float, float, float], sliding: bool
) -> tuple[Any, Any, Any]: ...

# Accuracy: documents in, documents out

def _contributor_figures(text: str) -> tuple[float, float, float, float]: ...
def _drilled_zone_mm(text: str, pitch_radius_mm: float) -> float: ...
def _total_rad(contributors: str, criterion: str) -> float: ...
def _loosest_limit(
    contributors: str, name: str, criterion: str, limit_rad: float
) -> str: ...
def _trade_offs(contributors: str, criterion: str, limit_rad: float) -> str: ...
def _least_radius_mm(
    contributors: str, present_mm: float, criterion: str, limit_rad: float
) -> float | None: ...
def _budget(model: str) -> str: ...
def _budget_of_contributors(
    quantity: str, estimate_rad: float, contributors: str, coverage: str
) -> str: ...
def _correlation(one: str, other: str) -> float: ...
def _budget_page(budget: str) -> tuple[str, str]: ...
def _carried(source: str, ratio: float) -> str: ...
def _drilled_by_coordinates(
    table_accuracy_mm: float, radius_mm: float, angle_rad: float
) -> str: ...
def _position_zone_mm(contributors: str, radius_mm: float) -> float: ...
def _feature_shift(
    eccentricity_mm: float, radius_mm: float | None, from_the_part: bool
) -> tuple[float, float]: ...
def _entry(lengths: list[float]) -> tuple[float, float, bool, float]: ...
def _angular_limit_rad(text: str, shorter_side: LengthLike) -> float: ...
def _angular_class_met_by(deviation_rad: float, shorter_side: LengthLike) -> str: ...
def _pitch_tolerances_um(grades: str, grade: int) -> tuple[float, float]: ...
def _pitch_grade_met_by(
    grades: str, single_rad: float, cumulative_rad: float
) -> int | None: ...
def _permitted_diameter_mm(
    zone_mm: float, sizes_mm: tuple[float, float, float] | None
) -> float: ...
def _decide(
    rule: str, value: float, lower: float, upper: float, expanded_uncertainty: float
) -> str: ...
def _range_constants(places: int) -> tuple[float, float]: ...
def _best_pin_pairs(
    plate: str, criterion: str
) -> list[tuple[int, int, int, float, float]]: ...
@final
class _ErrorModel:
    def document(self) -> str: ...
    def budget(self, feature: int, coverage: str) -> str: ...
    def simulation(self) -> str: ...
    def conformance(self, feature: int, rule: str, coverage: str) -> str: ...
    def trade_offs(self, criterion: str) -> str: ...

# Accuracy: numbers and arrays alike
@overload
def plunger_worst_case_rad(
    pitch_radius_mm: float,
    *,
    hole_deviation_mm: float = 0.0,
    station_deviation_mm: float = 0.0,
    clearance_mm: float = 0.0,
    bore_clearance_mm: float = 0.0,
    eccentricity_mm: float = 0.0,
) -> float: ...
@overload
def plunger_worst_case_rad(
    pitch_radius_mm: ArrayLike,
    *,
    hole_deviation_mm: ArrayLike = 0.0,
    station_deviation_mm: ArrayLike = 0.0,
    clearance_mm: ArrayLike = 0.0,
    bore_clearance_mm: ArrayLike = 0.0,
    eccentricity_mm: ArrayLike = 0.0,
) -> _Floats: ...
@overload
def plunger_standard_uncertainty_rad(
    pitch_radius_mm: float,
    *,
    hole_deviation_mm: float = 0.0,
    station_deviation_mm: float = 0.0,
    clearance_mm: float = 0.0,
    bore_clearance_mm: float = 0.0,
    eccentricity_mm: float = 0.0,
) -> float: ...
@overload
def plunger_standard_uncertainty_rad(
    pitch_radius_mm: ArrayLike,
    *,
    hole_deviation_mm: ArrayLike = 0.0,
    station_deviation_mm: ArrayLike = 0.0,
    clearance_mm: ArrayLike = 0.0,
    bore_clearance_mm: ArrayLike = 0.0,
    eccentricity_mm: ArrayLike = 0.0,
) -> _Floats: ...
@overload
def loosest_clearance_mm(
    pitch_radius_mm: float,
    limit_rad: float,
    *,
    hole_deviation_mm: float = 0.0,
    station_deviation_mm: float = 0.0,
    bore_clearance_mm: float = 0.0,
    eccentricity_mm: float = 0.0,
) -> float | None: ...
@overload
def loosest_clearance_mm(
    pitch_radius_mm: ArrayLike,
    limit_rad: float,
    *,
    hole_deviation_mm: ArrayLike = 0.0,
    station_deviation_mm: ArrayLike = 0.0,
    bore_clearance_mm: ArrayLike = 0.0,
    eccentricity_mm: ArrayLike = 0.0,
) -> _Floats: ...
@overload
def least_pitch_radius_mm(
    limit_rad: float,
    *,
    hole_deviation_mm: float = 0.0,
    station_deviation_mm: float = 0.0,
    clearance_mm: float = 0.0,
    bore_clearance_mm: float = 0.0,
    eccentricity_mm: float = 0.0,
) -> float: ...
@overload
def least_pitch_radius_mm(
    limit_rad: float,
    *,
    hole_deviation_mm: ArrayLike = 0.0,
    station_deviation_mm: ArrayLike = 0.0,
    clearance_mm: ArrayLike = 0.0,
    bore_clearance_mm: ArrayLike = 0.0,
    eccentricity_mm: ArrayLike = 0.0,
) -> _Floats: ...
@overload
def bar_on_fixed_pins_rad(
    baseline_mm: float,
    *,
    hole_deviation_mm: float = 0.0,
    pin_difference_mm: float = 0.0,
    straightness_mm: float = 0.0,
    levelling_mm: float = 0.0,
) -> float: ...
@overload
def bar_on_fixed_pins_rad(
    baseline_mm: ArrayLike,
    *,
    hole_deviation_mm: ArrayLike = 0.0,
    pin_difference_mm: ArrayLike = 0.0,
    straightness_mm: ArrayLike = 0.0,
    levelling_mm: ArrayLike = 0.0,
) -> _Floats: ...
@overload
def bar_on_loose_pins_rad(
    baseline_mm: float,
    *,
    hole_deviation_mm: float = 0.0,
    pin_difference_mm: float = 0.0,
    hole_difference_mm: float = 0.0,
    straightness_mm: float = 0.0,
    levelling_mm: float = 0.0,
) -> float: ...
@overload
def bar_on_loose_pins_rad(
    baseline_mm: ArrayLike,
    *,
    hole_deviation_mm: ArrayLike = 0.0,
    pin_difference_mm: ArrayLike = 0.0,
    hole_difference_mm: ArrayLike = 0.0,
    straightness_mm: ArrayLike = 0.0,
    levelling_mm: ArrayLike = 0.0,
) -> _Floats: ...
@overload
def least_baseline_mm(
    limit_rad: float,
    *,
    hole_deviation_mm: float = 0.0,
    pin_difference_mm: float = 0.0,
    hole_difference_mm: float = 0.0,
    straightness_mm: float = 0.0,
    levelling_mm: float = 0.0,
) -> float: ...
@overload
def least_baseline_mm(
    limit_rad: float,
    *,
    hole_deviation_mm: ArrayLike = 0.0,
    pin_difference_mm: ArrayLike = 0.0,
    hole_difference_mm: ArrayLike = 0.0,
    straightness_mm: ArrayLike = 0.0,
    levelling_mm: ArrayLike = 0.0,
) -> _Floats: ...
@overload
def pin_play_rad(
    pin_radius_mm: float,
    hole_radius_mm: float,
    clearance_mm: float,
) -> float: ...
@overload
def pin_play_rad(
    pin_radius_mm: ArrayLike,
    hole_radius_mm: ArrayLike,
    clearance_mm: ArrayLike,
) -> _Floats: ...
@overload
def eccentricity_between_rad(
    hole_radius_mm: float,
    eccentricity_mm: float,
    apart_rad: float,
) -> float: ...
@overload
def eccentricity_between_rad(
    hole_radius_mm: ArrayLike,
    eccentricity_mm: ArrayLike,
    apart_rad: ArrayLike,
) -> _Floats: ...
@overload
def eccentricity_error_rad(
    hole_radius_mm: float,
    eccentricity_mm: float,
    phase_rad: float,
) -> float: ...
@overload
def eccentricity_error_rad(
    hole_radius_mm: ArrayLike,
    eccentricity_mm: ArrayLike,
    phase_rad: ArrayLike,
) -> _Floats: ...
@overload
def eccentricity_peak_to_peak_rad(
    eccentricity_mm: float,
    radius_mm: float,
    features: int,
) -> float: ...
@overload
def eccentricity_peak_to_peak_rad(
    eccentricity_mm: ArrayLike,
    radius_mm: ArrayLike,
    features: int,
) -> _Floats: ...
@overload
def baseline_mm(
    radius_mm: float,
    holes: int,
    span: int,
) -> float: ...
@overload
def baseline_mm(
    radius_mm: ArrayLike,
    holes: int,
    span: int,
) -> _Floats: ...
@overload
def position_diameter_mm(
    radius_mm: float,
    deviation_rad: float,
    radial_mm: float = 0.0,
) -> float: ...
@overload
def position_diameter_mm(
    radius_mm: ArrayLike,
    deviation_rad: ArrayLike,
    radial_mm: ArrayLike = 0.0,
) -> _Floats: ...
@overload
def conformance_probability(
    estimate: float,
    standard_uncertainty: float,
    lower: float,
    upper: float,
) -> float: ...
@overload
def conformance_probability(
    estimate: ArrayLike,
    standard_uncertainty: ArrayLike,
    lower: ArrayLike,
    upper: ArrayLike,
) -> _Floats: ...
@overload
def guard_band_factor(
    conformance: float,
) -> float: ...
@overload
def guard_band_factor(
    conformance: ArrayLike,
) -> _Floats: ...
@overload
def student_factor(
    probability: float,
    degrees_of_freedom: float | None = None,
) -> float: ...
@overload
def student_factor(
    probability: ArrayLike,
    degrees_of_freedom: ArrayLike | None = None,
) -> _Floats: ...
def clopper_pearson(
    successes: int, trials: int, confidence: float = 0.95
) -> tuple[float, float]: ...
def _bar_tilt_rad(columns: list[ArrayLike], loose: bool) -> Any: ...

# Simulation

def _simulate(
    simulation: str,
    settings: str,
    title: str,
    progress: Callable[[int], object] | None = None,
) -> tuple[str, str]: ...

# Inspection

_Known = tuple[list[float], list[float]]
_Judgement = tuple[str, float, list[float] | None]
_Chosen = tuple[int, float, int, list[float], float, float, int]

def _measurement(text: str) -> str: ...
def _readings_from_csv(kind: str, text: str, positions: int) -> str: ...
def _inspect(measurement: str) -> _Inspection: ...
def _fit_circle(
    x_mm: list[float],
    y_mm: list[float],
    uncertainties_mm: tuple[list[float], list[float]] | None,
) -> tuple[
    list[float],
    list[float],
    int,
    list[list[float]] | None,
    float | None,
    float | None,
]: ...
def _plan_shifts(
    positions: int,
    reading_uncertainty_rad: float,
    wanted_uncertainty_rad: float,
    work_limit: int | None,
    progress: _Progress,
) -> tuple[list[int], int, float, int]: ...
def _choose_start(
    given: _Known,
    pattern: list[int],
    judgement: _Judgement,
    work_limit: int | None,
    progress: _Progress,
) -> _Chosen: ...
def _choose_list(lists: list[_Known], judgement: _Judgement) -> _Chosen: ...
def _choose_pairs(
    options: list[_Known],
    judgement: _Judgement,
    work_limit: int | None,
    progress: _Progress,
) -> tuple[list[int], float, float, float]: ...
def _correction_table(
    given: _Known, graduation_rad: float
) -> tuple[list[int], list[int], list[float], list[float], list[float]]: ...
def _angles_about_axis(
    x_mm: list[float], y_mm: list[float], axis: tuple[float, float]
) -> list[Angle]: ...
def _bar_deviation_rad(
    nominal_mm: list[list[float]], measured_mm: list[list[float]]
) -> float: ...
def _decide_measured(
    measured: tuple[float, float | None],
    limits: tuple[float | None, float | None],
    rule: str,
) -> str: ...
@final
class _Inspection:
    def document(self) -> str: ...
    def figures(self) -> str: ...
    def text(self) -> str: ...
    def picture(self, title: str) -> str | None: ...
    def covariance_rad2(self, about_axis: bool) -> _Floats | None: ...
    def closure_covariance_rad2(self) -> _Floats | None: ...
    def closure_uncertainties_rad(
        self, second: bool
    ) -> tuple[float | None, list[float] | None]: ...
    def measured(self, second: bool) -> str: ...
    def check_ring(
        self,
        about_axis: bool,
        limits: list[float | None],
        datum_place: int | None,
        rule: str,
    ) -> str: ...
    def check_position(self, zone_mm: float, rule: str) -> str: ...
    def pitch_grade(
        self, about_axis: bool, module_mm: float, reference_diameter_mm: float
    ) -> tuple[float, float, int | None, int | None, int | None]: ...
