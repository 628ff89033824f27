"""Equipment, features and tolerances as objects: documents, copies, refusals."""

from __future__ import annotations

import copy
import json
import pickle
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import dividing
import pytest
from conftest import DEMO, NAMES, vectors
from dividing import (
    AngleBlocks,
    AngleBlockSet,
    AngularClassTolerance,
    BlockSet,
    BoltCircle,
    ChangeGears,
    Clocked,
    DirectPlate,
    DrilledHole,
    EqualDivisions,
    FacedBlock,
    FlatAgainstBlock,
    Flats,
    Graduations,
    GraduatedDial,
    HoleCircle,
    IndexPlate,
    Job,
    Levelling,
    MachineAxes,
    MaximumMaterial,
    MeasuredPlace,
    MeasuredRing,
    PartReference,
    PinInHole,
    PinPlate,
    PitchGradeTolerance,
    PitchTolerance,
    PlateCircle,
    PositionDiameter,
    Protractor,
    SineBar,
    Slots,
    Stack,
    Teeth,
    VeeBlock,
    VernierIndexer,
    WormHead,
    Workshop,
)

PIN = PinInHole(pin_diameter=5.98, hole_diameter=6, hole_position_tolerance="20 um",
                seating="biased")
RING = MeasuredRing(9, [MeasuredPlace(0, 2.5, standard_uncertainty_arcsec=0.5),
                        MeasuredPlace(4, -1.5, radial=0.004, radial_uncertainty=0.001)])
PIECES: list[dividing.Piece] = [
    DirectPlate("direct", circles=[24, HoleCircle(36, pitch_radius=50, absent=[3])],
                station="5 deg", sense="clockwise", eccentricity=0.01, bore_clearance=0.02,
                registration=PIN),
    VernierIndexer("vernier", circle=36, stations=["0 deg", "11 deg"],
                   station_hole_diameter=6, station_position_tolerance=0.01),
    FacedBlock("square", faces=4, face_error="0°01'", seat_error="0°00'30\""),
    VeeBlock("vee", included_angle="90 deg", flank_error="0°01'"),
    PinPlate("pins", circles=[HoleCircle(9, pitch_radius=40, measured=RING), 12],
             bar_turns_over=False, square=True, registration=PIN, pin_hold="fixed",
             bar_straightness=0.005, levelling=Levelling(reading=0.01, travel=100),
             square_error="0°00'20\""),
    WormHead("head", worm_ratio="81/2", worm_error="0°01'", backlash="0°02'",
             plates=[IndexPlate("one", circles=[15, PlateCircle(18, pitch_radius=40)],
                                back_circles=[21])],
             registration=PIN, smallest_pitch_radius=38,
             change_gears=ChangeGears(gears=[24, 24, 40, 48], mesh_allowance=15, most_pairs=3,
                                      fixed_gearing=Fraction(1, 2), idlers="reversed",
                                      plate_error="0°10'")),
    GraduatedDial("table", worm_ratio=90, graduations=240, table_error="0°00'30\"",
                  measured=MeasuredRing(4, [MeasuredPlace(1, 3.0)])),
    SineBar("bar", length="5 in", blocks="metric_87", most_blocks=6, wear_block=2,
            two_stacks=True, turns_end_for_end=False, largest_angle="45 deg",
            block_error=0.0002, length_error=0.001, face_error="0°00'02\""),
    SineBar("own bar", length=100, blocks=BlockSet([1.005, 1.01, 2, 5, 10, 20])),
    AngleBlocks("wedges", blocks="pieces13", block_error="0°00'01\""),
    AngleBlocks("own wedges", blocks=AngleBlockSet([3600, 10800])),
    Protractor("level", resolution="0°05'", instrument_error="0°02'"),
    PartReference("keyway", contact=FlatAgainstBlock(seat_error="0°02'"),
                  counted_from="common_datum", angles=["0 deg", "90 deg"]),
    PartReference("last hole", contact=DrilledHole(radius=25, registration=PIN),
                  counted_from="last_feature", angles=["40 deg"], angle_error="0°01'"),
    Stack("block on table", members=["table", "square"]),
]
FEATURES: list[dividing.FeatureSet] = [
    EqualDivisions(9, called="slot", first_angle="10 deg"),
    BoltCircle(8, pitch_radius=30, hole_diameter=6, direction="clockwise", chord_checks=[3],
               axes=MachineAxes(centre_x=50, centre_y="1 in", angle_zero="plus_y",
                                angles_grow="clockwise")),
    Flats(5, across_flats=20, stock_diameter=22, first_angle="3 deg"),
    dividing.AngleList(["0 deg", "17.5 deg"], called="detent"),
    Slots(9, width=3, depth=4, outside_diameter=50),
    Teeth(40, module=1.5),
    Teeth(32, diametral_pitch=16, first_angle="1 deg"),
    Graduations(360, major_every=10, middle_every=5, major_length=6, middle_length=4,
                minor_length=2.5),
]
TOLERANCES: list[dividing.Tolerance] = [
    dividing.Angle("0.05 deg"),
    PositionDiameter(0.1, 30),
    PositionDiameter(0.1, 30, MaximumMaterial(6, 6.1, 6.05)),
    PitchTolerance(single="0°02'", cumulative="0°05'"),
    AngularClassTolerance("coarse", shorter_side=25),
    PitchGradeTolerance(7, reference_diameter=100, module=2, rounding="unrounded"),
]


@pytest.mark.parametrize("value", [*PIECES, *FEATURES, *TOLERANCES], ids=repr)
def test_values_come_back(value: Any) -> None:
    for again in (eval(repr(value), NAMES), pickle.loads(pickle.dumps(value)),
                  copy.copy(value), copy.deepcopy(value)):
        assert again == value and type(again) is type(value)
        assert hash(again) == hash(value) and repr(again) == repr(value)
    if isinstance(value, dividing.Piece | dividing.FeatureSet):
        assert value.replace() == value
        with pytest.raises(AttributeError):
            setattr(value, value._names[0], None)


def test_a_workshop_of_objects_is_that_of_its_document() -> None:
    shop = Workshop("All kinds", PIECES)
    assert shop.equipment == tuple(PIECES) == tuple(shop)
    document = {"format": 1, "name": "All kinds",
                "equipment": [it.to_document() for it in PIECES]}
    read = Workshop.from_json(json.dumps(document))
    assert read == shop and hash(read) == hash(shop) and read.equipment == shop.equipment
    assert Workshop.from_json(shop.to_json()) == shop == eval(repr(shop), NAMES)
    assert {type(it) for it in PIECES} == set(dividing._equipment.KINDS.values())
    assert shop["head"] == PIECES[5] and "head" in shop and "lathe" not in shop
    assert shop.names == tuple(it.name for it in PIECES) and len(shop) == len(PIECES)
    with pytest.raises(KeyError) as caught:
        shop["lathe"]
    assert isinstance(caught.value, dividing.NotFoundError)


def test_the_demo_comes_back_from_its_objects() -> None:
    shop = Workshop.from_json((DEMO / "workshop.json").read_text("utf-8"))
    assert Workshop(shop.name, shop.equipment) == shop


def test_every_vector_workshop_comes_back_from_its_objects() -> None:
    cases = vectors("plans.json")["cases"]
    shops = [case["workshop"] for case in cases if isinstance(case.get("workshop"), dict)]
    assert len(shops) > 10
    for document in shops:
        shop = Workshop.from_dict(document)
        assert Workshop(shop.name, shop.equipment) == shop


@pytest.mark.parametrize("features", FEATURES, ids=repr)
def test_a_job_of_features(features: Any) -> None:
    job = Job.of("part", features, tolerance="0.05 deg", start=Clocked("keyway"))
    assert job.features == features and eval(repr(job), NAMES) == job
    assert Job.from_json(job.to_json()) == job
    assert job.required_angles == features.drawing_angles
    degrees = [it.degrees_float for it in features.drawing_angles]
    assert features.drawing_angles_deg.tolist() == degrees
    assert job.feature_count == len(degrees)


@pytest.mark.parametrize("tolerance", TOLERANCES, ids=repr)
def test_a_job_of_each_tolerance(tolerance: Any) -> None:
    job = Job("part", divisions=9, tolerance=tolerance)
    assert job.tolerance == tolerance and eval(repr(job), NAMES) == job


def test_a_workshop_page_escapes_what_it_is_given() -> None:
    page = Workshop("<b>", [FacedBlock("<script>", faces=4)])._repr_html_()
    assert "<script" not in page and "&lt;script&gt;" in page and "<b>" not in page


def test_a_workshop_page_speaks_the_words_of_the_trade() -> None:
    pin = PinInHole(pin_diameter=5.98, hole_diameter=6, hole_position_tolerance=0.02)
    plates = [IndexPlate("plate 1", circles=[15, 16])]
    head = WormHead("head", worm_ratio=40, plates=plates, registration=pin, worm_error="0°01'")
    measured = dividing.inspection.Measurement.deviations([0.0] * 60).measured()
    plate = DirectPlate("plate", circles=[HoleCircle(60, pitch_radius=80, measured=measured)])
    page = Workshop("Shop", [head, plate])._repr_html_()
    for words in (
        "worm ratio 40; plates plate 1 (circles 15, 16); registration (pin diameter 5.98 mm, ",
        "worm error 0°01&#x27;00.0&quot;",
        "circles 60 (pitch radius 80 mm, measured 60 (deviations 0 (deviation arcsec 0), ",
        "… (60 in all)",
    ):
        assert words in page


def test_a_fit_gives_the_middle_of_its_limits() -> None:
    # ISO 286-2: H7 of 6 mm is 0/+12 µm, g6 is -4/-12 µm.
    pin = PinInHole.from_fit("6 mm H7/g6", hole_position_tolerance=0.02)
    assert pin.hole_diameter_mm == 6.006 and pin.hole_diameter_tolerance_mm == 0.006
    assert pin.pin_diameter_mm == 5.992 and pin.pin_diameter_tolerance_mm == 0.004


def test_figures_of_features() -> None:
    # Plane geometry: a hexagon of 20 mm has corners of 20/cos 30°.
    hexagon = Flats(6, across_flats=20, stock_diameter=24).geometry
    assert hexagon.depth_mm == 2 and round(hexagon.across_corners_mm, 4) == 23.094
    assert hexagon.opposite is dividing.OppositeMeasure.FLAT
    x_mm, y_mm = BoltCircle(4, pitch_radius=30).places_mm
    assert x_mm.round(9).tolist() == [30, 0, -30, 0]
    assert y_mm.round(9).tolist() == [0, 30, 0, -30]


REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: FacedBlock("block", faces=2), "faces"),
    (lambda: FacedBlock("", faces=4), "name"),
    (lambda: FacedBlock("block", faces=4, face_error="-1 deg"), "face_error"),
    (lambda: HoleCircle(1), "holes"),
    (lambda: HoleCircle(9, absent=[9]), "absent[0]"),
    (lambda: HoleCircle(9, pitch_radius=-1), "pitch_radius"),
    (lambda: DirectPlate("plate", circles=[]), "circles"),
    (lambda: DirectPlate("plate", circles=[24, 24], sense="left"), "sense"),
    (lambda: PinInHole(pin_diameter=6.1, hole_diameter=6, hole_position_tolerance=0),
     "pin_diameter"),
    (lambda: PlateCircle(0), "holes"),
    (lambda: IndexPlate("plate", circles=[18, 18]), "circles[1]"),
    (lambda: WormHead("head", worm_ratio=0, plates=[]), "worm_ratio"),
    (lambda: WormHead("head", worm_ratio=40, plates=[]), "plates"),
    (lambda: ChangeGears(gears=[]), "teeth"),
    (lambda: ChangeGears(gears=[24], most_pairs=4), "most_pairs"),
    (lambda: GraduatedDial("dial", worm_ratio=90, graduations=0), "graduations"),
    (lambda: SineBar("bar", length=0, blocks="metric_87"), "length"),
    (lambda: SineBar("bar", length=100, blocks="metric_99"), "blocks"),
    (lambda: BlockSet([1.00005]), "sizes[0]"),
    (lambda: AngleBlockSet([0]), "blocks"),
    (lambda: Protractor("level", resolution="7 deg"), "resolution"),
    (lambda: PartReference("stop", contact=FlatAgainstBlock(), counted_from="common_datum",
                           angles=[]), "angles"),
    (lambda: Stack("stack", members=["one"]), "members"),
    (lambda: MeasuredPlace(0, float("nan")), "deviation_arcsec"),
    (lambda: MeasuredRing(4, [MeasuredPlace(5, 1.0)]), "deviations[0].place"),
    (lambda: Levelling(reading=-1, travel=100), "reading"),
    (lambda: EqualDivisions(1), "count"),
    (lambda: BoltCircle(8, pitch_radius=10, hole_diameter=9), "hole_diameter"),
    (lambda: BoltCircle(8, pitch_radius=10, chord_checks=[5]), "chord_checks[0]"),
    (lambda: Flats(5, across_flats=30, stock_diameter=24), "across_flats"),
    (lambda: Slots(9, width=0, depth=4, outside_diameter=50), "width"),
    (lambda: Graduations(360, major_every=0), "major_every"),
    (lambda: PositionDiameter(0, 30), "diameter"),
    (lambda: PitchTolerance(single="0 deg"), "single"),
    (lambda: AngularClassTolerance("tight", shorter_side=25), "angular_class"),
    (lambda: Workshop("shop", [FacedBlock("one", faces=4), FacedBlock("one", faces=6)]),
     "equipment[1].faced_block.name"),
    (lambda: Workshop("shop", [Stack("stack", members=["one", "two"])]),
     "equipment[0].stack.members[0]"),
]


@pytest.mark.parametrize(("call", "name"), REFUSED, ids=[name for _, name in REFUSED])
def test_what_makes_no_sense_names_the_argument(
    call: Callable[[], object], name: str
) -> None:
    with pytest.raises(dividing.DividingError) as caught:
        call()
    assert caught.value.field.startswith(name), str(caught.value)


WRONG = [None, True, b"4", [], {}, object(), 1j, "\ud800"]


@pytest.mark.parametrize("value", WRONG, ids=ascii)
def test_wrong_types_name_the_argument(value: Any) -> None:
    calls: list[tuple[Callable[[], object], str]] = [
        (lambda: FacedBlock(value, faces=4), "name"),
        (lambda: FacedBlock("block", faces=value), "faces"),
        (lambda: HoleCircle(9, first_hole=[value]), "first_hole"),  # type: ignore[arg-type]
        (lambda: HoleCircle(9, absent=[value]), "absent[0]"),
        (lambda: HoleCircle(9, pitch_radius=[value]), "pitch_radius"),  # type: ignore[arg-type]
        (lambda: WormHead("head", worm_ratio=value, plates=[]), "worm_ratio"),
        (lambda: WormHead("head", worm_ratio=40, plates=[value]), "plates[0]"),
        (lambda: PinPlate("plate", circles=[9], square=[value]), "square"),  # type: ignore[arg-type]
        (lambda: MeasuredPlace(0, value), "deviation_arcsec"),
        (lambda: SineBar("bar", length=100, blocks=value), "blocks"),
        (lambda: Slots(value, width=3, depth=4, outside_diameter=50), "count"),
        (lambda: Teeth(9, module=[value]), "module"),  # type: ignore[arg-type]
        (lambda: Job.of("job", value), "features"),
        (lambda: Job("job", divisions=9, tolerance=[value]), "tolerance"),  # type: ignore[arg-type]
    ]
    for call, name in calls:
        if name == "plates[0]" and value == {}:
            continue  # an empty mapping is read as a plate without a name
        with pytest.raises((TypeError, dividing.DividingError)) as caught:
            call()
        assert str(caught.value).startswith(name), (name, str(caught.value))


def test_numbers_beyond_all_limits() -> None:
    for huge in (10**40, -(10**40), 2**63, 2**200):
        for call in (lambda: FacedBlock("b", faces=huge), lambda: HoleCircle(9, absent=[huge]),
                     lambda: EqualDivisions(huge)):
            with pytest.raises(dividing.OutOfRangeError):
                call()
    for bad in (float("nan"), float("inf"), -float("inf"), 1e300):
        with pytest.raises(dividing.InvalidValueError):
            HoleCircle(9, pitch_radius=bad)
    loop: list[Any] = []
    loop.append(loop)
    with pytest.raises(TypeError, match="absent"):
        HoleCircle(9, absent=loop)
    with pytest.raises(dividing.DividingError, match="equipment"):
        Workshop("shop", loop)
