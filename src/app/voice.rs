//! A spoken prompt: the next move, said by a program that the system has for it.
//!
//! Looked for on the PATH: `espeak-ng`, `espeak` and `say`, which fall silent when they
//! are ended, so that a new prompt cuts the old one short; then `spd-say`, which hands
//! the words on and cannot take them back, so that it is heard out. A prompt that still
//! waits gives way to the newest. Without a program nothing is said.

use std::ffi::OsStr;
use std::path::PathBuf;
use std::process::Command;
use std::sync::OnceLock;

use super::player::{Player, on_path, quiet};
use crate::bench::Side;
use crate::structure::Way;

/// What is said where there is no program to speak.
pub const NO_SPEAKER: &str = "No program that speaks is found on this machine: install \
    espeak-ng or speech-dispatcher, and start the program again.";

/// The programs, what stands before the words, and whether they fall silent when ended.
const SPEAKERS: [(&str, &[&str], bool); 4] = [
    ("espeak-ng", &["--"], true),
    ("espeak", &["--"], true),
    ("say", &[], true),
    ("spd-say", &["--wait", "--"], false),
];

/// Speaks, where the system can.
#[derive(Debug)]
pub struct Voice {
    speaker: Option<Speaker>,
    player: OnceLock<Player<String>>,
}

#[derive(Debug, Clone)]
struct Speaker {
    program: PathBuf,
    before: &'static [&'static str],
    falls_silent: bool,
}

impl Speaker {
    fn says(&self, words: &str) -> Command {
        let mut command = quiet(&self.program);
        command.args(self.before).arg(words);
        command
    }
}

impl Default for Voice {
    /// With the first speaker that the system has.
    fn default() -> Self {
        Self::with(&std::env::var_os("PATH").unwrap_or_default())
    }
}

impl Voice {
    /// With the first speaker on this path.
    fn with(path: &OsStr) -> Self {
        let speaker = SPEAKERS.iter().find_map(|&(name, before, falls_silent)| {
            Some(Speaker {
                program: on_path(path, name)?,
                before,
                falls_silent,
            })
        });
        Self {
            speaker,
            player: OnceLock::new(),
        }
    }

    /// One sentence on what is lacking; none where it can speak.
    pub fn lack(&self) -> Option<&'static str> {
        self.speaker.is_none().then_some(NO_SPEAKER)
    }

    /// Says the words, in the place of any that wait. Returns at once.
    pub fn say(&self, words: &str) {
        let Some(speaker) = &self.speaker else {
            return;
        };
        let player = self.player.get_or_init(|| {
            let speaker = speaker.clone();
            let falls_silent = speaker.falls_silent;
            Player::start("voice", falls_silent, move |words: &String| {
                speaker.says(words)
            })
        });
        player.play(plain(words));
    }
}

/// The words as they can be handed over: no control signs, and never like an option.
fn plain(words: &str) -> String {
    let spaced = |sign: char| if sign.is_control() { ' ' } else { sign };
    let words: String = words.chars().map(spaced).collect();
    words.trim_start_matches(['-', ' ']).to_owned()
}

/// A move to be said, by the labels of its places, and the hand that makes it:
/// "seventeen to thirty one, left hand".
pub fn moved([from, to]: &[String; 2], hand: Side) -> String {
    format!("{} to {}, {} hand", spoken(from), spoken(to), hand.word())
}

/// An exchange to be said: "one and seventeen change places, clockwise".
pub fn exchanged([one, other]: &[String; 2], way: Way) -> String {
    let (one, other) = (spoken(one), spoken(other));
    format!("{one} and {other} change places, {}", way.word())
}

/// The label of a place, to be said: `17`, `16.5`, `N3`, `hand`.
fn spoken(label: &str) -> String {
    let digits = label.trim_start_matches(|sign: char| !sign.is_ascii_digit());
    let side = &label[..label.len() - digits.len()];
    let (whole, half) = digits
        .split_once('.')
        .map_or((digits, false), |(w, _)| (w, true));
    let number = whole.parse().map(in_words);
    let half = if half { "and a half" } else { "" };
    let parts = [side, number.as_deref().unwrap_or(""), half];
    let parts: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join(" ")
}

/// A number up to 999 in words.
fn in_words(n: u16) -> String {
    const SMALL: [&str; 20] = [
        "nought",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
    ];
    const TENS: [&str; 10] = [
        "", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
    ];
    let (hundreds, tens, ones) = (n / 100, n / 10 % 10, n % 10);
    match n {
        0..20 => SMALL[usize::from(n)].to_owned(),
        20..100 if ones == 0 => TENS[usize::from(tens)].to_owned(),
        20..100 => format!("{} {}", TENS[usize::from(tens)], SMALL[usize::from(ones)]),
        100..1000 if n.is_multiple_of(100) => format!("{} hundred", in_words(hundreds)),
        100..1000 => format!("{} hundred and {}", in_words(hundreds), in_words(n % 100)),
        _ => n.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_move_is_said_with_its_places_and_its_hand() {
        let labels = |a: &str, b: &str| [a.to_owned(), b.to_owned()];
        assert_eq!(
            moved(&labels("17", "31"), Side::Left),
            "seventeen to thirty one, left hand"
        );
        assert_eq!(
            moved(&labels("N3", "hand"), Side::Right),
            "N three to hand, right hand"
        );
        assert_eq!(
            exchanged(&labels("1", "17"), Way::Clockwise),
            "one and seventeen change places, clockwise"
        );
    }

    #[test]
    fn places_are_said_in_words() {
        for (label, words) in [
            ("17", "seventeen"),
            ("31", "thirty one"),
            ("40", "forty"),
            ("16.5", "sixteen and a half"),
            ("N3", "N three"),
            ("hand", "hand"),
            ("100", "one hundred"),
            ("128", "one hundred and twenty eight"),
        ] {
            assert_eq!(spoken(label), words);
        }
    }

    #[test]
    fn without_a_speaker_it_says_so_and_is_silent() {
        let voice = Voice::with(OsStr::new(""));
        assert_eq!(voice.lack(), Some(NO_SPEAKER));
        voice.say("one to two");
    }

    #[cfg(unix)]
    mod heard {
        use std::time::{Duration, Instant};

        use super::*;
        use crate::app::player::tests::{fake, once};

        /// A speaker that writes what it says, and then speaks for a while.
        fn speaker(name: &str, seconds: &str) -> tempfile::TempDir {
            let does = format!(
                "for last; do :; done\necho \"$last\" >> \"$0.said\"\nexec sleep {seconds}"
            );
            fake(name, &does)
        }

        fn said(folder: &tempfile::TempDir, name: &str, last: &str) -> String {
            let file = folder.path().join(format!("{name}.said"));
            once(&file, |text| text.lines().any(|line| line == last))
        }

        /// The system's own programs stay findable for the fake: only its folder is asked
        /// for speakers, and it finds `sleep` by itself.
        #[test]
        fn the_newest_is_said_and_cuts_the_old_one_short() {
            let folder = speaker("espeak-ng", "15");
            let voice = Voice::with(folder.path().as_os_str());
            assert_eq!(voice.lack(), None);
            let begun = Instant::now();
            voice.say("one to two");
            assert!(
                begun.elapsed() < Duration::from_secs(1),
                "it does not block"
            );
            said(&folder, "espeak-ng", "one to two");
            for words in ["three to four", "five to six", "seven to eight"] {
                voice.say(words);
            }
            let all = said(&folder, "espeak-ng", "seven to eight");
            assert!(
                begun.elapsed() < Duration::from_secs(12),
                "it was cut short"
            );
            assert!(
                !all.contains("five to six") || all.lines().count() < 4,
                "{all}"
            );
        }

        #[test]
        fn what_cannot_be_taken_back_is_heard_out_and_the_newest_follows() {
            let folder = speaker("spd-say", "0.4");
            let voice = Voice::with(folder.path().as_os_str());
            voice.say("one to two");
            said(&folder, "spd-say", "one to two");
            for words in ["three to four", "five to six", "seven to eight"] {
                voice.say(words);
            }
            let all = said(&folder, "spd-say", "seven to eight");
            assert_eq!(all, "one to two\nseven to eight\n");
        }

        #[test]
        fn words_are_never_an_option_nor_a_command() {
            let folder = speaker("espeak-ng", "0");
            let voice = Voice::with(folder.path().as_os_str());
            let hostile = "--version; touch \"$0.broken\" `touch x` $(touch y)\nnext";
            voice.say(hostile);
            let words = "version; touch \"$0.broken\" `touch x` $(touch y) next";
            said(&folder, "espeak-ng", words);
            let files: Vec<_> = std::fs::read_dir(folder.path()).unwrap().collect();
            assert_eq!(files.len(), 2, "the speaker and what it said");
        }
    }
}
