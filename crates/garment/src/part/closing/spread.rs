//! Where buttons sit between the neck edge and the last one: evenly, one at the bust line and one at the waist.
//!
//! Knows lengths along the centre line only. Invariants: no two are farther apart than was asked for; between bust and waist and
//! below they are exactly even, above the bust as nearly as whole numbers allow; where even steps from the top come within reach
//! of the waist, they are even all the way.

/// Places nearer to each other than this are one, mm.
const NEAR: f64 = 40.0;
/// A button so near to the waist holds it, mm; common practice, no source.
const WITHIN_REACH: f64 = 12.0;
/// Buttons are never so close for evenness alone: part of the spacing that was asked for.
const CLOSEST: f64 = 0.5;
/// How much unevenness one more button between bust and waist must save to be worth sewing on.
const ONE_MORE: f64 = 0.15;

/// What the buttons of an opening have to respect, mm from its top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Wanted {
    /// The first.
    pub(super) top: f64,
    /// The bust line, where the opening passes it.
    pub(super) bust: Option<f64>,
    /// The waist.
    pub(super) waist: Option<f64>,
    /// The last lies no lower.
    pub(super) end: f64,
    /// How far they are apart at the most.
    pub(super) spacing: f64,
}

/// The places from the top downwards, mm.
pub(super) fn places(wanted: &Wanted) -> Vec<f64> {
    let held = held(wanted);
    let even = match held[..] {
        [bust, waist] => evenly_all(wanted, bust, waist),
        _ => None,
    };
    match (&held[..], even) {
        (&[bust, _], Some(spaces)) => {
            let mut places = evenly(wanted.top, bust, spaces);
            places.extend(onwards(bust, (bust - wanted.top) / spaces, wanted.end));
            places
        }
        (&[bust, waist], None) => {
            let (above, below) = counts(wanted, bust, waist);
            let step = (waist - bust) / below;
            let mut places = evenly(wanted.top, bust, above);
            places.extend(evenly(bust, waist, below).into_iter().skip(1));
            places.extend(onwards(waist, step, wanted.end));
            places
        }
        (&[one], _) => {
            let count = ((one - wanted.top) / wanted.spacing - 1e-9).ceil().max(1.0);
            let mut places = evenly(wanted.top, one, count);
            places.extend(onwards(one, (one - wanted.top) / count, wanted.end));
            places
        }
        _ => {
            let room = (wanted.end - wanted.top).max(0.0);
            evenly(
                wanted.top,
                wanted.top + room,
                (room / wanted.spacing - 1e-9).ceil().max(1.0),
            )
        }
    }
}

/// Bust and waist, as far as they lie between the first and the last and not beside one another.
fn held(wanted: &Wanted) -> Vec<f64> {
    let mut held = Vec::new();
    let mut above = wanted.top;
    for place in [wanted.bust, wanted.waist].into_iter().flatten() {
        if place > above + NEAR && place <= wanted.end + 1e-9 {
            held.push(place);
            above = place;
        }
    }
    held
}

/// How many spaces down to the bust bring a button, evenly on, within reach of the waist; nothing where none do.
fn evenly_all(wanted: &Wanted, bust: f64, waist: f64) -> Option<f64> {
    let fewest = ((bust - wanted.top) / wanted.spacing - 1e-9)
        .ceil()
        .max(1.0);
    [fewest, fewest + 1.0].into_iter().find(|spaces| {
        let step = (bust - wanted.top) / spaces;
        let below = ((waist - bust) / step).round().max(1.0);
        (waist - bust - below * step).abs() <= WITHIN_REACH && step >= wanted.spacing * CLOSEST
    })
}

/// How many spaces above the bust and between bust and waist differ least in width.
fn counts(wanted: &Wanted, bust: f64, waist: f64) -> (f64, f64) {
    let fewest = ((waist - bust) / wanted.spacing - 1e-9).ceil().max(1.0);
    let tried = [0.0, 1.0].map(|more| {
        let below = fewest + more;
        let step = (waist - bust) / below;
        let least = ((bust - wanted.top) / wanted.spacing - 1e-9)
            .ceil()
            .max(1.0);
        let above = ((bust - wanted.top) / step).round().max(least);
        let uneven = ((bust - wanted.top) / above / step - 1.0).abs();
        (uneven + more * ONE_MORE, above, below)
    });
    let best = tried
        .into_iter()
        .min_by(|one, other| one.0.total_cmp(&other.0));
    best.map_or((1.0, fewest), |(_, above, below)| (above, below))
}

fn evenly(from: f64, to: f64, spaces: f64) -> Vec<f64> {
    let count = spaces as u32;
    (0..=count)
        .map(|index| from + (to - from) * f64::from(index) / spaces)
        .collect()
}

fn onwards(from: f64, step: f64, end: f64) -> Vec<f64> {
    let count = ((end - from) / step + 1e-9).floor().max(0.0) as u32;
    (1..=count)
        .map(|index| from + step * f64::from(index))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const DRESS: Wanted = Wanted {
        top: 15.0,
        bust: Some(190.0),
        waist: Some(350.0),
        end: 880.0,
        spacing: 90.0,
    };

    #[test]
    fn one_sits_at_the_bust_and_one_at_the_waist() {
        let places = places(&DRESS);
        for (at, reach) in [(15.0, 1e-9), (190.0, 1e-9), (350.0, 12.0)] {
            assert!(
                places.iter().any(|place| (place - at).abs() <= reach),
                "{places:?}"
            );
        }
        let gaps: Vec<f64> = places.windows(2).map(|pair| pair[1] - pair[0]).collect();
        assert!(gaps.iter().all(|gap| *gap <= 90.0 + 1e-9), "{gaps:?}");
        assert!(places[places.len() - 1] <= 880.0);
        assert!(places[places.len() - 1] > 880.0 - 90.0);
    }

    #[test]
    fn without_bust_and_waist_they_are_even() {
        let skirt = Wanted {
            bust: None,
            waist: None,
            ..DRESS
        };
        let places = places(&skirt);
        assert_eq!(places.len(), 11);
        assert!((places[10] - 880.0).abs() < 1e-9);
    }

    #[test]
    fn what_lies_above_the_first_is_not_held() {
        let low = Wanted {
            top: 240.0,
            ..DRESS
        };
        assert!((places(&low)[0] - 240.0).abs() < 1e-9);
        assert!(
            places(&low)
                .iter()
                .any(|place| (place - 350.0).abs() < 1e-9)
        );
    }
}
