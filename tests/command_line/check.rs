//! `check` and `structures`: verdicts and faults as they are printed.

use std::process::Output;

use plaitwright::document::{OWN_STRUCTURES, keep_structure};
use plaitwright::structure::{Structure, shelf};
use serde_json::{Value, json};

use super::{changed, design, plaitwright, plaitwright_at, said, written};

const SPIRAL: &str = "slots 32\nstart 32 1 8 9 16 17 24 25\n17 > 31\n1 > 15\nagain 2 on 8\n";

fn object(output: &Output) -> Value {
    assert_eq!(output.status.code(), Some(0), "{}", said(output));
    serde_json::from_slice(&output.stdout).unwrap()
}

fn text(output: &Output) -> String {
    assert_eq!(output.status.code(), Some(0), "{}", said(output));
    String::from_utf8(output.stdout.clone()).unwrap()
}

/// What `check --json` says of a text of moves.
fn checked(moves: &str) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let file = written(folder.path(), "moves.txt", moves);
    object(&plaitwright(&["check", "--moves", &file, "--json"]))
}

#[test]
fn check_answers_for_a_sound_design_and_for_one_at_fault() {
    let sound = text(&plaitwright(&["check", &design("harbour-glass.plait")]));
    assert!(
        sound.contains("the moves work: 8 strands, 4 moves a round"),
        "{sound}"
    );
    assert!(sound.contains("1 slot anticlockwise; locks"), "{sound}");
    let folder = tempfile::tempdir().unwrap();
    let file = changed(folder.path(), "(17, 31)", "(18, 31)");
    let fault = text(&plaitwright(&["check", &file]));
    assert!(fault.contains("does not work"), "{fault}");
    assert!(
        fault.contains("Step 1 lifts a strand from slot 18"),
        "{fault}"
    );
    assert!(
        fault.contains("Perhaps: In step 1 lift from slot 17"),
        "{fault}"
    );
    let figures = plaitwright(&["figures", &file]);
    assert_eq!(figures.status.code(), Some(2), "the input is at fault");
}

/// Word, writhe, cycles and symmetry as computed with other programs.
#[test]
fn a_braid_is_told_by_its_word_its_cycles_and_its_symmetry() {
    let answer = checked(SPIRAL);
    assert_eq!(answer["verdict"], "locks");
    assert_eq!(answer["faults"], json!([]));
    assert_eq!(
        answer["artin"],
        json!([
            5, 6, 1, 2, -5, -4, -3, -2, -1, 3, 4, -7, -6, -5, -4, -3, -2, -1
        ])
    );
    assert_eq!(answer["writhe"], -6);
    assert_eq!(answer["cycles"], json!([[0, 1, 4, 5], [2, 3, 6, 7]]));
    assert_eq!(answer["repeat_rounds"], 4);
    assert_eq!(answer["symmetry_order"], 8);
    assert_eq!(answer["symmetry_order_upside_down"], 16);
    assert_eq!(answer["turn"], -1);
    assert_eq!(answer["to_remember"], 3);
    let design = plaitwright(&["check", &design("harbour-glass.plait"), "--json"]);
    assert_eq!(object(&design)["artin"], answer["artin"]);
}

#[test]
fn every_fault_is_told_with_kind_step_slots_and_strands() {
    let answer = checked("slots 32\nstart 32 1 8 9 16 17 24 25\n18 > 31\n1 > 8\n9 > 9\n");
    assert_eq!(answer["verdict"], "fault");
    let told = |fault: &Value| {
        let parts = ["kind", "step", "slots", "strands"].map(|key| fault[key].clone());
        Value::from(parts.to_vec())
    };
    let faults: Vec<Value> = answer["faults"]
        .as_array()
        .unwrap()
        .iter()
        .map(told)
        .collect();
    assert_eq!(
        Value::from(faults),
        json!([
            ["slot empty", 1, [18], []],
            ["slot taken", 2, [8], [1, 2]],
            ["move goes nowhere", 3, [9], [3]],
        ])
    );
    assert!(answer["artin"].is_null() && answer["cycles"].is_null());
}

#[test]
fn a_wrong_turn_is_told_with_the_turn_that_fits() {
    let answer = checked(&format!("{SPIRAL}turn 2\n"));
    let fault = &answer["faults"][0];
    assert_eq!(fault["kind"], "does not return");
    assert_eq!(
        fault["repairs"][0],
        "Only the turn was wrong: turn by 1 slot anticlockwise a round."
    );
}

#[test]
fn a_list_of_structures_gets_one_object_for_each_in_order() {
    let start = "[32, 1, 8, 9, 16, 17, 24, 25]";
    let entry = |blocks: &str, turn: i32| {
        format!(
            "{{\"key\": \"k\", \"slots\": 32, \"start\": {start}, \"blocks\": {blocks}, \"turn_per_round\": {turn}, \"note\": \"\"}}"
        )
    };
    let pairs = "[[[32,14],[1,15],[16,32],[17,1],[15,17],[14,16]],[[8,26],[9,27],[24,8],[25,9],[26,24],[27,25]]]";
    let list = [
        entry("[[[17,31],[1,15]],[[25,7],[9,23]]]", -1),
        entry("[[[17,31],[31,17]],[[9,23],[23,9]]]", 0),
        entry(pairs, 0),
        entry("[[[17,31],[1,14]],[[25,7],[9,23]]]", -1),
        "{\"slots\": 32, \"start\": [9, 17.5, 25], \"blocks\": [[[9, 8.5], [8.5, \"hand\"], [\"hand\", 9]]]}".to_owned(),
    ];
    let folder = tempfile::tempdir().unwrap();
    let file = written(
        folder.path(),
        "lists.json",
        &format!("[{}]", list.join(",")),
    );
    let answers = object(&plaitwright(&["check", "--list", &file, "--json"]));
    let verdicts: Vec<&Value> = answers
        .as_array()
        .unwrap()
        .iter()
        .map(|a| &a["verdict"])
        .collect();
    assert_eq!(
        verdicts,
        ["locks", "slides apart", "bundle", "fault", "slides apart"]
    );
    assert_eq!(answers[2]["parts"][0].as_array().unwrap().len(), 2);
    let later = &answers[3]["faults"][1];
    assert_eq!(
        (&later["kind"], &later["step"]),
        (&json!("slot empty"), &json!(9))
    );
    let plain = plaitwright(&["check", "--list", &file]);
    assert_eq!(object(&plain), answers, "JSON whether asked for or not");
}

/// One entry that names no place does not spoil the others.
#[test]
fn a_place_that_cannot_be_is_a_fault_of_its_list_alone() {
    let list = "[{\"slots\": 32, \"start\": [1, 9, 17], \"blocks\": [[[1, 2], [9, -3]]]},
        {\"slots\": 32, \"start\": [1, 0, 17], \"blocks\": []},
        {\"slots\": 32, \"start\": [6, 13, 21], \"blocks\": [[[6, 14], [13, 6], [21, 13], [14, 21]]]}]";
    let folder = tempfile::tempdir().unwrap();
    let file = written(folder.path(), "lists.json", list);
    let answers = object(&plaitwright(&["check", "--list", &file]));
    let told = |entry: usize| {
        let fault = &answers[entry]["faults"][0];
        json!([fault["kind"], fault["step"], fault["strands"]])
    };
    assert_eq!(told(0), json!(["no such slot", 2, []]));
    assert_eq!(told(1), json!(["no such slot", null, [1]]));
    let sentence = answers[0]["sentence"].as_str().unwrap();
    assert!(
        sentence.starts_with("Step 2 names -3, which is no place"),
        "{sentence}"
    );
    assert_eq!(answers[2]["verdict"], "locks");
}

#[test]
fn what_is_no_text_of_moves_and_no_list_is_refused_in_one_line() {
    let folder = tempfile::tempdir().unwrap();
    for (option, content, word) in [
        ("--moves", "slots 32\nstart 1 9 x", "line 2, column 11"),
        ("--moves", "", "line 1, column 1"),
        ("--list", "{}", "line 1 column 0"),
        ("--list", "[{\"slots\": 32}]", "start"),
        (
            "--list",
            "[{\"plate\": \"oval\", \"slots\": 8, \"start\": [], \"blocks\": []}]",
            "oval",
        ),
        (
            "--list",
            "[{\"slots\": 8, \"start\": [1], \"blocks\": [[3]]}]",
            "line 1",
        ),
    ] {
        let file = written(folder.path(), "input", content);
        let output = plaitwright(&["check", option, &file, "--json"]);
        assert_eq!(
            output.status.code(),
            Some(2),
            "{content}: {}",
            said(&output)
        );
        assert_eq!(
            said(&output).lines().count(),
            1,
            "{content}: {}",
            said(&output)
        );
        assert!(said(&output).contains(word), "{content}: {}", said(&output));
    }
    let gone = plaitwright(&["check", "--moves", "no-such-moves.txt"]);
    assert_eq!(gone.status.code(), Some(1), "{}", said(&gone));
    let both = plaitwright(&["check", "a.plait", "--moves", "b.txt"]);
    assert_eq!(both.status.code(), Some(2));
    assert!(said(&both).contains("one file only"), "{}", said(&both));
}

/// The spiral encloses a core; a move straight over it needs a side.
#[test]
fn a_design_with_a_core_is_judged_with_it() {
    let folder = tempfile::tempdir().unwrap();
    let core = |text: &str| {
        let part = "parts: [(fibre: \"satin cord 2 mm, polyester\", ends: 1, colour: \"#ffffff\")]";
        text.replacen("cores: []", &format!("cores: [(strand: ({part}))]"), 1)
    };
    let text = std::fs::read_to_string(design("harbour-glass.plait")).unwrap();
    let text = core(&text);
    let file = written(folder.path(), "core.plait", &text);
    let answer = object(&plaitwright(&["check", &file, "--json"]));
    assert_eq!(answer["verdict"], "locks");
    assert_eq!(answer["parts"], json!([[8]]));
    let over = text
        .replacen("(17, 31)", "(17, 1.5)", 1)
        .replacen("(1, 15)", "(1, 17)", 1);
    let over = over.replacen("(9, 23)]]", "(9, 23)], [(1.5, 31)], [(17, 15)]]", 1);
    let file = written(folder.path(), "over.plait", &over);
    let answer = object(&plaitwright(&["check", &file, "--json"]));
    assert_eq!(answer["verdict"], "fault", "{answer}");
    assert_eq!(
        answer["faults"][0]["kind"], "side of the core unclear",
        "{answer}"
    );
    assert_eq!(answer["faults"][0]["repairs"].as_array().unwrap().len(), 2);
}

#[test]
fn figures_are_solved_from_a_text_of_moves_too() {
    let folder = tempfile::tempdir().unwrap();
    let file = written(folder.path(), "my spiral.txt", SPIRAL);
    let figures = object(&plaitwright(&["figures", "--moves", &file, "--json"]));
    assert_eq!(figures["name"], "my spiral");
    assert_eq!(figures["strands"], 8);
    let broken = written(folder.path(), "broken.txt", "slots 32\nstart 1 9 17\n2 > 3");
    let output = plaitwright(&["figures", "--moves", &broken]);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert!(said(&output).contains("Step 1"), "{}", said(&output));
}

#[test]
fn the_shelf_is_printed_with_texts_that_check_as_sound() {
    let shelf = object(&plaitwright(&["structures", "--json"]));
    let shelf = shelf.as_array().unwrap();
    assert!(shelf.len() >= 40);
    assert!(shelf.iter().all(|one| one["verdict"] == "locks"));
    for one in [&shelf[0], &shelf[20]] {
        let answer = checked(one["text"].as_str().unwrap());
        assert_eq!(answer["verdict"], "locks", "{one}");
        assert_eq!(answer["strands"], one["strands"]);
        assert_eq!(answer["moves"], one["moves"]);
    }
    let lines = text(&plaitwright(&["structures"]));
    assert_eq!(lines.lines().count(), shelf.len());
    assert!(lines.contains("  8 strands  Round spiral "), "{lines}");
}

#[test]
fn the_makers_own_structures_are_printed_behind_those_of_the_program() {
    let folder = tempfile::tempdir().unwrap();
    let own = Structure {
        name: "Harbour rope".to_owned(),
        ..shelf()[0].clone()
    };
    let file = folder.path().join(OWN_STRUCTURES);
    let before = object(&plaitwright_at(folder.path(), &["structures", "--json"]));
    keep_structure(&file, &own).unwrap();
    let after = object(&plaitwright_at(folder.path(), &["structures", "--json"]));
    let (before, after) = (before.as_array().unwrap(), after.as_array().unwrap());
    assert_eq!(after[..before.len()], before[..]);
    assert_eq!(after.len(), before.len() + 1);
    let last = &after[before.len()];
    assert_eq!(
        (last["name"].as_str(), last["own"].as_bool()),
        (Some("Harbour rope"), Some(true))
    );
    let lines = text(&plaitwright_at(folder.path(), &["structures"]));
    assert!(lines.contains("Harbour rope"), "{lines}");
    std::fs::write(&file, "a letter").unwrap();
    let output = plaitwright_at(folder.path(), &["structures"]);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
}
