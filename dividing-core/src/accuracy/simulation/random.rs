//! Random numbers for the simulation: sixteen xoshiro256++ generators side by
//! side (Blackman and Vigna, ACM Trans. Math. Softw. 47, 2021), and samplers
//! that use nothing but additions, multiplications, divisions and square
//! roots, so that every machine gets the same numbers.
//!
//! Everything here is always inlined: the caller compiles it once for each
//! level of vector instructions.

use std::f64::consts::{FRAC_PI_2, LN_2};

/// Generators side by side.
const LANES: usize = 16;

/// Trials that are worked on together.
pub(super) const BLOCK: usize = 128;

/// One value for each trial of a block.
pub(super) type Block = [f64; BLOCK];

/// Increment of SplitMix64.
const GOLDEN: u64 = 0x9E37_79B9_7F4A_7C15;

/// The output function of SplitMix64, a bijection of 64 bits.
const fn mixed(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

/// The seed of one lane of one stream. Lanes of all streams have different
/// seeds, since both steps are bijections.
const fn lane_seed(seed: u64, stream: u64, lane: u64) -> u64 {
    let number = stream.wrapping_mul(LANES as u64).wrapping_add(lane);
    mixed(mixed(seed.wrapping_add(GOLDEN)).wrapping_add(number.wrapping_mul(GOLDEN)))
}

/// The generators of one stream.
#[derive(Clone, Copy)]
pub(super) struct Lanes {
    state: [[u64; LANES]; 4],
}

impl Lanes {
    /// The generators of a stream of a seed; each lane is seeded through
    /// SplitMix64, as the authors of the generator advise.
    pub(super) fn of_stream(seed: u64, stream: u64) -> Self {
        let mut state = [[0; LANES]; 4];
        for lane in 0..LANES {
            let mut counter = lane_seed(seed, stream, lane as u64);
            for word in &mut state {
                counter = counter.wrapping_add(GOLDEN);
                if let Some(place) = word.get_mut(lane) {
                    *place = mixed(counter);
                }
            }
        }
        Self { state }
    }

    #[inline(always)]
    fn step(&mut self, out: &mut [u64; LANES]) {
        let [s0, s1, s2, s3] = &mut self.state;
        for lane in 0..LANES {
            out[lane] = s0[lane]
                .wrapping_add(s3[lane])
                .rotate_left(23)
                .wrapping_add(s0[lane]);
            let shifted = s1[lane] << 17;
            let two = s2[lane] ^ s0[lane];
            let three = s3[lane] ^ s1[lane];
            s1[lane] ^= two;
            s0[lane] ^= three;
            s2[lane] = two ^ shifted;
            s3[lane] = three.rotate_left(45);
        }
    }

    /// Fills a buffer whose length is a multiple of the lanes.
    #[inline(always)]
    fn fill(&mut self, bits: &mut [u64]) {
        // A copy that lives in registers.
        let mut lanes = *self;
        for part in bits.as_chunks_mut::<LANES>().0 {
            lanes.step(part);
        }
        *self = lanes;
    }
}

/// From 1 to below 2, from the upper 52 bits.
#[inline(always)]
fn one_to_two(bits: u64) -> f64 {
    f64::from_bits((bits >> 12) | 0x3FF0_0000_0000_0000)
}

/// From 0 to below 1.
#[inline(always)]
fn unit(bits: u64) -> f64 {
    one_to_two(bits) - 1.0
}

/// From −1 to below 1.
#[inline(always)]
fn symmetric(bits: u64) -> f64 {
    f64::from_bits((bits >> 12) | 0x4000_0000_0000_0000) - 3.0
}

/// sin(π x/2) for x from −1 to 1: Taylor's series to x^17, error below 5e-14.
#[inline(always)]
fn sine_of_quarter(x: f64) -> f64 {
    const A1: f64 = FRAC_PI_2;
    const SQUARE: f64 = FRAC_PI_2 * FRAC_PI_2;
    const A3: f64 = -A1 * SQUARE / 6.0;
    const A5: f64 = -A3 * SQUARE / 20.0;
    const A7: f64 = -A5 * SQUARE / 42.0;
    const A9: f64 = -A7 * SQUARE / 72.0;
    const A11: f64 = -A9 * SQUARE / 110.0;
    const A13: f64 = -A11 * SQUARE / 156.0;
    const A15: f64 = -A13 * SQUARE / 210.0;
    const A17: f64 = -A15 * SQUARE / 272.0;
    let z = x * x;
    let low = A1 + z * (A3 + z * (A5 + z * (A7 + z * A9)));
    let z2 = z * z;
    let z5 = z2 * z2 * z;
    let high = A11 + z * (A13 + z * (A15 + z * A17));
    x * (low + z5 * high)
}

/// cos(π x/2) for x from −1 to 1: Taylor's series to x^18, error below 4e-15.
#[inline(always)]
fn cosine_of_quarter(x: f64) -> f64 {
    const SQUARE: f64 = FRAC_PI_2 * FRAC_PI_2;
    const A2: f64 = -SQUARE / 2.0;
    const A4: f64 = -A2 * SQUARE / 12.0;
    const A6: f64 = -A4 * SQUARE / 30.0;
    const A8: f64 = -A6 * SQUARE / 56.0;
    const A10: f64 = -A8 * SQUARE / 90.0;
    const A12: f64 = -A10 * SQUARE / 132.0;
    const A14: f64 = -A12 * SQUARE / 182.0;
    const A16: f64 = -A14 * SQUARE / 240.0;
    const A18: f64 = -A16 * SQUARE / 306.0;
    let z = x * x;
    let low = 1.0 + z * (A2 + z * (A4 + z * (A6 + z * A8)));
    let z2 = z * z;
    let z5 = z2 * z2 * z;
    let high = A10 + z * (A12 + z * (A14 + z * (A16 + z * A18)));
    low + z5 * high
}

/// Sine and cosine of an angle in radians, the same on every machine; error
/// below 1e-13 within some turns.
pub(super) fn sine_and_cosine(angle_rad: f64) -> (f64, f64) {
    let quarters = angle_rad / FRAC_PI_2;
    let whole = quarters.round();
    let rest = quarters - whole;
    let (sine, cosine) = (sine_of_quarter(rest), cosine_of_quarter(rest));
    match whole.rem_euclid(4.0) {
        turn if turn < 0.5 => (sine, cosine),
        turn if turn < 1.5 => (cosine, -sine),
        turn if turn < 2.5 => (-sine, -cosine),
        _ => (-cosine, sine),
    }
}

/// Natural logarithm of a normal number from 2^−52 to 1, error below 1e-15
/// relative: `ln m = 2 atanh((m − 1)/(m + 1))` for the fraction m from √½ to √2.
#[inline(always)]
fn logarithm(u: f64) -> f64 {
    // √½'s bits divide the fractions that are doubled from those that are not.
    const HALF_ROOT: u64 = 0x3FE6_A09E_667F_3BCD;
    let bits = u.to_bits();
    let raised = bits.wrapping_add(0x3FF0_0000_0000_0000 - HALF_ROOT);
    let exponent_bits = raised >> 52;
    let fraction = f64::from_bits((raised & 0x000F_FFFF_FFFF_FFFF).wrapping_add(HALF_ROOT));
    // The exponent as a float by the place of its bits: 2^52 + exponent.
    let exponent = f64::from_bits(exponent_bits | 0x4330_0000_0000_0000) - 4_503_599_627_371_519.0;
    let s = (fraction - 1.0) / (fraction + 1.0);
    let z = s * s;
    let z2 = z * z;
    let low = 1.0 + z * (1.0 / 3.0 + z * (1.0 / 5.0 + z * (1.0 / 7.0)));
    let high = 1.0 / 9.0
        + z * (1.0 / 11.0 + z * (1.0 / 13.0 + z * (1.0 / 15.0 + z * (1.0 / 17.0 + z / 19.0))));
    exponent * LN_2 + 2.0 * s * (low + z2 * z2 * high)
}

/// A distribution about zero, in its own standard form.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Sampler {
    /// Uniform from −1 to 1.
    Uniform,
    /// Standard normal.
    Normal,
    /// Triangular from −1 to 1.
    Triangular,
    /// Arc sine from −1 to 1.
    UShaped,
    /// One coordinate of a point in the unit disc.
    Disc,
    /// One of the values of a table: those from `first`, so many of them.
    Samples { first: usize, count: usize },
}

/// Room for the random bits of one block.
pub(super) struct Scratch {
    first: [u64; BLOCK],
    second: [u64; BLOCK],
}

impl Scratch {
    pub(super) const fn new() -> Self {
        Self {
            first: [0; BLOCK],
            second: [0; BLOCK],
        }
    }
}

impl Sampler {
    /// Draws one value for each trial and adds `scale` times it to `sums`;
    /// samples are taken from the `table`.
    #[inline(always)]
    pub(super) fn add_to(
        self,
        lanes: &mut Lanes,
        scratch: &mut Scratch,
        table: &[f64],
        scale: f64,
        sums: &mut Block,
    ) {
        // Random bits of one kind, drawn in one place: the code stays small.
        let (first, second) = match self {
            Self::Samples { .. } | Self::Uniform | Self::UShaped => (BLOCK, 0),
            Self::Triangular | Self::Disc => (BLOCK, BLOCK),
            Self::Normal => (BLOCK / 2, BLOCK / 2),
        };
        for (bits, count) in [(&mut scratch.first, first), (&mut scratch.second, second)] {
            lanes.fill(bits.get_mut(..count).unwrap_or_default());
        }
        match self {
            // The part of the table that the unit interval falls on.
            Self::Samples { first, count } => {
                let values = table.get(first..).unwrap_or_default();
                #[allow(clippy::cast_precision_loss, reason = "at most a million values")]
                let parts = count as f64;
                for (sum, bits) in sums.iter_mut().zip(&scratch.first) {
                    #[allow(
                        clippy::cast_possible_truncation,
                        clippy::cast_sign_loss,
                        reason = "from 0 to below the count"
                    )]
                    let index = (unit(*bits) * parts) as usize;
                    *sum += scale * values.get(index).copied().unwrap_or_default();
                }
            }
            Self::Uniform => {
                for (sum, bits) in sums.iter_mut().zip(&scratch.first) {
                    *sum += scale * symmetric(*bits);
                }
            }
            Self::Triangular => {
                let half = 0.5 * scale;
                for (sum, (one, two)) in sums
                    .iter_mut()
                    .zip(scratch.first.iter().zip(&scratch.second))
                {
                    *sum += half * (symmetric(*one) + symmetric(*two));
                }
            }
            Self::UShaped => {
                for (sum, bits) in sums.iter_mut().zip(&scratch.first) {
                    *sum += scale * sine_of_quarter(symmetric(*bits));
                }
            }
            // A point's distance from the centre is √U, its direction uniform.
            Self::Disc => {
                for (sum, (one, two)) in sums
                    .iter_mut()
                    .zip(scratch.first.iter().zip(&scratch.second))
                {
                    *sum += scale * (unit(*one).sqrt() * sine_of_quarter(symmetric(*two)));
                }
            }
            // Box and Muller: two values from each pair.
            Self::Normal => {
                let (low, high) = sums.split_at_mut(BLOCK / 2);
                for ((one, two), (first, second)) in low
                    .iter_mut()
                    .zip(high)
                    .zip(scratch.first.iter().zip(&scratch.second))
                {
                    let (sine, cosine) = normal_pair(*first, *second);
                    *one += scale * sine;
                    *two += scale * cosine;
                }
            }
        }
    }
}

#[inline(always)]
fn normal_pair(first: u64, second: u64) -> (f64, f64) {
    // From above 0 to 1.
    let u = 2.0 - one_to_two(first);
    let distance = (-2.0 * logarithm(u)).sqrt();
    // A direction in the right half plane, and a spare bit for the left one.
    let x = symmetric(second);
    let signed = f64::from_bits(distance.to_bits() ^ (first << 63));
    (signed * sine_of_quarter(x), signed * cosine_of_quarter(x))
}

/// Draws one direction, or one point of the unit disc, for each trial and
/// writes both coordinates.
#[inline(always)]
pub(super) fn draw_pair(
    lanes: &mut Lanes,
    scratch: &mut Scratch,
    in_disc: bool,
    x: &mut Block,
    y: &mut Block,
) {
    lanes.fill(&mut scratch.first);
    lanes.fill(&mut scratch.second);
    for ((x, y), (one, two)) in x
        .iter_mut()
        .zip(y)
        .zip(scratch.first.iter().zip(&scratch.second))
    {
        let distance = if in_disc { unit(*one).sqrt() } else { 1.0 };
        let signed = f64::from_bits(distance.to_bits() ^ (*one << 63));
        let angle = symmetric(*two);
        *x = signed * cosine_of_quarter(angle);
        *y = signed * sine_of_quarter(angle);
    }
}

#[cfg(test)]
mod tests {
    use rand_xoshiro::Xoshiro256PlusPlus;
    use rand_xoshiro::rand_core::{Rng as _, SeedableRng as _};

    use super::*;

    /// The lanes are the generator of an independent crate, seeded alike.
    #[test]
    fn lanes_are_xoshiro256_plus_plus() {
        let mut lanes = Lanes::of_stream(17, 3);
        let mut bits = [0; 64];
        lanes.fill(&mut bits);
        for lane in 0..LANES {
            let mut other = Xoshiro256PlusPlus::seed_from_u64(lane_seed(17, 3, lane as u64));
            for step in 0..4 {
                assert_eq!(bits[step * LANES + lane], other.next_u64());
            }
        }
    }

    #[test]
    fn elementary_functions_are_close() {
        for step in 0..=20_000 {
            let x = f64::from(step) / 10_000.0 - 1.0;
            let (sine, cosine) = (x * FRAC_PI_2).sin_cos();
            assert!((sine_of_quarter(x) - sine).abs() < 5e-14, "{x}");
            assert!((cosine_of_quarter(x) - cosine).abs() < 5e-15, "{x}");
            let (sine, cosine) = sine_and_cosine(7.0 * x);
            assert!((sine - (7.0 * x).sin()).abs() < 1e-13, "{x}");
            assert!((cosine - (7.0 * x).cos()).abs() < 1e-13, "{x}");
            let u = (f64::from(step) + 1.0) / 20_001.0;
            assert!(
                (logarithm(u) - u.ln()).abs() <= 1e-15 * (1.0 - u.ln()),
                "{u}"
            );
        }
        for exponent in 0..=52 {
            let u = 2.0_f64.powi(-exponent);
            assert!((logarithm(u) - u.ln()).abs() <= 1e-14, "{u}");
        }
    }

    /// Moments of 2 million draws against closed forms: variance 1/3, 1, 1/6,
    /// 1/2 and 1/4, fourth moment 1/5, 3, 1/15, 3/8 and 1/8, each within five
    /// standard errors.
    #[test]
    fn samplers_have_the_right_moments() {
        let table = [9.0, -1.0, -0.5, 0.5, 1.0];
        let samples = Sampler::Samples { first: 1, count: 4 };
        for (sampler, variance, fourth, eighth) in [
            (Sampler::Uniform, 1.0 / 3.0, 1.0 / 5.0, 1.0 / 9.0),
            (Sampler::Normal, 1.0, 3.0, 105.0),
            (Sampler::Triangular, 1.0 / 6.0, 1.0 / 15.0, 1.0 / 45.0),
            (Sampler::UShaped, 0.5, 3.0 / 8.0, 35.0 / 128.0),
            (Sampler::Disc, 0.25, 1.0 / 8.0, 7.0 / 128.0),
            // Of −1, −½, ½ and 1: the means of their squares, and so on.
            (samples, 0.625, 0.531_25, 0.501_953_125),
        ] {
            let mut lanes = Lanes::of_stream(1, 2);
            let mut scratch = Scratch::new();
            let blocks = 15_625_u32;
            let count = f64::from(blocks) * 128.0;
            let (mut one, mut two, mut four) = (0.0, 0.0, 0.0);
            for _ in 0..blocks {
                let mut values = [0.0; BLOCK];
                sampler.add_to(&mut lanes, &mut scratch, &table, 1.0, &mut values);
                for value in values {
                    one += value;
                    two += value * value;
                    four += value.powi(4);
                }
            }
            let within = |sum: f64, expected: f64, spread: f64| {
                (sum / count - expected).abs() < 5.0 * (spread / count).sqrt()
            };
            assert!(within(one, 0.0, variance), "{sampler:?} mean");
            assert!(
                within(two, variance, fourth - variance * variance),
                "{sampler:?} variance"
            );
            assert!(
                within(four, fourth, eighth - fourth * fourth),
                "{sampler:?} fourth moment"
            );
        }
    }

    /// Both coordinates of a point in the disc, and of a direction.
    #[test]
    fn pairs_lie_in_the_disc_and_on_the_circle() {
        let mut lanes = Lanes::of_stream(5, 0);
        let mut scratch = Scratch::new();
        let (mut inside, mut count, mut product) = (0_u32, 0_u32, 0.0);
        for in_disc in [false, true] {
            for _ in 0..1000 {
                let (mut x, mut y) = ([0.0; BLOCK], [0.0; BLOCK]);
                draw_pair(&mut lanes, &mut scratch, in_disc, &mut x, &mut y);
                for (x, y) in x.iter().zip(&y) {
                    let square = x * x + y * y;
                    if in_disc {
                        assert!(square < 1.0 + 1e-12);
                        inside += u32::from(square < 0.25);
                        count += 1;
                        product += x * y;
                    } else {
                        assert!((square - 1.0).abs() < 1e-12);
                    }
                }
            }
        }
        // A quarter of the disc lies within half its radius.
        let count = f64::from(count);
        assert!((f64::from(inside) / count - 0.25).abs() < 5.0 * (0.1875 / count).sqrt());
        assert!((product / count).abs() < 5.0 * (1.0 / 24.0 / count).sqrt());
    }
}
