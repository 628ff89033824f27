"""Laws of exact angles, with `fractions.Fraction` as the judge."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

import dividing
import pytest
from dividing import Angle
from hypothesis import given
from hypothesis import strategies as st

small = st.fractions(min_value=-1000, max_value=1000, max_denominator=10**9)
whole = st.integers(min_value=-(10**6), max_value=10**6)


@given(small, small)
def test_sums_differences_and_order(a: Fraction, b: Fraction) -> None:
    left, right = Angle(a), Angle(b)
    assert (left + right).turns == a + b
    assert (left - right).turns == a - b
    assert (left < right, left <= right, left == right) == (a < b, a <= b, a == b)
    assert (-left).turns == -a and abs(left).turns == abs(a) and (+left) == left
    assert bool(left) == bool(a)
    if b:
        assert left / right == a / b


@given(small, whole, small)
def test_products_and_quotients(a: Fraction, k: int, f: Fraction) -> None:
    angle = Angle(a)
    assert (angle * k).turns == (k * angle).turns == a * k
    assert (angle * f).turns == (f * angle).turns == a * f
    if k:
        assert (angle / k).turns == a / k
    if f:
        assert (angle / f).turns == a / f


@given(small)
def test_printing_and_reading_are_inverse(a: Fraction) -> None:
    angle = Angle(a)
    assert Angle(str(angle)) == angle
    assert eval(repr(angle)) == angle
    assert hash(Angle(str(angle))) == hash(angle)
    assert angle.degrees == a * 360
    assert (angle.numerator, angle.denominator) == (a.numerator, a.denominator)


@given(small)
def test_floats_are_the_nearest(a: Fraction) -> None:
    angle = Angle(a)
    # Numerator and denominator lie below 2^53 here, so one division rounds once.
    assert math.isclose(angle.turns_float, float(a), rel_tol=2**-52)
    assert math.isclose(angle.degrees_float, float(a * 360), rel_tol=2**-51)
    assert math.isclose(angle.radians_float, float(a) * math.tau, rel_tol=2**-50)
    assert math.isclose(angle.arcsec_float, float(a * 1296000), rel_tol=2**-50)


@given(small)
def test_the_same_orientation(a: Fraction) -> None:
    assert Angle(a).within_turn().turns == a % 1
    half = Angle(a).within_half_turn().turns
    assert (half - a).denominator == 1 and Fraction(-1, 2) < half <= Fraction(1, 2)


@given(small, st.integers(min_value=1, max_value=10**6))
def test_nearest_fraction_is_limit_denominator(a: Fraction, most: int) -> None:
    assert Angle(a).nearest_fraction(most).turns == a.limit_denominator(most)


@given(st.floats(min_value=-1e6, max_value=1e6), st.integers(1, 10**6))
def test_rounding_constructors(value: float, most: int) -> None:
    exact = Fraction(value / 360)
    found = Angle.from_degrees_rounded(value, max_denominator=most)
    assert found.turns == exact.limit_denominator(most)
    exact = Fraction(value / math.tau)
    found = Angle.from_radians_rounded(value, max_denominator=most)
    assert found.turns == exact.limit_denominator(most)


@given(st.decimals(min_value=-(10**6), max_value=10**6, places=6))
def test_degrees_are_exact(value: Decimal) -> None:
    expected = Fraction(value) / 360
    assert Angle.from_degrees(value).turns == expected
    assert Angle.from_degrees(Fraction(value)).turns == expected
    assert Angle.from_degrees(f"{value:f}").turns == expected


@given(small, st.integers(0, 30))
def test_rounded_printing_is_half_to_even(a: Fraction, digits: int) -> None:
    text = Angle(a).format("decimal_degrees", digits).removesuffix("°")
    scaled = a * 360 * 10**digits
    assert Fraction(text) * 10**digits == round(scaled)
    assert not (Fraction(text) == 0 and text.startswith("-"))


def test_constructors_agree() -> None:
    ninth = Angle(1, 9)
    assert ninth == Angle(Fraction(1, 9)) == Angle("40 deg") == Angle(ninth)
    assert Angle(2) == Angle("2 turns")
    assert Angle.from_degrees("22.5") == Angle.from_degrees("45/2") == Angle(1, 16)
    assert Angle.from_degrees("\u221222.5") == -Angle(1, 16)
    assert Angle.from_degrees(40) == ninth
    assert len({ninth, Angle("40 deg"), Angle(4, 36)}) == 1
    assert ninth != "40 deg" and ninth != Fraction(1, 9)


def test_lcm_of_1_to_49_is_carried() -> None:
    lcm = math.lcm(*range(1, 50))
    angle = Angle(1, lcm)
    assert angle.denominator == lcm
    assert (angle + Angle(1, 53)).turns == Fraction(1, lcm) + Fraction(1, 53)


def test_overflow_is_an_overflow_error() -> None:
    tiny = Angle(1, 10**35)
    for call in (
        lambda: tiny / 7,
        lambda: Angle(10**35) * 2,
        lambda: tiny + Angle(1, 10**35 - 1),
        lambda: tiny * Fraction(1, 10**30),
        lambda: Angle(1, 10**400),
        lambda: Angle(Fraction(10**400, 3)),
        lambda: Angle.from_degrees(Decimal("1e400")),
        lambda: Angle.from_degrees(Decimal("1e-999999")),
        lambda: Angle(1, 3) * 10**400,
    ):
        with pytest.raises(OverflowError) as caught:
            call()
        assert isinstance(caught.value, dividing.ExactOverflowError)
    # Factors that cancel do not overflow on the way.
    assert (tiny * (10**35)).turns == 1
    assert (Angle(10**35) * Fraction(1, 10**35)).turns == 1


def test_division_by_zero() -> None:
    for call in (
        lambda: Angle(1, 0),
        lambda: Angle(1, 9) / 0,
        lambda: Angle(1, 9) / Fraction(0),
        lambda: Angle(1, 9) / Angle(0),
    ):
        with pytest.raises(ZeroDivisionError) as caught:
            call()
        assert isinstance(caught.value, dividing.OutOfRangeError)


def test_wrong_operands_are_left_to_python() -> None:
    for other in (1, 1.5, "40 deg", None, Fraction(1, 2)):
        with pytest.raises(TypeError):
            Angle(1, 9) + other  # type: ignore[operator]
        with pytest.raises(TypeError):
            Angle(1, 9) < other  # type: ignore[operator]
    for factor in (1.5, "2", None, True, Angle(1, 2)):
        with pytest.raises(TypeError):
            Angle(1, 9) * factor  # type: ignore[operator]
