//! Any story of a cord under way, cut off anywhere, is a place that was once true.

use plaitwright::bench::{Course, Entry, Lying, Motions, Note, Stamped, Way};
use plaitwright::structure::{Braid, Move, MoveList, Place};
use proptest::prelude::*;
use proptest::sample::Index;

use super::config;
use super::lists::{list_with_a_hold, sound_list};

/// What is told next, before the list is known.
#[derive(Debug, Clone)]
enum Told {
    Laid(Index),
    Done(u64),
    Out(Index),
    Along(usize),
    Noted(String),
    Taken(u64, Vec<Index>),
}

fn told() -> impl Strategy<Value = Vec<Told>> {
    let one = prop_oneof![
        1 => any::<Index>().prop_map(Told::Laid),
        4 => (0u64..90).prop_map(Told::Done),
        4 => any::<Index>().prop_map(Told::Out),
        6 => (0usize..12).prop_map(Told::Along),
        2 => "[a-z]{0,4}".prop_map(Told::Noted),
        1 => (0u64..90, prop::collection::vec(any::<Index>(), 12))
            .prop_map(|(done, order)| Told::Taken(done, order)),
    ];
    prop::collection::vec(one, 0..30)
}

fn some_braid() -> impl Strategy<Value = Braid> {
    let list = prop_oneof![sound_list(), list_with_a_hold()];
    list.prop_filter_map("a hold may be unclear", |list| Braid::new(&list).ok())
}

/// The entry for what is told where the course stands.
fn entry(told: &Told, course: &Course, braid: &Braid) -> Entry {
    match told {
        Told::Laid(laid) => Entry::Laid(laid.index(braid.strands() + 1)),
        Told::Done(done) => Entry::Done(*done),
        Told::Out(lands) => {
            let lands = lands.index(course.done as usize + 1) as u64;
            Entry::Out(Way::undo(braid, &course.roles, course.done, lands))
        }
        Told::Along(steps) => Entry::Along(*steps),
        Told::Noted(words) => Entry::Noted(Note::Words(words.clone())),
        Told::Taken(done, order) => Entry::Taken {
            done: *done,
            roles: shuffled(braid.strands(), order),
        },
    }
}

fn shuffled(strands: usize, order: &[Index]) -> Vec<usize> {
    let mut left: Vec<usize> = (0..strands).collect();
    let mut order = order.iter().cycle();
    std::iter::from_fn(|| {
        (!left.is_empty()).then(|| {
            let next = order.next().expect("it goes round").index(left.len());
            left.swap_remove(next)
        })
    })
    .collect()
}

/// Where the strands lie after so many moves, carried one by one on an empty table.
fn carried(list: &MoveList, turn: i32, roles: &[usize], done: u64) -> Vec<Place> {
    let mut at: Vec<Place> = roles.iter().map(|&role| list.start[role]).collect();
    let moves: Vec<Move> = list.moves().map(|(_, one)| one).collect();
    let a_round = moves.len() as u64;
    for made in 0..done {
        let on = i32::try_from(made / a_round).expect("few rounds") * 2 * turn;
        let one = moves[(made % a_round) as usize];
        let from = one.from.turned(on, list.slots);
        let strand = at.iter().position(|&place| place == from).expect("there");
        at[strand] = one.to.turned(on, list.slots);
    }
    at
}

/// Where the strands lie by what the course says of itself.
fn true_places(course: &Course, braid: &Braid) -> Vec<Place> {
    let (list, turn) = (braid.moves(), braid.turn());
    let Some((way, made)) = &course.way else {
        return carried(list, turn, &course.roles, course.done);
    };
    let mut at = carried(list, turn, &course.roles, course.done);
    for one in way.steps.iter().take(*made).flat_map(|step| &step.moves) {
        let strand = at
            .iter()
            .position(|&place| place == one.from)
            .expect("there");
        at[strand] = one.to;
    }
    at
}

fn place(course: &Course) -> (u64, &[usize], usize, &Option<(Way, usize)>) {
    (course.done, &course.roles, course.laid, &course.way)
}

proptest! {
    #![proptest_config(config(200))]

    #[test]
    fn a_story_cut_off_anywhere_is_a_place_that_was_once_true(
        braid in some_braid(),
        told in told(),
    ) {
        let new = || Course::new(braid.strands());
        let mut course = new();
        let mut story: Vec<Stamped> = Vec::new();
        let mut once = vec![course.clone()];
        for (at, told) in (0..).zip(&told) {
            let stamped = Stamped { at, entry: entry(told, &course, &braid) };
            let before = course.clone();
            if course.take(&stamped).is_err() {
                prop_assert_eq!(&course, &before);
                continue;
            }
            let lying = course.lying(&braid);
            prop_assert_eq!(lying.places(), true_places(&course, &braid), "{:?}", stamped);
            story.push(stamped);
            once.push(course.clone());
        }
        for (length, stood) in once.iter().enumerate() {
            let mut again = new();
            for stamped in &story[..length] {
                again.take(stamped).expect("it was taken before");
            }
            prop_assert_eq!(&again, stood);
        }
    }

    #[test]
    fn an_entry_told_twice_changes_no_place(braid in some_braid(), told in told()) {
        let mut course = Course::new(braid.strands());
        for (at, told) in (0..).zip(&told) {
            let stamped = Stamped { at, entry: entry(told, &course, &braid) };
            if course.take(&stamped).is_ok() {
                let mut again = course.clone();
                // The last step of a way ends it: then there is none to be followed.
                let _refused = again.take(&stamped).is_err();
                prop_assert_eq!(place(&again), place(&course), "{:?}", stamped);
            }
        }
    }

    #[test]
    fn forward_and_back_from_any_place_come_back(
        braid in some_braid(),
        done in 0u64..120,
        steps in 1usize..20,
        order in prop::collection::vec(any::<Index>(), 12),
    ) {
        let roles = shuffled(braid.strands(), &order);
        let motions = Motions::of(&braid);
        let begins = motions.at(done).begins;
        let before = Lying::after(&braid, &roles, begins);
        let (mut lying, mut at) = (before.clone(), begins);
        for _ in 0..steps {
            let motion = motions.at(at);
            for &one in &motion.carries {
                lying.carry(one).expect("a move of the list");
            }
            at += motion.moves();
            let there = Lying::after(&braid, &roles, at);
            prop_assert_eq!(lying.places(), there.places());
        }
        let way = Way::undo(&braid, &roles, at, begins);
        prop_assert_eq!(way.lands, begins);
        prop_assert_eq!(way.steps.len(), steps);
        prop_assert!(way.is_right(&braid));
        for one in way.steps.iter().flat_map(|step| &step.moves) {
            lying.carry(*one).expect("a move taken back");
        }
        prop_assert_eq!(lying.places(), before.places());
    }

    #[test]
    fn moves_taken_back_on_the_way_stand_where_they_stood(
        braid in some_braid(),
        done in 1u64..90,
        lands in any::<Index>(),
        made in any::<Index>(),
    ) {
        let mut course = Course::new(braid.strands());
        let mut take = |entry| course.take(&Stamped { at: 0, entry });
        take(Entry::Done(done)).expect("it can follow");
        let roles: Vec<usize> = (0..braid.strands()).collect();
        let way = Way::undo(&braid, &roles, done, lands.index(done as usize) as u64);
        let made = 1 + made.index(way.steps.len());
        let back: usize = way.steps[..made].iter().map(|step| step.moves.len()).sum();
        take(Entry::Out(way)).expect("a way from here");
        take(Entry::Along(made)).expect("a step of it");
        let there = carried(braid.moves(), braid.turn(), &roles, done - back as u64);
        let lying = course.lying(&braid);
        prop_assert_eq!(lying.places(), there);
    }
}
