"""Hostile input of fits and accuracy: a typed error that names the argument."""

from __future__ import annotations

import math
from typing import Any

import dividing
import numpy as np
import pytest
from dividing import Contributor, accuracy, fits

WRONG = [None, True, b"1", [], {}, object(), 1j, np.bool_(True), "0.01"]


@pytest.mark.parametrize("value", WRONG, ids=repr)
def test_wrong_types_name_the_argument(value: Any) -> None:
    for call, name in (
        (lambda: Contributor("hole", value, sensitivity=1.0), "limit"),
        (lambda: Contributor("hole", 1.0, sensitivity=value), "sensitivity"),
        (lambda: dividing.Normal(value), "sigmas_at_limit"),
        (lambda: accuracy.GuardBand(value), "multiple"),
        (lambda: accuracy.CoverageFactor(value), "factor"),
        (lambda: accuracy.UncertainInput("x", value, 1.0), "standard_uncertainty"),
        (lambda: accuracy.feature_shift(value), "eccentricity_mm"),
        (lambda: accuracy.range_constants(value), "places"),
        (lambda: accuracy.decide(value, -1, 1, 0.1), "value"),
        (lambda: accuracy.total_rad(value), "contributors"),
    ):
        if name == "contributors" and isinstance(value, (list, dict)):
            continue  # no contributor at all: a sum of nothing
        with pytest.raises(TypeError, match=rf"^{name}"):
            call()


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_numbers_that_are_none(value: float) -> None:
    with pytest.raises(dividing.NotFiniteError, match="limit"):
        Contributor("hole", value, sensitivity=1.0)
    with pytest.raises(dividing.NotFiniteError, match="sensitivity"):
        Contributor("hole", 1.0, sensitivity=value)
    with pytest.raises(dividing.NotFiniteError, match="estimate"):
        accuracy.UncertaintyModel("x", value, [accuracy.UncertainInput("a", 0.1, 2)])
    with pytest.raises(dividing.DividingError):
        accuracy.decide(value, -1, 1, 0.1)


def test_texts_that_are_none() -> None:
    for call in (
        lambda: Contributor("\ud800", 1.0, sensitivity=1.0),
        lambda: fits.ToleranceClass("\ud800"),
        lambda: fits.Fit("6 mm"),
        lambda: fits.FitClass("g6/H7"),
        lambda: fits.ToleranceClass("H99"),
        lambda: accuracy.total_rad([], "at worst"),  # type: ignore[arg-type]
        lambda: Contributor("x", 1.0, sensitivity=1.0, unit="inch"),  # type: ignore[arg-type]
        lambda: accuracy.loosest_limit(
            [Contributor("x", 1.0, sensitivity=1.0)], "y", 1.0
        ),
    ):
        with pytest.raises(dividing.DividingError):
            call()


def test_records_are_frozen_hash_and_read_back() -> None:
    part = Contributor("hole", 0.01, sensitivity=0.02, distribution=dividing.Normal(2))
    names = {"Contributor": Contributor, "Normal": dividing.Normal}
    assert eval(repr(part), names) == part and hash(part) == hash(eval(repr(part), names))
    with pytest.raises(AttributeError):
        part.limit = 1.0  # type: ignore[misc]
    for it in (fits.FitClass("H7/g6"), fits.Fit("6 mm H7/g6"), fits.Limits(5, 6)):
        assert eval(repr(it), vars(fits)) == it and len({it, eval(repr(it), vars(fits))}) == 1
    for rule in (accuracy.GuardBand(1.5), accuracy.CoverageProbability(0.9)):
        assert eval(repr(rule), vars(accuracy)) == rule
