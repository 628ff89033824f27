//! All products of the teeth of one, two or three gears, in ascending order.

use super::gear_set::GearSet;
use super::train::MAX_PAIRS;
use crate::error::Result;
use crate::work::Meter;

/// Bits of a key below the product: a byte for the place of each gear.
const PLACE_BITS: u32 = 24;

/// One side of a train: the product of its teeth in the high bits (at most 10⁹,
/// 30 bits) and the places of its gears in the set in the low three bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Side(u64);

impl Side {
    fn new(teeth: &[u16], places: [u8; MAX_PAIRS], members: usize) -> Self {
        let product: u64 = places
            .iter()
            .take(members)
            .map(|&place| u64::from(teeth.get(usize::from(place)).copied().unwrap_or(1)))
            .product();
        let [a, b, c] = places.map(u64::from);
        Self(product << PLACE_BITS | a << 16 | b << 8 | c)
    }

    /// The product of the teeth.
    #[inline]
    pub(super) const fn product(self) -> u64 {
        self.0 >> PLACE_BITS
    }

    /// The places of the gears; only as many as the list has members count.
    #[inline]
    const fn places(self) -> [u8; MAX_PAIRS] {
        let [_, _, _, _, _, a, b, c] = self.0.to_be_bytes();
        [a, b, c]
    }
}

/// Every choice of `members` gears that the set holds, ordered by product.
#[derive(Clone, Debug)]
pub(super) struct Products {
    members: usize,
    sides: Vec<Side>,
    /// The products again, as doubles; below 2³⁰ and so exact.
    products_f64: Vec<f64>,
}

impl Products {
    /// Lists the products; a step of work for each.
    ///
    /// # Errors
    /// Those of [`Meter::spend`], before anything is built.
    pub(super) fn build(set: &GearSet, members: usize, meter: &mut Meter<'_>) -> Result<Self> {
        let teeth = set.teeth();
        let count = teeth.len() as u64;
        // Choices with repetition, an upper bound of the work.
        let steps = match members {
            1 => count,
            2 => count * (count + 1) / 2,
            _ => count * (count + 1) * (count + 2) / 6,
        };
        meter.spend(steps)?;
        let mut sides = Vec::with_capacity(usize::try_from(steps).unwrap_or(0));
        // A set has at most 200 gears, so that a place fits a byte.
        let places = 0..u8::try_from(teeth.len()).unwrap_or(u8::MAX);
        let owned = |place: u8| set.owned_at(place.into());
        for a in places.clone() {
            if members == 1 {
                sides.push(Side::new(teeth, [a, 0, 0], 1));
                continue;
            }
            for b in a..places.end {
                if a == b && owned(a) < 2 {
                    continue;
                }
                if members == 2 {
                    sides.push(Side::new(teeth, [a, b, 0], 2));
                    continue;
                }
                for c in b..places.end {
                    let used = 1 + u8::from(c == b) + u8::from(c == a);
                    if owned(c) >= used {
                        sides.push(Side::new(teeth, [a, b, c], 3));
                    }
                }
            }
        }
        sides.sort_unstable();
        #[allow(
            clippy::cast_precision_loss,
            reason = "products of teeth are below 2³⁰ and exact as doubles"
        )]
        let products_f64 = sides.iter().map(|side| side.product() as f64).collect();
        Ok(Self {
            members,
            sides,
            products_f64,
        })
    }

    /// Gears on each side.
    pub(super) const fn members(&self) -> usize {
        self.members
    }

    /// The sides in ascending order of product.
    pub(super) fn sides(&self) -> &[Side] {
        &self.sides
    }

    /// The products of [`Products::sides`] as doubles, exact.
    pub(super) fn products_f64(&self) -> &[f64] {
        &self.products_f64
    }

    /// The tooth counts of a side; only the first [`Products::members`] count.
    pub(super) fn gears(&self, side: Side, set: &GearSet) -> [u16; MAX_PAIRS] {
        side.places()
            .map(|place| set.teeth().get(usize::from(place)).copied().unwrap_or(1))
    }

    /// Whether the set holds the gears of both sides at the same time. Each side
    /// alone is held, so only gears on both sides need counting.
    pub(super) fn compatible(&self, drivers: Side, driven: Side, set: &GearSet) -> bool {
        let (drivers, driven) = (drivers.places(), driven.places());
        let (drivers, driven) = (&drivers[..self.members], &driven[..self.members]);
        drivers.iter().all(|place| {
            let on = |side: &[u8]| side.iter().filter(|other| *other == place).count();
            let opposite = on(driven);
            opposite == 0 || on(drivers) + opposite <= set.owned_at(usize::from(*place)).into()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_each_choice_once() {
        let set = GearSet::new(&[20, 20, 20, 30, 30, 50]).unwrap();
        let count = |members| {
            Products::build(&set, members, &mut Meter::default())
                .unwrap()
                .sides()
                .len()
        };
        assert_eq!(count(1), 3);
        // 20·20, 20·30, 20·50, 30·30, 30·50
        assert_eq!(count(2), 5);
        // 20³, 20²·30, 20²·50, 20·30², 20·30·50, 30²·50
        assert_eq!(count(3), 6);
    }

    #[test]
    fn compatible_counts_gears_on_both_sides() {
        let set = GearSet::new(&[20, 20, 20, 30]).unwrap();
        let pairs = Products::build(&set, 2, &mut Meter::default()).unwrap();
        let of = |product: u64| {
            *pairs
                .sides()
                .iter()
                .find(|side| side.product() == product)
                .unwrap()
        };
        assert!(pairs.compatible(of(400), of(600), &set));
        assert!(!pairs.compatible(of(400), of(400), &set));
        assert!(!pairs.compatible(of(600), of(600), &set));
    }

    #[test]
    fn the_work_is_asked_for_first() {
        let set = GearSet::new(&[20, 30, 40]).unwrap();
        assert!(Products::build(&set, 3, &mut Meter::new(9)).is_err());
        assert!(Products::build(&set, 3, &mut Meter::new(10)).is_ok());
    }
}
