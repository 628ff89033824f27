//! The Python face of exact angles.

use dividing_core::angle::{MAX_ROUNDED_DENOMINATOR, MAX_TERM};
use dividing_core::{Angle, AngleStyle, Error, ErrorKind};
use num_integer::Integer;
use pyo3::basic::CompareOp;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyFloat, PyNotImplemented, PyString, PyType};

use crate::argument::{
    FRACTION, angle_of, denominator_of, float_of, numerator_of, ratio_of, text_of, whole_within,
};
use crate::errors::{core, division_by_zero, exception, wrong_type};

/// An exact angle: a signed fraction of a turn.
///
/// `Angle(text)` reads degrees, degrees-minutes-seconds, fractions of a turn
/// and gon; `Angle(value)` takes a Fraction or int of turns;
/// `Angle(numerator, denominator)` two ints. Sums and products are exact.
///
/// Raises ValueError (one of this package) for a text that is no angle,
/// ExactOverflowError beyond 35 digits, ZeroDivisionError for a denominator of
/// 0, TypeError for floats: `Angle.from_degrees_rounded` rounds those.
///
/// >>> from fractions import Fraction
/// >>> Angle("22.5 deg"), Angle(Fraction(1, 9)), Angle(1, 7)
/// (Angle('22.5°'), Angle('40°'), Angle('1/7 turn'))
#[pyclass(module = "dividing", name = "Angle", frozen)]
pub(crate) struct PyAngle {
    pub(crate) inner: Angle,
}

impl From<Angle> for PyAngle {
    fn from(inner: Angle) -> Self {
        Self { inner }
    }
}

static DECIMAL: PyOnceLock<Py<PyAny>> = PyOnceLock::new();

/// Most digits that are printed after the point.
const MOST_DIGITS: i128 = 30;

fn fraction(py: Python<'_>, numerator: i128, denominator: i128) -> PyResult<Bound<'_, PyAny>> {
    FRACTION
        .import(py, "fractions", "Fraction")?
        .call1((numerator, denominator))
}

/// `angle · p/q`, taking out common factors first so that only a result that
/// does not fit overflows.
fn scaled(angle: Angle, p: i128, q: i128) -> PyResult<Angle> {
    if q == 0 {
        return Err(division_by_zero(""));
    }
    core(|| {
        let overflow = || Error::overflow("a product of an angle");
        if p == i128::MIN || q == i128::MIN {
            return Err(overflow());
        }
        let (n, d) = (angle.numerator(), angle.denominator());
        if n == 0 || p == 0 {
            return Ok(Angle::ZERO);
        }
        let (left, right) = (n.gcd(&q), d.gcd(&p));
        let numerator = (n / left).checked_mul(p / right).ok_or_else(overflow)?;
        let denominator = (d / right).checked_mul(q / left).ok_or_else(overflow)?;
        Angle::new(numerator, denominator)
    })
}

/// Numerator and denominator of an exact number of degrees.
fn exact_degrees(value: &Bound<'_, PyAny>) -> PyResult<Angle> {
    const NAME: &str = "degrees";
    let py = value.py();
    if let Some((numerator, denominator)) = ratio_of(value, NAME)? {
        return core(|| Angle::from_degrees(numerator, denominator).map_err(|it| it.at(NAME)));
    }
    if value.is_instance_of::<PyString>() {
        let text = text_of(value, NAME)?;
        let is_number = |c: char| c.is_ascii_digit() || " +-./\u{2212}".contains(c);
        return core(|| {
            if !text.chars().all(is_number) {
                return Err(Error::new(
                    ErrorKind::UnreadableText,
                    "the text is no plain number of degrees; accepted: a number such as 22.5 or \
                     360/7, or Angle(text) for text with a unit",
                )
                .at(NAME));
            }
            format!("{text} deg")
                .parse()
                .map_err(|it: Error| it.at(NAME))
        });
    }
    if value.is_instance(DECIMAL.import(py, "decimal", "Decimal")?)? {
        return decimal_degrees(value, NAME);
    }
    let wanted = if value.is_instance_of::<PyFloat>() {
        "an exact number (a float is none; Angle.from_degrees_rounded rounds one)"
    } else {
        "an int, Fraction, Decimal or str of degrees"
    };
    Err(wrong_type(NAME, wanted, value))
}

/// A Decimal is looked at before it is turned into a fraction: one with a huge
/// exponent would need as many digits.
fn decimal_degrees(value: &Bound<'_, PyAny>, name: &str) -> PyResult<Angle> {
    const LARGEST_EXPONENT: i64 = 50;
    const SMALLEST_EXPONENT: i64 = -1000;
    if !value.call_method0("is_finite")?.is_truthy()? {
        let error = Error::new(
            ErrorKind::NotFinite,
            "a Decimal that is not finite; accepted: a finite number of degrees",
        );
        return Err(exception(&error.at(name)));
    }
    if !value.is_truthy()? {
        return Ok(Angle::ZERO);
    }
    let largest: i64 = value.call_method0("adjusted")?.extract()?;
    let smallest: i64 = value
        .call_method0("as_tuple")?
        .getattr("exponent")?
        .extract()?;
    if largest > LARGEST_EXPONENT || smallest < SMALLEST_EXPONENT {
        return Err(exception(&Error::overflow("a Decimal").at(name)));
    }
    let fraction = FRACTION
        .import(value.py(), "fractions", "Fraction")?
        .call1((value,))?;
    match ratio_of(&fraction, name)? {
        Some((numerator, denominator)) => {
            core(|| Angle::from_degrees(numerator, denominator).map_err(|it| it.at(name)))
        }
        None => Err(wrong_type(name, "a Decimal", value)),
    }
}

fn rounding_denominator(value: Option<&Bound<'_, PyAny>>) -> PyResult<i128> {
    const USUAL: i128 = 1_000_000;
    value.map_or(Ok(USUAL), |it| {
        whole_within(it, "max_denominator", 1, MAX_ROUNDED_DENOMINATOR)
    })
}

#[pymethods]
impl PyAngle {
    #[new]
    #[pyo3(signature = (value, denominator=None))]
    fn new(value: &Bound<'_, PyAny>, denominator: Option<&Bound<'_, PyAny>>) -> PyResult<Self> {
        let inner = match denominator {
            None => angle_of(value, "")?,
            Some(denominator) => {
                let numerator = numerator_of(value, "value")?;
                let denominator = denominator_of(denominator, "denominator")?;
                core(|| Angle::new(numerator, denominator))?
            }
        };
        Ok(Self { inner })
    }

    /// The angle of an exact number of degrees: an int, Fraction, Decimal or str.
    ///
    /// Raises TypeError for a float, ValueError or ExactOverflowError for a
    /// number that is none or does not fit.
    ///
    /// >>> Angle.from_degrees("22.5"), Angle.from_degrees(40)
    /// (Angle('22.5°'), Angle('40°'))
    #[staticmethod]
    fn from_degrees(degrees: &Bound<'_, PyAny>) -> PyResult<Self> {
        exact_degrees(degrees).map(Into::into)
    }

    /// The fraction of a turn nearest to a float of degrees, with a denominator
    /// (of turns) of at most `max_denominator`, 1 to 10**15. This rounds.
    ///
    /// Raises NotFiniteError for NaN and infinities, OutOfRangeError beyond
    /// 10**12 turns.
    ///
    /// >>> Angle.from_degrees_rounded(51.42857143, max_denominator=1000)
    /// Angle('1/7 turn')
    #[staticmethod]
    #[pyo3(signature = (degrees, *, max_denominator=None),
           text_signature = "(degrees, *, max_denominator=1000000)")]
    fn from_degrees_rounded(
        degrees: &Bound<'_, PyAny>,
        max_denominator: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let value_deg = float_of(degrees, "degrees")?;
        let most = rounding_denominator(max_denominator)?;
        core(|| Angle::from_degrees_rounded(value_deg, most)).map(Into::into)
    }

    /// The fraction of a turn nearest to a float of radians, with a denominator
    /// (of turns) of at most `max_denominator`, 1 to 10**15. This rounds: no
    /// fraction of a turn but 0 is an exact number of radians.
    ///
    /// Raises NotFiniteError for NaN and infinities, OutOfRangeError beyond
    /// 10**12 turns.
    ///
    /// >>> import math
    /// >>> Angle.from_radians_rounded(math.pi / 2, max_denominator=1000)
    /// Angle('90°')
    #[staticmethod]
    #[pyo3(signature = (radians, *, max_denominator=None),
           text_signature = "(radians, *, max_denominator=1000000)")]
    fn from_radians_rounded(
        radians: &Bound<'_, PyAny>,
        max_denominator: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let value_rad = float_of(radians, "radians")?;
        let most = rounding_denominator(max_denominator)?;
        core(|| Angle::from_radians_rounded(value_rad, most)).map(Into::into)
    }

    /// The exact angle in turns, a Fraction.
    ///
    /// >>> Angle("22.5 deg").turns
    /// Fraction(1, 16)
    #[getter]
    fn turns<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        fraction(py, self.inner.numerator(), self.inner.denominator())
    }

    /// The exact angle in degrees, a Fraction.
    ///
    /// >>> Angle(1, 7).degrees
    /// Fraction(360, 7)
    #[getter]
    fn degrees<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        // The numerator is at most 10^35, so the product fits.
        fraction(py, self.inner.numerator() * 360, self.inner.denominator())
    }

    /// Numerator of the angle in turns, in lowest terms; carries the sign.
    ///
    /// >>> Angle("-22.5 deg").numerator
    /// -1
    #[getter]
    const fn numerator(&self) -> i128 {
        self.inner.numerator()
    }

    /// Denominator of the angle in turns, in lowest terms; at least 1.
    ///
    /// >>> Angle("-22.5 deg").denominator
    /// 16
    #[getter]
    const fn denominator(&self) -> i128 {
        self.inner.denominator()
    }

    /// The angle in turns, rounded to a float.
    ///
    /// >>> Angle(1, 16).turns_float
    /// 0.0625
    #[getter]
    fn turns_float(&self) -> f64 {
        self.inner.to_turns_f64()
    }

    /// The angle in degrees, rounded to a float.
    ///
    /// >>> Angle(1, 16).degrees_float
    /// 22.5
    #[getter]
    fn degrees_float(&self) -> f64 {
        self.inner.to_degrees_f64()
    }

    /// The angle in radians, rounded to a float.
    ///
    /// >>> Angle(1, 4).radians_float
    /// 1.5707963267948966
    #[getter]
    fn radians_float(&self) -> f64 {
        self.inner.to_radians_f64()
    }

    /// The angle in seconds of arc, rounded to a float.
    ///
    /// >>> Angle("0°01'").arcsec_float
    /// 60.0
    #[getter]
    fn arcsec_float(&self) -> f64 {
        self.inner.to_arcsec_f64()
    }

    /// The same orientation within one turn: from 0 up to but not including 1.
    ///
    /// >>> Angle("-90 deg").within_turn()
    /// Angle('270°')
    fn within_turn(&self) -> Self {
        self.inner.within_turn().into()
    }

    /// The same orientation within half a turn: above -1/2, up to +1/2.
    ///
    /// >>> Angle("270 deg").within_half_turn()
    /// Angle('-90°')
    fn within_half_turn(&self) -> Self {
        self.inner.within_half_turn().into()
    }

    /// The best approximation whose denominator (of turns) is at most
    /// `max_denominator`, 1 to 10**35; as `Fraction.limit_denominator`.
    ///
    /// >>> Angle(1, 127).nearest_fraction(100)
    /// Angle('3.6°')
    fn nearest_fraction(&self, max_denominator: &Bound<'_, PyAny>) -> PyResult<Self> {
        let most = whole_within(max_denominator, "max_denominator", 1, MAX_TERM)?;
        core(|| self.inner.nearest_fraction(most)).map(Into::into)
    }

    /// The angle as text in an :class:`AngleStyle`, to 0 to 30 digits after the
    /// point, rounded half to even. A fraction of a turn is exact and has no
    /// digits to round.
    ///
    /// >>> Angle(1, 7).format("decimal_degrees", 4)
    /// '51.4286°'
    #[pyo3(signature = (style=None, digits=None),
           text_signature = "($self, style='decimal_degrees', digits=4)")]
    fn format(
        &self,
        style: Option<&Bound<'_, PyAny>>,
        digits: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<String> {
        let digits = digits.map_or(Ok(4), |it| whole_within(it, "digits", 0, MOST_DIGITS))?;
        let digits = u8::try_from(digits).unwrap_or(u8::MAX);
        let style = match style {
            None => "decimal_degrees".into(),
            Some(style) => text_of(style, "style")?,
        };
        let style = match style.as_str() {
            "decimal_degrees" => AngleStyle::DecimalDegrees(digits),
            "degrees_minutes_seconds" => AngleStyle::DegreesMinutesSeconds(digits),
            "fraction_of_turn" => AngleStyle::FractionOfTurn,
            _ => {
                return Err(exception(
                    &Error::out_of_range(
                        "this style",
                        "decimal_degrees, degrees_minutes_seconds, fraction_of_turn",
                    )
                    .at("style"),
                ));
            }
        };
        Ok(self.inner.format(style))
    }

    fn __str__(&self) -> String {
        self.inner.to_string()
    }

    fn __repr__(&self) -> String {
        format!("Angle('{}')", self.inner)
    }

    fn __hash__(&self) -> u64 {
        use std::hash::{DefaultHasher, Hash, Hasher};
        let mut hasher = DefaultHasher::new();
        self.inner.hash(&mut hasher);
        hasher.finish()
    }

    fn __richcmp__(&self, other: PyRef<'_, Self>, op: CompareOp) -> bool {
        op.matches(self.inner.cmp(&other.inner))
    }

    const fn __bool__(&self) -> bool {
        !self.inner.is_zero()
    }

    fn __neg__(&self) -> Self {
        (-self.inner).into()
    }

    fn __pos__(&self) -> Self {
        self.inner.into()
    }

    fn __abs__(&self) -> Self {
        self.inner.abs().into()
    }

    fn __add__(&self, other: PyRef<'_, Self>) -> PyResult<Self> {
        core(|| self.inner.checked_add(other.inner)).map(Into::into)
    }

    fn __sub__(&self, other: PyRef<'_, Self>) -> PyResult<Self> {
        core(|| self.inner.checked_sub(other.inner)).map(Into::into)
    }

    fn __mul__<'py>(&self, factor: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        let py = factor.py();
        match ratio_of(factor, "")? {
            Some((p, q)) => Ok(Bound::new(py, Self::from(scaled(self.inner, p, q)?))?.into_any()),
            None => Ok(PyNotImplemented::get(py).to_owned().into_any()),
        }
    }

    fn __rmul__<'py>(&self, factor: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        self.__mul__(factor)
    }

    fn __truediv__<'py>(&self, divisor: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        let py = divisor.py();
        if let Ok(other) = divisor.cast::<Self>() {
            if other.get().inner.is_zero() {
                return Err(division_by_zero(""));
            }
            return self.turns(py)?.div(other.get().turns(py)?);
        }
        match ratio_of(divisor, "")? {
            Some((p, q)) => Ok(Bound::new(py, Self::from(scaled(self.inner, q, p)?))?.into_any()),
            None => Ok(PyNotImplemented::get(py).to_owned().into_any()),
        }
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> (Bound<'py, PyType>, (i128, i128)) {
        let terms = (self.inner.numerator(), self.inner.denominator());
        (py.get_type::<Self>(), terms)
    }
}
