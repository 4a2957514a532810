//! Place files on the real disk: begun, opened, damaged, put away.

use std::fs;
use std::path::Path;

use plaitwright::bench::{Entry, Note};
use plaitwright::document::{Begun, Journal, JournalError, put_away, under_way};

use super::pieces::{DESIGN, at, begun, work};

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let name = |entry: Result<fs::DirEntry, _>| entry.unwrap().file_name();
    let mut names: Vec<String> = entries
        .map(|entry| name(entry).into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_cord_is_gone_on_with_where_it_was_left() {
    let folder = tempfile::tempdir().unwrap();
    let pieces = folder.path().join("pieces");
    let begun = begun(0, 1);
    let mut journal = Journal::begin(&pieces, begun.clone()).unwrap();
    work(&mut journal, 30);
    let note = Entry::Noted(Note::Words("changed \"thread\"\nhere".into()));
    journal.write(&at(5, note)).unwrap();
    let (course, path) = (journal.course().clone(), journal.path().to_owned());
    drop(journal);
    let journal = Journal::open(&path).unwrap();
    assert_eq!((journal.begun(), journal.course()), (&begun, &course));
    assert_eq!(journal.told().last, 5);
    assert!(!journal.told().is_torn && journal.told().damage.is_none());
    let lock = format!("{DESIGN}-{}.lock", begun.piece);
    let place = format!("{DESIGN}-{}.place", begun.piece);
    assert_eq!(names(&pieces), [lock, place]);
}

#[test]
fn a_second_window_can_look_and_not_write() {
    let folder = tempfile::tempdir().unwrap();
    let mut first = Journal::begin(folder.path(), begun(0, 1)).unwrap();
    work(&mut first, 3);
    let mut second = Journal::open(first.path()).unwrap();
    assert_eq!(second.course(), first.course());
    assert_eq!(second.may_write(), Err(JournalError::Elsewhere));
    let refused = second.write(&at(9, Entry::Done(4)));
    assert_eq!(refused, Err(JournalError::Elsewhere));
    assert_eq!(second.course().done, 3);
    let found = under_way(folder.path(), None).unwrap();
    assert!(found[0].is_held);
    work(&mut first, 1);
    let path = first.path().to_owned();
    drop((first, second));
    assert!(!under_way(folder.path(), None).unwrap()[0].is_held);
    let again = Journal::open(&path).unwrap();
    assert_eq!((again.may_write(), again.course().done), (Ok(()), 4));
}

#[test]
fn several_cords_are_under_way_and_the_last_worked_comes_first() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(under_way(folder.path(), None).unwrap().len(), 0);
    assert_eq!(
        under_way(&folder.path().join("none"), None).unwrap().len(),
        0
    );
    for (seed, moves) in [(1, 10), (2, 30), (3, 20)] {
        let mut journal = Journal::begin(folder.path(), begun(1, seed)).unwrap();
        work(&mut journal, moves);
    }
    let other = Begun {
        of: "fedcba9876543210".into(),
        ..begun(2, 4)
    };
    drop(Journal::begin(folder.path(), other).unwrap());
    fs::write(folder.path().join("0123456789-0123456789.place"), "?").unwrap();
    fs::write(folder.path().join("notes.place"), "?").unwrap();
    let found = under_way(folder.path(), Some(DESIGN)).unwrap();
    let done = found.iter().map(|found| found.told.as_ref().unwrap());
    let done: Vec<u64> = done.map(|told| told.course.done).collect();
    assert_eq!(done, [30, 20, 10]);
    let all = under_way(folder.path(), None).unwrap();
    assert_eq!(all.len(), 5);
    let last = all.last().unwrap();
    assert!(matches!(last.told, Err(JournalError::NotOurs)), "{last:?}");
}

#[test]
fn a_piece_is_begun_once() {
    let folder = tempfile::tempdir().unwrap();
    drop(Journal::begin(folder.path(), begun(0, 1)).unwrap());
    let again = Journal::begin(folder.path(), begun(0, 1));
    assert_eq!(again.unwrap_err(), JournalError::There);
    let mut bad = begun(0, 2);
    bad.piece = "../../../etc".into();
    assert!(Journal::begin(folder.path(), bad).is_err());
    let mut bad = begun(0, 2);
    bad.design.sections[0].moves.steps.clear();
    let said = Journal::begin(folder.path(), bad).unwrap_err();
    assert!(matches!(said, JournalError::NoBraid(_)), "{said}");
}

#[test]
fn a_changed_design_is_followed_if_its_moves_are_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let first = begun(0, 1);
    let mut journal = Journal::begin(folder.path(), first.clone()).unwrap();
    work(&mut journal, 12);
    let mut changed = first.clone();
    changed.design.name = "Another name".into();
    changed.outlook.goal.value = 900.0;
    changed.outlook.goal.high = 900.0;
    journal.follow(changed.clone()).unwrap();
    work(&mut journal, 1);
    let mut other = changed.clone();
    other.design.sections[0].moves = other.design.sections[0].moves.mirrored();
    assert_eq!(journal.follow(other), Err(JournalError::OtherMoves));
    assert_eq!(journal.follow(begun(0, 2)), Err(JournalError::OtherPiece));
    let mut wider = begun(10, 1);
    wider.piece.clone_from(&first.piece);
    let said = journal.follow(wider).unwrap_err();
    assert!(matches!(said, JournalError::OtherStrands { .. }), "{said}");
    let path = journal.path().to_owned();
    drop(journal);
    let journal = Journal::open(&path).unwrap();
    assert_eq!(journal.begun(), &changed);
    assert_eq!(journal.course().done, 13);
}

#[test]
fn a_last_line_that_is_not_whole_is_passed_over_and_cut_off() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = Journal::begin(folder.path(), begun(0, 1)).unwrap();
    work(&mut journal, 5);
    let path = journal.path().to_owned();
    let before = fs::read(&path).unwrap();
    work(&mut journal, 1);
    drop(journal);
    let whole = fs::read(&path).unwrap();
    for end in before.len()..whole.len() {
        fs::write(&path, &whole[..end]).unwrap();
        let mut journal = Journal::open(&path).unwrap();
        assert_eq!(journal.course().done, 5);
        assert_eq!(journal.told().is_torn, end > before.len());
        work(&mut journal, 1);
        drop(journal);
        assert_eq!(fs::read(&path).unwrap(), whole);
    }
    assert_eq!(names(folder.path()).len(), 2);
}

#[test]
fn damage_in_the_middle_is_said_and_the_damaged_file_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = Journal::begin(folder.path(), begun(0, 1)).unwrap();
    work(&mut journal, 9);
    let path = journal.path().to_owned();
    drop(journal);
    let mut bytes = fs::read(&path).unwrap();
    let text = String::from_utf8(bytes.clone()).unwrap();
    bytes[text.find("Done(5)").unwrap()] = b'\0';
    for round in 0..2 {
        fs::write(&path, &bytes).unwrap();
        let mut journal = Journal::open(&path).unwrap();
        let damage = journal.told().damage.clone().unwrap();
        assert_eq!((damage.line, damage.later), (7, Some(9)));
        let said = journal.told().not_whole().unwrap();
        assert!(
            said.starts_with("Line 7 of the place file is damaged"),
            "{said}"
        );
        assert_eq!(journal.course().done, 4);
        assert_eq!(names(folder.path()).len(), 2 + round);
        work(&mut journal, 1);
        assert_eq!(journal.told().damage, None);
        drop(journal);
        let aside = path.with_extension("place.damaged");
        assert_eq!(fs::read(aside).unwrap(), bytes);
        assert_eq!(Journal::open(&path).unwrap().course().done, 5);
        // The same damage again is kept once.
        assert_eq!(names(folder.path()).len(), 3);
    }
    bytes.truncate(bytes.len() - 4);
    fs::write(&path, &bytes).unwrap();
    work(&mut Journal::open(&path).unwrap(), 1);
    assert_eq!(names(folder.path()).len(), 4, "other damage lies beside it");
}

#[test]
fn a_file_that_is_not_understood_is_left_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = Journal::begin(folder.path(), begun(0, 1)).unwrap();
    work(&mut journal, 2);
    let path = journal.path().to_owned();
    drop(journal);
    let good = fs::read_to_string(&path).unwrap();
    let second = good.find("Begun").unwrap();
    let hit = format!("{}\0{}", &good[..second + 20], &good[second + 21..]);
    for (text, said) in [
        (good.replace("place 1\n", "place 2\n"), "has version 2"),
        (good.replace("plait place", "plain place"), "first line"),
        (String::new(), "first line"),
        ("// plait place 1\n".into(), "begun with is damaged"),
        (hit, "begun with is damaged"),
    ] {
        fs::write(&path, &text).unwrap();
        let error = Journal::open(&path).unwrap_err().to_string();
        assert!(error.contains(said), "{error}");
        assert_eq!(fs::read_to_string(&path).unwrap(), text);
    }
    let missing = folder.path().join("0123456789-0123456789.place");
    assert!(Journal::open(&missing).is_err());
    assert_eq!(names(folder.path()).len(), 2);
}

#[test]
fn a_file_changed_from_outside_is_not_written_to() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = Journal::begin(folder.path(), begun(0, 1)).unwrap();
    work(&mut journal, 4);
    let path = journal.path().to_owned();
    let whole = fs::read(&path).unwrap();
    for other in [
        &whole[..whole.len() - 40],
        &[&whole[..], &whole[..]].concat(),
    ] {
        fs::write(&path, other).unwrap();
        let refused = journal.write(&at(9, Entry::Done(5)));
        assert_eq!(refused, Err(JournalError::Changed));
        assert_eq!(fs::read(&path).unwrap(), other);
    }
    fs::remove_file(&path).unwrap();
    let refused = journal.write(&at(9, Entry::Done(5)));
    let said =
        "the place could not be kept and is still the one before: there is no such file or folder";
    assert_eq!(refused.unwrap_err().to_string(), said);
    fs::write(&path, &whole).unwrap();
    work(&mut journal, 1);
    assert_eq!(journal.course().done, 5);
}

#[test]
fn a_photograph_is_copied_and_noted_or_neither() {
    let folder = tempfile::tempdir().unwrap();
    let taken = folder.path().join("from the telephone.JPG");
    fs::write(&taken, b"not really a picture").unwrap();
    let pieces = folder.path().join("pieces");
    let mut journal = Journal::begin(&pieces, begun(0, 1)).unwrap();
    journal.photograph(7, &taken).unwrap();
    journal.photograph(8, &taken).unwrap();
    let notes = &journal.course().notes;
    assert_eq!(notes[0].note, Note::Photograph("001.jpg".into()));
    assert_eq!(notes[1].note, Note::Photograph("002.jpg".into()));
    let copy = journal.photograph_file("002.jpg");
    assert_eq!(fs::read(copy).unwrap(), b"not really a picture");
    let before = journal.course().clone();
    let huge = folder.path().join("huge.png");
    fs::File::create(&huge).unwrap().set_len(1 << 30).unwrap();
    for wrong in [folder.path().join("none.png"), folder.path().into(), huge] {
        let error = journal.photograph(9, &wrong).unwrap_err().to_string();
        assert!(error.starts_with("the photograph is not kept: "), "{error}");
    }
    let mut looking = Journal::open(journal.path()).unwrap();
    assert!(looking.photograph(9, &taken).is_err());
    assert_eq!(journal.course(), &before);
    let copies = journal.photograph_file("001.jpg");
    assert_eq!(names(copies.parent().unwrap()), ["001.jpg", "002.jpg"]);
}

#[test]
fn a_cord_put_away_is_whole_and_out_of_the_way() {
    let folder = tempfile::tempdir().unwrap();
    let taken = folder.path().join("a.png");
    fs::write(&taken, b"?").unwrap();
    let pieces = folder.path().join("pieces");
    let mut journal = Journal::begin(&pieces, begun(0, 1)).unwrap();
    work(&mut journal, 5);
    journal.photograph(7, &taken).unwrap();
    let (path, course) = (journal.path().to_owned(), journal.course().clone());
    assert_eq!(put_away(&path), Err(JournalError::Elsewhere));
    drop(journal);
    let there = put_away(&path).unwrap();
    assert_eq!(names(&pieces), ["done"]);
    assert_eq!(under_way(&pieces, None).unwrap().len(), 0);
    let done = under_way(&pieces.join("done"), None).unwrap();
    assert_eq!(done[0].path, there);
    let journal = Journal::open(&there).unwrap();
    assert_eq!(journal.course(), &course);
    assert!(journal.photograph_file("001.png").exists());
    assert!(put_away(&path).is_err());
}
