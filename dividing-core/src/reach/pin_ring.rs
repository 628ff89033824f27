//! The pins of one ring and the chords that they make, as bits.
//!
//! The chord from hole a over `span` spaces, at most half the ring, has its
//! middle at `2a + span` half spaces. All spans and all middles come from the
//! same window of bits, the half ring that follows a: the spans are the union of
//! the windows of all pins, the middles that of the windows moved on by 2a. With
//! 64 places a word this takes `pins·holes/128` steps, of a ring that repeats itself
//! only the pins up to its first repetition; and where nearly every hole is there
//! a middle is found at the first few spans tried.

use crate::equipment::HoleCircle;
use crate::error::Result;
use crate::work::Meter;

/// Bits in a word.
const WORD: usize = u64::BITS as usize;

/// Words laid over each other in one step of work: they are cheap.
const WORDS_PER_STEP: u64 = 8;

/// Spans tried for every middle before all windows are laid over each other.
const TRIES: u32 = 32;

/// The holes of a ring that can take a pin.
pub(super) struct PinRing {
    holes: u32,
    /// One bit a hole.
    present: Vec<u64>,
}

fn get(bits: &[u64], index: usize) -> bool {
    bits.get(index / WORD)
        .is_some_and(|word| word >> (index % WORD) & 1 == 1)
}

fn set(bits: &mut [u64], index: usize, to: bool) {
    if let Some(word) = bits.get_mut(index / WORD) {
        let bit = 1 << (index % WORD);
        *word = if to { *word | bit } else { *word & !bit };
    }
}

/// A word of bits from any place on.
fn word_at(bits: &[u64], from: usize) -> u64 {
    let (index, shift) = (from / WORD, from % WORD);
    let low = bits.get(index).copied().unwrap_or(0) >> shift;
    if shift == 0 {
        return low;
    }
    low | bits.get(index + 1).copied().unwrap_or(0) << (WORD - shift)
}

/// Sets the bits of a word from any place on.
fn join_at(bits: &mut [u64], from: usize, word: u64) {
    let (index, shift) = (from / WORD, from % WORD);
    if let Some(low) = bits.get_mut(index) {
        *low |= word << shift;
    }
    if shift > 0
        && let Some(high) = bits.get_mut(index + 1)
    {
        *high |= word >> (WORD - shift);
    }
}

/// The least step of a ring of places that moves a set of them onto itself; the
/// places in growing order.
pub(super) fn period(places: &[u32], ring: u32) -> u32 {
    let mut bits = vec![0; (ring as usize).div_ceil(WORD)];
    for &place in places {
        set(&mut bits, place as usize, true);
    }
    let moves_onto_itself = |step: u32| {
        let mut moved = places.iter().map(|place| (place + step) % ring);
        moved.all(|place| get(&bits, place as usize))
    };
    (1..ring)
        .filter(|step| ring.is_multiple_of(*step))
        // As many places in every step.
        .filter(|step| places.len().is_multiple_of((ring / step) as usize))
        .find(|step| moves_onto_itself(*step))
        .unwrap_or(ring)
}

impl PinRing {
    pub(super) fn of(circle: &HoleCircle) -> Self {
        let mut present = vec![u64::MAX; (circle.holes as usize).div_ceil(WORD)];
        for place in circle.holes as usize..present.len() * WORD {
            set(&mut present, place, false);
        }
        for &hole in &circle.absent {
            set(&mut present, hole as usize, false);
        }
        Self {
            holes: circle.holes,
            present,
        }
    }

    /// The least number of holes that the ring can be moved on by without a
    /// difference.
    fn period(&self) -> u32 {
        let pins = Vec::from_iter((0..self.holes).filter(|&hole| self.has(hole)));
        period(&pins, self.holes)
    }

    fn has(&self, hole: u32) -> bool {
        get(&self.present, hole as usize)
    }

    /// Whether both holes of a chord can take a pin.
    pub(super) fn has_chord(&self, first: u32, span: u32) -> bool {
        self.has(first) && self.has((first + span) % self.holes)
    }

    /// The longest span there can be.
    const fn longest(&self) -> u32 {
        self.holes / 2
    }

    /// The first holes of all chords of a span.
    pub(super) fn firsts(&self, span: u32) -> impl Iterator<Item = u32> + '_ {
        (0..self.holes).filter(move |&first| self.has_chord(first, span))
    }

    /// Lays the windows of the pins before a hole over each other, each moved on
    /// by so many places for every hole before its pin.
    fn windows(&self, before: u32, moved: usize, meter: &mut Meter<'_>) -> Result<Vec<u64>> {
        let (holes, window) = (self.holes as usize, self.longest() as usize);
        let words = window.div_ceil(WORD);
        // The ring twice, so that no window is cut.
        let mut twice = vec![0; (2 * holes).div_ceil(WORD) + 1];
        for hole in (0..self.holes).filter(|&hole| self.has(hole)) {
            set(&mut twice, hole as usize, true);
            set(&mut twice, hole as usize + holes, true);
        }
        let mut laid = vec![0; (before as usize * moved + window).div_ceil(WORD) + 2];
        for hole in (0..before as usize).filter(|&hole| get(&self.present, hole)) {
            meter.spend(1 + words as u64 / WORDS_PER_STEP)?;
            for index in 0..words {
                let mut word = word_at(&twice, hole + 1 + index * WORD);
                let beyond = (index + 1) * WORD;
                if beyond > window {
                    word &= u64::MAX >> (beyond - window);
                }
                join_at(&mut laid, hole * moved + index * WORD, word);
            }
        }
        Ok(laid)
    }

    /// Every span that some two pins have, the longest first.
    pub(super) fn spans(&self, meter: &mut Meter<'_>) -> Result<Vec<u32>> {
        // A pin and the next cover all spans where no hole is absent, so most
        // rings are done with the first few.
        let mut missing = Vec::new();
        for span in 1..=self.longest() {
            meter.spend(1)?;
            let at_once = (0..TRIES.min(self.holes)).any(|first| self.has_chord(first, span));
            if !at_once {
                missing.push(span);
            }
        }
        if !missing.is_empty() {
            let found = self.windows(self.period(), 0, meter)?;
            missing.retain(|span| !get(&found, *span as usize - 1));
        }
        let mut spans = Vec::new();
        let mut missing = missing.into_iter().rev().peekable();
        for span in (1..=self.longest()).rev() {
            if missing.next_if_eq(&span).is_none() {
                spans.push(span);
            }
        }
        Ok(spans)
    }

    /// The middles of all chords in half spaces, `2a + span` modulo twice the
    /// holes, growing.
    pub(super) fn middles(&self, meter: &mut Meter<'_>) -> Result<Vec<u32>> {
        let all = 2 * self.holes;
        let mut found = Vec::new();
        for middle in 0..all {
            meter.spend(1)?;
            let mut spans = self.spans_at(middle).take(TRIES as usize);
            if spans.any(|span| self.has_chord(self.first_at(middle, span), span)) {
                found.push(middle);
            }
        }
        if found.len() < all as usize {
            // What a step of the ring moves onto itself moves middles by two.
            let step = self.period();
            let laid = self.windows(step, 2, meter)?;
            let repeats = 2 * step as usize;
            let mut once = vec![false; repeats];
            for place in 0..laid.len() * WORD {
                // The window begins one place after its pin.
                if get(&laid, place)
                    && let Some(residue) = once.get_mut((place + 1) % repeats)
                {
                    *residue = true;
                }
            }
            let at = |middle: &u32| once.get(*middle as usize % repeats) == Some(&true);
            found = (0..all).filter(at).collect();
        }
        Ok(found)
    }

    /// The spans that a chord with this middle can have, the longest first.
    pub(super) fn spans_at(&self, middle: u32) -> impl Iterator<Item = u32> + use<> {
        let longest = self.longest();
        let longest = longest - u32::from(longest % 2 != middle % 2);
        let shortest = 1 + u32::from(middle.is_multiple_of(2));
        (shortest..=longest).rev().step_by(2)
    }

    /// Where a chord of this span begins to have this middle.
    pub(super) fn first_at(&self, middle: u32, span: u32) -> u32 {
        (middle + 2 * self.holes - span) / 2 % self.holes
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn bits_agree_with_every_chord(
            holes in 2_u32..200,
            kept in prop::collection::btree_set(0_u32..200, 0..200),
            every in 1_u32..5,
        ) {
            let mut circle = HoleCircle::full(holes, None);
            circle.absent = (0..holes)
                .filter(|hole| !kept.contains(hole) || hole % every != 0)
                .collect();
            let pins = circle.present();
            let ring = PinRing::of(&circle);
            let (mut spans, mut middles) = (BTreeSet::new(), BTreeSet::new());
            for &first in &pins {
                for &second in &pins {
                    let span = (second + holes - first) % holes;
                    if (1..=holes / 2).contains(&span) {
                        spans.insert(span);
                        middles.insert((2 * first + span) % (2 * holes));
                    }
                }
            }
            let meter = &mut Meter::default();
            let step = period(&pins, holes);
            prop_assert_eq!(holes % step, 0);
            let moved = |by: u32| Vec::from_iter(
                pins.iter().map(|pin| (pin + by) % holes).collect::<BTreeSet<_>>());
            prop_assert_eq!(&moved(step), &pins);
            prop_assert!((1..step).all(|less| holes % less != 0 || moved(less) != pins));
            let longest_first = Vec::from_iter(spans.iter().rev().copied());
            prop_assert_eq!(ring.spans(meter).unwrap(), longest_first);
            prop_assert_eq!(ring.middles(meter).unwrap(), Vec::from_iter(middles));
            for span in spans {
                for first in ring.firsts(span) {
                    let middle = (2 * first + span) % (2 * holes);
                    prop_assert!(ring.spans_at(middle).any(|it| it == span));
                    prop_assert_eq!(ring.first_at(middle, span), first);
                }
            }
        }
    }

    #[test]
    fn large_rings_take_little_work() {
        // Every second hole, one hole less, and every eleventh hole less.
        let holes = 100_000;
        for absent in [
            Vec::from_iter((0..holes).filter(|hole| hole % 2 == 1)),
            vec![7],
            Vec::from_iter((0..holes).filter(|hole| hole % 11 == 3)),
        ] {
            let mut circle = HoleCircle::full(holes, None);
            circle.absent = absent;
            let meter = &mut Meter::default();
            let ring = PinRing::of(&circle);
            let middles = ring.middles(meter).unwrap().len();
            let spans = ring.spans(meter).unwrap().len();
            let even = circle.absent.len() == 50_000;
            // Even holes: even spans only, so middles between even places.
            assert_eq!(middles, if even { 100_000 } else { 200_000 });
            assert_eq!(spans, if even { 25_000 } else { 50_000 });
        }
    }
}
