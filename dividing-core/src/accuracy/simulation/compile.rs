//! From the features of a job to a program of draws.

use std::collections::HashMap;

use super::program::{FeatureProgram, Limits, OwnDraw, Program, SharedDraw, Zero};
use super::random::{Sampler, sine_and_cosine};
use super::{Datum, Referencing, SimulatedInput, Simulation, SimulationDetail};
use crate::accuracy::contributor::{Contributor, Distribution, Persistence};
use crate::accuracy::probability::{check_finite, check_not_negative};
use crate::error::{AtField, Error, ErrorKind, Result, quoted};

/// Largest number of features of one simulation.
const MAX_FEATURES: usize = 20_000;

/// What makes two draws one: its name, and the place unless it is the job's.
type Cause<'a> = (&'a str, Option<&'a str>);

fn cause<'a>(contributor: &'a Contributor, place: Option<&'a str>) -> Option<Cause<'a>> {
    match contributor.persistence {
        Persistence::NewAtSeating => None,
        Persistence::FixedForPlace => place.map(|place| (contributor.name.as_ref(), Some(place))),
        Persistence::FixedForJob => Some((contributor.name.as_ref(), None)),
    }
}

/// The values of all distributions of samples, equal ones kept once.
#[derive(Default)]
struct Table<'a> {
    values: Vec<f64>,
    kept: Vec<(&'a Distribution, Sampler)>,
}

impl<'a> Table<'a> {
    fn samples(&mut self, distribution: &'a Distribution) -> Sampler {
        if let Some((_, sampler)) = self.kept.iter().find(|(it, _)| *it == distribution) {
            return *sampler;
        }
        let first = self.values.len();
        self.values.extend(distribution.relative_samples());
        let count = self.values.len() - first;
        let sampler = Sampler::Samples { first, count };
        self.kept.push((distribution, sampler));
        sampler
    }
}

fn sampler<'a>(contributor: &'a Contributor, table: &mut Table<'a>) -> Sampler {
    match contributor.distribution {
        Distribution::Samples { .. } => table.samples(&contributor.distribution),
        Distribution::Uniform => Sampler::Uniform,
        Distribution::Normal { .. } => Sampler::Normal,
        Distribution::Triangular => Sampler::Triangular,
        Distribution::UShaped => Sampler::UShaped,
        Distribution::UniformInDisc => Sampler::Disc,
    }
}

/// Radians for one unit of the sampler.
fn scale_rad(contributor: &Contributor) -> f64 {
    let scale = contributor.limit * contributor.sensitivity;
    match contributor.distribution {
        Distribution::Normal { sigmas_at_limit } => scale / sigmas_at_limit,
        _ => scale,
    }
}

pub(super) fn program(simulation: &Simulation) -> Result<Program> {
    check(simulation)?;
    let uses = count_uses(simulation);
    let mut rows: HashMap<Cause<'_>, (usize, &SimulatedInput)> = HashMap::new();
    let mut table = Table::default();
    let mut shared = Vec::new();
    let mut shared_rows = 0;
    let mut features = Vec::with_capacity(simulation.features.len());
    for (index, feature) in simulation.features.iter().enumerate() {
        let mut made = FeatureProgram {
            residual_rad: feature.residual_rad,
            ..FeatureProgram::default()
        };
        for (input_index, input) in feature.inputs.iter().enumerate() {
            let contributor = &input.contributor;
            let scale = scale_rad(contributor);
            let cause = cause(contributor, input.place.as_deref())
                .filter(|cause| uses.get(cause).is_some_and(|uses| *uses > 1));
            let Some(cause) = cause else {
                made.own.push(OwnDraw {
                    sampler: sampler(contributor, &mut table),
                    scale,
                    reseated: contributor.persistence == Persistence::NewAtSeating,
                });
                continue;
            };
            let (row, first) = *rows.entry(cause).or_insert_with(|| {
                let row = shared_rows;
                shared.push(shared_draw(input, &mut table));
                shared_rows += 1 + usize::from(input.direction_rad.is_some());
                (row, input)
            });
            if !one_draw(first, input) {
                return Err(Error::new(
                    ErrorKind::Inconsistent,
                    format!(
                        "{} is shared with another feature that gives it another limit, unit, \
                         distribution or sort of draw; accepted: the same, or another name or place",
                        quoted(&contributor.name)
                    ),
                )
                .at(format!("features[{index}].inputs[{input_index}]")));
            }
            if let Some(direction_rad) = input.direction_rad {
                let (sine, cosine) = sine_and_cosine(direction_rad);
                made.shared.push((row, scale * cosine));
                made.shared.push((row + 1, scale * sine));
            } else {
                made.shared.push((row, scale));
            }
        }
        features.push(made);
    }
    for eccentricity in &simulation.eccentricities {
        shared.push(SharedDraw::Pair {
            in_disc: eccentricity.anywhere_in_disc,
        });
        for (made, feature) in features.iter_mut().zip(&simulation.features) {
            // sin(θ − ψ) = sin θ cos ψ − cos θ sin ψ.
            let (sine, cosine) = sine_and_cosine(feature.angle_rad);
            let limit = eccentricity.limit_rad;
            made.shared.push((shared_rows, limit * sine));
            made.shared.push((shared_rows + 1, -limit * cosine));
        }
        shared_rows += 2;
    }
    let limits = &simulation.limits;
    Ok(Program {
        features,
        shared,
        shared_rows,
        table: table.values,
        chained: simulation.referencing == Referencing::Chained,
        whole_turn: simulation.whole_turn,
        zero: match simulation.datum {
            Datum::Mean => Zero::Mean,
            Datum::Middle => Zero::Middle,
            Datum::Feature(number) => Zero::Feature(number),
            Datum::Setting => Zero::Setting,
        },
        per_feature: simulation.detail == SimulationDetail::Features,
        limited: limits.deviation_rad.is_some()
            || limits.single_pitch_rad.is_some()
            || limits.cumulative_pitch_rad.is_some(),
        limits: Limits {
            deviation: limits.deviation_rad.unwrap_or(f64::INFINITY),
            single_pitch: limits.single_pitch_rad.unwrap_or(f64::INFINITY),
            cumulative_pitch: limits.cumulative_pitch_rad.unwrap_or(f64::INFINITY),
        },
    })
}

fn shared_draw<'a>(input: &'a SimulatedInput, table: &mut Table<'a>) -> SharedDraw {
    match input.direction_rad {
        None => SharedDraw::Single(sampler(&input.contributor, table)),
        Some(_) => SharedDraw::Pair {
            in_disc: input.contributor.distribution == Distribution::UniformInDisc,
        },
    }
}

fn one_draw(one: &SimulatedInput, two: &SimulatedInput) -> bool {
    let alike = |one: &Contributor, two: &Contributor| {
        one.limit.to_bits() == two.limit.to_bits()
            && one.unit == two.unit
            && one.distribution == two.distribution
    };
    alike(&one.contributor, &two.contributor)
        && one.direction_rad.is_some() == two.direction_rad.is_some()
}

fn check_direction(input: &SimulatedInput) -> Result<()> {
    let Some(direction_rad) = input.direction_rad else {
        return Ok(());
    };
    check_finite(direction_rad, "direction_rad").at("direction_rad")?;
    match input.contributor.distribution {
        Distribution::UniformInDisc | Distribution::UShaped => Ok(()),
        _ => Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "{} has a direction but is no point in a disc or on its rim; accepted: the \
                 distribution uniform_in_disc or u_shaped, or no direction",
                quoted(&input.contributor.name)
            ),
        )
        .at("direction_rad")),
    }
}

fn count_uses(simulation: &Simulation) -> HashMap<Cause<'_>, usize> {
    let mut uses = HashMap::new();
    for input in simulation
        .features
        .iter()
        .flat_map(|feature| &feature.inputs)
    {
        if let Some(cause) = cause(&input.contributor, input.place.as_deref()) {
            *uses.entry(cause).or_default() += 1;
        }
    }
    uses
}

fn check(simulation: &Simulation) -> Result<()> {
    let count = simulation.features.len();
    if count == 0 {
        return Err(Error::new(
            ErrorKind::EmptyList,
            "a simulation needs at least one feature",
        )
        .at("features"));
    }
    if count > MAX_FEATURES {
        return Err(Error::out_of_range(
            format!("{count} features"),
            format!("1 to {MAX_FEATURES}"),
        )
        .at("features"));
    }
    for (index, feature) in simulation.features.iter().enumerate() {
        let mut largest = feature.residual_rad.abs();
        check_finite(feature.residual_rad, "residual_rad")
            .at(format!("features[{index}].residual_rad"))?;
        check_finite(feature.angle_rad, "angle_rad").at(format!("features[{index}].angle_rad"))?;
        for (input_index, input) in feature.inputs.iter().enumerate() {
            input.contributor.check().at(format!(
                "features[{index}].inputs[{input_index}].contributor"
            ))?;
            check_direction(input).at(format!("features[{index}].inputs[{input_index}]"))?;
            largest += scale_rad(&input.contributor).abs();
        }
        check_size(largest).at(format!("features[{index}]"))?;
    }
    for (index, eccentricity) in simulation.eccentricities.iter().enumerate() {
        let at = format!("eccentricities[{index}].limit_rad");
        check_not_negative(eccentricity.limit_rad, "limit_rad").at(&at)?;
        check_size(eccentricity.limit_rad).at(&at)?;
    }
    if let Datum::Feature(number) = simulation.datum
        && number >= count
    {
        return Err(Error::new(
            ErrorKind::NotFound,
            format!(
                "feature {number} does not exist; accepted: 0 to {}",
                count - 1
            ),
        )
        .at("datum"));
    }
    let limits = &simulation.limits;
    for (limit, field) in [
        (limits.deviation_rad, "deviation_rad"),
        (limits.single_pitch_rad, "single_pitch_rad"),
        (limits.cumulative_pitch_rad, "cumulative_pitch_rad"),
    ] {
        if let Some(limit) = limit {
            check_not_negative(limit, "limit").at(format!("limits.{field}"))?;
        }
    }
    if limits.deviation_rad.is_some() && simulation.detail != SimulationDetail::Features {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            "a limit of deviation needs the deviations of the features; set detail to features",
        )
        .at("limits.deviation_rad"));
    }
    Ok(())
}

/// Largest deviation that a simulation takes, in radians: far beyond a turn,
/// and far below where squares overflow.
const MAX_DEVIATION_RAD: f64 = 1e6;

fn check_size(largest_rad: f64) -> Result<()> {
    if largest_rad <= MAX_DEVIATION_RAD {
        Ok(())
    } else {
        Err(Error::out_of_range(
            format!("a deviation of {largest_rad} rad"),
            format!("at most {MAX_DEVIATION_RAD} rad"),
        ))
    }
}
