//! Something looks wrong, undoing and notes: marked in the window, answered, followed.

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use plaitwright::bench::lost::{Diagnosis, Known, explain};
use plaitwright::bench::{Lying, Note, Seen, Spot};
use plaitwright::structure::{Braid, Numbering, Place};

use super::braid::{at_the_disc, course, space};
use super::{Window, home};

const BY_CLOCK: Numbering = Numbering::Clockwise;

fn braid(window: &Window) -> Braid {
    let work = window.harness.state().at_disc().work();
    work.expect("a cord is at the disc").braid().clone()
}

/// Which strands look alike: those that are made of the same.
fn looks(window: &Window) -> Vec<usize> {
    let work = window.harness.state().at_disc().work();
    let strands = &work.expect("a cord is at the disc").design().strands;
    let first = |strand| strands.iter().position(|other| other == strand);
    let firsts: Vec<usize> = strands.iter().filter_map(first).collect();
    let mut looks: Vec<usize> = firsts.clone();
    looks.sort_unstable();
    looks.dedup();
    let look = |first: &usize| looks.iter().position(|look| look == first);
    firsts.iter().filter_map(look).collect()
}

/// What lies there after so many moves, of which one was left out; none if the hands
/// could not have gone on.
fn left_out(braid: &Braid, one: u64, done: u64) -> Option<Lying> {
    let roles: Vec<usize> = (0..braid.strands()).collect();
    let motions = plaitwright::bench::Motions::of(braid);
    let mut lying = Lying::after(braid, &roles, one);
    let mut at = one + motions.at(one).moves();
    while at < done {
        let motion = motions.at(at);
        for &carried in &motion.carries {
            lying.carry(carried).ok()?;
        }
        at += motion.moves();
    }
    Some(lying)
}

fn slot(place: Place) -> u16 {
    match place {
        Place::Rim(half) => half / 2,
        Place::Hand => panic!("no strand is in the hand"),
    }
}

/// From where to where strands are pulled until those that should lie so lie otherwise; a
/// pull onto another exchanges the two.
fn pulls(should: &Lying, lies: &Lying) -> Vec<(Place, Place)> {
    let mut now = should.places().to_vec();
    let mut pulls = Vec::new();
    for (strand, &to) in lies.places().iter().enumerate() {
        let from = now[strand];
        if from == to {
            continue;
        }
        if let Some(other) = now.iter().position(|&at| at == to) {
            now[other] = from;
        }
        now[strand] = to;
        pulls.push((from, to));
    }
    pulls
}

fn mark_by_pulls(window: &mut Window, should: &Lying, lies: &Lying) {
    for (from, to) in pulls(should, lies) {
        let from = format!("slot {}, strand", slot(from));
        let to = format!("slot {}, ", slot(to));
        window.pull(&from, &to);
    }
}

/// With the arrows to a slot, from where the keyboard stands.
fn walk(window: &mut Window, from: &mut u16, to: u16, slots: u16) {
    for _ in 0..(slots + to - *from) % slots {
        window.harness.key_press(Key::ArrowRight);
        window.step(1);
    }
    *from = to;
}

fn mark_by_keys(window: &mut Window, should: &Lying, lies: &Lying, slots: u16) {
    let first = should.places().iter().map(|&at| slot(at)).min();
    let mut at = first.expect("there are strands");
    for (from, to) in pulls(should, lies) {
        for place in [from, to] {
            walk(window, &mut at, slot(place), slots);
            window.press(Modifiers::NONE, Key::Enter);
        }
    }
}

/// The answers as a reader hears them, once they are those to what is marked.
fn answers(window: &mut Window) -> Vec<String> {
    window.step(2);
    window.await_no_words("Looking");
    let all = window.harness.query_all_by_label_contains("answer ");
    let labels = all.filter_map(|node| node.accesskit_node().label());
    labels
        .filter(|label| label.starts_with("answer "))
        .collect()
}

/// Follows a way back with the Space bar to its end.
fn follow(window: &mut Window) -> usize {
    let mut steps = 0;
    while course(window).way.is_some() {
        space(window, 1);
        steps += 1;
        assert!(steps < 200, "the way has an end");
    }
    steps
}

/// Whether what lies there is what the moves say.
fn is_right(window: &Window, braid: &Braid) -> bool {
    let course = course(window);
    let there = Lying::after(braid, &course.roles, course.done);
    course.lying(braid).places() == there.places()
}

/// The number of a move that could be left out, twenty being counted.
fn one_to_leave_out(braid: &Braid) -> (u64, Lying) {
    let found = (10..19)
        .rev()
        .find_map(|one| Some((one, left_out(braid, one, 20)?)));
    found.expect("hands can go on after some move was left out")
}

#[test]
fn a_move_left_out_is_marked_by_pulls_named_first_and_its_way_back_is_right() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 20);
    let braid = braid(&window);
    let (one, lies) = one_to_leave_out(&braid);
    let should = course(&window).lying(&braid);
    window.click("Something looks wrong");
    let before = answers(&mut window);
    assert!(before[0].contains("All is as it should be after move 20."));
    mark_by_pulls(&mut window, &should, &lies);
    let first = answers(&mut window).remove(0);
    assert!(first.contains("left out"), "{first}");
    assert!(first.contains(&format!("ove {},", one + 1)), "{first}");
    assert!(first.contains(" %"), "{first} has a figure");
    window.click("Go this way back");
    let way = course(&window).way.clone().expect("the hands set out");
    let looks = looks(&window);
    for (from, lies) in way.0.from.iter().zip(lies.places()) {
        let at = lies_at(&way.0.from, *lies);
        assert!(
            at.is_some(),
            "{from:?} and {lies:?}: the full slots are those"
        );
    }
    for (strand, place) in lies.places().iter().enumerate() {
        let told = lies_at(&way.0.from, *place).expect("a strand is there");
        assert_eq!(looks[told], looks[strand], "and they look so");
    }
    assert_eq!(follow(&mut window), way.0.steps.len());
    assert!(is_right(&window, &braid));
    assert_eq!(course(&window).mistakes.len(), 1, "it stands in the log");
}

fn lies_at(places: &[Place], place: Place) -> Option<usize> {
    places.iter().position(|&at| at == place)
}

#[test]
fn the_same_is_marked_and_followed_with_the_keyboard_alone() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 20);
    let braid = braid(&window);
    let (_, lies) = one_to_leave_out(&braid);
    let should = course(&window).lying(&braid);
    window.press(Modifiers::NONE, Key::W);
    mark_by_keys(&mut window, &should, &lies, braid.slots());
    let first = answers(&mut window).remove(0);
    assert!(first.contains("left out"), "{first}");
    let has_keyboard = |window: &Window| {
        let node = window.harness.get_by_label("Go this way back");
        node.accesskit_node().is_focused()
    };
    let mut tabs = 0;
    while !has_keyboard(&window) {
        window.press(Modifiers::NONE, Key::Tab);
        tabs += 1;
        assert!(tabs < 80, "the button is reached");
    }
    window.press(Modifiers::NONE, Key::Enter);
    assert!(course(&window).way.is_some(), "the hands set out");
    assert!(follow(&mut window) > 0);
    assert!(is_right(&window, &braid));
}

/// What is told where only full slots are seen.
fn told(braid: &Braid, looks: &[usize], lies: &Lying, done: u64) -> Diagnosis {
    let roles: Vec<usize> = (0..braid.strands()).collect();
    let spot = |slot| match lies.strand_in(Place::slot(slot)) {
        Some(_) => (Place::slot(slot), Spot::Strand),
        None => (Place::slot(slot), Spot::Empty),
    };
    let known = Known {
        braid,
        roles: &roles,
        done,
        looks,
        within: 64,
    };
    let seen = Seen {
        spots: (1..=braid.slots()).map(spot).collect(),
        ..Seen::default()
    };
    explain(&known, &seen)
}

#[test]
fn an_answer_to_the_question_weighs_anew_and_can_be_taken_back() {
    let home = home();
    let mut window = at_the_disc(home.path());
    let (braid, looks) = (braid(&window), looks(&window));
    let (done, lies, question) = (12..28)
        .flat_map(|done| (8..done).map(move |one| (one, done)))
        .find_map(|(one, done)| {
            let lies = left_out(&braid, one, done)?;
            let question = told(&braid, &looks, &lies, done).question?;
            Some((done, lies, question))
        })
        .expect("somewhere full slots alone do not tell");
    space(&mut window, done as usize);
    let should = course(&window).lying(&braid);
    window.click("Something looks wrong");
    mark_by_pulls(&mut window, &should, &lies);
    window.click("only which slots are full");
    let before = answers(&mut window);
    assert!(window.shows(&question.words(braid.moves(), BY_CLOCK)));
    window.click("Something else");
    assert!(window.shows("take my answer back"));
    let after = answers(&mut window);
    assert_ne!(before, after, "weighed anew");
    window.click("take my answer back");
    assert_eq!(answers(&mut window), before);
}

#[test]
fn what_is_marked_stays_while_another_panel_is_shown() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 4);
    window.click("Something looks wrong");
    let braid = braid(&window);
    let lying = course(&window).lying(&braid);
    let at = format!("slot {}", slot(lying.places()[0]));
    let free = (1..).find(|&slot| lying.strand_in(Place::slot(slot)).is_none());
    let free = format!("slot {}, free", free.expect("a free slot"));
    window.pull(&format!("{at}, strand"), &free);
    window.click("the cord has: too fat");
    window.click("beside the disc: notes");
    window.click("beside the disc: looks wrong");
    assert!(window.shows(&format!("{at}, free, marked")));
    let sign = window.harness.get_by_label("the cord has: too fat");
    let toggled = sign.accesskit_node().toggled();
    assert_eq!(toggled, Some(eframe::egui::accesskit::Toggled::True));
}

#[test]
fn what_cannot_be_is_answered_with_one_sentence() {
    let home = home();
    let mut window = at_the_disc(home.path());
    window.click("Something looks wrong");
    let braid = braid(&window);
    let places: Vec<u16> = braid.moves().start.iter().map(|&at| slot(at)).collect();
    for at in 1..=braid.slots() {
        if !places.contains(&at) {
            window.click(&format!("slot {at}, free"));
        }
    }
    assert!(window.shows("32 strands are marked and the cord has eight: take 24 away."));
    window.click("mark anew");
    for at in places {
        let strand = window.label(&format!("slot {at}, strand"));
        window.click(&strand);
        window.click(&format!("{strand}, chosen"));
    }
    assert!(window.shows("Nothing is marked on the disc: mark where a strand lies."));
    window.click("mark anew");
    assert!(answers(&mut window)[0].contains("All is as it should be after move 0."));
}

#[test]
fn moves_are_taken_back_to_a_mark_step_by_step() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 3);
    window.click("Notes");
    window.type_into("words of the mark", "before the telephone");
    window.click("Set the mark");
    assert!(window.shows("mark: before the telephone; after move 3"));
    window.click("to the next move");
    space(&mut window, 5);
    window.click("Undoing");
    window.click("go back: to a mark");
    window.click_like("mark before the telephone");
    assert!(window.shows("Five moves to take back"));
    window.click("Take them back, step by step");
    assert_eq!(follow(&mut window), 5);
    let braid = braid(&window);
    assert_eq!(course(&window).done, 3);
    assert!(is_right(&window, &braid));
}

#[test]
fn moves_are_taken_back_by_a_number_and_to_a_look() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 9);
    window.click("Undoing");
    window.enter("moves to take back, moves", "2");
    window.click("Take them back, step by step");
    assert_eq!(follow(&mut window), 2);
    assert_eq!(course(&window).done, 7);
    window.click("Undoing");
    window.click("go back: to a look");
    window.click("how the disc lay after move 4");
    window.click("Take them back, step by step");
    follow(&mut window);
    assert_eq!(course(&window).done, 4);
}

#[test]
fn a_length_that_was_measured_changes_what_is_left() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 24);
    let to_go = |window: &Window| {
        let work = window.harness.state().at_disc().work();
        work.expect("a cord is at the disc").progress().to_go.value
    };
    let length = {
        let work = window.harness.state().at_disc().work();
        let progress = work.expect("a cord is at the disc").progress();
        1.2 * progress.on_disc.value
    };
    let before = to_go(&window);
    window.click("Notes");
    window.click("note: length");
    window.enter("measured length, cm", &format!("{:.2}", 0.1 * length));
    assert!(window.shows("The last measure changes"));
    assert!(window.shows("length on the disc: measured"));
    assert!(
        to_go(&window) < 0.98 * before,
        "it grows faster: fewer moves"
    );
    let last = course(&window).notes.last().map(|noted| noted.note.clone());
    assert!(matches!(last, Some(Note::Measured(mm)) if (mm - length).abs() < 0.1));
}

#[test]
fn a_new_strand_is_joined_step_by_step_and_the_count_goes_on_by_itself() {
    let home = home();
    let mut window = at_the_disc(home.path());
    space(&mut window, 2);
    window.click("Notes");
    window.click("note: new strand");
    window.click_like("C ");
    assert!(window.shows("Lay the new length along strand C"));
    window.click("It lies there");
    assert!(window.shows("Strand C: work both ends as one; 0 of 6 times done."));
    window.click("to the next move");
    space(&mut window, 8);
    window.click("Notes");
    assert!(!window.shows("0 of 6 times done"), "it was lifted since");
    assert!(window.shows("a new length was joined to strand C"));
}

#[test]
fn a_photograph_is_kept_and_what_is_none_is_refused_in_one_sentence() {
    let home = home();
    let mut window = at_the_disc(home.path());
    window.click("Notes");
    window.click("note: photograph");
    let photo = home.path().join("cord.png");
    std::fs::write(&photo, b"no matter what").expect("a file is written");
    window.type_into("path of a photograph", &photo.display().to_string());
    window.click("Keep it");
    assert!(matches!(
        course(&window).notes.last().map(|noted| &noted.note),
        Some(Note::Photograph(_))
    ));
    let missing = home.path().join("nothing.png");
    window.type_into("path of a photograph", &missing.display().to_string());
    window.click("Keep it");
    assert!(window.shows("the photograph is not kept"));
    assert_eq!(course(&window).notes.len(), 1);
}
