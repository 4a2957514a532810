//! What the strands are laid on: a round disc or a square plate.
//!
//! On either the places follow one another round the rim, clockwise seen from
//! above, and lie in convex position: a strand carried inside the rim passes
//! the same strands on both. So the moves of both are told and checked alike;
//! only the names of the places and where they are drawn differ.

use serde::{Deserialize, Serialize};

use super::Place;

/// What the strands are laid on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum Plate {
    /// Round; the mark between the last slot and slot 1 is at the far side.
    #[default]
    Disc,
    /// Square, with a quarter of the slots on each side. Slot 1 is the first of
    /// the far side, at its left end.
    Square,
}

/// The sides of a square plate clockwise: far, right, near, left, named like
/// the points of a compass.
pub(super) const SIDES: [char; 4] = ['N', 'E', 'S', 'W'];

impl Plate {
    /// Whether it is a disc.
    pub fn is_disc(&self) -> bool {
        *self == Self::Disc
    }

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Disc => "disc",
            Self::Square => "plate",
        }
    }

    /// Where a place lies, `x` to the right and `y` away from the maker: on a
    /// circle of radius 1 or on the edge of a square of side 2. The hand is in
    /// the middle.
    pub fn point(self, place: Place, slots: u16) -> [f64; 2] {
        let (Some(angle), Place::Rim(half)) = (place.angle(slots), place) else {
            return [0.0, 0.0];
        };
        if self == Self::Disc {
            return [angle.sin(), angle.cos()];
        }
        let a_side = (slots / 2).max(1);
        let on = half.saturating_sub(1);
        let along = 2.0 * f64::from(on % a_side) / f64::from(a_side) - 1.0;
        match on / a_side % 4 {
            0 => [along, 1.0],
            1 => [1.0, -along],
            2 => [-along, -1.0],
            _ => [-1.0, along],
        }
    }

    /// Side and number of a rim place of a square plate, in half slots from 2:
    /// what [`Place::Rim`] is to a disc, each side is to itself.
    pub(super) fn side_and_half(half: u16, slots: u16) -> (usize, u16) {
        let a_side = (slots / 2).max(1);
        let on = half.saturating_sub(2);
        (usize::from(on / a_side).min(3), on % a_side + 2)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_places_of_a_square_go_round_its_sides_clockwise() {
        let at = |slot| Plate::Square.point(Place::slot(slot), 8);
        let near = |p: [f64; 2], x: f64, y: f64| (p[0] - x).hypot(p[1] - y) < 1e-12;
        assert!(near(at(1), -0.5, 1.0) && near(at(2), 0.5, 1.0));
        assert!(near(at(3), 1.0, 0.5) && near(at(4), 1.0, -0.5));
        assert!(near(at(5), 0.5, -1.0) && near(at(8), -1.0, 0.5));
        assert!(near(Plate::Square.point(Place::Hand, 8), 0.0, 0.0));
    }

    #[test]
    fn opposite_places_lie_opposite_on_disc_and_square() {
        for plate in [Plate::Disc, Plate::Square] {
            for half in 2..=33 {
                let place = Place::Rim(half);
                let (here, there) = (
                    plate.point(place, 16),
                    plate.point(place.turned(16, 16), 16),
                );
                let apart = (here[0] + there[0]).hypot(here[1] + there[1]);
                assert!(apart < 1e-12, "{place:?}: {here:?} {there:?}");
            }
        }
    }

    #[test]
    fn places_are_counted_anew_on_every_side() {
        assert_eq!(Plate::side_and_half(2, 32), (0, 2));
        assert_eq!(Plate::side_and_half(17, 32), (0, 17));
        assert_eq!(Plate::side_and_half(18, 32), (1, 2));
        assert_eq!(Plate::side_and_half(65, 32), (3, 17));
    }
}
