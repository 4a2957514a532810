//! Works a list once, move by move, and stops at the first fault.

use super::{Fault, Move, MoveList, Place};

/// Smallest disc; four slots are the least that leave a place to move to.
const LEAST_SLOTS: u16 = 4;
/// Largest disc; common discs have 32, our guess at eight times what is made.
const MOST_SLOTS: u16 = 256;
/// Fewest strands; two only twist.
const LEAST_STRANDS: usize = 3;
/// Most strands; twice what is braided on a disc, our guess.
const MOST_STRANDS: usize = 64;
/// Most moves in a round; keeps a broken file from keeping the program busy.
const MOST_MOVES: usize = 4096;

/// One strand carried, with the place names of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Carried {
    pub(super) strand: usize,
    pub(super) step: usize,
    pub(super) from: Place,
    pub(super) to: Place,
}

/// What working a round shows.
#[derive(Debug)]
pub(super) struct Worked {
    pub(super) carried: Vec<Carried>,
    pub(super) end: Vec<Place>,
}

/// Works one round of the list.
pub(super) fn work(list: &MoveList) -> Result<Worked, Fault> {
    check_counts(list)?;
    check_start(list)?;
    let mut hands = Hands {
        slots: list.slots,
        at: list.start.clone(),
        taken_up: 0,
    };
    let carried = list
        .moves()
        .map(|(step, carried)| hands.carry(step, carried))
        .collect::<Result<_, _>>()?;
    if hands.at.contains(&Place::Hand) {
        return Err(Fault::LeftInHand {
            taken_up: hands.taken_up,
        });
    }
    Ok(Worked {
        carried,
        end: hands.at,
    })
}

fn check_counts(list: &MoveList) -> Result<(), Fault> {
    let strands = list.start.len();
    match list.slots {
        0..LEAST_SLOTS => Err(Fault::FewSlots { least: LEAST_SLOTS }),
        slots if slots > MOST_SLOTS => Err(Fault::ManySlots { most: MOST_SLOTS }),
        slots if slots % 2 == 1 => Err(Fault::OddSlots),
        _ if strands < LEAST_STRANDS => Err(Fault::FewStrands {
            strands,
            least: LEAST_STRANDS,
        }),
        _ if strands > MOST_STRANDS => Err(Fault::ManyStrands {
            strands,
            most: MOST_STRANDS,
        }),
        _ => match list.moves().take(MOST_MOVES + 1).count() {
            0 => Err(Fault::NoMoves),
            count if count > MOST_MOVES => Err(Fault::ManyMoves { most: MOST_MOVES }),
            _ => Ok(()),
        },
    }
}

fn check_start(list: &MoveList) -> Result<(), Fault> {
    for (strand, &place) in list.start.iter().enumerate() {
        if place == Place::Hand {
            return Err(Fault::StartInHand);
        }
        if !place.is_on(list.slots) {
            return Err(Fault::StartOffDisc { place });
        }
        if list.start[..strand].contains(&place) {
            return Err(Fault::StartTwice { place });
        }
    }
    Ok(())
}

/// Where every strand is while the list is worked.
struct Hands {
    slots: u16,
    at: Vec<Place>,
    /// Step that filled the hand last.
    taken_up: usize,
}

impl Hands {
    fn carry(&mut self, step: usize, Move { from, to }: Move) -> Result<Carried, Fault> {
        for place in [from, to] {
            if !place.is_on(self.slots) {
                return Err(Fault::OffDisc { step, place });
            }
        }
        if from == to {
            return Err(Fault::Nowhere { step, place: from });
        }
        let strand = self
            .strand_at(from)
            .ok_or(Fault::Empty { step, place: from })?;
        if self.strand_at(to).is_some() {
            return Err(self.taken(step, to));
        }
        if to == Place::Hand {
            self.taken_up = step;
        }
        self.at[strand] = to;
        Ok(Carried {
            strand,
            step,
            from,
            to,
        })
    }

    fn taken(&self, step: usize, place: Place) -> Fault {
        match place {
            Place::Hand => Fault::HandFull {
                step,
                taken_up: self.taken_up,
            },
            Place::Rim(_) => Fault::Taken { step, place },
        }
    }

    fn strand_at(&self, place: Place) -> Option<usize> {
        self.at.iter().position(|&here| here == place)
    }
}

#[cfg(test)]
mod tests {
    use crate::structure::{Braid, MoveList, Numbering};

    fn said(list: &str, numbering: Numbering) -> String {
        let list: MoveList = ron::from_str(list).expect("a list");
        Braid::new(&list).expect_err("a fault").sentence(numbering)
    }

    /// The first sentence about four strands at the marks of a 32-slot disc.
    fn four(steps: &str) -> String {
        let list = format!("(slots: 32, start: [1, 9, 17, 25], steps: {steps})");
        said(&list, Numbering::Clockwise)
    }

    #[track_caller]
    fn assert_says(said: &str, parts: &[&str]) {
        for part in parts {
            assert!(said.contains(part), "{said:?} lacks {part:?}");
        }
        assert!(said.ends_with('.'), "{said}");
    }

    #[test]
    fn a_disc_that_cannot_be_is_named_with_its_slots() {
        let slots = |slots: u16| {
            let list = format!("(slots: {slots}, start: [], steps: [])");
            said(&list, Numbering::Clockwise)
        };
        assert_says(&slots(31), &["31 slots", "even"]);
        assert_says(&slots(0), &["0 slots", "4 or more"]);
        assert_says(&slots(2), &["2 slots", "4 or more"]);
        assert_says(&slots(65535), &["65535 slots", "256 or fewer"]);
    }

    #[test]
    fn too_few_and_too_many_strands_are_counted() {
        let list = |start: &str| format!("(slots: 256, start: [{start}], steps: [])");
        let few = said(&list("1, 2"), Numbering::Clockwise);
        assert_says(&few, &["2 strands do not", "at least 3"]);
        assert_says(&said(&list(""), Numbering::Clockwise), &["No strand does"]);
        let many: Vec<String> = (1..=65).map(|slot| slot.to_string()).collect();
        let many = said(&list(&many.join(",")), Numbering::Clockwise);
        assert_says(&many, &["65 strands", "64 or fewer"]);
    }

    #[test]
    fn a_start_is_on_the_disc_and_each_place_has_one_strand() {
        let start = |start: &str, numbering| {
            let list = format!("(slots: 32, start: [{start}], steps: [[(1, 2)]])");
            said(&list, numbering)
        };
        let twice = start("1, 9, 9", Numbering::Clockwise);
        assert_says(&twice, &["Two strands start in slot 9"]);
        let twice = start("1, 9, 9", Numbering::Anticlockwise);
        assert_says(&twice, &["Two strands start in slot 24"]);
        let off = start("1, 9, 40", Numbering::Clockwise);
        assert_says(&off, &["slot 40", "1 to 32"]);
        let hand = start("1, 9, \"hand\"", Numbering::Clockwise);
        assert_says(&hand, &["in the hand"]);
    }

    #[test]
    fn a_list_without_moves_and_an_endless_one_are_refused() {
        assert_says(&four("[]"), &["no moves yet"]);
        let endless = format!("[{}]", "[(1, 2), (2, 1)],".repeat(2049));
        assert_says(&four(&endless), &["more than 4096 moves"]);
    }

    #[test]
    fn faults_of_a_move_name_step_and_slot_as_the_maker_numbers_them() {
        let empty = four("[[(1, 2)], [(3, 4)]]");
        assert_says(&empty, &["Step 2", "from slot 3, but none is there"]);
        let between = four("[[(1, 8.5)], [(9.5, 4)]]");
        assert_says(&between, &["Step 2", "the place between slots 9 and 10"]);
        assert_says(
            &four("[[(1, 17)]]"),
            &["Step 1", "slot 17, where one rests"],
        );
        assert_says(
            &four("[[(1, 1)]]"),
            &["Step 1", "ends where it begins, in slot 1"],
        );
        assert_says(&four("[[(1, 33)]]"), &["Step 1", "slot 33", "1 to 32"]);
        let list = "(slots: 32, start: [1, 9, 17, 25], steps: [[(1, 17)]])";
        let anticlockwise = said(list, Numbering::Anticlockwise);
        assert_says(&anticlockwise, &["slot 16, where one rests"]);
    }

    #[test]
    fn the_hand_holds_one_strand_and_is_empty_at_the_end() {
        let full = four("[[(1, \"hand\")], [(9, 1)], [(17, \"hand\")]]");
        assert_says(&full, &["Step 3", "second strand", "of step 1"]);
        let empty = four("[[(\"hand\", 2)]]");
        assert_says(&empty, &["Step 1", "the hand is empty"]);
        let left = four("[[(1, 2)], [(2, \"hand\")]]");
        assert_says(&left, &["taken up in step 2", "still in the hand"]);
    }

    #[test]
    fn moves_of_one_step_that_cross_are_named() {
        let cross = four("[[(1, 16), (9, 24)]]");
        assert_says(&cross, &["In step 1", "1 to 16 and 9 to 24", "two steps"]);
    }

    #[test]
    fn a_round_that_does_not_come_back_says_what_is_missing_where() {
        let said = four("[[(1, 5)], [(9, 12)], [(5, 1)]]");
        assert_says(&said, &["slot 12 holds a strand", "slot 9 holds none"]);
        assert!(!said.contains("turned"), "{said}");
        let said = four("[[(1, 2)], [(9, 10)], [(17, 18)]]");
        assert_says(
            &said,
            &[
                "turned by 1 slot clockwise",
                "slot 25 holds a strand",
                "slot 26",
            ],
        );
    }
}
