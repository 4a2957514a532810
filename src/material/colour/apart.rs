//! Will colours that lie side by side on a cord stand apart?
//!
//! Lengths in mm. A difference is CIEDE2000 of the two colours as they look in
//! stripes as wide as the thread, seen from a distance ([`super::blur`]), by
//! full sight and by the three deficiencies.

use super::blur::Left;
use super::{Colour, Sight};

/// From this difference on colours stand apart on a cord.
///
/// Our guess: light and shade on one thread change its colour by about as much
/// as the lower bound; twice that and a pattern can be followed at a glance.
const STANDS: f64 = 10.0;
/// Below this difference they run together. Our guess, as above.
const CLOSE: f64 = 5.0;
/// A pattern that lightness tells less than this is told by hue alone: it goes
/// in dim light and in grey print. Our guess.
const HUE_ALONE: f64 = 10.0;

/// Two colours that lie side by side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beside {
    /// The two.
    pub colours: [Colour; 2],
    /// Length of the boundary between them, mm.
    pub length: f64,
    /// Width of the thinner of the two threads, mm.
    pub width: f64,
}

/// From where a cord is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Viewing {
    /// Distance of the eye, mm.
    pub distance: f64,
}

impl Viewing {
    /// At arm's length, 600 mm; our figure.
    pub const ARM: Self = Self { distance: 600.0 };

    /// The angle that a thread takes up for the eye, arc minutes. A letter is
    /// read at 5, a stroke of it at 1 (sight of 6/6).
    pub fn arc_minutes(self, width: f64) -> f64 {
        60.0 * 2.0 * (0.5 * width / self.distance).atan().to_degrees()
    }

    pub(super) fn left(self, width: f64) -> Left {
        Left::of(self.arc_minutes(width))
    }
}

/// Whether two colours can be told from one another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Parting {
    /// They look alike.
    RunTogether,
    /// They can be told apart by looking closely.
    Close,
    /// They can be told apart at a glance.
    StandApart,
}

impl Parting {
    /// What a difference (CIEDE2000) on the cord amounts to.
    pub fn of(difference: f64) -> Self {
        if difference < CLOSE {
            Self::RunTogether
        } else if difference < STANDS {
            Self::Close
        } else {
            Self::StandApart
        }
    }
}

/// How two colours of a cord stand beside one another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Apart {
    /// The two, the smaller code first.
    pub colours: [Colour; 2],
    /// Length of all their boundaries, mm.
    pub length: f64,
    /// That length as a share of all boundaries between unlike colours.
    pub share: f64,
    /// Width of the thinnest thread, mm.
    pub width: f64,
    /// The angle it takes up, arc minutes.
    pub angle: f64,
    /// Difference of large patches by full sight.
    pub in_patches: f64,
    /// Difference on the cord, in the order of [`Sight::ALL`].
    pub on_cord: [f64; 4],
    /// Steps of lightness between them on the cord, 0 to 100.
    pub lightness: f64,
    /// Contrast of their luminance, 1 to 21.
    pub contrast: f64,
}

impl Apart {
    /// How well one sight tells them apart.
    pub fn parting(&self, sight: Sight) -> Parting {
        let pairs = Sight::ALL.iter().zip(self.on_cord);
        let found = pairs.filter(|(kind, _)| **kind == sight);
        found
            .map(|(_, difference)| Parting::of(difference))
            .fold(Parting::StandApart, Ord::min)
    }

    /// How well the sight that tells them worst does.
    pub fn worst(&self) -> Parting {
        Parting::of(self.least())
    }

    /// The smallest difference of the four sights.
    pub fn least(&self) -> f64 {
        self.on_cord.into_iter().fold(f64::MAX, f64::min)
    }

    /// Whether they are as good as equally light.
    pub fn by_hue_alone(&self) -> bool {
        self.lightness < HUE_ALONE
    }
}

/// Differences of two colours on the cord by every sight.
pub(super) fn on_cord(colours: [Colour; 2], left: Left) -> [f64; 4] {
    let lights = colours.map(Colour::linear);
    Sight::ALL.map(|sight| {
        let [one, two] = left.seen(lights.map(|light| sight.light(light)));
        one.difference(two)
    })
}

/// How all colours that lie side by side stand apart, the least first and,
/// among equals, the longest boundary first. Alike colours are left out, and
/// boundaries of the same two colours are put together.
pub fn stand_apart(besides: &[Beside], viewing: Viewing) -> Vec<Apart> {
    let joined = joined(besides);
    let whole: f64 = joined.iter().map(|beside| beside.length).sum();
    let mut apart: Vec<Apart> = joined
        .iter()
        .map(|beside| Apart::of(beside, viewing, whole))
        .collect();
    apart.sort_by(|a, b| {
        let by_length = b.length.total_cmp(&a.length);
        a.worst().cmp(&b.worst()).then(by_length)
    });
    apart
}

impl Apart {
    fn of(beside: &Beside, viewing: Viewing, whole: f64) -> Self {
        let [one, two] = beside.colours;
        let left = viewing.left(beside.width);
        let seen = left.seen([one.linear(), two.linear()]);
        Self {
            colours: beside.colours,
            length: beside.length,
            share: if whole > 0.0 {
                beside.length / whole
            } else {
                0.0
            },
            width: beside.width,
            angle: viewing.arc_minutes(beside.width),
            in_patches: one.difference(two),
            on_cord: on_cord(beside.colours, left),
            lightness: (seen[0].l - seen[1].l).abs(),
            contrast: one.contrast(two),
        }
    }
}

/// Boundaries of the same two colours as one, the thinnest thread counting.
pub(super) fn joined(besides: &[Beside]) -> Vec<Beside> {
    let mut joined: Vec<Beside> = Vec::new();
    for beside in besides {
        let [one, two] = beside.colours;
        if one == two {
            continue;
        }
        let colours = [one.min(two), one.max(two)];
        match joined.iter_mut().find(|known| known.colours == colours) {
            Some(known) => {
                known.length += beside.length;
                known.width = known.width.min(beside.width);
            }
            None => joined.push(Beside { colours, ..*beside }),
        }
    }
    joined
}

#[cfg(test)]
mod tests {
    use super::*;

    fn colour(text: &str) -> Colour {
        Colour::parse(text).unwrap()
    }

    fn beside(one: &str, two: &str, length: f64, width: f64) -> Beside {
        let colours = [colour(one), colour(two)];
        Beside {
            colours,
            length,
            width,
        }
    }

    // tan(a/2) = 1/600: worked by hand.
    #[test]
    fn a_thread_of_two_millimetres_at_arms_length_is_eleven_and_a_half_minutes() {
        assert!((Viewing::ARM.arc_minutes(2.0) - 11.459).abs() < 1e-3);
    }

    #[test]
    fn navy_on_cream_stands_apart_and_two_creams_run_together() {
        let navy = stand_apart(&[beside("#1f2e54", "#eadbb8", 10.0, 2.0)], Viewing::ARM);
        assert_eq!(navy[0].worst(), Parting::StandApart);
        assert!(!navy[0].by_hue_alone());
        let creams = stand_apart(&[beside("#eadbb8", "#eedfbf", 10.0, 2.0)], Viewing::ARM);
        assert_eq!(creams[0].worst(), Parting::RunTogether);
        assert!(creams[0].by_hue_alone());
    }

    #[test]
    fn red_and_green_of_one_lightness_stand_apart_but_not_for_everyone() {
        let pair = stand_apart(&[beside("#c04830", "#5c7a1c", 10.0, 2.0)], Viewing::ARM);
        assert_eq!(pair[0].parting(Sight::Full), Parting::StandApart);
        assert!(
            pair[0].parting(Sight::Deutan) < Parting::StandApart,
            "{pair:?}"
        );
        assert_eq!(pair[0].worst(), Parting::of(pair[0].least()));
    }

    #[test]
    fn the_same_colours_on_finer_thread_or_farther_off_run_together() {
        let at = |width: f64, distance: f64| {
            let pair = beside("#1f7c7c", "#8a5230", 10.0, width);
            stand_apart(&[pair], Viewing { distance })[0].on_cord[0]
        };
        assert!(at(2.0, 600.0) > at(0.5, 600.0) + 3.0);
        assert!(at(0.2, 600.0) < CLOSE, "{}", at(0.2, 600.0));
        assert!((at(2.0, 600.0) - at(6.0, 1800.0)).abs() < 0.01);
        assert!(at(2.0, 10_000.0) < CLOSE);
    }

    #[test]
    fn boundaries_of_the_same_colours_count_together_whichever_comes_first() {
        let besides = [
            beside("#1f2e54", "#eadbb8", 3.0, 2.0),
            beside("#eadbb8", "#1f2e54", 2.0, 1.0),
            beside("#eadbb8", "#eadbb8", 50.0, 1.0),
            beside("#eadbb8", "#eedfbf", 5.0, 2.0),
        ];
        let apart = stand_apart(&besides, Viewing::ARM);
        assert_eq!(apart.len(), 2);
        assert_eq!(apart[0].worst(), Parting::RunTogether, "the worst first");
        assert_eq!((apart[1].length, apart[1].share), (5.0, 0.5));
        assert!((apart[1].angle - 5.73).abs() < 0.01, "the thinner thread");
    }
}
