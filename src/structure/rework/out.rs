//! Some strands taken out of a braid.
//!
//! What is left is the braid of the other strands. If strands that are taken
//! out and strands that stay take each other's parts from round to round, the
//! round gets longer: as many rounds are told as it takes until each kind is
//! back among its own.

use super::{ReworkError, Reworked, with_turn};
use crate::structure::check::MOST_MOVES;
use crate::structure::{Braid, MoveList, Step};

/// The braid without some strands; the others keep their order.
pub(super) fn without(braid: &Braid, strands: &[usize]) -> Result<Reworked, ReworkError> {
    let count = braid.strands();
    if let Some(strand) = strands.iter().find(|&&strand| strand >= count) {
        return Err(ReworkError::NoStrand(strand + 1));
    }
    let kept: Vec<usize> = (0..count)
        .filter(|strand| !strands.contains(strand))
        .collect();
    if kept.len() < 3 {
        return Err(ReworkError::FewStrands(kept.len()));
    }
    let rounds = rounds_apart(braid, &kept);
    let moves = rounds.saturating_mul(braid.lifts().len());
    if moves > MOST_MOVES {
        return Err(ReworkError::ManyMoves(moves));
    }
    let list = braid.moves();
    let left = MoveList {
        start: kept.iter().map(|&strand| list.start[strand]).collect(),
        steps: (0..rounds)
            .flat_map(|round| steps_of(braid, round, &kept))
            .collect(),
        ..list.clone()
    };
    let turn = i64::from(braid.turn()) * rounds as i64;
    let left = with_turn(left, within_half_round(turn, list.slots));
    Braid::new(&left)?;
    Ok(Reworked {
        list: left,
        strands: kept,
    })
}

/// After how many rounds the kept strands play the parts of kept strands.
fn rounds_apart(braid: &Braid, kept: &[usize]) -> usize {
    let mut roles: Vec<usize> = kept.to_vec();
    for round in 1.. {
        roles
            .iter_mut()
            .for_each(|role| *role = braid.becomes()[*role]);
        if roles.iter().all(|role| kept.contains(role)) {
            return round;
        }
        if round > MOST_MOVES {
            break;
        }
    }
    usize::MAX
}

/// The steps of a later round in which a kept strand is moved.
fn steps_of(braid: &Braid, round: usize, kept: &[usize]) -> Vec<Step> {
    let count = braid.lifts().len();
    let mut at = braid.places_after(round * count);
    let list = braid.moves();
    let mut lift = round * count;
    let mut steps = Vec::new();
    for step in &list.steps {
        let mut left = Step::default();
        for _ in &step.moves {
            lift += 1;
            let now = braid.places_after(lift);
            let moved = (0..at.len()).find(|&strand| at[strand] != now[strand]);
            if let Some(strand) = moved.filter(|strand| kept.contains(strand)) {
                left.moves.push((at[strand], now[strand]).into());
            }
            at = now;
        }
        if !left.moves.is_empty() {
            steps.push(left);
        }
    }
    steps
}

/// A turn without its full rounds, which only twist the whole.
fn within_half_round(turn: i64, slots: u16) -> i32 {
    let round = i64::from(slots);
    let least = turn.rem_euclid(round);
    let signed = if 2 * least > round {
        least - round
    } else {
        least
    };
    // Half round either way is told the way it went.
    let way = if 2 * least == round && turn < 0 {
        -1
    } else {
        1
    };
    i32::try_from(way * signed).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use crate::structure::{Braid, MoveList, Rework, ReworkError};

    fn spiral() -> MoveList {
        "slots 32\nstart 32 1 8 9 16 17 24 25\n17 > 31\n1 > 15\nagain 2 on 8"
            .parse()
            .expect("a list")
    }

    #[test]
    fn strands_that_only_meet_each_other_leave_a_round_as_long_as_before() {
        // Two rings of four: north and south, east and west.
        let one_ring = Rework::Out(vec![2, 3, 6, 7])
            .apply(&spiral())
            .expect("a ring");
        assert_eq!(one_ring.strands, [0, 1, 4, 5]);
        let text = "slots 32\nstart 32 1 16 17\n17 > 31\n1 > 15\n";
        assert_eq!(one_ring.list.to_string(), text);
    }

    #[test]
    fn strands_that_take_each_others_parts_are_followed_for_several_rounds() {
        let left = Rework::Out(vec![0]).apply(&spiral()).expect("seven");
        let braid = Braid::new(&left.list).expect("a braid");
        assert_eq!(braid.strands(), 7);
        // Four rounds until the eighth strand would be back, without its moves.
        assert_eq!(braid.lifts().len(), 14);
        assert_eq!(braid.turn(), -4);
    }

    #[test]
    fn too_few_strands_and_strands_that_are_not_there_are_refused() {
        let out = |strands: &[usize]| Rework::Out(strands.to_vec()).apply(&spiral());
        assert_eq!(out(&[0, 1, 2, 3, 4, 5]), Err(ReworkError::FewStrands(2)));
        assert_eq!(out(&[8]), Err(ReworkError::NoStrand(9)));
    }
}
