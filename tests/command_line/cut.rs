//! `plaitwright cut`, and its lists beside what other readers make of them.

use std::fs;
use std::path::Path;
use std::process::Command;
use std::str::FromStr;

use rust_decimal::Decimal;
use serde_json::Value;

use super::{design, plaitwright, plaitwright_at, said, written};

const EXAMPLE: &str = include_str!("../../resources/workshop-example.ron");

/// A folder of settings with the example's workshop in it.
fn harbour() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    written(home.path(), "workshop.ron", EXAMPLE);
    home
}

fn told(home: &Path, arguments: &[&str]) -> String {
    let output = plaitwright_at(home, arguments);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    String::from_utf8(output.stdout).unwrap()
}

fn amount(value: &Value) -> Decimal {
    Decimal::from_str(value.as_str().unwrap()).unwrap()
}

#[test]
fn the_object_adds_up_in_lengths_and_to_the_smallest_coin() {
    let home = harbour();
    for name in ["harbour-glass.plait", "lamp-quay.plait"] {
        let text = told(home.path(), &["cut", &design(name), "--json"]);
        let told: Value = serde_json::from_str(&text).unwrap();
        let cuts = told["cuts"].as_array().unwrap();
        let each = cuts.iter().map(|cut| {
            let steps = cut["strand"]["steps"].as_array().unwrap();
            let sum: f64 = steps
                .iter()
                .map(|s| s["adds_mm"]["value"].as_f64().unwrap())
                .sum();
            let total = cut["strand"]["total_mm"]["value"].as_f64().unwrap();
            assert!((sum - total).abs() < 1e-2, "{sum} {total}");
            cut["count"].as_f64().unwrap() * cut["length_mm"].as_f64().unwrap()
        });
        let metres = each.sum::<f64>() / 1000.0;
        assert!(
            (metres - told["metres"].as_f64().unwrap()).abs() < 1e-3,
            "{metres}"
        );
        let price = &told["price"];
        let lines = price["lines"].as_array().unwrap();
        let costs: Decimal = lines.iter().map(|line| amount(&line["cost"])).sum();
        assert_eq!(costs, amount(&price["costs"]));
        let parts = ["costs", "margin", "tax"].map(|part| amount(&price[part]));
        assert_eq!(parts.iter().sum::<Decimal>(), amount(&price["ask"]));
        let to_pay = told["needs"].as_array().unwrap().iter();
        let to_pay: Decimal = to_pay
            .filter(|n| n["buy"] != 0)
            .map(|n| amount(&n["cost"]))
            .sum();
        assert_eq!(to_pay, amount(&told["to_pay"]));
    }
}

#[test]
fn the_lists_are_read_by_other_readers_as_they_were_written() {
    let home = harbour();
    let file = design("slack-water.plait");
    let json: Value = serde_json::from_str(&told(home.path(), &["cut", &file, "--json"])).unwrap();
    for (arguments, lines) in [
        (
            vec!["cut", &file, "--csv"],
            json["cuts"]
                .as_array()
                .unwrap()
                .iter()
                .map(|c| c["parts"].as_array().unwrap().len())
                .sum(),
        ),
        (
            vec!["cut", &file, "--csv", "--shopping"],
            json["needs"].as_array().unwrap().len(),
        ),
    ] {
        let text = told(home.path(), &arguments);
        assert!(text.ends_with("\r\n"), "{text:?}");
        assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
        let mut ours = csv::Reader::from_reader(text.as_bytes());
        let ours: Vec<Vec<String>> = ours
            .records()
            .map(|line| line.unwrap().iter().map(str::to_owned).collect())
            .collect();
        assert_eq!(ours.len(), lines);
        let saved = written(home.path(), "list.csv", &text);
        let script = "import csv, json, sys\nwith open(sys.argv[1], newline='', encoding='utf-8') as f: print(json.dumps(list(csv.reader(f, strict=True))[1:]))";
        // Only where the reader is at hand.
        if let Ok(read) = Command::new("python3")
            .args(["-c", script, &saved])
            .output()
        {
            assert!(read.status.success(), "{}", said(&read));
            let theirs: Vec<Vec<String>> = serde_json::from_slice(&read.stdout).unwrap();
            assert_eq!(theirs, ours);
        }
    }
}

#[test]
fn the_text_names_every_kind_of_strand_the_price_and_the_cautions() {
    let home = harbour();
    let text = told(home.path(), &["cut", &design("harbour-glass.plait")]);
    for word in [
        "pearl cotton no. 5",
        "everyday rule",
        "counterweight",
        "to ask for the piece",
        "entry 27",
        "local rules",
    ] {
        assert!(text.contains(word), "{word}:\n{text}");
    }
    let inches = told(
        home.path(),
        &["cut", &design("harbour-glass.plait"), "--inches"],
    );
    assert!(
        inches.contains(" in") && !inches.contains(" mm ("),
        "{inches}"
    );
}

#[test]
fn without_a_workshop_nothing_has_a_price_and_nothing_is_invented() {
    let output = plaitwright(&["cut", &design("mooring-ring.plait"), "--json"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let told: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(told["example_workshop"], false);
    assert_eq!(amount(&told["price"]["ask"]), Decimal::ZERO);
    let lines = told["price"]["lines"].as_array().unwrap();
    assert!(lines.iter().all(|line| line["cost"].is_null()), "{lines:?}");
}

#[test]
fn a_workshop_that_cannot_be_read_is_refused_with_its_line_and_left_alone() {
    let home = tempfile::tempdir().unwrap();
    let broken = EXAMPLE.replace("holds: 2.7", "holds: -2.7");
    let file = written(home.path(), "workshop.ron", &broken);
    let output = plaitwright_at(home.path(), &["cut", &design("mooring-ring.plait")]);
    assert_eq!(output.status.code(), Some(2));
    let said = said(&output);
    assert!(
        said.contains("line ") && said.contains("kind of bobbin 2, holds"),
        "{said}"
    );
    assert_eq!(fs::read_to_string(file).unwrap(), broken);
}

#[test]
fn lists_that_cannot_be_are_refused_in_a_sentence() {
    let file = design("mooring-ring.plait");
    for (options, word) in [
        (vec!["--json", "--csv"], "not both"),
        (vec!["--shopping"], "goes with --csv"),
        (vec!["--csv", "--inches"], "in mm"),
        (vec!["--out", "a.csv"], "--out has no place"),
    ] {
        let output = plaitwright(&[vec!["cut", file.as_str()], options].concat());
        assert_eq!(output.status.code(), Some(2));
        assert!(said(&output).contains(word), "{}", said(&output));
    }
}
