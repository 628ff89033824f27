//! The fewest whole numbers of a list, each used once, that make a wanted sum.

use num_integer::Integer;

use crate::error::{Error, ErrorKind, Result};
use crate::work::Meter;

/// Most pieces ever wrung together by this search.
pub(super) const MAX_PIECES: usize = 16;

/// Which signs the numbers may take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Signs {
    /// Every number is added.
    Plus,
    /// Each number is added or taken away.
    PlusOrMinus,
}

/// The numbers of one sum: those added and those taken away, as places in the
/// list, and which of the wanted sums they make.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Sum {
    pub(super) plus: Vec<usize>,
    pub(super) minus: Vec<usize>,
    pub(super) wanted: usize,
}

/// The list, arranged for the search.
///
/// Numbers with the finest last digit come first: once they are past, what is
/// left must be divisible by the greatest common divisor of the rest, which cuts
/// nearly every branch of the search.
struct Arranged {
    values: Vec<i64>,
    places: Vec<usize>,
    /// Greatest common divisor of `values[i..]`.
    divisors: Vec<i64>,
    /// `least[i][k]`, `most[i][k]`: smallest and largest sum of k of `values[i..]`.
    least: Vec<Vec<i64>>,
    most: Vec<Vec<i64>>,
    signs: Signs,
}

/// Finds the fewest of `values` (each positive) that make the first of the
/// `wanted` sums that so few can make. Earlier sums are preferred among those
/// with equally many pieces.
///
/// # Errors
/// [`ErrorKind::NotFound`] when no sum of up to `max_pieces` pieces exists, or the
/// error of the meter.
pub(super) fn fewest(
    values: &[i64],
    wanted: &[i64],
    signs: Signs,
    max_pieces: usize,
    meter: &mut Meter<'_>,
) -> Result<Sum> {
    let max_pieces = max_pieces.min(values.len()).min(MAX_PIECES);
    let list = Arranged::new(values, signs, max_pieces);
    for pieces in 1..=max_pieces {
        for (number, &sum) in wanted.iter().enumerate() {
            let mut chosen = Vec::with_capacity(pieces);
            if list.extend(0, sum, pieces, &mut chosen, meter)? {
                let side = |negative: bool| {
                    let mut places: Vec<usize> = chosen
                        .iter()
                        .filter(|(_, minus)| *minus == negative)
                        .map(|(place, _)| *place)
                        .collect();
                    places.sort_unstable();
                    places
                };
                return Ok(Sum {
                    plus: side(false),
                    minus: side(true),
                    wanted: number,
                });
            }
        }
    }
    Err(Error::new(
        ErrorKind::NotFound,
        format!("no sum of up to {max_pieces} pieces"),
    ))
}

impl Arranged {
    fn new(values: &[i64], signs: Signs, max_pieces: usize) -> Self {
        const DECADES: i64 = 1_000_000_000_000;
        let mut order: Vec<usize> = (0..values.len()).collect();
        order.sort_by_key(|&place| (values[place].gcd(&DECADES), -values[place], place));
        let arranged: Vec<i64> = order.iter().map(|&place| values[place]).collect();
        let count = arranged.len();
        let mut divisors = vec![0; count + 1];
        for place in (0..count).rev() {
            divisors[place] = arranged[place].gcd(&divisors[place + 1]);
        }
        let sums = |largest: bool| -> Vec<Vec<i64>> {
            (0..=count)
                .map(|from| {
                    let mut rest = arranged[from..].to_vec();
                    rest.sort_unstable_by_key(|&value| if largest { -value } else { value });
                    std::iter::once(0)
                        .chain(rest.iter().take(max_pieces).scan(0_i64, |sum, &value| {
                            *sum = sum.saturating_add(value);
                            Some(*sum)
                        }))
                        .collect()
                })
                .collect()
        };
        Self {
            least: sums(false),
            most: sums(true),
            divisors,
            values: arranged,
            places: order,
            signs,
        }
    }

    /// Tries to make `rest` of exactly `pieces` of the values from `from` on.
    fn extend(
        &self,
        from: usize,
        rest: i64,
        pieces: usize,
        chosen: &mut Vec<(usize, bool)>,
        meter: &mut Meter<'_>,
    ) -> Result<bool> {
        meter.spend(1)?;
        if pieces == 0 {
            return Ok(rest == 0);
        }
        let (Some(&least), Some(&most)) =
            (self.least[from].get(pieces), self.most[from].get(pieces))
        else {
            return Ok(false);
        };
        let within = match self.signs {
            Signs::Plus => (least..=most).contains(&rest),
            Signs::PlusOrMinus => (-most..=most).contains(&rest),
        };
        if !within || rest % self.divisors[from] != 0 {
            return Ok(false);
        }
        for place in from..=self.values.len() - pieces {
            // Past the fine blocks the rest must be divisible by what remains.
            if rest % self.divisors[place] != 0 {
                return Ok(false);
            }
            let value = self.values[place];
            chosen.push((self.places[place], false));
            if self.extend(place + 1, rest - value, pieces - 1, chosen, meter)? {
                return Ok(true);
            }
            chosen.pop();
            if self.signs == Signs::PlusOrMinus {
                chosen.push((self.places[place], true));
                if self.extend(place + 1, rest + value, pieces - 1, chosen, meter)? {
                    return Ok(true);
                }
                chosen.pop();
            }
        }
        Ok(false)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Fewest pieces for a sum by trying every choice.
    fn by_trying(values: &[i64], wanted: &[i64], signs: Signs) -> Option<usize> {
        let ways: u32 = if signs == Signs::Plus { 2 } else { 3 };
        (0..ways.pow(u32::try_from(values.len()).unwrap()))
            .filter_map(|code| {
                let mut code = code;
                let (mut sum, mut pieces) = (0, 0);
                for value in values {
                    match code % ways {
                        1 => (sum, pieces) = (sum + value, pieces + 1),
                        2 => (sum, pieces) = (sum - value, pieces + 1),
                        _ => {}
                    }
                    code /= ways;
                }
                (pieces > 0 && wanted.contains(&sum)).then_some(pieces)
            })
            .min()
    }

    proptest! {
        #[test]
        fn as_few_as_by_trying_all(
            values in prop::collection::vec(prop_oneof![1_i64..60, (1_i64..20).prop_map(|n| n * 50)], 1..8),
            start in -50_i64..800,
            spread in 0_i64..4,
            signed in any::<bool>(),
        ) {
            let signs = if signed { Signs::PlusOrMinus } else { Signs::Plus };
            let wanted: Vec<i64> = (start..=start + spread).collect();
            let found = fewest(&values, &wanted, signs, MAX_PIECES, &mut Meter::default());
            match by_trying(&values, &wanted, signs) {
                None => prop_assert_eq!(found.unwrap_err().kind(), ErrorKind::NotFound),
                Some(pieces) => {
                    let sum = found.unwrap();
                    prop_assert_eq!(sum.plus.len() + sum.minus.len(), pieces);
                    let total = |places: &[usize]| places.iter().map(|&place| values[place]).sum::<i64>();
                    prop_assert_eq!(total(&sum.plus) - total(&sum.minus), wanted[sum.wanted]);
                    prop_assert!(sum.plus.iter().all(|place| !sum.minus.contains(place)));
                    prop_assert!(sum.plus.is_sorted_by(|a, b| a < b), "each piece once");
                }
            }
        }
    }

    #[test]
    fn an_earlier_sum_wins_among_equally_few() {
        let sum = fewest(&[3, 4, 5], &[5, 4], Signs::Plus, 3, &mut Meter::default()).unwrap();
        assert_eq!((sum.plus, sum.wanted), (vec![2], 0));
        let error = fewest(&[3, 4, 5], &[100], Signs::Plus, 3, &mut Meter::new(1)).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::WorkLimit);
    }
}
