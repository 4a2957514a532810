//! For real: a process that works a cord is killed, at any moment and at every system
//! call, and the place is the last one it told of or the next.
//!
//! The process is this test run anew ([`the_hands`]), told by a variable which file to
//! work. It says every step once it is kept.

use std::env;
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::os::unix::process::ExitStatusExt;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus, Stdio};

use plaitwright::bench::{Course, Entry, Note, Stamped};
use plaitwright::document::{Journal, under_way};

use super::pieces::{at, begun, work};

/// Names the file that is to be worked, or the folder that a cord is to be begun in.
const FILE: &str = "PLAITWRIGHT_TEST_HANDS";
/// What stands before each line of the hands, among those of the test program.
const TOLD: &str = "told ";

/// The entry that the hands make after this course: mostly a move, now and then another.
fn next(course: &Course) -> Stamped {
    let entries = course.log.len() + course.notes.len();
    let entry = match entries % 5 {
        4 => Entry::Noted(Note::Words("x".repeat(entries % 700))),
        _ => Entry::Done(course.done + 1),
    };
    at(course.done, entry)
}

/// How far a story is: each entry of [`next`] makes it one more.
fn told(course: &Course) -> usize {
    course.log.len() + course.notes.len()
}

/// No test of its own: what the killed process does.
#[test]
fn the_hands() {
    let Some(file) = env::var_os(FILE).map(PathBuf::from) else {
        return;
    };
    let mut out = std::io::stdout();
    let mut say = |what: &dyn std::fmt::Display| {
        writeln!(out, "\n{TOLD}{what}").unwrap();
        out.flush().unwrap();
    };
    if file.is_dir() {
        let result = Journal::begin(&file, begun(0, 1));
        say(&result.map_or_else(|error| error.to_string(), |_| "begun".to_owned()));
        return;
    }
    let mut journal = Journal::open(&file).unwrap();
    let steps = env::var("PLAITWRIGHT_TEST_STEPS").ok();
    let steps = steps.map_or(usize::MAX, |steps| steps.parse().unwrap());
    for _ in 0..steps {
        let stamped = next(journal.course());
        match journal.write(&stamped) {
            Ok(()) => say(&told(journal.course())),
            Err(error) => say(&format!("not kept: {error}")),
        }
    }
}

/// A command that runs the hands on a file or folder.
fn hands(program: &[String], file: &Path) -> Command {
    let this = env::current_exe().unwrap();
    let this = this.to_str().unwrap().to_owned();
    let line: Vec<String> = program.iter().cloned().chain([this]).collect();
    let mut command = Command::new(&line[0]);
    command
        .args(&line[1..])
        .args(["killed::the_hands", "--exact", "--nocapture"])
        .args(["--test-threads", "1"])
        .env(FILE, file)
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    command
}

/// A folder with a cord of so many moves.
fn cord(moves: u64) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = Journal::begin(folder.path(), begun(0, 1)).unwrap();
    work(&mut journal, moves);
    let path = journal.path().to_owned();
    (folder, path)
}

/// The story that the hands told, from where it stood.
fn replayed(from: &Course, until: usize) -> Course {
    let mut course = from.clone();
    while told(&course) < until {
        course.take(&next(&course)).unwrap();
    }
    course
}

/// Opens the cord and checks that it is the story up to `last` or one entry more, and
/// that the next step works.
fn check(path: &Path, before: &Course, last: usize, what: &str) {
    let mut journal = Journal::open(path).unwrap();
    let course = journal.course().clone();
    let now = told(&course);
    assert!(now == last || now == last + 1, "{what}: {last}, then {now}");
    assert_eq!(course, replayed(before, now), "{what}: another story");
    assert_eq!(journal.told().damage, None, "{what}");
    journal.write(&next(&course)).unwrap();
    let after = journal.course().clone();
    drop(journal);
    assert_eq!(Journal::open(path).unwrap().course(), &after, "{what}");
}

/// The last number among lines of the hands.
fn last_told(lines: &[String]) -> Option<usize> {
    let told = lines.iter().filter_map(|line| line.strip_prefix(TOLD));
    told.filter_map(|number| number.trim().parse().ok())
        .next_back()
}

#[test]
fn a_process_killed_at_any_moment_loses_no_step_that_it_told_of() {
    let (_folder, path) = cord(3);
    let mut random = fastrand::Rng::with_seed(7);
    let mut steps = 0;
    for round in 0..40 {
        let before = Journal::open(&path).unwrap().course().clone();
        let mut child = hands(&[], &path).spawn().unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let mut lines = lines.map(Result::unwrap);
        // Some steps, then a moment more, which falls anywhere within a step.
        let until = random.usize(0..20);
        let told_lines = lines.by_ref().filter(|line| line.starts_with(TOLD));
        let mut all: Vec<String> = told_lines.take(until).collect();
        std::thread::sleep(std::time::Duration::from_micros(random.u64(0..4000)));
        child.kill().unwrap();
        child.wait().unwrap();
        all.extend(lines);
        let last = last_told(&all).unwrap_or_else(|| told(&before));
        steps += last - told(&before);
        check(&path, &before, last, &format!("round {round}"));
    }
    assert!(steps > 100, "only {steps} steps were made");
}

/// Calls of the system that may touch a file.
const CALLS: &str = "openat,write,fdatasync,fsync,ftruncate,rename,renameat,renameat2,unlink,unlinkat,mkdir,mkdirat,flock,lseek,statx,close,read,fchmod,readlink";

/// Runs the hands under `strace` with something injected, for so many steps.
fn traced(inject: &[&str], file: &Path, steps: usize) -> (Vec<String>, ExitStatus, String) {
    let log = tempfile::NamedTempFile::new().unwrap();
    let log_file = log.path().to_str().unwrap().to_owned();
    let trace = format!("trace={CALLS}");
    let mut program = vec!["strace", "-f", "-qq", "-o", &log_file, "-e", &trace];
    program.extend(inject);
    let program: Vec<String> = program.into_iter().map(str::to_owned).collect();
    let mut command = hands(&program, file);
    let command = command.env("PLAITWRIGHT_TEST_STEPS", steps.to_string());
    let output = command.output().unwrap();
    let lines = String::from_utf8_lossy(&output.stdout);
    let lines = lines.lines().map(str::to_owned).collect();
    let log = fs::read_to_string(log.path()).unwrap_or_default();
    (lines, output.status, log)
}

/// What is said where system calls cannot be gone through.
const NO_STRACE: &str =
    "no strace that works on this machine: killed at any moment, not at every system call";

/// Whether there is a `strace` that may trace.
fn has_strace() -> bool {
    let (_folder, path) = cord(0);
    let works = Command::new("strace").args(["-qq", "true"]).output();
    let works = works.is_ok_and(|output| output.status.success());
    if works {
        let (lines, _, _) = traced(&[], &path, 1);
        return last_told(&lines) == Some(1);
    }
    false
}

/// Each call and its number among the calls of its kind, from the first that names the
/// place file or its folder on. `strace` counts them for each thread by itself.
fn calls_of_a_step(log: &str, folder: &Path) -> Vec<(String, usize)> {
    let folder = folder.to_str().unwrap();
    let mut counts = std::collections::BTreeMap::new();
    let mut calls = Vec::new();
    let mut has_begun = false;
    for line in log.lines() {
        let mut words = line.split_whitespace();
        let thread = words.next().unwrap_or_default();
        let Some((name, _)) = words.next().unwrap_or_default().split_once('(') else {
            continue;
        };
        let count: &mut usize = counts.entry((thread, name.to_owned())).or_default();
        *count += 1;
        has_begun |= line.contains(folder);
        if has_begun {
            calls.push((name.to_owned(), *count));
        }
    }
    calls
}

#[test]
fn a_process_killed_or_refused_at_every_system_call_loses_no_step_that_it_told_of() {
    if !has_strace() {
        println!("{NO_STRACE}");
        return;
    }
    let (folder, path) = cord(3);
    let whole = fs::read(&path).unwrap();
    let before = Journal::open(&path).unwrap().course().clone();
    let (lines, _, log) = traced(&[], &path, 2);
    assert_eq!(last_told(&lines), Some(told(&before) + 2));
    let calls = calls_of_a_step(&log, folder.path());
    let has = |name: &str| calls.iter().any(|(call, _)| call == name);
    assert!(has("write") && has("fdatasync"), "{calls:?}");
    let mut killed = 0;
    for (call, number) in &calls {
        for fault in ["signal=SIGKILL", "error=EIO", "error=ENOSPC"] {
            fs::write(&path, &whole).unwrap();
            let inject = format!("inject={call}:{fault}:when={number}");
            let (lines, status, _) = traced(&["-e", &inject], &path, 2);
            killed += usize::from(status.signal() == Some(9));
            let last = last_told(&lines).unwrap_or(told(&before));
            check(&path, &before, last, &inject);
        }
    }
    println!("{killed} of {} calls ended the process", calls.len());
    // A call of another thread, or one that is not made again, may be counted otherwise.
    assert!(
        10 * killed >= 9 * calls.len(),
        "{killed} of {}",
        calls.len()
    );
}

#[test]
fn a_cord_begun_by_a_process_that_is_killed_at_every_system_call_is_there_or_not() {
    if !has_strace() {
        println!("{NO_STRACE}");
        return;
    }
    let begins = |inject: &[&str]| {
        let folder = tempfile::tempdir().unwrap();
        let (lines, _, log) = traced(inject, folder.path(), 0);
        let is_told = lines.iter().any(|line| line == "told begun");
        (folder, is_told, log)
    };
    let (folder, is_told, log) = begins(&[]);
    assert!(is_told);
    let calls = calls_of_a_step(&log, folder.path());
    assert!(calls.iter().any(|(call, _)| call.starts_with("rename")));
    for (call, number) in &calls {
        for fault in ["signal=SIGKILL", "error=EIO"] {
            let inject = format!("inject={call}:{fault}:when={number}");
            let (folder, is_told, _) = begins(&["-e", &inject]);
            let found = under_way(folder.path(), None).unwrap();
            match &found[..] {
                [] => assert!(!is_told, "{inject}"),
                [found] => assert_eq!(found.told.as_ref().unwrap().begun, begun(0, 1)),
                more => panic!("{inject}: {more:?}"),
            }
            if found.is_empty() {
                Journal::begin(folder.path(), begun(0, 1)).unwrap();
            }
        }
    }
}
