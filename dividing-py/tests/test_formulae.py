"""Formulae over numbers and arrays: broadcasting as NumPy's, no copy, refusals."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import dividing
import numpy as np
import pytest
from dividing import (
    across_corners_mm,
    bolt_circle_chord_mm,
    crank_turns,
    flat_width_mm,
    sine_bar_angle_deg,
    sine_bar_height_mm,
    swivel_deg,
)

LENGTH = np.array([100.0, 127.0, 200.0])


def test_numbers_give_numbers() -> None:
    # The closed forms of plane geometry, by Python's own math.
    assert bolt_circle_chord_mm(30, 7, 2) == pytest.approx(60 * math.sin(2 * math.pi / 7))
    assert flat_width_mm(6, 20, 24) == pytest.approx(20 * math.tan(math.pi / 6))
    assert across_corners_mm(6, 20, 24) == pytest.approx(20 / math.cos(math.pi / 6))
    assert sine_bar_height_mm(100, 20) == pytest.approx(100 * math.sin(math.radians(20)))
    assert sine_bar_angle_deg(100, 50) == pytest.approx(30)
    assert swivel_deg(25.4, 156.464) == pytest.approx(
        math.degrees(math.atan(math.pi * 25.4 / 156.464)))
    for kind in (float, int, np.float64, np.int32, np.float32):
        assert type(sine_bar_height_mm(kind(100), kind(20))) is float
    assert type(sine_bar_height_mm(np.array(100), 20)) is float


def test_arrays_broadcast_as_numpy() -> None:
    height = np.linspace(0, 90, 12).reshape(4, 1, 3)
    found = sine_bar_angle_deg(LENGTH, height)
    assert found.shape == np.broadcast_shapes(LENGTH.shape, height.shape)
    assert found.dtype == np.float64 and found.flags.c_contiguous and found.flags.writeable
    np.testing.assert_allclose(found, np.degrees(np.arcsin(height / LENGTH)), rtol=1e-14)
    assert sine_bar_angle_deg(100, np.zeros((0, 3))).shape == (0, 3)
    assert sine_bar_angle_deg(100, [[1, 2], [3, 4]]).shape == (2, 2)
    with pytest.raises(dividing.InconsistentError, match=r"\(3,\).*\(4,\)"):
        sine_bar_angle_deg(LENGTH, np.zeros(4))


def test_layouts_and_types_of_arrays() -> None:
    plain = np.arange(1.0, 25.0).reshape(4, 6)
    wanted = sine_bar_angle_deg(100, plain)
    kept = plain.copy()
    for other in (np.asfortranarray(plain), plain.astype(">f8"), plain.astype("f4"),
                  plain.astype("i2"), plain.astype(">u4"), plain[::-1][::-1],
                  np.repeat(plain, 2, axis=1)[:, ::2], plain.tolist()):
        np.testing.assert_array_equal(sine_bar_angle_deg(100, other), wanted)
    view = plain.view()
    view.flags.writeable = False
    np.testing.assert_array_equal(sine_bar_angle_deg(100, view), wanted)
    np.testing.assert_array_equal(plain, kept)
    unaligned = np.frombuffer(b"\0" + plain.tobytes(), dtype="u1")[1:].view("f8")
    np.testing.assert_array_equal(sine_bar_angle_deg(100, unaligned), wanted.ravel())


WRONG: list[Any] = [None, True, "50", b"50", object(), 1j, {}, [None], ["50"], [[1], [2, 3]],
                    np.array([True]), np.array([1j]), np.array(["50"]), np.array([None]),
                    np.array(["2020-01-01"], dtype="M8[D]"), np.zeros(2, dtype="i4,f4")]


@pytest.mark.parametrize("value", WRONG, ids=ascii)
def test_what_is_no_number_names_the_argument(value: Any) -> None:
    calls: list[tuple[Callable[[], object], str]] = [
        (lambda: sine_bar_angle_deg(100, value), "height_mm: "),
        (lambda: sine_bar_angle_deg(value, LENGTH), "length_mm: "),
        (lambda: bolt_circle_chord_mm(30, value), "count: "),
    ]
    for call, name in calls:
        with pytest.raises(TypeError) as caught:
            call()
        assert str(caught.value).startswith(name)
    with pytest.raises(TypeError, match=r"^divisions: "):
        crank_turns(40, value)


def test_values_outside_their_limits_name_argument_and_entry() -> None:
    for bad, error in ((math.nan, dividing.NotFiniteError), (math.inf, dividing.NotFiniteError),
                       (-1.0, dividing.OutOfRangeError), (100.0, dividing.OutOfRangeError)):
        with pytest.raises(error, match=r"^height_mm: "):
            sine_bar_angle_deg(100, bad)
        with pytest.raises(error, match=r"^height_mm\[2\]: "):
            sine_bar_angle_deg(100, np.array([1.0, 2.0, bad]))
    assert sine_bar_angle_deg(100, -0.0) == 0
    with pytest.raises(dividing.OutOfRangeError, match="count"):
        bolt_circle_chord_mm(30, 6.5)
    with pytest.raises(dividing.InvalidValueError):
        bolt_circle_chord_mm(10**400, 6)
    loop: list[Any] = []
    loop.append(loop)
    with pytest.raises(TypeError, match="height_mm"):
        sine_bar_angle_deg(100, loop)


def test_exact_turns_of_the_crank() -> None:
    for divisions in (1, 7, 9, 127, 10**9):
        assert crank_turns(40, divisions) == Fraction(40, divisions)
    assert crank_turns(Fraction(81, 2), 27) == Fraction(3, 2)
    found = crank_turns(40, 9)
    assert type(found) is Fraction and hash(found) == hash(Fraction(40, 9))
    for bad in (0, -1, 10**40):
        with pytest.raises(dividing.OutOfRangeError, match="divisions"):
            crank_turns(40, bad)
    with pytest.raises(dividing.DividingError, match="worm_ratio"):
        crank_turns(0, 9)
