"""The DXF we write, opened by ezdxf; the SVG, read as XML."""

import json
import pathlib
import subprocess
import xml.etree.ElementTree as ElementTree

import pytest

ezdxf = pytest.importorskip("ezdxf")

ROOT = pathlib.Path(__file__).resolve().parents[2]

BRIEF = {
    "format": 1,
    "divisions": [5, 7, 8, 9, 11, 13, 16, 24],
    "outline": {"polygon": {"faces": 6, "across_flats": 120}},
    "bore": 25,
    "hole_diameter": 3,
    "least_web": 1,
    "least_edge_distance": 2,
    "mounting_holes": [{"x": 0, "y": 20, "diameter": 5}],
    "keep_outs": [{"x": 30, "y": 0, "diameter": 8}],
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    target = tmp_path_factory.mktemp("plate")
    brief = target / "brief.json"
    brief.write_text(json.dumps(BRIEF))
    subprocess.run(
        ["cargo", "run", "--quiet", "-p", "dividing-core", "--example", "design_plate", str(brief), str(target)],
        check=True, cwd=ROOT, capture_output=True,
    )
    return target


def holes(folder):
    """Centres from exact fractions of a turn, reckoned here."""
    import math
    from fractions import Fraction

    pattern = json.loads((folder / "pattern.json").read_text())
    found = []
    for index, ring in enumerate(pattern["rings"]):
        for hole in ring["holes"]:
            turns = Fraction(hole["place"], ring["places"])
            angle = 2 * math.pi * float(turns)
            found.append((index, ring["radius_mm"] * math.cos(angle), ring["radius_mm"] * math.sin(angle)))
    return found


def test_dxf_holds_the_same_circles(folder):
    document = ezdxf.readfile(folder / "plate.dxf")
    auditor = document.audit()
    assert not auditor.errors
    space = document.modelspace()
    expected = holes(folder)
    assert len(expected) > 50
    drilled = [circle for circle in space.query("CIRCLE") if circle.dxf.layer.startswith("RING_")]
    assert len(drilled) == len(expected)
    for index, x, y in expected:
        layer = f"RING_{chr(ord('A') + index)}"
        near = [
            circle for circle in drilled
            if abs(circle.dxf.center.x - x) < 1e-9 and abs(circle.dxf.center.y - y) < 1e-9
        ]
        assert len(near) == 1
        assert near[0].dxf.layer == layer and layer in document.layers
        assert abs(near[0].dxf.radius - 1.5) < 1e-12
    layers = {entity.dxf.layer for entity in space}
    assert {"OUTLINE", "BORE", "LABELS", "PITCH_CIRCLES", "MOUNTING_HOLES", "KEEP_OUTS"} <= layers
    assert len(space.query('LINE[layer=="OUTLINE"]')) == 6
    assert len(space.query('TEXT[layer=="LABELS"]')) == len(expected)


def test_the_pattern_holds_against_its_schema(folder):
    jsonschema = pytest.importorskip("jsonschema")
    schema = json.loads((ROOT / "dividing-core" / "schema" / "pattern.schema.json").read_text())
    pattern = json.loads((folder / "pattern.json").read_text())
    checker = jsonschema.Draft202012Validator(schema)
    checker.validate(pattern)
    assert not checker.is_valid(pattern | {"format": 0})


def test_svg_is_well_formed_and_at_true_scale(folder):
    root = ElementTree.parse(folder / "plate.svg").getroot()
    view = [float(part) for part in root.get("viewBox").split()]
    assert abs(float(root.get("width").removesuffix("mm")) - view[2]) < 1e-3
    assert abs(float(root.get("height").removesuffix("mm")) - view[3]) < 1e-3
    circles = [e for e in root.iter() if e.tag.endswith("circle") and e.get("class") == "hole"]
    expected = holes(folder)
    assert len(circles) == len(expected)
    for circle, (_, x, y) in zip(circles, expected):
        assert abs(float(circle.get("cx")) - x) < 2e-6
        assert abs(float(circle.get("cy")) + y) < 2e-6
        inside = view[0] <= float(circle.get("cx")) <= view[0] + view[2]
        assert inside and view[1] <= float(circle.get("cy")) <= view[1] + view[3]
