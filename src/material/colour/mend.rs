//! Changes of a colour that make it stand apart from its neighbour.
//!
//! A change is kept only if the two then stand apart by every sight and no
//! other neighbour of the changed colour is told worse than before.

use super::apart::{joined, on_cord};
use super::{Beside, Colour, Lab, Parting, Viewing};

/// How a colour is changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// The same hue, lighter.
    Lighter,
    /// The same hue, darker.
    Darker,
    /// Another colour of the palette, by its place there.
    Palette(usize),
}

/// A change that mends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mend {
    /// The colour that is changed, wherever it is used.
    pub from: Colour,
    /// What it becomes.
    pub to: Colour,
    /// How.
    pub way: Way,
    /// How far the new colour is from the old (CIEDE2000).
    pub change: f64,
}

/// The least change of lightness of either colour that parts them, and the
/// nearest colours of the palette that do; the smallest change first. Empty if
/// nothing does, or if they stand apart already.
pub fn mends(
    besides: &[Beside],
    colours: [Colour; 2],
    viewing: Viewing,
    palette: &[Colour],
) -> Vec<Mend> {
    let cord = Cord::new(besides, colours, viewing);
    if cord.is_fine() {
        return Vec::new();
    }
    let both = colours.iter();
    let mut mends: Vec<Mend> = both
        .flat_map(|&from| [cord.by_lightness(from), cord.by_palette(from, palette)])
        .flatten()
        .collect();
    mends.sort_by(|a, b| a.change.total_cmp(&b.change));
    mends
}

/// The boundaries of a cord, and which pair is to be parted.
struct Cord {
    besides: Vec<Beside>,
    /// How well each is told now.
    before: Vec<Parting>,
    pair: [Colour; 2],
    viewing: Viewing,
}

impl Cord {
    fn new(besides: &[Beside], pair: [Colour; 2], viewing: Viewing) -> Self {
        let besides = joined(besides);
        let worst = |beside: &Beside| worst(beside, viewing);
        Self {
            before: besides.iter().map(worst).collect(),
            besides,
            pair: [pair[0].min(pair[1]), pair[0].max(pair[1])],
            viewing,
        }
    }

    fn is_fine(&self) -> bool {
        let pairs = self.besides.iter().zip(&self.before);
        let this = pairs.filter(|(beside, _)| beside.colours == self.pair);
        this.map(|(_, parting)| *parting)
            .fold(Parting::StandApart, Ord::min)
            == Parting::StandApart
    }

    fn has(&self, colour: Colour) -> bool {
        self.besides.iter().any(|b| b.colours.contains(&colour))
    }

    /// Whether the pair stands apart with one colour changed, and no other pair
    /// is worse.
    fn mended(&self, from: Colour, to: Colour) -> bool {
        if self.has(to) {
            return false;
        }
        let touched = self.besides.iter().zip(&self.before);
        let mut touched = touched.filter(|(beside, _)| beside.colours.contains(&from));
        touched.all(|(beside, before)| {
            let wanted = if beside.colours == self.pair {
                Parting::StandApart
            } else {
                *before
            };
            let swap = |colour| if colour == from { to } else { colour };
            let changed = Beside {
                colours: beside.colours.map(swap),
                ..*beside
            };
            worst(&changed, self.viewing) >= wanted
        })
    }

    /// The least change of lightness, in whole steps of L.
    fn by_lightness(&self, from: Colour) -> Option<Mend> {
        let lab = from.lab();
        let steps =
            (1..100).flat_map(|n| [(Way::Lighter, f64::from(n)), (Way::Darker, -f64::from(n))]);
        let inside = steps.filter(|(_, step)| (3.0..=97.0).contains(&(lab.l + step)));
        inside
            .map(|(way, step)| {
                (
                    way,
                    Lab {
                        l: lab.l + step,
                        ..lab
                    }
                    .clipped(),
                )
            })
            .find(|(_, to)| self.mended(from, *to))
            .map(|(way, to)| Mend {
                from,
                to,
                way,
                change: from.difference(to),
            })
    }

    /// The nearest colour of the palette.
    fn by_palette(&self, from: Colour, palette: &[Colour]) -> Option<Mend> {
        let mut near: Vec<(usize, Colour, f64)> = palette
            .iter()
            .enumerate()
            .map(|(place, &to)| (place, to, from.difference(to)))
            .collect();
        near.sort_by(|a, b| a.2.total_cmp(&b.2));
        let (place, to, change) = near.into_iter().find(|(_, to, _)| self.mended(from, *to))?;
        Some(Mend {
            from,
            to,
            way: Way::Palette(place),
            change,
        })
    }
}

fn worst(beside: &Beside, viewing: Viewing) -> Parting {
    let differences = on_cord(beside.colours, viewing.left(beside.width));
    Parting::of(differences.into_iter().fold(f64::MAX, f64::min))
}

#[cfg(test)]
mod tests {
    use super::super::NAMED;
    use super::*;
    use crate::material::colour::stand_apart;

    fn beside(one: Colour, two: Colour) -> Beside {
        Beside {
            colours: [one, two],
            length: 5.0,
            width: 2.0,
        }
    }

    fn named() -> Vec<Colour> {
        NAMED.map(|(_, colour)| colour).to_vec()
    }

    /// The cord with a mend done.
    fn done(besides: &[Beside], mend: Mend) -> Vec<Beside> {
        let swap = |colour| if colour == mend.from { mend.to } else { colour };
        let change = |b: &Beside| Beside {
            colours: b.colours.map(swap),
            ..*b
        };
        besides.iter().map(change).collect()
    }

    #[test]
    fn every_mend_parts_every_close_pair_of_named_colours_for_every_sight() {
        let named = named();
        let mut mended = 0;
        for (i, &one) in named.iter().enumerate() {
            for &two in &named[..i] {
                let besides = [beside(one, two)];
                let before = stand_apart(&besides, Viewing::ARM)[0].worst();
                let mends = mends(&besides, [one, two], Viewing::ARM, &named);
                assert_eq!(
                    mends.is_empty(),
                    before == Parting::StandApart,
                    "{one} {two}"
                );
                for mend in mends {
                    let after = stand_apart(&done(&besides, mend), Viewing::ARM);
                    assert_eq!(
                        after[0].worst(),
                        Parting::StandApart,
                        "{one} {two} {mend:?}"
                    );
                    mended += 1;
                }
            }
        }
        assert!(mended > 40, "{mended}");
    }

    #[test]
    fn the_change_of_lightness_is_the_smallest_that_does() {
        let [one, two] = [Colour([0xc0, 0x48, 0x30]), Colour([0x5c, 0x7a, 0x1c])];
        let besides = [beside(one, two)];
        let mends = mends(&besides, [one, two], Viewing::ARM, &[]);
        assert_eq!(mends.len(), 2, "one for each colour");
        for mend in mends {
            let before = mend.from.lab();
            let after = mend.to.lab();
            // A step and a half less does not do.
            let less = Lab {
                l: after.l - 1.5 * (after.l - before.l).signum(),
                ..before
            };
            let short = Mend {
                to: less.clipped(),
                ..mend
            };
            let left = stand_apart(&done(&besides, short), Viewing::ARM)[0].worst();
            assert!(left < Parting::StandApart, "{mend:?}");
            let hue = |lab: Lab| lab.b.atan2(lab.a);
            assert!(
                (hue(before) - hue(after)).abs() < 0.1,
                "the hue stays: {mend:?}"
            );
        }
    }

    #[test]
    fn a_mend_does_not_set_the_colour_against_another_neighbour() {
        let [sand, straw, dark] =
            [[0xc4, 0xa8, 0x7c], [0xbc, 0xa2, 0x7c], [0x70, 0x5a, 0x38]].map(Colour);
        let besides = [beside(sand, straw), beside(straw, dark), beside(sand, dark)];
        let mends = mends(&besides, [sand, straw], Viewing::ARM, &named());
        assert!(!mends.is_empty());
        for mend in mends {
            let after = stand_apart(&done(&besides, mend), Viewing::ARM);
            assert_eq!(after.len(), 3, "still three colours: {mend:?}");
            assert_eq!(after[0].worst(), Parting::StandApart, "{mend:?}");
        }
    }

    #[test]
    fn thread_too_fine_to_be_told_has_no_mend() {
        let [one, two] = [Colour::BLACK, Colour::WHITE];
        let fine = Beside {
            width: 0.05,
            ..beside(one, two)
        };
        assert_eq!(mends(&[fine], [one, two], Viewing::ARM, &named()), []);
    }
}
