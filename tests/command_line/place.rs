//! `plaitwright place`.

use std::fs;
use std::path::Path;

use plaitwright::bench::{Entry, Note, Stamped, Way};
use plaitwright::document::{Begun, Journal, Kept, PIECES, open};
use plaitwright::plan::{Outlook, outlook};
use serde_json::Value;

use super::{design, plaitwright_at, said};

fn kept() -> Kept {
    open(Path::new(&design("harbour-glass.plait"))).unwrap()
}

/// A figure of the plan is none of this command's business: those of a rough cord do.
fn expected(kept: &Kept) -> Outlook {
    use plaitwright::cord::{Quality, solve};
    use plaitwright::mechanics::Progress;
    use plaitwright::plan::Workshop;
    use plaitwright::quantity::UnitSystem;
    let recipe = kept.design.recipe().unwrap();
    let cord = solve(&recipe, None, Quality::Coarse, &Progress::new()).unwrap();
    let (workshop, units) = (Workshop::default(), UnitSystem::Millimetres);
    kept.design
        .on_the_table(&cord.figures, &workshop, units, outlook)
}

/// A cord of the example, begun in the folder of the program.
fn begun(home: &Path, seed: u64) -> Journal {
    let kept = kept();
    let outlook = expected(&kept);
    let began = 1_764_180_000_000;
    let begun = Begun::new(kept.id, kept.design, outlook, began, seed);
    Journal::begin(&home.join(PIECES), begun).unwrap()
}

fn write(journal: &mut Journal, entry: Entry) {
    let at = 1_764_190_000_000;
    journal.write(&Stamped { at, entry }).unwrap();
}

fn text(home: &Path, more: &[&str]) -> String {
    let file = design("harbour-glass.plait");
    let output = plaitwright_at(home, &[&["place", &file], more].concat());
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    String::from_utf8(output.stdout).unwrap()
}

fn json(home: &Path) -> Value {
    serde_json::from_str(&text(home, &["--json"])).unwrap()
}

#[test]
fn without_a_cord_under_way_it_says_how_one_is_begun() {
    let home = tempfile::tempdir().unwrap();
    let answer = json(home.path());
    assert_eq!(answer["under_way"].as_array().unwrap().len(), 0);
    let start = answer["start"].as_array().unwrap();
    assert_eq!(start.len(), 8);
    assert!(text(home.path(), &[]).contains("no cord is under way\nIt is begun with "));
    assert_eq!(fs::read_dir(home.path()).unwrap().count(), 0);
}

#[test]
fn it_says_what_is_laid_then_what_is_moved_and_where_everything_lies() {
    let home = tempfile::tempdir().unwrap();
    let mut journal = begun(home.path(), 1);
    write(&mut journal, Entry::Laid(3));
    let stands = |answer: &Value| answer["under_way"][0]["stands"].clone();
    let answer = stands(&json(home.path()));
    assert_eq!(answer["lies"].as_array().unwrap().len(), 3);
    assert_eq!(answer["next"]["does"], "lay");
    let fourth = &answer["next"]["moves"][0];
    write(&mut journal, Entry::Laid(4));
    let then = stands(&json(home.path()));
    let lies = then["lies"].as_array().unwrap();
    let is_it = |lies: &&Value| lies["strand"] == fourth["strand"];
    assert_eq!(
        lies.iter().find(is_it).unwrap()["place"],
        fourth["to"],
        "what was to be laid lies there"
    );
    // The round spiral of eight: 17 → 31, 1 → 15, then the other axis.
    write(&mut journal, Entry::Done(17));
    let answer = stands(&json(home.path()));
    let list = journal.begun().moves().clone();
    let round = list.moves().count() as u64;
    assert_eq!(answer["round"], 17 / round + 1);
    assert_eq!(answer["motion"], 17 % round + 1);
    assert_eq!((&answer["done"], &answer["laid"]), (&17.into(), &8.into()));
    let next = answer["next"]["moves"][0].clone();
    assert!(matches!(
        answer["next"]["hand"].as_str(),
        Some("left" | "right")
    ));
    let lies = |answer: &Value, place: &Value| {
        let lies = answer["lies"].as_array().unwrap();
        let there = lies.iter().find(|lies| &lies["place"] == place);
        there.map(|lies| lies["strand"].clone())
    };
    assert_eq!(lies(&answer, &next["from"]), Some(next["strand"].clone()));
    assert_eq!(lies(&answer, &next["to"]), None);
    write(&mut journal, Entry::Done(18));
    let then = stands(&json(home.path()));
    assert_eq!(lies(&then, &next["to"]), Some(next["strand"].clone()));
}

#[test]
fn it_says_the_way_back_the_notes_and_who_holds_the_cord() {
    let home = tempfile::tempdir().unwrap();
    let mut journal = begun(home.path(), 1);
    write(&mut journal, Entry::Done(40));
    write(&mut journal, Entry::Noted(Note::Measured(32.5)));
    let braid = journal.begun().braid().unwrap();
    let way = Way::undo(&braid, &journal.course().roles, 40, 30);
    write(&mut journal, Entry::Out(way));
    write(&mut journal, Entry::Along(4));
    let answer = json(home.path());
    let piece = &answer["under_way"][0];
    assert_eq!(piece["is_held"], true);
    let way = &piece["stands"]["way_back"];
    assert_eq!((&way["made"], &way["lands"]), (&4.into(), &30.into()));
    assert_eq!(piece["stands"]["next"]["does"], "back");
    let said = text(home.path(), &[]);
    for words in [
        "in a window",
        "begun 2025-11-26 18:00 UTC",
        "On a way back to move 30, 4 of 10 steps made",
        "at move 40: measured 32.5 mm on the disc",
    ] {
        assert!(said.contains(words), "{words:?} is missing in\n{said}");
    }
    drop(journal);
    assert_eq!(json(home.path())["under_way"][0]["is_held"], false);
}

#[test]
fn one_piece_of_several_is_told_by_the_beginning_of_its_id() {
    let home = tempfile::tempdir().unwrap();
    let pieces: Vec<String> = (1..4)
        .map(|seed| begun(home.path(), seed).begun().piece.clone())
        .collect();
    assert!(text(home.path(), &[]).contains("3 cords are under way"));
    let one = text(home.path(), &["--piece", &pieces[1]]);
    assert!(one.contains(&pieces[1]) && !one.contains(&pieces[0]));
    let file = design("harbour-glass.plait");
    for (piece, words) in [("", "say more of it"), ("xyz", "is under way whose id")] {
        let output = plaitwright_at(home.path(), &["place", &file, "--piece", piece]);
        assert_eq!(output.status.code(), Some(2));
        assert!(said(&output).contains(words), "{}", said(&output));
    }
}

#[test]
fn a_torn_a_damaged_and_an_unreadable_cord_are_told_as_such() {
    let home = tempfile::tempdir().unwrap();
    let mut files = Vec::new();
    for seed in 1..4 {
        let mut journal = begun(home.path(), seed);
        (1..6).for_each(|done| write(&mut journal, Entry::Done(done)));
        files.push(journal.path().to_owned());
    }
    let whole = fs::read_to_string(&files[0]).unwrap();
    fs::write(&files[0], &whole[..whole.len() - 3]).unwrap();
    let whole = fs::read_to_string(&files[1]).unwrap();
    fs::write(&files[1], whole.replace("Done(3)", "Done(8)")).unwrap();
    fs::write(&files[2], "nothing").unwrap();
    let said = text(home.path(), &[]);
    for words in [
        "was not kept whole and does not count: the work stands at 4 moves",
        "Line 5 of the place file is damaged: the work stands at 2 moves",
        "Later lines speak of 5 moves",
        "line 1: this is not a place file",
    ] {
        assert!(said.contains(words), "{words:?} is missing in\n{said}");
    }
    let answer = json(home.path());
    let done: Vec<Value> = answer["under_way"]
        .as_array()
        .unwrap()
        .iter()
        .map(|piece| piece["stands"]["done"].clone())
        .collect();
    assert!(done.contains(&4.into()) && done.contains(&2.into()) && done.contains(&Value::Null));
}
