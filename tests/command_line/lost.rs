//! `plaitwright lost`.

use std::path::Path;

use plaitwright::bench::Lying;
use plaitwright::document::open;
use plaitwright::structure::{Braid, Move, Place};
use serde_json::Value;

use super::{design, plaitwright, said, written};

fn answer(file: &str, seen: &str) -> Value {
    let output = plaitwright(&["lost", file, "--seen", seen, "--json"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// The finished example after some moves; the move after `left_out` was left out.
fn careless(moves: usize, left_out: usize) -> (Braid, Lying) {
    let kept = open(Path::new(&design("harbour-glass.plait"))).unwrap();
    let braid = Braid::new(&kept.design.sections[0].moves).unwrap();
    let roles: Vec<usize> = (0..braid.strands()).collect();
    let mut lying = Lying::after(&braid, &roles, left_out as u64);
    for at in left_out + 1..moves {
        let (before, after) = (braid.places_after(at), braid.places_after(at + 1));
        let moved = before.iter().zip(&after).find(|(from, to)| from != to);
        let (&from, &to) = moved.unwrap();
        lying.carry(Move { from, to }).unwrap();
    }
    (braid, lying)
}

/// What is seen of every slot, by letters of strands.
fn told(lying: &Lying, slots: u16, done: usize) -> String {
    let letter = |strand| char::from(b'A' + strand as u8);
    let lies = (1..=slots).filter_map(|slot| {
        let strand = lying.strand_in(Place::slot(slot))?;
        Some(format!("{slot}: \"{}\"", letter(strand)))
    });
    let lies: Vec<String> = lies.collect();
    format!(
        "(done: {done}, slots: {{{}}}, rest: Empty)",
        lies.join(", ")
    )
}

#[test]
fn a_move_left_out_is_named_and_led_back_from() {
    let folder = tempfile::tempdir().unwrap();
    let (braid, lying) = careless(42, 40);
    let text = told(&lying, braid.slots(), 42);
    let seen = written(folder.path(), "seen.ron", &text);
    let answer = answer(&design("harbour-glass.plait"), &seen);
    assert_eq!(answer["counted"], 42);
    let explanations = answer["explanations"].as_array().unwrap();
    let first = &explanations[0];
    let sentence = first["sentence"].as_str().unwrap();
    assert!(sentence.starts_with("Move 41, from "), "{sentence}");
    assert!(sentence.ends_with(" was left out."), "{sentence}");
    assert!(!first["way"]["steps"].as_array().unwrap().is_empty());
    let probability = |one: &Value| one["probability"].as_f64().unwrap();
    let all: f64 = explanations.iter().map(probability).sum();
    assert!((all + answer["other"].as_f64().unwrap() - 1.0).abs() < 1e-9);
}

#[test]
fn the_text_says_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let (braid, lying) = careless(42, 40);
    let text = told(&lying, braid.slots(), 42);
    let seen = written(folder.path(), "seen.ron", &text);
    let output = plaitwright(&["lost", &design("harbour-glass.plait"), "--seen", &seen]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.contains("Way back: "), "{text}");
    assert!(text.contains("None of these: "), "{text}");
}

#[test]
fn signs_alone_and_a_text_of_moves_do() {
    let folder = tempfile::tempdir().unwrap();
    let moves = "slots 8\nstart 1 3 5\n1 > 2\n3 > 1\n2 > 3\n";
    let moves = written(folder.path(), "moves.txt", moves);
    let seen = written(folder.path(), "seen.ron", "(done: 30, signs: [Fat])");
    let output = plaitwright(&["lost", "--moves", &moves, "--seen", &seen, "--json"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert!(answer["explanations"].as_array().unwrap().len() > 3);
}

#[test]
fn what_cannot_be_is_one_sentence_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    for (text, fault) in [
        (
            "(done: 3, slots: {99: \"A\"})",
            "line 1, column 19: the disc has no slot 99",
        ),
        ("(done: 3, slots: {1: \"Z\"})", "line 1, column 23"),
        ("(slots: {1: \"A\"})", "say done"),
        ("(done: 3)", "tells nothing"),
        ("(done: 3, empty: [1, 1])", "told twice"),
        (
            "(done: 18446744073709551615, empty: [1])",
            "more than any cord has",
        ),
        ("\u{0}\u{1}", "line 1, column 1"),
        ("", "line 1, column 1"),
    ] {
        let seen = written(folder.path(), "seen.ron", text);
        let output = plaitwright(&["lost", &design("harbour-glass.plait"), "--seen", &seen]);
        assert_eq!(output.status.code(), Some(2), "{text}: {}", said(&output));
        let said = said(&output);
        assert!(said.contains(fault), "{text}: {said}");
        assert_eq!(said.lines().count(), 1, "{said}");
    }
    let output = plaitwright(&["lost", &design("harbour-glass.plait")]);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("--seen"));
}
