//! Choosing pin pairs: one option for each feature.

use serde::{Deserialize, Serialize};

use crate::error::{AtField, Error, ErrorKind, Result};
use crate::work::Meter;

use super::choice::{Judging, KnownDeviation, Reference, check_known};
use super::numeric::{count, wrapped};

/// The best option for each feature, and what it is worth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PairChoice {
    /// For each feature the number of its option.
    pub options: Vec<usize>,
    /// The worst feature, measured as [`Judged::worst`](super::Judged::worst).
    pub worst: f64,
    /// The worst that a choice could have done.
    pub worst_choice: f64,
    /// The mean over all choices, each option of a feature as likely as the
    /// others.
    pub average_choice: f64,
}

/// How far a bar laid on two measured pins points from its nominal direction,
/// in radians, counter-clockwise; exact, from the centres in millimetres.
///
/// # Errors
/// [`ErrorKind::NotFinite`]; [`ErrorKind::Inconsistent`] when two centres
/// coincide.
///
/// ```
/// use dividing_core::inspection::bar_deviation_rad;
/// let found = bar_deviation_rad([[-40.0, 0.0], [40.0, 0.0]], [[-40.0, -0.004], [40.0, 0.004]])?;
/// assert!((found - 0.0001).abs() < 1e-12);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn bar_deviation_rad(nominal_mm: [[f64; 2]; 2], measured_mm: [[f64; 2]; 2]) -> Result<f64> {
    let direction = |pins: [[f64; 2]; 2], name: &str| {
        let (x, y) = (pins[1][0] - pins[0][0], pins[1][1] - pins[0][1]);
        if !(x.is_finite() && y.is_finite()) {
            return Err(Error::new(
                ErrorKind::NotFinite,
                "a pin centre is not finite; accepted: finite millimetres",
            )
            .at(name));
        }
        if x == 0.0 && y == 0.0 {
            return Err(Error::new(ErrorKind::Inconsistent, "both pins lie at one place").at(name));
        }
        Ok(y.atan2(x))
    };
    Ok(wrapped(
        direction(measured_mm, "measured")? - direction(nominal_mm, "nominal")?,
    ))
}

/// Chooses one option for each feature so that the worst feature is as good as
/// can be: which pair of pins to lay the bar on for each of the angles.
///
/// The mean of a free choice depends on all options at once, so
/// [`Reference::Mean`] is not offered here; the [`Reference::Middle`] gives the
/// least worst deviation there is. With the middle, limits must be equal.
///
/// # Errors
/// [`ErrorKind::EmptyList`] for no feature or a feature without option,
/// [`ErrorKind::Inconsistent`] for a reference or limits that are not offered,
/// [`ErrorKind::NotFinite`], [`ErrorKind::OutOfRange`] and the errors of the meter.
///
/// ```
/// use dividing_core::inspection::{Judging, KnownDeviation, Reference, choose_pairs};
/// use dividing_core::work::Meter;
/// let option = |deviation_rad| KnownDeviation { deviation_rad, standard_uncertainty_rad: 0.0 };
/// let options = [
///     vec![option(0.0), option(9.0e-5)],
///     vec![option(5.0e-5), option(8.0e-5)],
/// ];
/// let judging = Judging { reference: Reference::Middle, coverage_factor: 0.0, limits_rad: None };
/// let choice = choose_pairs(&options, &judging, &mut Meter::default())?;
/// assert_eq!(choice.options, [1, 1]);
/// assert!((choice.worst - 0.5e-5).abs() < 1e-18);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn choose_pairs(
    options: &[Vec<KnownDeviation>],
    judging: &Judging,
    meter: &mut Meter<'_>,
) -> Result<PairChoice> {
    if options.is_empty() {
        return Err(Error::new(ErrorKind::EmptyList, "there is no feature").at("options"));
    }
    judging.check(options.len())?;
    for (feature, list) in options.iter().enumerate() {
        if list.is_empty() {
            return Err(Error::new(
                ErrorKind::EmptyList,
                format!("feature {feature} has no option"),
            )
            .at(format!("options[{feature}]")));
        }
        for (index, known) in list.iter().enumerate() {
            check_known(known).at(format!("options[{feature}][{index}]"))?;
        }
    }
    match judging.reference {
        Reference::Given => {
            let sizes = sizes(options, judging, None);
            meter.spend(work(&sizes))?;
            Ok(independent(&sizes))
        }
        Reference::FirstFeature => clocked(options, judging, meter),
        Reference::Middle => smallest_range(options, judging, meter),
        Reference::Mean => Err(Error::new(
            ErrorKind::Inconsistent,
            "the mean is not offered when each feature has its own options; \
             accepted: given, middle, first feature",
        )
        .at("reference")),
    }
}

/// For each feature the judged size of each option, against a datum if given.
fn sizes(
    options: &[Vec<KnownDeviation>],
    judging: &Judging,
    datum: Option<KnownDeviation>,
) -> Vec<Vec<f64>> {
    let zero = datum.unwrap_or_default();
    options
        .iter()
        .enumerate()
        .map(|(feature, list)| {
            list.iter()
                .map(|one| {
                    let uncertainty = one
                        .standard_uncertainty_rad
                        .hypot(zero.standard_uncertainty_rad);
                    let size = (one.deviation_rad - zero.deviation_rad).abs()
                        + judging.coverage_factor * uncertainty;
                    size / judging.limit(feature)
                })
                .collect()
        })
        .collect()
}

fn work(lists: &[Vec<f64>]) -> u64 {
    let total: usize = lists.iter().map(Vec::len).sum();
    (total as u64).saturating_mul(lists.len() as u64)
}

/// Every feature takes its own least.
fn independent(sizes: &[Vec<f64>]) -> PairChoice {
    let mut choice = PairChoice {
        options: Vec::with_capacity(sizes.len()),
        worst: 0.0,
        worst_choice: 0.0,
        average_choice: 0.0,
    };
    for list in sizes {
        let (mut best, mut least) = (0, f64::INFINITY);
        for (index, &size) in list.iter().enumerate() {
            if size < least {
                (best, least) = (index, size);
            }
            choice.worst_choice = choice.worst_choice.max(size);
        }
        choice.options.push(best);
        choice.worst = choice.worst.max(least);
    }
    choice.average_choice = mean_of_largest(sizes).clamp(choice.worst, choice.worst_choice);
    choice
}

/// The mean of the largest of independent choices, one from each list.
fn mean_of_largest(lists: &[Vec<f64>]) -> f64 {
    let mut all: Vec<(f64, usize)> = lists
        .iter()
        .enumerate()
        .flat_map(|(feature, list)| list.iter().map(move |&value| (value, feature)))
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut below = vec![0_usize; lists.len()];
    let mut probability = 0.0;
    let mut sum = 0.0;
    for (value, feature) in all {
        below[feature] += 1;
        let next: f64 = below
            .iter()
            .zip(lists)
            .map(|(&those, list)| count(those) / count(list.len()))
            .product();
        sum += value * (next - probability);
        probability = next;
    }
    sum
}

/// The first feature is the datum: each of its options in turn.
fn clocked(
    options: &[Vec<KnownDeviation>],
    judging: &Judging,
    meter: &mut Meter<'_>,
) -> Result<PairChoice> {
    let Some((datums, rest)) = options.split_first() else {
        return Err(Error::internal("a pattern without features"));
    };
    let rest_judging = Judging {
        limits_rad: judging
            .limits_rad
            .as_ref()
            .map(|limits| limits.iter().skip(1).copied().collect()),
        ..judging.clone()
    };
    let mut best: Option<PairChoice> = None;
    let (mut worst_choice, mut sum) = (0.0_f64, 0.0);
    for (index, &datum) in datums.iter().enumerate() {
        let sizes = sizes(rest, &rest_judging, Some(datum));
        meter.spend(work(&sizes))?;
        let mut one = independent(&sizes);
        one.options.insert(0, index);
        worst_choice = worst_choice.max(one.worst_choice);
        sum += one.average_choice;
        if best.as_ref().is_none_or(|b| one.worst < b.worst) {
            best = Some(one);
        }
    }
    let mut best = best.ok_or_else(|| Error::internal("a feature without options"))?;
    best.worst_choice = worst_choice;
    best.average_choice = (sum / count(datums.len())).clamp(best.worst, worst_choice);
    Ok(best)
}

/// One interval from each list so that their common span is least: for every
/// possible lower end, each feature takes the interval that ends first.
fn smallest_range(
    options: &[Vec<KnownDeviation>],
    judging: &Judging,
    meter: &mut Meter<'_>,
) -> Result<PairChoice> {
    let limit = judging.limit(0);
    if (0..options.len()).any(|feature| judging.limit(feature).total_cmp(&limit).is_ne()) {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            "with the middle as reference all features must have the same limit",
        )
        .at("limits"));
    }
    let ends = |one: &KnownDeviation| {
        let wide = judging.coverage_factor * one.standard_uncertainty_rad;
        (one.deviation_rad - wide, one.deviation_rad + wide)
    };
    let lows: Vec<Vec<f64>> = map_lists(options, |one| ends(one).0);
    let highs: Vec<Vec<f64>> = map_lists(options, |one| ends(one).1);
    let mut thresholds: Vec<f64> = lows.iter().flatten().copied().collect();
    thresholds.sort_by(f64::total_cmp);
    thresholds.dedup();

    let mut best: Option<(f64, Vec<usize>)> = None;
    'thresholds: for &threshold in &thresholds {
        meter.spend(lows.iter().map(|list| list.len() as u64).sum())?;
        let mut chosen = Vec::with_capacity(options.len());
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for (low_list, high_list) in lows.iter().zip(&highs) {
            let mut pick: Option<usize> = None;
            for (index, &option_low) in low_list.iter().enumerate() {
                if option_low >= threshold && pick.is_none_or(|p| high_list[index] < high_list[p]) {
                    pick = Some(index);
                }
            }
            // Higher thresholds leave this feature without option as well.
            let Some(index) = pick else { break 'thresholds };
            low = low.min(low_list[index]);
            high = high.max(high_list[index]);
            chosen.push(index);
        }
        if best.as_ref().is_none_or(|(span, _)| high - low < *span) {
            best = Some((high - low, chosen));
        }
    }
    let (span, options_chosen) =
        best.ok_or_else(|| Error::internal("a feature without options"))?;
    let negative_lows: Vec<Vec<f64>> = lows
        .iter()
        .map(|list| list.iter().map(|value| -value).collect())
        .collect();
    meter.spend(work(&lows).saturating_mul(2))?;
    let average_span = mean_of_largest(&highs) + mean_of_largest(&negative_lows);
    let worst_span = widest_span(&lows, &highs);
    let measure = |span: f64| 0.5 * span / limit;
    Ok(PairChoice {
        options: options_chosen,
        worst: measure(span),
        worst_choice: measure(worst_span.max(span)),
        average_choice: measure(average_span).clamp(measure(span), measure(worst_span.max(span))),
    })
}

fn map_lists(
    options: &[Vec<KnownDeviation>],
    value: impl Fn(&KnownDeviation) -> f64,
) -> Vec<Vec<f64>> {
    options
        .iter()
        .map(|list| list.iter().map(&value).collect())
        .collect()
}

/// The widest span that a choice of one interval from each list can have.
fn widest_span(lows: &[Vec<f64>], highs: &[Vec<f64>]) -> f64 {
    let least = |list: &[f64]| list.iter().copied().fold(f64::INFINITY, f64::min);
    let most = |list: &[f64]| list.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut widest = f64::NEG_INFINITY;
    // Two lowest starts, so that the highest end can find another feature's.
    let (mut first, mut second, mut owner) = (f64::INFINITY, f64::INFINITY, 0);
    for (feature, list) in lows.iter().enumerate() {
        let low = least(list);
        if low < first {
            (second, first, owner) = (first, low, feature);
        } else {
            second = second.min(low);
        }
    }
    for (feature, list) in highs.iter().enumerate() {
        let other = if feature == owner { second } else { first };
        widest = widest.max(most(list) - other);
        for (low, high) in lows[feature].iter().zip(list) {
            widest = widest.max(high - low);
        }
    }
    widest
}

#[cfg(test)]
mod tests {
    use super::*;

    /// All combinations, judged one by one.
    fn brute_force(options: &[Vec<KnownDeviation>], judging: &Judging) -> (f64, f64, f64) {
        let mut index = vec![0; options.len()];
        let (mut best, mut worst, mut sum, mut number) = (f64::INFINITY, 0.0_f64, 0.0, 0.0);
        loop {
            let list: Vec<KnownDeviation> = index.iter().zip(options).map(|(&i, o)| o[i]).collect();
            let value = super::super::choose_list(&[list], judging)
                .unwrap()
                .judged
                .worst;
            best = best.min(value);
            worst = worst.max(value);
            sum += value;
            number += 1.0;
            let Some(place) = (0..index.len()).find(|&p| index[p] + 1 < options[p].len()) else {
                return (best, worst, sum / number);
            };
            index[place] += 1;
            index[..place].fill(0);
        }
    }

    #[test]
    fn agrees_with_all_combinations() {
        let mut state = 7_u64;
        let mut random = || {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            f64::from(u32::try_from(state >> 40).unwrap()) / f64::from(1_u32 << 24) - 0.5
        };
        for reference in [Reference::Given, Reference::Middle, Reference::FirstFeature] {
            for coverage_factor in [0.0, 2.0] {
                let options: Vec<Vec<KnownDeviation>> = [3, 1, 4, 2, 3]
                    .iter()
                    .map(|&n| {
                        (0..n)
                            .map(|_| KnownDeviation {
                                deviation_rad: random() * 1e-4,
                                standard_uncertainty_rad: random().abs() * 1e-5,
                            })
                            .collect()
                    })
                    .collect();
                let judging = Judging {
                    reference,
                    coverage_factor,
                    limits_rad: None,
                };
                let choice = choose_pairs(&options, &judging, &mut Meter::default()).unwrap();
                let (best, worst, average) = brute_force(&options, &judging);
                assert!((choice.worst - best).abs() < 1e-15, "{reference:?}");
                assert!((choice.worst_choice - worst).abs() < 1e-15, "{reference:?}");
                assert!(
                    (choice.average_choice - average).abs() < 1e-15,
                    "{reference:?}"
                );
                let chosen: Vec<KnownDeviation> = choice
                    .options
                    .iter()
                    .zip(&options)
                    .map(|(&i, list)| list[i])
                    .collect();
                let again = super::super::choose_list(&[chosen], &judging).unwrap();
                assert!((again.judged.worst - best).abs() < 1e-15);
            }
        }
    }
}
