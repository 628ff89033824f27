//! Choosing the start hole, the ring or the pin pairs with known deviations.
//!
//! Every choice is looked at, so the best is the exact best.

use serde::{Deserialize, Serialize};

use crate::error::{AtField, Error, ErrorKind, Result};
use crate::work::Meter;

use super::numeric::{count, mean};
use super::ring::MAX_PLACES;

/// The known deviation of a place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct KnownDeviation {
    /// Where it stands less where it should, in radians.
    pub deviation_rad: f64,
    /// Its standard uncertainty in radians, 0 or more; taken as independent of
    /// the others.
    pub standard_uncertainty_rad: f64,
}

/// What the deviations of a pattern are counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Reference {
    /// As they are given: the zero of the plate is kept.
    Given,
    /// Their mean: the best fit in the sense of least squares.
    Mean,
    /// The shift that makes the worst least: the best fit in the sense of
    /// Chebyshev.
    Middle,
    /// The first feature of the pattern: a datum the others are clocked to.
    FirstFeature,
}

/// How a pattern is judged: by its worst feature.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Judging {
    /// What deviations are counted from.
    pub reference: Reference,
    /// Standard uncertainties added to each deviation's size, 0 or more: 0
    /// judges by what is known, 2 by what it may be.
    pub coverage_factor: f64,
    /// Largest deviation allowed for each feature in radians, above 0; then the
    /// worst share of its limit is judged instead of the worst deviation.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limits_rad: Option<Vec<f64>>,
}

/// A pattern judged.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Judged {
    /// The worst deviation in radians, with its uncertainty times the coverage
    /// factor added; or the worst share of a limit where limits are given.
    pub worst: f64,
    /// The feature that has it; the first of several.
    pub worst_feature: usize,
    /// Deviations of the features from the reference, in radians.
    pub deviations_rad: Vec<f64>,
}

/// The best of several choices, and what it is worth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Choice {
    /// Which one: the start place, the number of the list, …; the smallest of
    /// several equally good ones.
    pub best: usize,
    /// The best, judged.
    pub judged: Judged,
    /// The worst of all choices, in the same measure as [`Judged::worst`].
    pub worst_choice: f64,
    /// The mean over all choices.
    pub average_choice: f64,
    /// How many choices there were.
    pub choices: usize,
}

impl Choice {
    /// What the best choice saves over the worst one; never below 0.
    #[must_use]
    pub fn gain_over_worst(&self) -> f64 {
        self.worst_choice - self.judged.worst
    }

    /// What the best choice saves over choosing blindly; never below 0.
    #[must_use]
    pub fn gain_over_average(&self) -> f64 {
        self.average_choice - self.judged.worst
    }
}

/// Most features of a pattern.
const MAX_FEATURES: usize = MAX_PLACES;

/// Chooses the place where a pattern starts so that its worst feature is as
/// good as can be.
///
/// `known` holds the places of the ring, `None` where a place is absent or not
/// measured; `pattern` the places of the features counted from the start, each
/// below the number of places and named once. Starts that give the same set of
/// places count once, unless the first feature or the limits tell them apart.
///
/// # Errors
/// [`ErrorKind::NotFound`] when every start needs a missing place,
/// [`ErrorKind::OutOfRange`], [`ErrorKind::NotFinite`], [`ErrorKind::Duplicate`],
/// [`ErrorKind::EmptyList`], [`ErrorKind::Inconsistent`] for the wrong number of
/// limits, and the errors of the meter.
///
/// ```
/// use dividing_core::inspection::{Judging, KnownDeviation, Reference, choose_start};
/// use dividing_core::work::Meter;
/// // Six holes, two features opposite each other: holes 1 and 4 agree best.
/// let known: Vec<_> = [0.0, 2.0e-5, -3.0e-5, 4.0e-5, 1.0e-5, 5.0e-5]
///     .map(|deviation_rad| Some(KnownDeviation { deviation_rad, standard_uncertainty_rad: 0.0 }))
///     .to_vec();
/// let judging = Judging { reference: Reference::Middle, coverage_factor: 0.0, limits_rad: None };
/// let choice = choose_start(&known, &[0, 3], &judging, &mut Meter::default())?;
/// assert_eq!(choice.best, 1);
/// assert!((choice.judged.worst - 0.5e-5).abs() < 1e-18);
/// assert!((choice.worst_choice - 4.0e-5).abs() < 1e-18);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn choose_start(
    known: &[Option<KnownDeviation>],
    pattern: &[usize],
    judging: &Judging,
    meter: &mut Meter<'_>,
) -> Result<Choice> {
    let places = known.len();
    if !(1..=MAX_PLACES).contains(&places) {
        return Err(Error::out_of_range(places, format!("1 to {MAX_PLACES} places")).at("known"));
    }
    for (place, deviation) in known.iter().enumerate() {
        if let Some(deviation) = deviation {
            check_known(deviation).at(format!("known[{place}]"))?;
        }
    }
    check_pattern(places, pattern)?;
    judging.check(pattern.len())?;
    let alike = judging.reference != Reference::FirstFeature && judging.limits_rad.is_none();
    let starts = if alike {
        period(places, pattern)
    } else {
        places
    };
    let mut gathered = Gathered::default();
    let mut features = Vec::with_capacity(pattern.len());
    for start in 0..starts {
        meter.spend(judging.steps(pattern.len()))?;
        features.clear();
        features.extend(
            pattern
                .iter()
                .map_while(|offset| known[(start + offset) % places]),
        );
        if features.len() == pattern.len() {
            gathered.add(start, judging.judge(&features));
        }
    }
    gathered.choice().ok_or_else(|| {
        Error::new(
            ErrorKind::NotFound,
            "every start needs a place that is absent or was not measured",
        )
        .at("known")
    })
}

/// Chooses the list of deviations whose worst is least: one ring of several, or
/// one device of several, for the same features.
///
/// # Errors
/// As [`choose_start`]; every list must have the same length.
///
/// ```
/// use dividing_core::inspection::{Judging, KnownDeviation, Reference, choose_list};
/// let ring = |deviations: [f64; 3]| {
///     deviations
///         .map(|deviation_rad| KnownDeviation { deviation_rad, standard_uncertainty_rad: 0.0 })
///         .to_vec()
/// };
/// let lists = [ring([0.0, 3.0e-5, 0.0]), ring([1.0e-5, 0.0, 1.0e-5])];
/// let judging = Judging { reference: Reference::Given, coverage_factor: 0.0, limits_rad: None };
/// assert_eq!(choose_list(&lists, &judging)?.best, 1);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn choose_list(lists: &[Vec<KnownDeviation>], judging: &Judging) -> Result<Choice> {
    let Some(first) = lists.first() else {
        return Err(
            Error::new(ErrorKind::EmptyList, "there is nothing to choose from").at("lists"),
        );
    };
    if !(1..=MAX_FEATURES).contains(&first.len()) {
        return Err(
            Error::out_of_range(first.len(), format!("1 to {MAX_FEATURES} features"))
                .at("lists[0]"),
        );
    }
    judging.check(first.len())?;
    let mut gathered = Gathered::default();
    for (index, list) in lists.iter().enumerate() {
        if list.len() != first.len() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "{} features where the first list has {}",
                    list.len(),
                    first.len()
                ),
            )
            .at(format!("lists[{index}]")));
        }
        for (feature, deviation) in list.iter().enumerate() {
            check_known(deviation).at(format!("lists[{index}][{feature}]"))?;
        }
        gathered.add(index, judging.judge(list));
    }
    gathered
        .choice()
        .ok_or_else(|| Error::internal("a choice from a list that is not empty"))
}

pub(super) fn check_known(known: &KnownDeviation) -> Result<()> {
    if !known.deviation_rad.is_finite() || !known.standard_uncertainty_rad.is_finite() {
        return Err(Error::new(
            ErrorKind::NotFinite,
            format!(
                "{} ± {} is no deviation; accepted: finite numbers",
                known.deviation_rad, known.standard_uncertainty_rad
            ),
        ));
    }
    // More than a turn is no deviation; it also keeps every sum finite.
    if known.deviation_rad.abs() > 10.0 || !(0.0..=10.0).contains(&known.standard_uncertainty_rad) {
        return Err(Error::out_of_range(
            format!(
                "{} ± {} rad",
                known.deviation_rad, known.standard_uncertainty_rad
            ),
            "at most 10 rad either way, uncertainty 0 to 10 rad",
        ));
    }
    Ok(())
}

fn check_pattern(places: usize, pattern: &[usize]) -> Result<()> {
    if pattern.is_empty() {
        return Err(Error::new(
            ErrorKind::EmptyList,
            "the pattern has no feature; accepted: 1 and up",
        )
        .at("pattern"));
    }
    let mut used = vec![false; places];
    for (index, &offset) in pattern.iter().enumerate() {
        let Some(slot) = used.get_mut(offset) else {
            return Err(Error::out_of_range(offset, format!("0 to {}", places - 1))
                .at(format!("pattern[{index}]")));
        };
        if *slot {
            return Err(Error::new(
                ErrorKind::Duplicate,
                format!("place {offset} is named twice"),
            )
            .at(format!("pattern[{index}]")));
        }
        *slot = true;
    }
    Ok(())
}

/// Smallest turn, in places, that maps the pattern onto itself.
fn period(places: usize, pattern: &[usize]) -> usize {
    let mut used = vec![false; places];
    for &offset in pattern {
        used[offset] = true;
    }
    (1..places)
        .filter(|step| places.is_multiple_of(*step))
        .find(|step| pattern.iter().all(|offset| used[(offset + step) % places]))
        .unwrap_or(places)
}

impl Judging {
    pub(super) fn check(&self, features: usize) -> Result<()> {
        if !self.coverage_factor.is_finite() || !(0.0..=100.0).contains(&self.coverage_factor) {
            return Err(Error::out_of_range(self.coverage_factor, "0 to 100").at("coverage_factor"));
        }
        let Some(limits) = &self.limits_rad else {
            return Ok(());
        };
        if limits.len() != features {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!("{} limits for {features} features", limits.len()),
            )
            .at("limits"));
        }
        for (index, limit) in limits.iter().enumerate() {
            if !(1.0e-12..=10.0).contains(limit) {
                return Err(
                    Error::out_of_range(format!("{limit} rad"), "above 0, at most 10 rad")
                        .at(format!("limits[{index}]")),
                );
            }
        }
        Ok(())
    }

    /// Elementary steps of one judgement.
    fn steps(&self, features: usize) -> u64 {
        let features = features as u64;
        if self.reference == Reference::Middle && self.limits_rad.is_some() {
            features.saturating_mul(features)
        } else {
            features
        }
    }

    pub(super) fn limit(&self, feature: usize) -> f64 {
        self.limits_rad
            .as_ref()
            .and_then(|limits| limits.get(feature).copied())
            .unwrap_or(1.0)
    }

    /// Judges checked deviations (not empty).
    fn judge(&self, features: &[KnownDeviation]) -> Judged {
        let values: Vec<f64> = features.iter().map(|one| one.deviation_rad).collect();
        let first = features.first().copied().unwrap_or_default();
        let squares: f64 = features
            .iter()
            .map(|one| one.standard_uncertainty_rad.powi(2))
            .sum();
        let n = count(features.len());
        let zero = match self.reference {
            Reference::Given => 0.0,
            Reference::Mean => mean(&values),
            Reference::FirstFeature => first.deviation_rad,
            Reference::Middle => self.middle(features),
        };
        let mut judged = Judged {
            worst: 0.0,
            worst_feature: 0,
            deviations_rad: values.iter().map(|value| value - zero).collect(),
        };
        for (feature, known) in features.iter().enumerate() {
            let own = known.standard_uncertainty_rad.powi(2);
            let variance = match self.reference {
                Reference::Given | Reference::Middle => own,
                Reference::Mean => own * (1.0 - 2.0 / n) + squares / (n * n),
                Reference::FirstFeature if feature == 0 => 0.0,
                Reference::FirstFeature => own + first.standard_uncertainty_rad.powi(2),
            };
            let size = judged.deviations_rad[feature].abs()
                + self.coverage_factor * variance.max(0.0).sqrt();
            let share = size / self.limit(feature);
            if share > judged.worst {
                judged.worst = share;
                judged.worst_feature = feature;
            }
        }
        judged
    }

    /// The shift t that makes max (|dᵢ − t| + Uᵢ)/Lᵢ least. The least value is
    /// the largest of (|dᵢ − dⱼ| + Uᵢ + Uⱼ)/(Lᵢ + Lⱼ): below it two of the
    /// intervals `dᵢ ± (λLᵢ − Uᵢ)` would not meet, at it all do (Helly).
    fn middle(&self, features: &[KnownDeviation]) -> f64 {
        let widened = |one: &KnownDeviation| self.coverage_factor * one.standard_uncertainty_rad;
        if self.limits_rad.is_none() {
            let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
            for one in features {
                low = low.min(one.deviation_rad - widened(one));
                high = high.max(one.deviation_rad + widened(one));
            }
            return 0.5 * (low + high);
        }
        let mut least = 0.0_f64;
        for (i, one) in features.iter().enumerate() {
            for (j, other) in features.iter().enumerate().skip(i) {
                let apart = (one.deviation_rad - other.deviation_rad).abs();
                let needed = apart + widened(one) + widened(other);
                least = least.max(needed / (self.limit(i) + self.limit(j)));
            }
        }
        let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
        for (i, one) in features.iter().enumerate() {
            let room = least * self.limit(i) - widened(one);
            low = low.max(one.deviation_rad - room);
            high = high.min(one.deviation_rad + room);
        }
        0.5 * (low + high)
    }
}

/// Choices as they come.
#[derive(Default)]
struct Gathered {
    best: Option<(usize, Judged)>,
    worst: f64,
    sum: f64,
    choices: usize,
}

impl Gathered {
    fn add(&mut self, which: usize, judged: Judged) {
        self.worst = self.worst.max(judged.worst);
        self.sum += judged.worst;
        self.choices += 1;
        if self
            .best
            .as_ref()
            .is_none_or(|(_, best)| judged.worst < best.worst)
        {
            self.best = Some((which, judged));
        }
    }

    fn choice(self) -> Option<Choice> {
        let (best, judged) = self.best?;
        // The mean of equal numbers may round below them.
        let average = (self.sum / count(self.choices)).clamp(judged.worst, self.worst);
        Some(Choice {
            best,
            judged,
            worst_choice: self.worst,
            average_choice: average,
            choices: self.choices,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn known(values: &[f64]) -> Vec<Option<KnownDeviation>> {
        values
            .iter()
            .map(|&deviation_rad| {
                Some(KnownDeviation {
                    deviation_rad,
                    standard_uncertainty_rad: 0.0,
                })
            })
            .collect()
    }

    fn judging(reference: Reference) -> Judging {
        Judging {
            reference,
            coverage_factor: 0.0,
            limits_rad: None,
        }
    }

    #[test]
    fn absent_places_rule_starts_out() {
        let mut ring = known(&[0.0, 5e-5, 1e-5, 6e-5]);
        ring[0] = None;
        let meter = &mut Meter::default();
        let choice = choose_start(&ring, &[0, 2], &judging(Reference::Given), meter).unwrap();
        assert_eq!((choice.best, choice.choices), (1, 1));
        ring[1] = None;
        let error = choose_start(&ring, &[0, 2], &judging(Reference::Given), meter).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::NotFound);
    }

    #[test]
    fn bad_patterns_and_numbers_are_refused() {
        let ring = known(&[0.0; 4]);
        let meter = &mut Meter::default();
        let kind = |ring: &[Option<KnownDeviation>], pattern: &[usize], meter: &mut Meter<'_>| {
            choose_start(ring, pattern, &judging(Reference::Mean), meter)
                .unwrap_err()
                .kind()
        };
        assert_eq!(kind(&ring, &[], meter), ErrorKind::EmptyList);
        assert_eq!(kind(&ring, &[4], meter), ErrorKind::OutOfRange);
        assert_eq!(kind(&ring, &[1, 1], meter), ErrorKind::Duplicate);
        assert_eq!(kind(&[], &[0], meter), ErrorKind::OutOfRange);
        let bad = known(&[0.0, f64::NAN, 0.0]);
        assert_eq!(kind(&bad, &[0], meter), ErrorKind::NotFinite);
    }

    #[test]
    fn limits_pull_the_middle_towards_the_tighter_feature() {
        let features = [0.0, 3.0e-5].map(|deviation_rad| KnownDeviation {
            deviation_rad,
            standard_uncertainty_rad: 0.0,
        });
        let judging = Judging {
            reference: Reference::Middle,
            coverage_factor: 0.0,
            limits_rad: Some(vec![1.0e-5, 2.0e-5]),
        };
        let judged = judging.judge(&features);
        assert!((judged.worst - 1.0).abs() < 1e-12);
        assert!((judged.deviations_rad[0] + 1.0e-5).abs() < 1e-18);
    }
}
