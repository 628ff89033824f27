"""Decision rules, parts off the axis, samples, drilled plates, measured stations."""

from __future__ import annotations

import math
import pickle

import dividing
import numpy as np
import pytest
from conftest import NAMES
from dividing import accuracy
from dividing.accuracy import GuardBand

PIN = dividing.PinInHole(pin_diameter=5.99, hole_diameter=6, hole_position_tolerance=0.02)
SHOP = dividing.Workshop(
    "Bench",
    [
        dividing.DirectPlate(
            "plate",
            circles=[dividing.HoleCircle(24, pitch_radius=60)],
            registration=PIN,
        )
    ],
)
JOB = dividing.Job.bolt_circle("Flange", holes=8, pitch_radius=30, tolerance="0.05 deg")


def test_a_decision_rule_judges_by_uncertainty_instead_of_the_worst_case() -> None:
    """JCGM 106:2012, 8.3: the acceptance limit is the tolerance less the band."""
    worst = dividing.plan(SHOP, JOB)[0]
    assert worst.decision_rule is None
    ruled = JOB.with_decision_rule(GuardBand(1.0))
    assert ruled.decision_rule == GuardBand(1.0) and ruled != JOB
    plan = dividing.plan(SHOP, ruled)[0]
    assert plan.decision_rule == GuardBand(1.0)
    parts = plan.contributors
    deviation = math.sqrt(sum(it.standard_uncertainty_rad**2 for it in parts))
    assert plan.margin_rad == pytest.approx(math.radians(0.05) - 2 * deviation, rel=1e-9)
    simple = dividing.plan(SHOP, JOB.with_decision_rule("simple_acceptance"))[0]
    assert simple.decision_rule == "simple_acceptance"
    assert simple.margin_rad == pytest.approx(math.radians(0.05), rel=1e-9)
    assert worst.margin_rad is not None and worst.limit_rad is not None
    chance = math.erf(math.radians(0.05) / deviation / math.sqrt(2))
    assert plan.conformance_probability == pytest.approx(chance, abs=1e-9)


@pytest.mark.parametrize("rule", ["never", None, 3, b"simple_acceptance"])
def test_other_rules_are_refused(rule: object) -> None:
    with pytest.raises((dividing.DividingError, TypeError), match="rule"):
        JOB.with_decision_rule(rule)  # type: ignore[arg-type]


def test_a_part_off_the_axis_shifts_features_and_widens_the_worst_case() -> None:
    """A distance e on a radius r turns by asin(e/r) at most (plane geometry)."""
    off = dividing.PartEccentricity(0.02, feature_radius="30 mm")
    moved = JOB.with_part_eccentricity(off)
    assert moved.part_eccentricity == off
    plain, plan = dividing.plan(SHOP, JOB)[0], dividing.plan(SHOP, moved)[0]
    assert plain.feature_shift is None and plan.feature_shift is not None
    assert plan.feature_shift.shift_mm == 0.02
    assert plan.worst_rad - plain.worst_rad == pytest.approx(math.asin(0.02 / 30), rel=1e-3)
    own = dividing.PartEccentricity(0.02, located_from="parts_own_round")
    still = dividing.plan(SHOP, JOB.with_part_eccentricity(own))[0]
    assert still.feature_shift is not None and still.feature_shift.shift_mm == 0
    assert still.worst_rad == plain.worst_rad
    with pytest.raises(dividing.OutOfRangeError, match="eccentricity"):
        JOB.with_part_eccentricity(dividing.PartEccentricity(-0.02))
    with pytest.raises(TypeError, match="PartEccentricity"):
        JOB.with_part_eccentricity(0.02)  # type: ignore[arg-type]


def entry_on(*equipment: dividing.Piece) -> list[accuracy.EntryFinding | None]:
    """What every plan of a square says of its pin, by the name of the equipment."""
    plans = dividing.plan(dividing.Workshop("Bench", equipment), dividing.Job("Square", divisions=4))
    found = {it.equipment: it.entry_finding() for it in plans}
    return [found[it.name] for it in equipment]


def plate_with(pin: dividing.PinInHole | None, eccentricity: float = 0.0) -> dividing.DirectPlate:
    circles = [dividing.HoleCircle(24, pitch_radius=60)]
    return dividing.DirectPlate(
        "plate", circles=circles, registration=pin, eccentricity=eccentricity)


def test_whether_the_pin_goes_in() -> None:
    """By hand: half the zone of 0.02 mm, and the eccentricity, against half the
    clearance of 0.01 mm. The zone's limit is three deviations of a normal, an
    eccentricity e has the deviation e/√2 (JCGM 100:2008, 4.3.5 and G.6)."""
    for eccentricity in (0.0, 0.003):
        (entry,) = entry_on(plate_with(PIN, eccentricity))
        assert entry is not None and not entry.always_enters
        assert entry.worst_distance_mm == pytest.approx(0.01 + eccentricity, abs=1e-12)
        assert entry.worst_margin_mm == pytest.approx(-0.005 - eccentricity, abs=1e-12)
        deviation = math.hypot(0.01 / 3, eccentricity / math.sqrt(2))
        chance = math.erf(0.005 / deviation / math.sqrt(2))
        assert entry.probability == pytest.approx(chance, abs=1e-9)
    loose = dividing.PinInHole(pin_diameter=5.9, hole_diameter=6, hole_position_tolerance=0.02)
    (entry,) = entry_on(plate_with(loose))
    assert entry is not None and entry.always_enters
    assert entry.worst_margin_mm == pytest.approx(0.05 - 0.01) and entry.probability == 1.0


def test_what_says_nothing_of_its_pin_and_stacks() -> None:
    block = dividing.FacedBlock("block", faces=4)
    assert entry_on(block, plate_with(None)) == [None, None]
    # A stack is listed before its members and asks as its tightest one.
    stack = dividing.Stack("stack", members=["plate", "block"])
    alone, of_stack, of_block = entry_on(plate_with(PIN), stack, block)
    assert alone is not None and of_stack == alone and of_block is None
    plan = dividing.plan(SHOP, JOB)[0]
    again = pickle.loads(pickle.dumps(plan))
    assert again.entry_finding() == plan.entry_finding() is not None


def test_one_offset_seen_by_two_holes() -> None:
    """Against every direction of the offset, by the coordinates of both holes."""
    radius, direction = 50.0, np.linspace(0, 2 * np.pi, 200_001)
    apart = np.array([np.pi / 3, np.pi / 2, 2.5, np.pi, -np.pi / 3])
    for offset in (0.01, 5.0, 20.0):
        found = accuracy.eccentricity_between_rad(radius, offset, apart)
        assert found.shape == (5,)
        for angle, most in zip(apart, found, strict=True):
            centre = offset * np.exp(1j * direction)
            seen = (centre + radius * np.exp(1j * angle)) / (centre + radius)
            change = np.angle(seen * np.exp(-1j * angle))
            # The linear model stands where it is within half a percent.
            assert most == pytest.approx(np.abs(change).max(), rel=0.0051)
    sixth = accuracy.eccentricity_between_rad(50, 20, math.pi / 3)
    exact = 2 * math.atan(0.5 / (math.cos(math.pi / 6) - 0.4)) - math.pi / 3
    assert type(sixth) is float and sixth == pytest.approx(exact, rel=1e-12)
    assert accuracy.eccentricity_between_rad(50, 0, 1) == 0


def test_impossible_offsets_name_the_argument() -> None:
    between = accuracy.eccentricity_between_rad
    for call, error, field in (
        (lambda: between(50, 50, 1), dividing.UndeterminedError, "eccentricity_mm"),
        (lambda: between(50, [0.01, 60], 1), dividing.UndeterminedError, "eccentricity_mm[1]"),
        (lambda: between(50, -0.01, 1), dividing.OutOfRangeError, "eccentricity_mm"),
        (lambda: between(0, 0, 1), dividing.OutOfRangeError, "hole_radius_mm"),
        (lambda: between(50, 0.01, [0, math.inf]), dividing.NotFiniteError, "apart_rad[1]"),
    ):
        with pytest.raises(error) as caught:
            call()
        assert caught.value.field == field
    for value in (None, True, "1", 1j, object()):
        with pytest.raises(TypeError, match="^apart_rad: "):
            between(50, 0.01, value)  # type: ignore[call-overload]


def test_jobs_keep_rule_and_eccentricity() -> None:
    off = dividing.PartEccentricity(0.02, feature_radius=30)
    job = JOB.with_decision_rule(GuardBand(0.5)).with_part_eccentricity(off)
    assert pickle.loads(pickle.dumps(job)) == job
    assert dividing.Job.from_json(job.to_json()) == job
    assert eval(repr(job), {**NAMES, "GuardBand": GuardBand}) == job


def test_classes_and_grades_that_a_plan_meets() -> None:
    """ISO 2768-1, table 3: 0.5 degrees for class f and m up to 50 mm."""
    coarse = dividing.AngularClassTolerance("coarse", shorter_side=30)
    plan = dividing.plan(SHOP, dividing.Job("Slots", divisions=8, tolerance=coarse))[0]
    assert plan.class_met is dividing.AngularClass.FINE_OR_MEDIUM and plan.grade_met is None
    grade = dividing.PitchGradeTolerance(11, reference_diameter=60, module=2)
    plan = dividing.plan(SHOP, dividing.Job("Teeth", divisions=24, tolerance=grade))[0]
    assert plan.pitch is not None and plan.grade_met is not None and plan.class_met is None
    limits = accuracy.PitchGrades(reference_diameter=60, module=2).tolerances_um(plan.grade_met)
    radius_um = 30_000
    assert plan.pitch.single_worst_rad * radius_um <= limits[0]
    assert plan.pitch.cumulative_worst_rad * radius_um <= limits[1]


def test_samples_keep_their_shape_and_scale() -> None:
    """Mean and deviation of the samples themselves, by NumPy."""
    values = np.random.default_rng(5).exponential(0.004, 500)
    part = dividing.Contributor.of_samples("pin", values, sensitivity=1 / 50)
    assert part.limit == values.max()
    assert part.mean_rad == pytest.approx(values.mean() / 50, rel=1e-9)
    assert part.standard_uncertainty == pytest.approx(values.std(), rel=1e-9)
    assert pickle.loads(pickle.dumps(part)) == part
    assert eval(repr(part), NAMES) == part
    for bad in ([], [math.nan], [1, math.inf], ["1"]):
        with pytest.raises((dividing.DividingError, TypeError), match="samples|values"):
            dividing.Contributor.of_samples("pin", bad, sensitivity=1)  # type: ignore[arg-type]


def test_degrees_of_freedom_make_the_student_factor() -> None:
    """JCGM 100:2008, G.3 and table G.2: t95 of 5 degrees of freedom is 2.57."""
    part = dividing.Contributor(
        "pin", 0.01, sensitivity=1 / 50, distribution=dividing.Normal(2), degrees_of_freedom=5
    )
    budget = accuracy.Budget.of_contributors(
        "hole", [part], coverage=accuracy.CoverageProbability(0.95)
    )
    assert budget.coverage_factor == pytest.approx(2.57, abs=0.005)
    with pytest.raises(dividing.OutOfRangeError, match="degrees_of_freedom"):
        dividing.Contributor("pin", 0.01, sensitivity=1, degrees_of_freedom=0)


def test_equipment_keeps_how_it_was_drilled_and_measured() -> None:
    ring = dividing.MeasuredRing(
        4,
        [dividing.MeasuredPlace(it, 1.0, standard_uncertainty_arcsec=0.5) for it in range(4)],
        dividing.CovarianceByDifference([0.25, 0.0, -0.1]),
    )
    triangle = dividing.MeasuredRing(
        4,
        [dividing.MeasuredPlace(it, 1.0, standard_uncertainty_arcsec=0.5) for it in (0, 2)],
        dividing.CovarianceLowerTriangle([[0.25], [0.1, 0.25]]),
    )
    two = dividing.MeasuredRing(2, [dividing.MeasuredPlace(1, 3.0)])
    head = dividing.DrilledOnHead(
        "81/2", rougher_pitch_radius=60, rougher_hole_position_tolerance=0.2,
        rougher_clearance=0.01, worm_error="0°01'", drill_wander=0.005,
    )
    table = dividing.DrilledByCoordinates(0.005, drill_wander=0.01)
    pins = [
        dividing.PinInHole(pin_diameter=5.98, hole_diameter=6, drilled=it) for it in (head, table)
    ]
    shop = dividing.Workshop(
        "Bench",
        [
            dividing.DirectPlate(
                "plate",
                circles=[dividing.HoleCircle(4, pitch_radius=60, measured=triangle)],
                registration=pins[0],
            ),
            dividing.VernierIndexer(
                "indexer", circle=dividing.HoleCircle(4, measured=ring),
                stations=["0 deg", "45 deg"], registration=pins[1], measured_stations=two,
            ),
            dividing.GraduatedDial(
                "table", worm_ratio=90, graduations=120, measured=ring,
                between_measured="0°00'10\"",
            ),
            dividing.WormHead(
                "head", worm_ratio=40,
                plates=[dividing.IndexPlate("one", circles=[
                    dividing.PlateCircle(4, absent=[2], measured=triangle), 5])],
            ),
        ],
    )
    read = dividing.Workshop.from_json(shop.to_json())
    assert read == shop and read.equipment == shop.equipment
    assert pickle.loads(pickle.dumps(shop.equipment)) == shop.equipment
    for piece in shop.equipment:
        assert eval(repr(piece), NAMES) == piece
    with pytest.raises(dividing.InvalidFieldError, match="hole_position_tolerance stands beside"):
        dividing.PinInHole(
            pin_diameter=5.98, hole_diameter=6, hole_position_tolerance=0.1, drilled=table
        )
    with pytest.raises(dividing.DividingError, match="rougher_pitch_radius"):
        dividing.DrilledOnHead(40, rougher_pitch_radius=0, rougher_hole_position_tolerance=0.2)


def test_the_error_report_of_a_plan() -> None:
    plan = dividing.plan(SHOP, JOB)[0]
    report = plan.error_report(criterion="root_sum_square")
    assert report.budget == plan.error_model().budget(report.feature)
    assert report.trade_offs == plan.error_model().trade_offs("root_sum_square")
    assert "What the plan would bear" in str(report)
    assert "<table" in report._repr_html_() and "<script" not in report._repr_html_()
    assert pickle.loads(pickle.dumps(report)) == report
    bare = dividing.plan(SHOP, dividing.Job("Slots", divisions=8))[0]
    assert bare.error_report().trade_offs is None


def test_repeated_moves() -> None:
    """The turn closes N times the error of one move off (arithmetic)."""
    head = dividing.WormHead("head", worm_ratio=40, plates=[
        dividing.IndexPlate("one", circles=[47, 49])])
    shop = dividing.Workshop("Bench", [head])
    simple = dividing.stepping_table(shop, 120, 130)["head", "simple"]
    closing = simple["divisions"] * simple["per_division_turns"]
    assert np.allclose(simple["closing_turns"], closing, rtol=1e-12, atol=1e-15)
    assert (simple["several_worst_turns"] <= simple["worst_turns"] + 1e-15).all()
    compound = [way for way in dividing.ways(shop, dividing.Job("Teeth", divisions=127))
                if way.stepping is not None]
    assert compound
    for way in compound:
        assert way.stepping.closing == way.stepping.per_move * way.stepping.moves
