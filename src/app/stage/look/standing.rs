//! What lies on the disc after so many moves.

use crate::structure::{Braid, Move, MoveList, Place};

use super::LookView;
use super::left::Left;

/// What lies on the disc after so many moves.
pub(super) struct Standing {
    /// Where each strand is.
    pub places: Vec<Place>,
    /// The move to make next, once moves are under way.
    pub next: Vec<Move>,
    /// The move just made.
    pub just_done: Vec<Move>,
    /// Strands by when they were lifted last, lowest first.
    pub order: Vec<usize>,
}

impl Standing {
    /// While the moves are worked on, the step under the cursor is the next; while
    /// drags become steps there is none yet.
    pub(super) fn with_next(mut self, view: &LookView, moves: &MoveList) -> Self {
        match view.left {
            _ if view.records_into() => self.next.clear(),
            Left::Make if view.recording.is_none() => {
                self.next = view.make.lit(moves).to_vec();
            }
            Left::Make | Left::Pick | Left::Find => {}
        }
        self
    }

    /// After `done` moves of a list that may be at fault: each is made as far as
    /// it can be, one that lifts from an empty place is left out. The next move
    /// is shown once the moves are under way.
    pub(super) fn walked(list: &MoveList, done: usize) -> Self {
        let all: Vec<Move> = list.moves().map(|(_, one)| one).collect();
        let nth = |lift: usize| {
            let round = lift.checked_div(all.len())? as i32;
            let on = list.turn.unwrap_or(0) * 2 * round;
            let turned = |place: Place| place.turned(on, list.slots);
            let Move { from, to } = all[lift % all.len()];
            Some(Move {
                from: turned(from),
                to: turned(to),
            })
        };
        let mut places = list.start.clone();
        let mut order: Vec<usize> = Vec::new();
        for Move { from, to } in (0..done).filter_map(nth) {
            if let Some(strand) = places.iter().position(|&place| place == from) {
                places[strand] = to;
                order.retain(|&other| other != strand);
                order.push(strand);
            }
        }
        let next = Some(done).filter(|&done| done > 0).and_then(nth);
        Self {
            places,
            next: next.into_iter().collect(),
            just_done: done.checked_sub(1).and_then(nth).into_iter().collect(),
            order,
        }
    }

    /// After `done` moves of a sound list; the next move is shown once the
    /// moves are under way.
    pub(super) fn after(braid: &Braid, done: usize) -> Self {
        let moved = |lift: usize| {
            let (before, after) = (braid.places_after(lift), braid.places_after(lift + 1));
            let strand = (0..before.len()).find(|&s| before[s] != after[s])?;
            let (from, to) = (before[strand], after[strand]);
            Some((strand, Move { from, to }))
        };
        let under_way = done > 0;
        let next = if under_way { moved(done) } else { None };
        let last = done.checked_sub(1).and_then(moved);
        let mut order: Vec<usize> = Vec::new();
        for lift in (done.saturating_sub(64)..done).rev() {
            if let Some((strand, _)) = moved(lift)
                && !order.contains(&strand)
            {
                order.insert(0, strand);
            }
        }
        Self {
            places: braid.places_after(done),
            next: next.into_iter().map(|(_, m)| m).collect(),
            just_done: last.into_iter().map(|(_, m)| m).collect(),
            order,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn after_a_move_its_strand_stands_where_it_was_carried() {
        let design = crate::app::fresh::plain();
        let moves = &design.sections[0].moves;
        let braid = Braid::new(moves).unwrap();
        let standing = Standing::after(&braid, 1);
        let (_, first) = moves.moves().next().unwrap();
        assert_eq!(standing.just_done, [first], "the move just made");
        assert!(standing.places.contains(&first.to), "a strand is there");
        assert_eq!(standing.order.len(), 1, "one strand was lifted");
        assert!(!standing.next.is_empty(), "the next move is shown");
    }

    #[test]
    fn a_list_at_fault_is_walked_as_far_as_it_goes() {
        let list: MoveList = "slots 32\nturn 1\nstart 1 9 17\n1 > 2\n5 > 6\n9 > 10"
            .parse()
            .unwrap();
        let [two, nine, ten, seventeen] = [2, 9, 10, 17].map(Place::slot);
        assert_eq!(Standing::walked(&list, 2).places, [two, nine, seventeen]);
        assert_eq!(Standing::walked(&list, 3).places, [two, ten, seventeen]);
        let later = Standing::walked(&list, 4);
        assert_eq!(later.places[0], Place::slot(3), "turned on by a slot");
    }
}
