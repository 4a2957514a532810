//! Somebody at the table with a disc in her hands and the program before her.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::thread::sleep;
use std::time::{Duration, Instant};

use plaitwright::document;
use serde_json::Value;

use super::hands::{Disc, Pattern};
use super::screen::{Program, Screen, wait_for};

/// Longest wait for a step to be kept.
const PATIENCE: Duration = Duration::from_secs(30);
/// Longer than two presses that count as one.
const BREATH: Duration = Duration::from_millis(150);
/// The button that begins a cord, at 1280 by 800.
const BEGIN: (u32, u32) = (200, 524);
/// Where no control is, at 1280 by 800.
const ANYWHERE: (u32, u32) = (1100, 330);

pub(crate) struct Person {
    folder: tempfile::TempDir,
    file: PathBuf,
    screen: Screen,
    program: Option<Program>,
    pattern: Pattern,
    letters: Vec<String>,
    /// The disc in her hands.
    disc: Disc,
    /// Moves she knows to be in the cord.
    done: u64,
    made: f64,
    random: fastrand::Rng,
    told: Vec<&'static str>,
}

/// What the program says of the place.
#[derive(Debug, Clone)]
pub(crate) struct Stands {
    pub(crate) done: u64,
    pub(crate) laid: usize,
    pub(crate) made: f64,
    /// Slot of each strand, by letter.
    pub(crate) lies: Vec<(String, String)>,
    /// Steps of the way back that is being gone, and where it lands.
    pub(crate) way_back: Option<(u64, u64)>,
    pub(crate) made_of_way: u64,
    /// The moves of the next step.
    pub(crate) next: Vec<(String, String)>,
}

impl Person {
    pub(crate) fn sits_down(seed: u64) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("resources/designs");
        let file = folder.path().join("cord.plait");
        fs::copy(from.join("harbour-glass.plait"), &file).unwrap();
        let design = document::open(&file).unwrap().design;
        let pattern = Pattern::new(&design.sections[0].moves);
        let letter = |strand: usize| plaitwright::cord::strand_name(strand);
        let screen = Screen::new(1280, 800);
        let mut person = Self {
            file,
            program: None,
            disc: pattern.disc(),
            letters: (0..design.strands.len()).map(letter).collect(),
            pattern,
            screen,
            folder,
            done: 0,
            made: 0.0,
            random: fastrand::Rng::with_seed(seed),
            told: Vec::new(),
        };
        person.starts();
        person
    }

    fn home(&self) -> PathBuf {
        self.folder.path().join("home")
    }

    fn starts(&mut self) {
        let program = Program::open(&self.screen, &self.home(), Some(&self.file));
        self.program = Some(program);
        self.screen.press("ctrl+4");
        sleep(Duration::from_millis(700));
    }

    pub(crate) fn mood(&mut self) -> u32 {
        self.random.u32(..100)
    }

    pub(crate) fn made(&self) -> f64 {
        self.made
    }

    /// Lays every strand in its slot and begins.
    pub(crate) fn dresses_the_disc(&mut self) {
        wait_for("a cord under way", || {
            self.screen.click(BEGIN.0, BEGIN.1);
            sleep(Duration::from_millis(700));
            self.stands()
        });
        let strands = self.letters.len();
        while self.stands().unwrap().laid < strands {
            let laid = self.stands().unwrap().laid;
            sleep(BREATH);
            self.screen.press("space");
            self.until(|stands| stands.laid == laid + 1);
        }
        // The picture to compare with.
        sleep(BREATH);
        self.screen.press("space");
        self.sees_the_place();
    }

    /// Presses something that goes on.
    fn presses_on(&mut self) {
        sleep(BREATH);
        match self.random.u32(..4) {
            0 => self.screen.press("space"),
            1 => self.screen.press("Return"),
            2 => self.screen.press("Next"),
            _ => self.screen.click(ANYWHERE.0, ANYWHERE.1),
        }
    }

    fn presses_back(&mut self) {
        sleep(BREATH);
        let key = if self.random.bool() {
            "BackSpace"
        } else {
            "Prior"
        };
        self.screen.press(key);
    }

    pub(crate) fn makes_a_move(&mut self) {
        self.told.push("a move");
        self.disc.carry(self.pattern.after(self.done as usize));
        self.presses_on();
        self.comes_to(self.done + 1);
    }

    /// Once too often; she sees it and goes back.
    pub(crate) fn presses_twice(&mut self) {
        self.told.push("pressed twice");
        self.disc.carry(self.pattern.after(self.done as usize));
        self.presses_on();
        self.until(|stands| stands.done > 0);
        let (from, presses) = (self.done, 2);
        self.until_done(from + 1);
        self.presses_on();
        self.until_done(from + presses);
        self.presses_back();
        self.comes_to(from + 1);
    }

    /// The hands take the last move back.
    pub(crate) fn takes_a_move_back(&mut self) {
        let Some(before) = self.done.checked_sub(1) else {
            return;
        };
        self.told.push("taken back");
        let (from, to) = self.pattern.after(before as usize);
        self.disc.carry((to, from));
        self.presses_back();
        self.comes_to(before);
    }

    /// The program dies some time after a press; the disc in the hands does not.
    pub(crate) fn is_killed(&mut self) {
        self.told.push("killed");
        self.disc.carry(self.pattern.after(self.done as usize));
        self.presses_on();
        sleep(Duration::from_millis(self.random.u64(..60)));
        self.program.take().unwrap().kill();
        let stands = self.stands().expect("the place outlives the program");
        let before_or_after = [self.done, self.done + 1];
        assert!(
            before_or_after.contains(&stands.done),
            "at {} after a kill at {}",
            stands.done,
            self.done
        );
        self.starts();
        if stands.done == self.done {
            // She sees that her last move does not count yet.
            self.presses_on();
        }
        self.comes_to(self.done + 1);
    }

    /// A second window on the same cord may look, and changes nothing.
    pub(crate) fn opens_a_second_window(&mut self) {
        self.told.push("a second window");
        let other = Screen::new(1280, 800);
        let _second = Program::open(&other, &self.home(), Some(&self.file));
        other.press("ctrl+4");
        sleep(Duration::from_millis(700));
        for _ in 0..3 {
            other.press("space");
            sleep(BREATH);
        }
        self.sees_the_place();
    }

    /// A slip she does not notice for a while; then something looks wrong.
    pub(crate) fn looks_away_and_slips(&mut self) {
        if !self.slips() {
            return;
        }
        self.presses_on();
        self.until_done(self.done + 1);
        let mut counted = self.done + 1;
        for _ in 0..self.random.u32(0..6) {
            let next = self.pattern.after(counted as usize);
            if !self.disc.can(next) {
                break;
            }
            self.disc.carry(next);
            self.presses_on();
            counted += 1;
            self.until_done(counted);
        }
        if self.disc == self.pattern.right(counted as usize) {
            self.comes_to(counted);
            return;
        }
        self.done = counted;
        self.finds_the_way_back();
    }

    /// Makes the next move wrongly, or not at all; whether she could.
    fn slips(&mut self) -> bool {
        let (from, to) = self.pattern.after(self.done as usize);
        let slip = match self.random.u32(0..3) {
            0 => {
                self.told.push("left a move out");
                return true;
            }
            1 => {
                self.told.push("laid it one slot off");
                (
                    from,
                    self.pattern.on(to, if self.random.bool() { 2 } else { -2 }),
                )
            }
            _ => {
                self.told.push("took the neighbour");
                (
                    self.pattern
                        .on(from, if self.random.bool() { 2 } else { -2 }),
                    to,
                )
            }
        };
        let can = self.disc.can(slip);
        if can {
            self.disc.carry(slip);
        }
        can
    }

    /// Marks her disc in the window, takes the likeliest way back and goes it.
    fn finds_the_way_back(&mut self) {
        wait_for("a way back from her disc", || {
            let stands = self.stands()?;
            if stands.way_back.is_some() && stands.lies == self.lies() {
                return Some(());
            }
            self.compares(&stands);
            None
        });
        let mut stands = self.stands().unwrap();
        while let Some((_, lands)) = stands.way_back {
            let made = stands.made_of_way;
            for one in &stands.next {
                self.disc.carry(halves_of(one));
            }
            if self.random.u32(0..6) == 0 {
                // Dies on the way as well.
                self.program.take().unwrap().kill();
                self.starts();
            }
            self.presses_on();
            self.until(|now| now.way_back.is_none() || now.made_of_way == made + 1);
            stands = self.stands().unwrap();
            assert_eq!(stands.lies, self.lies(), "on the way back");
            if stands.way_back.is_none() {
                self.done = lands;
            }
        }
        let right = self.pattern.right(self.done as usize);
        assert_eq!(self.disc, right, "the way leads to a right place");
        self.sees_the_place();
    }

    /// Marks her disc in the window and takes the likeliest way back; a key that was lost
    /// on the way shows when she looks again.
    fn compares(&self, stands: &Stands) {
        sleep(BREATH);
        self.screen.press("Escape");
        sleep(BREATH);
        self.screen.press("w");
        sleep(Duration::from_millis(600));
        self.marks(stands);
        // The answers come beside the window.
        sleep(Duration::from_millis(2500));
        self.screen.press("g");
        sleep(Duration::from_millis(600));
    }

    /// Makes the drawn disc look like hers: strands that lie elsewhere are taken up and
    /// put down with the arrow keys.
    fn marks(&self, stands: &Stands) {
        let half = |letter: &String| {
            let (_, slot) = stands.lies.iter().find(|(one, _)| one == letter)?;
            Some(2 * slot.parse::<u16>().ok()?)
        };
        let mut drawn: Vec<u16> = self.letters.iter().filter_map(half).collect();
        for (strand, &to) in self.disc.at.iter().enumerate() {
            let from = drawn[strand];
            if from == to {
                continue;
            }
            // A strand put down on another changes places with it.
            if let Some(other) = drawn.iter().position(|&at| at == to) {
                drawn[other] = from;
            }
            drawn[strand] = to;
            for place in [from, to] {
                self.presses("Home", 1);
                self.presses("Right", u32::from(place / 2) - 1);
                self.presses("Return", 1);
            }
        }
    }

    fn presses(&self, key: &str, times: u32) {
        for _ in 0..times {
            self.screen.press(key);
            sleep(Duration::from_millis(60));
        }
    }

    /// What she did, in numbers.
    pub(crate) fn tells(&self) {
        let mut kinds = self.told.clone();
        kinds.sort_unstable();
        kinds.dedup();
        for kind in kinds {
            let times = self.told.iter().filter(|&&told| told == kind).count();
            println!("{times} times {kind}");
        }
        println!("{} moves, {:.0} mm", self.done, self.made);
    }

    pub(crate) fn waits(&mut self) {
        sleep(Duration::from_millis(500));
        self.sees_the_place();
    }

    fn comes_to(&mut self, done: u64) {
        self.until_done(done);
        self.done = done;
        self.sees_the_place();
    }

    /// Waits until so many moves are done; nothing but the place before is seen meanwhile.
    fn until_done(&self, done: u64) {
        let mut seen = Vec::new();
        self.until(|stands| {
            if seen.last() != Some(&stands.done) {
                seen.push(stands.done);
            }
            stands.done == done
        });
        assert!(seen.len() <= 2, "on the way to {done}: {seen:?}");
    }

    fn until(&self, mut is_so: impl FnMut(&Stands) -> bool) {
        let begun = Instant::now();
        loop {
            let stands = self.stands().expect("a cord is under way");
            if is_so(&stands) {
                return;
            }
            assert!(
                begun.elapsed() < PATIENCE,
                "waited in vain at {stands:?}; did {:?}",
                self.told.last()
            );
            sleep(Duration::from_millis(30));
        }
    }

    /// The place is that of the disc in her hands: strand by strand, slot by slot.
    fn sees_the_place(&mut self) {
        let stands = self.stands().expect("a cord is under way");
        assert_eq!(stands.done, self.done);
        assert_eq!(stands.lies, self.lies(), "after {} moves", self.done);
        let (from, to) = self.pattern.after(self.done as usize);
        let next = vec![((from / 2).to_string(), (to / 2).to_string())];
        assert_eq!(stands.next, next, "after {} moves", self.done);
        self.made = stands.made;
    }

    fn lies(&self) -> Vec<(String, String)> {
        let mut lies: Vec<(u16, &String)> =
            self.disc.slots().into_iter().zip(&self.letters).collect();
        lies.sort_unstable();
        lies.into_iter()
            .map(|(slot, letter)| (letter.clone(), slot.to_string()))
            .collect()
    }

    /// What `plaitwright place` says.
    fn stands(&self) -> Option<Stands> {
        let output = Command::new(env!("CARGO_BIN_EXE_plaitwright"))
            .args(["place", "--json"])
            .arg(&self.file)
            .env("PLAITWRIGHT_HOME", self.home())
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(output.status.success(), "{said}");
        let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
        let stands = &answer["under_way"].get(0)?["stands"];
        let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
        let lies = stands["lies"].as_array()?.iter();
        let next = stands["next"]["moves"].as_array()?.iter();
        Some(Stands {
            done: stands["done"].as_u64()?,
            laid: usize::try_from(stands["laid"].as_u64()?).unwrap(),
            made: stands["on_disc_mm"]["value"].as_f64()?,
            lies: lies
                .map(|one| (text(&one["strand"]), text(&one["place"])))
                .collect(),
            way_back: stands["way_back"]["steps"]
                .as_u64()
                .zip(stands["way_back"]["lands"].as_u64()),
            made_of_way: stands["way_back"]["made"].as_u64().unwrap_or(0),
            next: next
                .map(|one| (text(&one["from"]), text(&one["to"])))
                .collect(),
        })
    }
}

/// A move between slots, as half slots.
fn halves_of((from, to): &(String, String)) -> (u16, u16) {
    let half = |slot: &String| 2 * slot.parse::<u16>().unwrap();
    (half(from), half(to))
}
