"""The documents of the demo and of the vectors hold against the committed schemas.

Needs `pytest` and `jsonschema`; calls nothing of this library.
"""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "dividing-core" / "examples" / "demo"
VECTORS = ROOT / "tests" / "vectors"


def read(path: Path):
    return json.loads(path.read_text(encoding="utf-8"))


def validator(name: str) -> Draft202012Validator:
    schema = read(ROOT / "dividing-core" / "schema" / f"{name}.schema.json")
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


WORKSHOP = validator("workshop")
JOB = validator("job")
PLATE_BRIEF = validator("plate_brief")


def test_the_demo_holds():
    jobs = sorted(DEMO.glob("job_*.json"))
    assert jobs
    WORKSHOP.validate(read(DEMO / "workshop.json"))
    for path in jobs:
        JOB.validate(read(path))


def test_the_brief_of_the_demo_holds():
    brief = read(DEMO / "plate_brief.json")
    PLATE_BRIEF.validate(brief)
    for wrong in ({"format": 2}, {"colour": "red"}, {"divisions": [1]}, {"least_web": []}):
        assert not PLATE_BRIEF.is_valid(brief | wrong)


def test_the_vectors_hold():
    cases = read(VECTORS / "plans.json")["cases"]
    assert cases
    for case in cases:
        WORKSHOP.validate(case["workshop"])
        JOB.validate(case["job"])


REFUSED_BY_TYPE = {"unknown_field", "invalid_field", "unknown_format"}


def refused():
    for case in read(VECTORS / "errors.json")["cases"]:
        if case["kind"] in REFUSED_BY_TYPE and case["call"] in ("workshop", "job"):
            yield case


# An angle without its unit is text like any other to a schema.
SEEN_BY_THE_READER_ALONE = {"equipment[0].vee_block.included_angle"}


@pytest.mark.parametrize("case", list(refused()), ids=lambda case: case["field"])
def test_what_the_reader_refuses_by_type_the_schema_refuses(case):
    schema = WORKSHOP if case["call"] == "workshop" else JOB
    holds = schema.is_valid(json.loads(case["input"]))
    assert holds == (case["field"] in SEEN_BY_THE_READER_ALONE)
