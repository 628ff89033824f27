//! The Python face of change gears.

use std::sync::Arc;

use dividing_core::Error;
use dividing_core::gearing::lead::{Helix, exact_length_mm, lead_gearing};
use dividing_core::gearing::{
    GearRatio, GearSet, MeshRule, NearestTrain, RatioIndex, RelativeSense, Train, TrainSearch,
};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyString, PyTuple};

use crate::argument::{length_of, text_of, whole_within};
use crate::errors::{core, wrong_type};
use crate::plan::Reduced;
use crate::record::{class, name_of};
use crate::value::{choice_of, finite_of, fraction_of_ratio, gear_ratio_of};
use crate::watch::{Limits, watched};

type Made<'py> = PyResult<Bound<'py, PyAny>>;

/// Teeth of a set of gears, ascending, once judged.
#[pyfunction]
pub(crate) fn _checked_gears(teeth: Vec<u32>) -> PyResult<Vec<u32>> {
    core(|| {
        GearSet::new(&teeth)
            .map(Vec::from)
            .map_err(|error| error.at("teeth"))
    })
}

fn train_of(drivers: &[u16], driven: &[u16]) -> PyResult<Train> {
    core(|| Train::new(drivers, driven))
}

/// Ratio and mesh margin of a train, once judged.
#[pyfunction]
pub(crate) fn _checked_train<'py>(
    py: Python<'py>,
    drivers: Vec<u16>,
    driven: Vec<u16>,
) -> PyResult<(Bound<'py, PyAny>, Option<i32>)> {
    let train = train_of(&drivers, &driven)?;
    Ok((
        fraction_of_ratio(py, train.ratio())?,
        train.mesh_margin_teeth(),
    ))
}

/// Idlers that a train needs so that its last gear turns as the first, or
/// against it.
#[pyfunction]
pub(crate) fn _idlers(drivers: Vec<u16>, driven: Vec<u16>, same_sense: bool) -> PyResult<u32> {
    let sense = if same_sense {
        RelativeSense::Same
    } else {
        RelativeSense::Opposite
    };
    Ok(train_of(&drivers, &driven)?.idlers_for_sense(sense))
}

/// A train of the core as the package's class.
pub(crate) fn train<'py>(py: Python<'py>, train: &Train) -> Made<'py> {
    class!(py, "_gearing", "Train")?.call1((
        PyTuple::new(py, train.drivers())?,
        PyTuple::new(py, train.driven())?,
    ))
}

fn optional_train<'py>(py: Python<'py>, it: Option<&Train>) -> PyResult<Option<Bound<'py, PyAny>>> {
    it.map(|it| train(py, it)).transpose()
}

fn nearest<'py>(py: Python<'py>, found: &NearestTrain) -> Made<'py> {
    let proof = class!(py, "_gearing", "NearestProof")?.call1((
        optional_train(py, found.proof.below.as_ref())?,
        optional_train(py, found.proof.above.as_ref())?,
        found.proof.pairings_placed,
        found.proof.pairings_compared,
        found.proof.complete,
    ))?;
    class!(py, "_gearing", "NearestTrain")?.call1((
        fraction_of_ratio(py, found.target)?,
        train(py, &found.train)?,
        optional_train(py, found.equally_near.as_ref())?,
        found.error_ppm,
        found.exact,
        proof,
    ))
}

/// A ratio to come near to: as a ratio, or a float as the binary number it is.
fn target_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<GearRatio> {
    if value.is_instance_of::<pyo3::types::PyFloat>() {
        let number = finite_of(value, name)?;
        return core(|| GearRatio::from_f64(number).map_err(|error| error.at(name)));
    }
    gear_ratio_of(value, name)
}

/// An exact length above zero: text with a unit, or a number of millimetres as
/// an int or Fraction.
fn exact_length_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<GearRatio> {
    if value.is_instance_of::<PyString>() {
        let text = text_of(value, name)?;
        return core(|| exact_length_mm(&text).map_err(|error| error.at(name)));
    }
    if value.is_instance_of::<pyo3::types::PyFloat>() {
        return Err(wrong_type(
            name,
            "an exact length (text such as \"6.16 in\", or an int or Fraction of mm)",
            value,
        ));
    }
    gear_ratio_of(value, name)
}

/// Finds trains of change gears: one, two or three pairs of driver and driven
/// from a set of gears, made ready once and asked many times.
///
/// `mesh_allowance` is the number of teeth by which compound trains must clear
/// their neighbours' shafts; None counts ratios alone. The interpreter lock is
/// released; Ctrl-C stops a search. A search that comes to its `work_limit`
/// returns what was found, with `complete` False.
///
/// Raises ValueError (one of this package) that names the argument.
///
/// >>> print(dividing.TrainSearch([24, 28, 32, 64]).nearest("355/113"))
/// 64/24 × 32/28: -2.99e+04 ppm
#[pyclass(module = "dividing", name = "TrainSearch", frozen)]
pub(crate) struct PyTrainSearch {
    search: Arc<TrainSearch>,
    most_pairs: u8,
    work_limit: u64,
}

#[pymethods]
impl PyTrainSearch {
    #[new]
    #[pyo3(signature = (gears, *, most_pairs=None, mesh_allowance=None, work_limit=None,
                        progress=None),
           text_signature = "(gears, *, most_pairs=2, mesh_allowance=None, work_limit=None, \
               progress=None)")]
    fn new(
        gears: &Bound<'_, PyAny>,
        most_pairs: Option<&Bound<'_, PyAny>>,
        mesh_allowance: Option<&Bound<'_, PyAny>>,
        work_limit: Option<&Bound<'_, PyAny>>,
        progress: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let py = gears.py();
        let teeth: Vec<u32> = class!(py, "_gearing", "teeth_of")?
            .call1((gears, "gears"))?
            .extract()?;
        let most_pairs = most_pairs.map_or(Ok(2), |it| whole_within(it, "most_pairs", 1, 3))?;
        let mesh = match mesh_allowance {
            None => MeshRule::RatiosAlone,
            Some(it) => MeshRule::Clear {
                allowance_teeth: u16::try_from(whole_within(it, "mesh_allowance", 0, 1000)?)
                    .unwrap_or(u16::MAX),
            },
        };
        let most_pairs = u8::try_from(most_pairs).unwrap_or(3);
        let limits = Limits::read(work_limit, progress)?;
        let search = watched(py, &limits, move |meter| {
            let set = GearSet::new(&teeth).map_err(|error| error.at("gears"))?;
            TrainSearch::new(&set, most_pairs.into(), mesh, meter)
        })?;
        Ok(Self {
            search: Arc::new(search),
            most_pairs,
            work_limit: limits.work_limit(),
        })
    }

    /// The gears, a `GearSet`.
    ///
    /// >>> search.gears
    /// GearSet([24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100])
    #[getter]
    fn gears<'py>(&self, py: Python<'py>) -> Made<'py> {
        let teeth = Vec::<u32>::from(self.search.set().clone());
        class!(py, "_gearing", "GearSet")?.call1((teeth,))
    }

    /// Most pairs of driver and driven, 1 to 3.
    ///
    /// >>> search.most_pairs
    /// 2
    #[getter]
    const fn most_pairs(&self) -> u8 {
        self.most_pairs
    }

    /// Teeth of clearance asked of compound trains; None for ratios alone.
    ///
    /// >>> search.mesh_allowance is None
    /// True
    #[getter]
    fn mesh_allowance(&self) -> Option<u16> {
        match self.search.mesh() {
            MeshRule::RatiosAlone => None,
            MeshRule::Clear { allowance_teeth } => Some(allowance_teeth),
        }
    }

    /// Whether all trains could be made ready within the limit of work.
    ///
    /// >>> search.complete
    /// True
    #[getter]
    fn complete(&self) -> bool {
        self.search.complete()
    }

    /// All trains of exactly this ratio (drivers over driven): an `ExactTrains`,
    /// the fewest gears first, then those that mesh best.
    ///
    /// Raises ValueError (one of this package) for a ratio that is none.
    ///
    /// >>> found = search.exact("9/7")
    /// >>> found.trains[0], found.complete
    /// (Train([72], [56]), True)
    #[pyo3(signature = (ratio, *, work_limit=None, progress=None))]
    fn exact<'py>(
        &self,
        py: Python<'py>,
        ratio: &Bound<'py, PyAny>,
        work_limit: Option<&Bound<'py, PyAny>>,
        progress: Option<&Bound<'py, PyAny>>,
    ) -> Made<'py> {
        let ratio = gear_ratio_of(ratio, "ratio")?;
        let search = Arc::clone(&self.search);
        let limits = Limits::read(work_limit, progress)?;
        let found = watched(py, &limits, move |meter| Ok(search.exact(ratio, meter)))?;
        let trains = found.trains.iter().map(|it| train(py, it));
        let trains = PyTuple::new(py, trains.collect::<PyResult<Vec<_>>>()?)?;
        class!(py, "_gearing", "ExactTrains")?.call1((
            fraction_of_ratio(py, ratio)?,
            trains,
            found.rows,
            found.complete,
        ))
    }

    /// The train nearest to a ratio, with the proof that none is nearer: a
    /// `NearestTrain`. A float stands for the binary number it is.
    ///
    /// Raises ValueError (one of this package) for a ratio that is none,
    /// WorkLimitError when no train was placed within the limit.
    ///
    /// >>> nearest = search.nearest(1.2857)
    /// >>> nearest.train, nearest.exact, round(nearest.error_ppm, 1)
    /// (Train([72], [56]), False, 11.1)
    #[pyo3(signature = (ratio, *, work_limit=None, progress=None))]
    fn nearest<'py>(
        &self,
        py: Python<'py>,
        ratio: &Bound<'py, PyAny>,
        work_limit: Option<&Bound<'py, PyAny>>,
        progress: Option<&Bound<'py, PyAny>>,
    ) -> Made<'py> {
        let target = target_of(ratio, "ratio")?;
        let search = Arc::clone(&self.search);
        let limits = Limits::read(work_limit, progress)?;
        let found = watched(py, &limits, move |meter| search.nearest(target, meter))?;
        nearest(py, &found)
    }

    /// Gears and table swivel for a helix: a `LeadGearing`, the train whose lead
    /// is nearest to the one wanted, proved nearest.
    ///
    /// `lead` and `screw_pitch` are exact lengths: text with a unit such as
    /// `"6.16 in"`, or an int or Fraction of millimetres. `diameter` is where the
    /// cutter lies along the helix, a length; `hand` is "right" or "left".
    /// The swivel is `atan(pi * diameter / lead)`; the machine's lead is worm
    /// ratio times screw pitch.
    ///
    /// Raises ValueError (one of this package) that names the argument.
    ///
    /// >>> spiral = search.lead("6.16 in", screw_pitch="0.25 in", diameter="1 in")
    /// >>> spiral.exact, round(spiral.swivel_deg, 2)
    /// (True, 27.02)
    #[pyo3(signature = (lead, *, screw_pitch, diameter, worm_ratio=None, hand=None,
                        work_limit=None, progress=None),
           text_signature = "($self, lead, *, screw_pitch, diameter, worm_ratio=40, \
               hand='right', work_limit=None, progress=None)")]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments of Python")]
    fn lead<'py>(
        &self,
        py: Python<'py>,
        lead: &Bound<'py, PyAny>,
        screw_pitch: &Bound<'py, PyAny>,
        diameter: &Bound<'py, PyAny>,
        worm_ratio: Option<&Bound<'py, PyAny>>,
        hand: Option<&Bound<'py, PyAny>>,
        work_limit: Option<&Bound<'py, PyAny>>,
        progress: Option<&Bound<'py, PyAny>>,
    ) -> Made<'py> {
        let usual = || core(|| GearRatio::new(40, 1));
        let right = PyString::new(py, "right").into_any();
        let helix = Helix {
            worm_ratio: worm_ratio.map_or_else(usual, |it| gear_ratio_of(it, "worm_ratio"))?,
            screw_pitch_mm: exact_length_of(screw_pitch, "screw_pitch")?,
            lead_mm: exact_length_of(lead, "lead")?,
            hand: choice_of(hand.unwrap_or(&right), "hand", "right, left")?,
            diameter: length_of(diameter, "diameter")?,
        };
        let search = Arc::clone(&self.search);
        let limits = Limits::read(work_limit, progress)?;
        let found = watched(py, &limits, move |meter| {
            lead_gearing(&search, &helix, meter)
        })?;
        let neighbour =
            |lead: Option<GearRatio>| lead.map(|lead| fraction_of_ratio(py, lead)).transpose();
        let (shorter, longer) = found.neighbouring_leads_mm;
        let sense = |sense| class!(py, "_enums", "Sense")?.call1((name_of(&sense)?,));
        class!(py, "_gearing", "LeadGearing")?.call1((
            train(py, &found.train)?,
            fraction_of_ratio(py, found.machine_lead_mm)?,
            fraction_of_ratio(py, found.attained_lead_mm)?,
            found.error_ppm,
            found.exact,
            (neighbour(shorter)?, neighbour(longer)?),
            found.complete,
            found.swivel_deg,
            sense(found.swivel_sense)?,
            sense(found.work_sense)?,
        ))
    }

    /// Which of many ratios can be made: a dict of every ratio that the gears
    /// make, a Fraction, to its first train, in the order of the ratios.
    ///
    /// Raises WorkLimitError at the limit.
    ///
    /// >>> from fractions import Fraction
    /// >>> search.ratios()[Fraction(9, 7)]
    /// Train([72], [56])
    #[pyo3(signature = (*, work_limit=None, progress=None))]
    fn ratios<'py>(
        &self,
        py: Python<'py>,
        work_limit: Option<&Bound<'py, PyAny>>,
        progress: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let search = Arc::clone(&self.search);
        let pairs = self.most_pairs.into();
        let limits = Limits::read(work_limit, progress)?;
        let index = watched(py, &limits, move |meter| {
            let index = RatioIndex::build(search.set(), pairs, search.mesh(), meter)?;
            if index.complete() {
                Ok(index)
            } else {
                Err(Error::new(
                    dividing_core::ErrorKind::WorkLimit,
                    "the limit of work came before all ratios were listed; allow more",
                ))
            }
        })?;
        let found = PyDict::new(py);
        for (place, (ratio, it)) in index.iter().enumerate() {
            if place.is_multiple_of(1000) {
                py.check_signals()?;
            }
            found.set_item(fraction_of_ratio(py, ratio)?, train(py, it)?)?;
        }
        Ok(found)
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let gears = self.gears(py)?.getattr("teeth")?;
        let teeth: Vec<u32> = gears.extract()?;
        let mut shown = format!("TrainSearch({teeth:?}");
        if self.most_pairs != 2 {
            shown.push_str(&format!(", most_pairs={}", self.most_pairs));
        }
        if let Some(allowance) = self.mesh_allowance() {
            shown.push_str(&format!(", mesh_allowance={allowance}"));
        }
        Ok(shown + ")")
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let again = class!(py, "_pickles", "search_again")?.clone();
        let teeth = Vec::<u32>::from(self.search.set().clone());
        let parts = (
            teeth,
            self.most_pairs,
            self.mesh_allowance(),
            self.work_limit,
        );
        Ok((again, parts.into_pyobject(py)?))
    }
}
