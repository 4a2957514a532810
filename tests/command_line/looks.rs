//! `plaitwright looks`.

use serde_json::Value;

use super::{design, plaitwright, said, written};

fn looks(arguments: &[&str]) -> Value {
    let output = plaitwright(&[&["looks"], arguments, &["--json"]].concat());
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn looks_of_a_design_are_counted_listed_and_described() {
    let answer = looks(&[&design("harbour-glass.plait")]);
    let listed = answer["looks"].as_array().unwrap();
    assert_eq!(answer["count"], listed.len().to_string());
    assert_eq!(answer["all_listed"], true);
    let strands: u64 = answer["colours"]
        .as_array()
        .unwrap()
        .iter()
        .map(|c| c["strands"].as_u64().unwrap())
        .sum();
    assert_eq!(strands, 8);
    for look in listed {
        assert_eq!(look["arrangement"].as_str().unwrap().len(), 8);
        assert!(!look["words"].as_str().unwrap().is_empty());
    }
}

// The spiral of eight turns through all its strands: necklaces and bracelets of eight
// beads (OEIS A000031, A000029).
#[test]
fn looks_of_up_to_two_colours_are_as_many_as_necklaces_or_bracelets() {
    let folder = tempfile::tempdir().unwrap();
    let shelf = plaitwright(&["structures", "--json"]);
    let shelf: Value = serde_json::from_slice(&shelf.stdout).unwrap();
    let is_spiral = |one: &&Value| one["name"] == "Round spiral" && one["strands"] == 8;
    let spiral = shelf.as_array().unwrap().iter().find(is_spiral).unwrap();
    let file = written(
        folder.path(),
        "spiral.txt",
        spiral["text"].as_str().unwrap(),
    );
    let count =
        |alike| looks(&["--moves", &file, "--colours", "2", "--alike", alike])["count"].clone();
    assert_eq!(count("turned"), "36");
    assert_eq!(count("upside-down"), "30");
}

#[test]
fn a_count_beyond_any_list_is_exact_and_some_are_drawn() {
    let answer = looks(&[&design("harbour-glass.plait"), "--colours", "20"]);
    assert_eq!(answer["all_listed"], false);
    let count: u64 = answer["count"].as_str().unwrap().parse().unwrap();
    let ways = answer["ways"].as_u64().unwrap();
    assert!(count > 20_u64.pow(8) / ways && count < 2 * 20_u64.pow(8) / ways);
    assert!(answer["looks"].as_array().unwrap().len() > 100);
}

#[test]
fn looks_as_text_say_how_many_and_which() {
    let output = plaitwright(&["looks", &design("harbour-glass.plait")]);
    let text = String::from_utf8(output.stdout).unwrap();
    for word in ["8 strands", "looks", "falls onto itself", "turned"] {
        assert!(text.contains(word), "{word:?} is missing in\n{text}");
    }
}
