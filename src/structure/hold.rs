//! Where on the rim a held strand might as well have been laid.
//!
//! A strand in the hand hangs over the middle of the disc. A move that is made
//! meanwhile is a straight line from place to place, and passes the held strand
//! on the side where that line lies. So a gap of the rim that lies on the same
//! side of every such line as the middle does is as good a place as the hand:
//! nothing ever comes between the two. Lines exactly through the middle, and
//! holds without such a gap, are refused.

use super::check::Carried;
use super::{Fault, Lift, Move, Place, Seat};

/// The moves of a round with every hold replaced by a seat on the rim.
pub(super) fn resolve(carried: &[Carried], slots: u16) -> Result<Vec<Lift>, Fault> {
    let mut held = None;
    let mut lifts = Vec::with_capacity(carried.len());
    for (index, one) in carried.iter().enumerate() {
        if one.to == Place::Hand {
            held = Some(seat_of_hold(carried, index, slots)?);
        }
        let seat = |place| match place {
            Place::Hand => held.expect("a strand is laid down from the hand only after a hold"),
            Place::Rim(_) => Seat::of(place, slots).expect("on the rim"),
        };
        lifts.push(Lift {
            strand: one.strand,
            from: seat(one.from),
            to: seat(one.to),
            step: one.step,
        });
    }
    Ok(lifts)
}

/// The seat nearest to the goal for the hold that move `up` begins.
fn seat_of_hold(carried: &[Carried], up: usize, slots: u16) -> Result<Seat, Fault> {
    let after = &carried[up + 1..];
    let down = after.iter().position(|one| one.from == Place::Hand);
    let down = up + 1 + down.expect("no strand is left in the hand");
    let goal = Seat::of(carried[down].to, slots).expect("laid down on the rim");
    let mut seats: Vec<Seat> = gaps_nearest_first(goal).collect();
    for one in passing(carried, up, down) {
        let ends = [one.from, one.to].map(|place| Seat::of(place, slots));
        if let [Some(from), Some(to)] = ends {
            seats.retain(|seat| lies_with_the_middle(*seat, from, to));
        }
        if seats.is_empty() {
            return Err(Fault::HoldUnclear {
                step: one.step,
                passing: Move {
                    from: one.from,
                    to: one.to,
                },
                taken_up: carried[up].step,
                strands: [one.strand, carried[up].strand],
            });
        }
    }
    Ok(seats[0])
}

/// The moves made during a hold, the others of its first and last step among
/// them: what is said of a step must hold for every order of its moves.
fn passing(carried: &[Carried], up: usize, down: usize) -> impl Iterator<Item = &Carried> {
    let steps = carried[up].step..=carried[down].step;
    carried
        .iter()
        .enumerate()
        .filter(move |(index, one)| *index != up && *index != down && steps.contains(&one.step))
        .map(|(_, one)| one)
}

/// All seats that no strand can rest in, those before the goal first.
fn gaps_nearest_first(goal: Seat) -> impl Iterator<Item = Seat> {
    let round = i32::from(goal.of);
    (1..round)
        .step_by(2)
        .flat_map(move |off| [goal.turned(-off), goal.turned(off)])
}

/// Whether a seat and the middle lie on the same side of a line across the disc;
/// never true of a line through the middle.
fn lies_with_the_middle(seat: Seat, from: Seat, to: Seat) -> bool {
    let (chord, at) = (from.clockwise_to(to), from.clockwise_to(seat));
    match (2 * chord).cmp(&seat.of) {
        std::cmp::Ordering::Greater => at < chord,
        std::cmp::Ordering::Less => at > chord,
        std::cmp::Ordering::Equal => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{Braid, MoveList};

    fn braid(steps: &str) -> Result<Braid, Fault> {
        let text = format!("(slots: 32, start: [1, 9, 17, 25], steps: {steps})");
        let list: MoveList = ron::from_str(&text).expect("a list");
        Braid::new(&list).map_err(|error| error.fault)
    }

    #[test]
    fn a_held_strand_waits_just_before_its_goal_if_nothing_is_made_meanwhile() {
        let braid = braid("[[(1, \"hand\")], [(\"hand\", 5)], [(5, 1)]]").expect("clear");
        let goal = Seat::of(Place::slot(5), 32).expect("on the rim");
        assert_eq!(braid.lifts()[0].to, goal.turned(-1));
        assert_eq!(braid.lifts()[1].to, goal);
    }

    #[test]
    fn a_held_strand_waits_on_the_middles_side_of_what_passes() {
        // The line from 17 to 31 leaves the middle on the side of 16 to 1.
        let steps = "[[(1, \"hand\")], [(17, 31)], [(\"hand\", 18)], [(31, 1)], [(18, 17)]]";
        let braid = braid(steps).expect("clear");
        let seat = |half| Seat::of(Place::Rim(half), 32).expect("on the rim");
        assert_eq!(braid.lifts()[0].to, seat(34).turned(-1));
        let passing = braid.lifts()[1];
        assert!(lies_with_the_middle(
            braid.lifts()[0].to,
            passing.from,
            passing.to
        ));
    }

    #[test]
    fn a_move_straight_over_the_held_strand_is_refused() {
        let steps = "[[(1, \"hand\")], [(9, 10)], [(17, 1)], [(\"hand\", 17)], [(10, 9)]]";
        let fault = braid(steps).expect_err("through the middle");
        let passing = Move {
            from: Place::slot(17),
            to: Place::slot(1),
        };
        let expected = Fault::HoldUnclear {
            step: 3,
            passing,
            taken_up: 1,
            strands: [2, 0],
        };
        assert_eq!(fault, expected);
    }

    #[test]
    fn moves_that_fence_the_hand_in_are_refused() {
        // Three lines round the middle leave it no gap of the rim.
        let steps = "[[(1, \"hand\")], [(9, 24)], [(17, 32)], \
                      [(25, 30)], [(30, 10)], [(\"hand\", 1)]]";
        let fault = braid(steps).expect_err("fenced in");
        assert!(
            matches!(fault, Fault::HoldUnclear { step: 5, .. }),
            "{fault:?}"
        );
    }
}
