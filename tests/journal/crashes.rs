//! Whatever fails at whatever call, the place is the one before or the one after.

use std::path::{Path, PathBuf};
use std::rc::Rc;

use plaitwright::bench::{Course, Entry, Note, Stamped, Way, Why};
use plaitwright::document::{Begun, Disk, Journal, JournalError, replace_on};
use plaitwright::structure::{Braid, Move, Place, Step};
use proptest::prelude::*;

use super::brittle::{Brittle, RESTS, Rest, TROUBLES, Trouble};
use super::pieces::{at, begun, course};

const FOLDER: &str = "/pieces";

/// What can be asked of a journal.
#[derive(Debug, Clone)]
enum Act {
    Write(Stamped),
    Follow(Box<Begun>),
}

fn done(moves: u64) -> Act {
    Act::Write(at(1000 * moves, Entry::Done(moves)))
}

fn act(journal: &mut Journal, act: &Act) -> Result<(), JournalError> {
    match act {
        Act::Write(stamped) => journal.write(stamped),
        Act::Follow(begun) => journal.follow((**begun).clone()),
    }
}

/// All that a place is.
type Stand = (Begun, Course);

fn stand(journal: &Journal) -> Stand {
    (journal.begun().clone(), journal.course().clone())
}

/// How things stand after an act.
fn after(before: &Stand, act: &Act) -> Stand {
    let (mut begun, mut course) = before.clone();
    match act {
        Act::Write(stamped) => course.take(stamped).unwrap(),
        Act::Follow(changed) => begun = (**changed).clone(),
    }
    (begun, course)
}

fn opened(disk: &Rc<Brittle>, path: &Path) -> Journal {
    Journal::open_on(Rc::clone(disk) as Rc<dyn Disk>, path).unwrap()
}

/// A disk with a cord that these acts were done on.
fn worked(acts: &[Act]) -> (Rc<Brittle>, PathBuf) {
    let disk = Rc::new(Brittle::default());
    let shared = Rc::clone(&disk) as Rc<dyn Disk>;
    let mut journal = Journal::begin_on(shared, Path::new(FOLDER), begun(0, 1)).unwrap();
    for one in acts {
        act(&mut journal, one).unwrap();
    }
    (disk, journal.path().to_owned())
}

/// The story of a cord with every kind of entry in it.
fn story() -> Vec<Act> {
    let braid = begun(0, 1).braid().unwrap();
    let strands = braid.strands();
    let roles: Vec<usize> = (0..strands).collect();
    let way = Way {
        why: Why::Mistake("two moves \"skipped\"\n".into()),
        ..Way::undo(&braid, &roles, 6, 3)
    };
    let turned = (0..strands).map(|i| (i + 1) % strands).collect();
    let mut changed = begun(0, 1);
    changed.design.name = "Changed meanwhile".into();
    let mut acts = vec![Act::Write(at(1, Entry::Laid(2)))];
    acts.extend([5, 6].map(done));
    let entries = [
        Entry::Noted(Note::Measured(12.3)),
        Entry::Out(way),
        Entry::Along(1),
        Entry::Along(3),
        Entry::Taken {
            done: 4,
            roles: turned,
        },
        Entry::Finished,
    ];
    acts.extend(entries.map(|entry| Act::Write(at(9, entry))));
    acts.insert(5, Act::Follow(Box::new(changed)));
    acts
}

/// What must be true of a journal and its disk after an act that may have failed:
/// nothing but before or after, and the next act works.
fn holds(disk: &Rc<Brittle>, path: &Path, stands: &[&Stand]) {
    let mut journal = opened(disk, path);
    let now = stand(&journal);
    assert!(stands.contains(&&now), "a third place");
    assert_eq!(journal.told().damage, None);
    let next = Act::Write(at(7, Entry::Noted(Note::Mark("next".into()))));
    act(&mut journal, &next).unwrap();
    drop(journal);
    disk.start(Rest::Nothing);
    assert_eq!(stand(&opened(disk, path)), after(&now, &next));
}

/// Does an act in trouble, and checks all that must hold.
fn tried(sound: &Brittle, path: &Path, one: &Act, troubles: &[(u64, Trouble)], rest: Rest) {
    let disk = Rc::new(sound.copy());
    let mut journal = opened(&disk, path);
    let before = stand(&journal);
    let then = after(&before, one);
    disk.troubled(troubles.iter().copied());
    let result = act(&mut journal, one);
    disk.sound();
    let expected = if result.is_ok() { &then } else { &before };
    assert_eq!(&stand(&journal), expected);
    if !disk.is_off() {
        // Trouble that is over is over.
        let disk = Rc::new(disk.copy());
        holds(&disk, path, &[&before, &then]);
        let next = Act::Write(at(8, Entry::Noted(Note::Mark("again".into()))));
        act(&mut journal, &next).unwrap();
    }
    let (now, is_off) = (stand(&journal), disk.is_off());
    drop(journal);
    disk.start(rest);
    match (is_off, result.is_ok()) {
        (true, false) => holds(&disk, path, &[&before, &then]),
        // What was said to be kept is kept.
        _ => holds(&disk, path, &[&now]),
    }
}

fn calls(sound: &Brittle, path: &Path, one: &Act) -> u64 {
    let disk = Rc::new(sound.copy());
    let mut journal = opened(&disk, path);
    disk.troubled([]);
    act(&mut journal, one).unwrap();
    disk.sound()
}

#[test]
fn every_call_of_every_entry_may_fail_in_every_way() {
    let story = story();
    let mut cases = 0;
    for (place, one) in story.iter().enumerate() {
        let (disk, path) = worked(&story[..place]);
        let calls = calls(&disk, &path, one);
        assert!(calls >= 2, "{one:?}");
        for trouble in TROUBLES {
            for (from, rest) in (0..calls).flat_map(|from| RESTS.map(|rest| (from, rest))) {
                // Once, twice, and for good: what was half written cannot be mended then.
                for last in [from, from + 1, from + 2, from + 9] {
                    let troubles: Vec<_> = (from..=last).map(|call| (call, trouble)).collect();
                    tried(&disk, &path, one, &troubles, rest);
                    cases += 1;
                }
            }
        }
    }
    assert!(cases > 1000, "{cases}");
}

#[test]
fn a_cord_is_begun_or_not_whatever_fails() {
    let begin = |disk: &Rc<Brittle>| {
        let shared = Rc::clone(disk) as Rc<dyn Disk>;
        Journal::begin_on(shared, Path::new(FOLDER), begun(0, 1))
    };
    let disk = Rc::new(Brittle::default());
    let path = begin(&disk).unwrap().path().to_owned();
    let calls = disk.sound();
    for trouble in TROUBLES {
        for (from, rest) in (0..calls).flat_map(|from| RESTS.map(|rest| (from, rest))) {
            let disk = Rc::new(Brittle::default());
            disk.troubled([(from, trouble)]);
            let result = begin(&disk);
            let is_off = disk.is_off();
            let is_begun = result.is_ok();
            drop(result);
            disk.start(rest);
            if is_begun || disk.seen(&path).is_some() {
                assert!(is_begun || is_off, "{trouble:?} {from}: begun and not said");
                let first = (begun(0, 1), course(begun(0, 1).design.strands.len(), &[]));
                holds(&disk, &path, &[&first]);
            } else {
                begin(&disk).unwrap();
            }
        }
    }
}

#[test]
fn a_disk_that_stays_full_is_said_at_every_step_and_forgotten_when_it_is_not() {
    let (disk, path) = worked(&[done(1)]);
    let mut journal = opened(&disk, &path);
    let file = disk.seen(&path);
    disk.troubled((0..100).map(|call| (call, Trouble::Half)));
    for _ in 0..10 {
        let error = act(&mut journal, &done(2)).unwrap_err();
        assert!(error.to_string().contains("the disk is full"), "{error}");
        assert_eq!(journal.course().done, 1);
    }
    disk.sound();
    act(&mut journal, &done(2)).unwrap();
    assert_eq!(journal.course().done, 2);
    // Append alone fails, after half a line: it is taken back at once.
    disk.troubled([(1, Trouble::Half)]);
    let error = act(&mut journal, &done(3)).unwrap_err();
    assert!(matches!(error, JournalError::Unwritten(_)), "{error}");
    disk.sound();
    let (now, before) = (disk.seen(&path).unwrap(), file.unwrap());
    assert!(now.starts_with(&before) && now.ends_with(b"\n"));
}

#[test]
fn a_damaged_file_is_set_aside_before_anything_is_written_to_it() {
    let (disk, path) = worked(&[1, 2, 3].map(done));
    let mut bytes = disk.seen(&path).unwrap();
    let second = String::from_utf8_lossy(&bytes).find("Done(2)").unwrap();
    bytes[second] = b'?';
    disk.put(&path, &bytes);
    let aside = path.with_extension("place.damaged");
    let calls = calls(&disk, &path, &done(2));
    for trouble in TROUBLES {
        for (from, rest) in (0..calls).flat_map(|from| RESTS.map(|rest| (from, rest))) {
            let disk = Rc::new(disk.copy());
            let mut journal = opened(&disk, &path);
            assert!(journal.told().damage.is_some());
            disk.troubled([(from, trouble)]);
            let result = act(&mut journal, &done(2));
            disk.start(rest);
            let is_there = disk.seen(&path).as_ref() == Some(&bytes);
            let is_aside = disk.seen(&aside).as_ref() == Some(&bytes);
            assert!(is_there || is_aside, "{trouble:?} {from} {rest:?}");
            let journal = opened(&disk, &path);
            let done = journal.course().done;
            assert!(done == 2 || (done == 1 && result.is_err()));
        }
    }
}

#[test]
fn a_file_is_replaced_whole_or_not_at_all_whatever_fails() {
    let path = Path::new("/home/a.plait");
    for trouble in TROUBLES {
        for (from, rest) in (0..4).flat_map(|from| RESTS.map(|rest| (from, rest))) {
            let disk = Brittle::default();
            disk.put(path, b"older");
            disk.troubled([(from, trouble)]);
            let result = replace_on(&disk, path, b"newer");
            if !disk.is_off() {
                let seen = disk.seen(path).unwrap();
                let expected: &[u8] = if result.is_ok() { b"newer" } else { b"older" };
                assert_eq!(seen, expected, "{trouble:?} {from}");
            }
            disk.start(rest);
            let kept = disk.seen(path).unwrap();
            assert!(kept == b"older" || kept == b"newer", "{trouble:?} {from}");
        }
    }
}

fn any_entry(braid: &Braid) -> impl Strategy<Value = Entry> + use<> {
    let strands = braid.strands();
    let places = braid.places_after(0);
    let aside = |from: Place| Step {
        moves: vec![Move {
            from,
            to: from.turned(1, 32),
        }],
    };
    let roles = Just((0..strands).collect::<Vec<_>>()).prop_shuffle();
    let way = (0..strands, 0..40u64, roles.clone(), ".{0,30}");
    let way = way.prop_map(move |(strand, lands, roles, words)| {
        Entry::Out(Way {
            why: Why::Mistake(words),
            from: places.clone(),
            steps: vec![aside(places[strand]), Step::default()],
            lands,
            roles,
        })
    });
    prop_oneof![
        (0..=strands).prop_map(Entry::Laid),
        (0..100_000u64).prop_map(Entry::Done),
        (0..100_000u64).prop_map(Entry::Done),
        ".{0,60}".prop_map(|words| Entry::Noted(Note::Words(words))),
        (0.0..1e6).prop_map(|mm| Entry::Noted(Note::Measured(mm))),
        way,
        (0..3usize).prop_map(Entry::Along),
        (0..1000u64, roles).prop_map(|(done, roles)| Entry::Taken { done, roles }),
    ]
}

fn any_trouble() -> impl Strategy<Value = Trouble> {
    (0..TROUBLES.len()).prop_map(|which| TROUBLES[which])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn any_course_in_any_trouble_is_one_that_was_told(
        entries in proptest::collection::vec(
            any_entry(&begun(0, 1).braid().unwrap()),
            1..24,
        ),
        troubles in proptest::collection::btree_map(0..80u64, any_trouble(), 0..6),
        rest in (0..RESTS.len()).prop_map(|which| RESTS[which]),
    ) {
        let (disk, path) = worked(&[]);
        let mut journal = opened(&disk, &path);
        disk.troubled(troubles);
        // What was kept for sure, and what may be kept as well.
        let mut sure = stand(&journal);
        let mut perhaps = sure.clone();
        for (when, entry) in (0..).zip(&entries) {
            let one = Act::Write(at(when, entry.clone()));
            let mut there = sure.1.clone();
            if there.take(&at(when, entry.clone())).is_err() {
                prop_assert!(act(&mut journal, &one).is_err());
                prop_assert_eq!(&stand(&journal), &sure);
                continue;
            }
            perhaps = (sure.0.clone(), there);
            let result = act(&mut journal, &one);
            if result.is_ok() {
                sure = perhaps.clone();
            }
            prop_assert_eq!(&stand(&journal), &sure);
            if disk.is_off() {
                break;
            }
        }
        drop(journal);
        disk.start(rest);
        holds(&disk, &path, &[&sure, &perhaps]);
    }
}
