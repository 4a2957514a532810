//! Every fault of a move list said in one sentence for a maker: what is wrong,
//! where, and what to do.

use std::fmt;

use super::{BraidError, Fault, Move, Numbering, Place};

impl fmt::Display for BraidError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.sentence(Numbering::Clockwise))
    }
}

impl std::error::Error for BraidError {}

impl BraidError {
    /// What is wrong and what to do, places as the maker numbers them.
    pub fn sentence(&self, numbering: Numbering) -> String {
        let named = |place: Place| numbering.phrase_on(self.plate, place, self.slots);
        let short =
            |m: Move| [m.from, m.to].map(|place| numbering.label_on(self.plate, place, self.slots));
        match self.fault {
            Fault::StartOffDisc { place, .. } => start_off_disc(&named(place), self.slots),
            Fault::StartInHand { .. } => start_in_hand(),
            Fault::StartTwice { place, .. } => start_twice(&named(place)),
            Fault::OffDisc { step, place, .. } => off_disc(step, &named(place), self.slots),
            Fault::Empty { step, place } => empty(step, place, &named(place)),
            Fault::Taken { step, place, .. } => taken(step, &named(place)),
            Fault::HandFull { step, taken_up, .. } => hand_full(step, taken_up),
            Fault::Nowhere { step, place, .. } => nowhere(step, &named(place)),
            Fault::Interleave {
                step,
                first,
                second,
                ..
            } => interleave(step, &short(first), &short(second)),
            Fault::Exchange { step, first, .. } => exchange(step, &short(first)),
            Fault::HoldUnclear {
                step,
                passing,
                taken_up,
                ..
            } => hold_unclear(step, &short(passing), taken_up),
            Fault::OverCore { step, passing, .. } => over_core(step, &short(passing)),
            Fault::LeftInHand { taken_up, .. } => left_in_hand(taken_up),
            Fault::NotBack {
                turn,
                stray,
                missing,
                ..
            } => not_back(turn, &named(stray), &named(missing)),
            Fault::EmptyLater { step, round, place } => empty_later(step, round, &named(place)),
            Fault::TakenLater {
                step, round, place, ..
            } => taken_later(step, round, &named(place)),
            _ => self.of_the_whole(),
        }
    }

    /// The faults that are at no one place.
    fn of_the_whole(&self) -> String {
        let slots = self.slots;
        match self.fault {
            Fault::OddSlots => odd_slots(slots),
            Fault::UnevenSides => uneven_sides(slots),
            Fault::FewSlots { least } => few_slots(slots, least),
            Fault::ManySlots { most } => many_slots(slots, most),
            Fault::FewStrands { strands, least } => few_strands(strands, least),
            Fault::ManyStrands { strands, most } => many_strands(strands, most),
            Fault::ManyMoves { most } => many_moves(most),
            Fault::WideTurn { turn } => wide_turn(turn, slots),
            _ => no_moves(),
        }
    }
}

fn odd_slots(slots: u16) -> String {
    format!("The disc has {slots} slots, but the number must be even: add one or take one away.")
}

fn uneven_sides(slots: u16) -> String {
    format!(
        "A square plate with {slots} places has unequal sides: give it a number that can be \
         divided by four."
    )
}

fn wide_turn(turn: i32, slots: u16) -> String {
    format!(
        "A turn of {turn} slots a round is more than once round a disc of {slots}: write a \
         smaller one."
    )
}

fn few_slots(slots: u16, least: u16) -> String {
    format!("A disc of {slots} slots is too small: give it {least} or more.")
}

fn many_slots(slots: u16, most: u16) -> String {
    format!("A disc of {slots} slots is too large: give it {most} or fewer.")
}

fn few_strands(strands: usize, least: usize) -> String {
    let they = match strands {
        0 => "No strand does".to_owned(),
        1 => "One strand does".to_owned(),
        _ => format!("{strands} strands do"),
    };
    format!("{they} not make a braid: lay at least {least} on the disc.")
}

fn many_strands(strands: usize, most: usize) -> String {
    format!("{strands} strands are too many to work: lay {most} or fewer on the disc.")
}

fn no_moves() -> String {
    "There are no moves yet: carry a strand from its slot to a free one.".to_owned()
}

fn many_moves(most: usize) -> String {
    format!("A round of more than {most} moves is too long: write down one round only.")
}

fn start_off_disc(place: &str, slots: u16) -> String {
    format!(
        "A strand starts in {place}, but the disc has slots 1 to {slots}: move it to one of them."
    )
}

fn start_in_hand() -> String {
    "A strand starts in the hand: lay it in a slot at the start.".to_owned()
}

fn start_twice(place: &str) -> String {
    format!("Two strands start in {place}: move one of them to a free slot.")
}

fn off_disc(step: usize, place: &str, slots: u16) -> String {
    format!(
        "Step {step} names {place}, but the disc has slots 1 to {slots}: correct the move \
         or give the disc more slots."
    )
}

fn empty(step: usize, place: Place, named: &str) -> String {
    if place == Place::Hand {
        return format!(
            "Step {step} lays a strand down, but the hand is empty: take one up first."
        );
    }
    format!(
        "Step {step} lifts a strand from {named}, but none is there: correct this move \
         or one before it."
    )
}

fn taken(step: usize, place: &str) -> String {
    format!(
        "Step {step} lays a strand in {place}, where one rests already: lift that one first \
         or choose a free slot."
    )
}

fn hand_full(step: usize, taken_up: usize) -> String {
    format!(
        "Step {step} takes a second strand into the hand while the one of step {taken_up} \
         is still held: lay that one down first."
    )
}

fn nowhere(step: usize, place: &str) -> String {
    format!("Step {step} has a move that ends where it begins, in {place}: give it another goal.")
}

fn interleave(step: usize, first: &[String; 2], second: &[String; 2]) -> String {
    let [a, b] = first;
    let [c, d] = second;
    format!(
        "In step {step} the moves {a} to {b} and {c} to {d} cross, so it matters which goes \
         first: make two steps of them, in the order of your hands."
    )
}

fn exchange(step: usize, first: &[String; 2]) -> String {
    let [a, b] = first;
    format!(
        "In step {step} the strands in {a} and {b} change places: say whether they go round \
         one another clockwise or anticlockwise."
    )
}

fn hold_unclear(step: usize, passing: &[String; 2], taken_up: usize) -> String {
    let [a, b] = passing;
    format!(
        "In step {step} it cannot be told on which side the move {a} to {b} passes the strand \
         held since step {taken_up}: say between which slots that strand is held."
    )
}

fn over_core(step: usize, passing: &[String; 2]) -> String {
    let [a, b] = passing;
    format!(
        "In step {step} the move {a} to {b} goes straight over the core: carry the strand to \
         half a slot beside {b} first, so that it is clear on which side it passes."
    )
}

fn left_in_hand(taken_up: usize) -> String {
    format!(
        "The strand taken up in step {taken_up} is still in the hand when the round ends: \
         add a move that lays it down."
    )
}

fn not_back(turn: i32, stray: &str, missing: &str) -> String {
    let turned = match turn {
        0 => String::new(),
        _ => format!(", even with the disc turned by {}", slots_turned(turn)),
    };
    format!(
        "The round does not come back to its start{turned}: {stray} holds a strand and \
         {missing} holds none; correct a move, or add one that carries the strand there."
    )
}

fn empty_later(step: usize, round: usize, place: &str) -> String {
    format!(
        "Worked on, step {step} (in round {round}) lifts a strand from {place}, but none is \
         there: correct the move or the turn that leaves it empty."
    )
}

fn taken_later(step: usize, round: usize, place: &str) -> String {
    format!(
        "Worked on, step {step} (in round {round}) lays a strand in {place}, where one rests \
         already: correct the move or the turn that leads there."
    )
}

/// `2 slots anticlockwise`.
pub(super) fn slots_turned(turn: i32) -> String {
    let count = turn.unsigned_abs();
    let noun = if count == 1 { "slot" } else { "slots" };
    let way = if turn > 0 {
        "clockwise"
    } else {
        "anticlockwise"
    };
    format!("{count} {noun} {way}")
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
        assert_says(
            &between,
            &["Step 2", "from the hand between slots 9 and 10"],
        );
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
