//! The same list turned on the disc, or seen in a mirror.

use std::collections::BTreeSet;

use super::{Move, MoveList, Place, Step};

impl MoveList {
    /// The list in a mirror: slot `k` becomes `slots + 1 - k`.
    ///
    /// Makes the mirror image of the cord: the other hand.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self {
            turn: self.turn.map(|turn| -turn),
            ..self.with_places(|place| place.mirrored(self.slots))
        }
    }

    /// The list begun `half_slots` half slots further clockwise; the same cord.
    #[must_use]
    pub fn turned(&self, half_slots: i32) -> Self {
        self.with_places(|place| place.turned(half_slots, self.slots))
    }

    /// Half slots clockwise, more than none and less than a round, by which the
    /// start places fall onto start places; the smallest first.
    pub fn alike_on(&self) -> Vec<u16> {
        let all: BTreeSet<Place> = self.start.iter().copied().collect();
        let falls_on = |half_slots: &u16| {
            let on = i32::from(*half_slots);
            let mut turned = all.iter().map(|place| place.turned(on, self.slots));
            turned.all(|place| all.contains(&place))
        };
        (1..2 * self.slots).filter(falls_on).collect()
    }

    /// The list with every place renamed.
    pub(super) fn with_places(&self, to: impl Fn(Place) -> Place) -> Self {
        let carried = |&Move { from, to: end }: &Move| Move {
            from: to(from),
            to: to(end),
        };
        Self {
            start: self.start.iter().map(|&place| to(place)).collect(),
            steps: self
                .steps
                .iter()
                .map(|step| Step {
                    moves: step.moves.iter().map(carried).collect(),
                })
                .collect(),
            ..*self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pairs_at_the_quarters_stand_alike_at_every_quarter() {
        let start = |text: &str| -> MoveList { text.parse().expect("a list") };
        let pairs = start("slots 32\nstart 32 1 8 9 16 17 24 25");
        assert_eq!(pairs.alike_on(), [16, 32, 48], "8, 16 and 24 slots");
        let uneven = start("slots 32\nstart 1 2 9");
        assert!(uneven.alike_on().is_empty());
        let evenly = start("slots 8\nstart 1 3 5 7");
        assert_eq!(evenly.alike_on(), [4, 8, 12]);
    }

    #[test]
    fn the_mirror_changes_start_and_moves_alike() {
        let list = MoveList {
            slots: 32,
            start: vec![Place::slot(32), Place::slot(1)],
            steps: vec![Step {
                moves: vec![Move {
                    from: Place::slot(1),
                    to: Place::Hand,
                }],
            }],
            turn: Some(3),
            ..MoveList::default()
        };
        let mirror = list.mirrored();
        assert_eq!(mirror.start, [Place::slot(1), Place::slot(32)]);
        assert_eq!(mirror.steps[0].moves[0].from, Place::slot(32));
        assert_eq!(mirror.steps[0].moves[0].to, Place::Hand);
        assert_eq!(mirror.turn, Some(-3));
        assert_eq!(mirror.mirrored(), list);
    }
}
