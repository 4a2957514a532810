//! A core in the middle of the disc, as one strand more.
//!
//! It hangs from the middle and is never lifted. A lift is a straight line and
//! passes it on the side where the line lies. Drawn out along the rim's mark, the
//! core becomes the first place of the word, and the strands come after it; a lift
//! that leaves the middle on the far side of the mark first goes round it.

use crate::structure::{Braid, Fault, Lift};

use super::verdict::{Verdict, verdict_of_word};
use super::word::{carried_over_mark, ranks, reduced};

/// The word of one round with a core in the middle: place 1 is the core, places 2
/// on are the strands clockwise from the mark. See [`artin`](super::artin).
///
/// # Errors
///
/// [`Fault::OverCore`] for a lift straight over the middle, whose side cannot be
/// told.
pub fn artin_round_a_core(braid: &Braid) -> Result<Vec<i32>, Fault> {
    let mut seats = braid.seats_after(0);
    let mut word = Vec::new();
    for (lift, (step, passing)) in braid.lifts().iter().zip(braid.moves().moves()) {
        let over_core = Fault::OverCore {
            step,
            passing,
            strand: lift.strand,
        };
        let leaves_middle_behind = leaves_middle_behind(lift).ok_or(over_core)?;
        let (from, to) = ranks(&seats, lift.strand, lift.to);
        lifted(
            &mut word,
            from as i32 + 2,
            to as i32 + 2,
            leaves_middle_behind,
        );
        seats[lift.strand] = lift.to;
    }
    let back = -carried_over_mark(&seats, -braid.turn());
    turned(&mut word, seats.len() as i32, back);
    Ok(reduced(&word))
}

/// What the list makes round a core; in the answer the core is the strand after
/// the last.
///
/// # Errors
///
/// As [`artin_round_a_core`].
pub fn verdict_round_a_core(braid: &Braid) -> Result<Verdict, Fault> {
    let word = artin_round_a_core(braid)?;
    let core = braid.strands();
    let names: Vec<usize> = std::iter::once(core).chain(braid.order_after(0)).collect();
    let verdict = verdict_of_word(&word, core + 1).renamed(&names);
    Ok(match verdict {
        Verdict::Locks { .. } => Verdict::Locks {
            core: braid.never_lifted().into_iter().chain([core]).collect(),
        },
        other => other,
    })
}

impl Verdict {
    /// The verdict round a core in a sentence; `core` is the number that stands for
    /// the core, that of the strands.
    pub fn sentence_round_a_core(&self, core: usize) -> String {
        match self {
            Self::Locks { core: held } if held == &[core] => {
                "The strands lock round the core and hold it in.".to_owned()
            }
            Self::StrandOutside { strand, .. } if *strand == core => {
                "The strands do not go round the core: it stays outside the cord.".to_owned()
            }
            _ => self.sentence(),
        }
    }
}

/// Whether the line of a lift runs between the middle and the mark; nothing if it
/// runs through the middle.
fn leaves_middle_behind(lift: &Lift) -> Option<bool> {
    let apart = 2 * lift.from.at.abs_diff(lift.to.at);
    (apart != lift.to.of).then_some(apart > lift.to.of)
}

/// A lift between places; round the core first or last if it leaves the middle
/// behind.
fn lifted(word: &mut Vec<i32>, from: i32, to: i32, leaves_middle_behind: bool) {
    let left = |from: i32, to: i32| (to..from).rev().map(|letter| -letter);
    match (leaves_middle_behind, to > from) {
        (false, true) => word.extend(from..to),
        (false, false) => word.extend(left(from, to)),
        (true, true) => {
            word.extend(left(from, 2));
            word.push(1);
            word.extend(1..to);
        }
        (true, false) => {
            word.extend(left(from, 1));
            word.push(-1);
            word.extend(2..to);
        }
    }
}

/// The whole turned until so many strands were carried over the mark, anticlockwise
/// positive.
fn turned(word: &mut Vec<i32>, strands: i32, over_mark: i32) {
    for _ in 0..over_mark.abs() {
        if over_mark > 0 {
            word.push(1);
            word.extend(1..=strands);
        } else {
            word.extend((1..=strands).rev().map(|letter| -letter));
            word.push(-1);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::topology::listed::checked;
    use crate::topology::{full_turns, same_braid};

    fn listed(name: &str) -> Braid {
        checked().find(|(one, _)| one.name == name).expect(name).1
    }

    #[test]
    fn a_turn_of_all_strands_round_the_core_is_a_turn_of_the_whole() {
        for strands in 3..8 {
            for way in [1, -1] {
                let mut word = Vec::new();
                turned(&mut word, strands, way * strands);
                let all = strands as usize + 1;
                assert!(same_braid(&word, &full_turns(all, way), all));
            }
        }
    }

    #[test]
    fn round_and_hollow_cords_enclose_a_core() {
        let enclosing = [
            "r8-spiral",
            "r8-square",
            "r12-spiral",
            "r16-spiral",
            "r8-tube11",
            "r16-tube11",
        ];
        for name in enclosing {
            let braid = listed(name);
            let core = vec![braid.strands()];
            assert_eq!(
                verdict_round_a_core(&braid),
                Ok(Verdict::Locks { core }),
                "{name}"
            );
        }
    }

    #[test]
    fn cords_beside_the_middle_do_not_enclose_it() {
        // Both cords of four lie beside the middle.
        assert_eq!(
            verdict_round_a_core(&listed("x-two4")).map(|v| v.locks()),
            Ok(false)
        );
        let outside = verdict_round_a_core(&listed("f5-plain")).expect("clear of the core");
        assert!(matches!(outside, Verdict::StrandOutside { strand: 5, .. }));
        assert!(
            outside
                .sentence_round_a_core(5)
                .contains("stays outside the cord")
        );
        assert!(outside.sentence_round_a_core(8).contains("Strand 6"));
    }

    #[test]
    fn the_disc_turned_makes_the_same_verdict_round_a_core() {
        for (one, braid) in checked().filter(|(one, _)| one.moves.start.len() <= 8) {
            let Ok(expected) = verdict_round_a_core(&braid) else {
                continue;
            };
            for half_slots in [6, 20, -9] {
                let turned = Braid::new(&one.moves.turned(half_slots)).expect(&one.name);
                let found = verdict_round_a_core(&turned).expect(&one.name);
                assert_eq!(found.locks(), expected.locks(), "{}", one.name);
            }
        }
    }

    #[test]
    fn a_lift_straight_over_the_middle_is_a_fault() {
        let list = crate::structure::MoveList {
            slots: 32,
            start: [1, 9, 18].map(crate::structure::Place::slot).to_vec(),
            steps: [(1, 17), (17, 1)]
                .map(|(from, to)| crate::structure::Step {
                    moves: vec![crate::structure::Move {
                        from: crate::structure::Place::slot(from),
                        to: crate::structure::Place::slot(to),
                    }],
                })
                .to_vec(),
            ..Default::default()
        };
        let braid = Braid::new(&list).expect("a braid");
        let fault = verdict_round_a_core(&braid).expect_err("over the core");
        assert!(
            matches!(
                fault,
                Fault::OverCore {
                    step: 1,
                    strand: 0,
                    ..
                }
            ),
            "{fault:?}"
        );
    }

    #[test]
    fn as_many_strands_as_a_disc_takes_get_a_verdict_round_a_core() {
        let mut word: Vec<i32> = (1..=64).collect();
        assert!(!verdict_of_word(&word, 65).locks(), "a rope");
        word.iter_mut()
            .step_by(2)
            .for_each(|letter| *letter = -*letter);
        assert!(verdict_of_word(&word, 65).locks(), "a flat plait");
    }
}
