#!/usr/bin/env python3
"""Writes tests/vectors/errors.json: what triggers each kind of error.

The kinds and codes are a promise of the library, written down here a second
time by hand so that a change on one side shows. Nothing here calls the library.
"""

import json
from pathlib import Path

VECTORS = Path(__file__).resolve().parent.parent / "vectors"

# kind: code, class in the Python package
KINDS = {
    "unreadable_text": (100, "TextError"),
    "missing_unit": (101, "TextError"),
    "inexact_unit": (102, "TextError"),
    "malformed_json": (110, "DocumentError"),
    "unknown_field": (111, "DocumentError"),
    "invalid_field": (112, "DocumentError"),
    "unknown_format": (113, "DocumentError"),
    "out_of_range": (200, "InvalidValueError"),
    "not_finite": (201, "InvalidValueError"),
    "empty_list": (202, "InvalidValueError"),
    "duplicate": (203, "InvalidValueError"),
    "inconsistent": (204, "InvalidValueError"),
    "overflow": (205, "ExactOverflowError"),
    "not_found": (206, "NotFoundError"),
    "undetermined": (207, "UndeterminedError"),
    "work_limit": (300, "WorkLimitError"),
    "cancelled": (301, "CancelledError"),
    "internal": (900, "InternalError"),
}


def workshop(*pieces: dict, **other) -> str:
    return json.dumps({"format": 1, "name": "Bench", "equipment": list(pieces), **other},
                      ensure_ascii=False)


def job(features: dict, **other) -> str:
    return json.dumps({"format": 1, "name": "Job", "features": features, **other},
                      ensure_ascii=False)


def plate(**other) -> dict:
    return {"direct_plate": {"name": "plate", "circles": [{"holes": 12}], **other}}


PIN = {"pin_diameter": 6, "hole_diameter": 6, "hole_position_tolerance": 0.02}
NINE = {"equal_divisions": {"count": 9}}
THREE = workshop(plate(circles=[{"holes": 3}]))

# kind, call, input, field named by the error ("" where there is none)
TRIGGERS = [
    ("unreadable_text", "angle", "22,5 deg", ""),
    ("unreadable_text", "length", "6,5 mm", ""),
    ("unreadable_text", "length", "6 furlong", ""),
    ("missing_unit", "angle", "22.5", ""),
    ("missing_unit", "length", "6", ""),
    ("inexact_unit", "angle", "1.5 rad", ""),
    ("malformed_json", "workshop", "{\"format\": 1, \"name\": \"Bench\", \"equipment\": [", ""),
    ("malformed_json", "job", "", ""),
    ("unknown_field", "workshop", workshop(plate(), equipement=[]), "equipement"),
    ("unknown_field", "workshop",
     workshop(plate(circles=[{"holes": 12, "hols": 3}])),
     "equipment[0].direct_plate.circles[0].hols"),
    ("unknown_field", "job", job({"equal_divisions": {"count": 9, "cuont": 3}}),
     "features.equal_divisions.cuont"),
    ("invalid_field", "workshop", workshop(plate(circles=[{"holes": -12}])),
     "equipment[0].direct_plate.circles[0].holes"),
    ("invalid_field", "workshop", workshop({"vee_block": {"name": "v", "included_angle": "90"}}),
     "equipment[0].vee_block.included_angle"),
    ("invalid_field", "job", job({"equal_divisions": {"count": "nine"}}),
     "features.equal_divisions.count"),
    ("unknown_format", "workshop", json.dumps({"format": 2, "name": "b", "equipment": []}), "format"),
    ("unknown_format", "job", json.dumps({"format": 0, "name": "j", "features": NINE}), "format"),
    ("out_of_range", "workshop", workshop(plate(circles=[{"holes": 0}])),
     "equipment[0].direct_plate.circles[0].holes"),
    ("out_of_range", "workshop", workshop({"faced_block": {"name": "b", "faces": 2}}),
     "equipment[0].faced_block.faces"),
    ("out_of_range", "job", job({"equal_divisions": {"count": 1}}), "features.equal_divisions.count"),
    ("out_of_range", "job", job(NINE, tolerance={"angle": "-0.05 deg"}), "tolerance.angle"),
    ("out_of_range", "length", "200000 mm", ""),
    ("not_finite", "length", "1" + "0" * 309 + " mm", ""),
    ("empty_list", "workshop", workshop(), "equipment"),
    ("empty_list", "job", job({"angles": {"angles": []}}), "features.angles.angles"),
    ("duplicate", "workshop", workshop(plate(circles=[{"holes": 12}, {"holes": 12}])),
     "equipment[0].direct_plate.circles[1].holes"),
    ("duplicate", "workshop", workshop(plate(), plate()), "equipment[1].direct_plate.name"),
    ("duplicate", "job", job({"angles": {"angles": ["0 deg", "1 turn"]}}),
     "features.angles.angles[1]"),
    ("inconsistent", "workshop", workshop(plate(registration={**PIN, "pin_diameter": 6.01})),
     "equipment[0].direct_plate.registration.pin_diameter"),
    ("inconsistent", "job",
     job({"flats": {"count": 6, "across_flats": 20, "stock_diameter": 20}}),
     "features.flats.across_flats"),
    ("overflow", "angle", "1e60 turn", ""),
    ("overflow", "plan",
     {"workshop": THREE, "index": 0,
      "job": job({"angles": {"angles": ["1/99999999999999999999999999999999998 turn",
                                        "1/99999999999999999999999999999999997 turn"]}})}, ""),
    ("not_found", "plan", {"workshop": THREE, "job": job(NINE), "index": 1}, "plan"),
    ("work_limit", "plan",
     {"workshop": workshop(plate(circles=[{"holes": 1000, "absent": [1]}])), "index": 0,
      "job": job({"equal_divisions": {"count": 100_000}})}, ""),
]

NOT_CALLED = {
    "undetermined": "no call of this version asks a question that its data may leave open",
    "cancelled": "needs a caller that watches a search and stops it",
    "internal": "stands for a defect of the library; no input is known to give it",
}


def main() -> None:
    cases = []
    for kind, call, given, field in TRIGGERS:
        code, python_class = KINDS[kind]
        cases.append({"kind": kind, "code": code, "python_class": python_class,
                      "call": call, "input": given, "field": field})
    for kind, why in NOT_CALLED.items():
        code, python_class = KINDS[kind]
        cases.append({"kind": kind, "code": code, "python_class": python_class,
                      "call": "none", "why": why})
    order = list(KINDS)
    cases.sort(key=lambda case: order.index(case["kind"]))
    missing = set(KINDS) - {case["kind"] for case in cases}
    assert not missing, missing
    document = {
        "about": "Every kind of error with its code, its class in the Python package and inputs "
                 "that give it. call plan: plan the job and ask for plan `index`. `field` is the "
                 "path that the error names. Written by tests/reference/make_error_vectors.py.",
        "cases": cases,
    }
    path = VECTORS / "errors.json"
    path.write_text(json.dumps(document, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    print(f"{path.name}: {len(cases)} cases, {len(KINDS)} kinds")


if __name__ == "__main__":
    main()
