//! A tick for every move: a short dying tone, worked out here and played by a program
//! that the system has for sounds.
//!
//! The right hand ticks high, the left lower, a step back lowest. The sounds are written
//! as WAV files (16 bit, one channel, 48 kHz) into a folder of the program's own, once,
//! and played by the first of `pw-play`, `paplay`, `aplay`, `afplay` on the PATH.
//! Without one nothing is heard.

use std::f64::consts::TAU;
use std::ffi::OsStr;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use super::player::{Player, on_path, quiet};
use crate::bench::Side;

/// What is said where there is no program to play a sound.
pub const NO_PLAYER: &str = "No program that plays sounds is found on this machine: install \
    pipewire, pulseaudio-utils or alsa-utils, and start the program again.";

/// The programs, and what stands before the file.
const PLAYERS: [(&str, &[&str]); 4] = [
    ("pw-play", &[]),
    ("paplay", &[]),
    ("aplay", &["-q"]),
    ("afplay", &[]),
];

/// Samples a second.
const RATE: u32 = 48_000;
/// How long a tick is, s. Tried: shorter it is a scratch, longer a beep.
const LASTS: f64 = 0.06;
/// It dies away to 1/e in this time, s.
const DIES: f64 = 0.009;
/// The rise at its start, s: long enough to be no crack of the membrane.
const RISES: f64 = 0.0006;
/// Loudness of the peak, as a share of the loudest there is.
const PEAK: f64 = 0.6;

/// What a tick tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Tick {
    /// A move of the hand on this side.
    Hand(Side),
    /// A move over the middle, or of nobody's hand in particular.
    Middle,
    /// A step back.
    Back,
}

impl Tick {
    const ALL: [Self; 4] = [
        Self::Hand(Side::Left),
        Self::Hand(Side::Right),
        Self::Middle,
        Self::Back,
    ];

    /// Its tone, Hz; our guess at what can be told apart.
    fn tone(self) -> f64 {
        match self {
            Self::Hand(Side::Right) => 1760.0,
            Self::Middle => 1320.0,
            Self::Hand(Side::Left) => 990.0,
            Self::Back => 440.0,
        }
    }

    fn file(self) -> &'static str {
        match self {
            Self::Hand(Side::Right) => "tick-right.wav",
            Self::Middle => "tick-middle.wav",
            Self::Hand(Side::Left) => "tick-left.wav",
            Self::Back => "tick-back.wav",
        }
    }

    /// The sound, sample by sample.
    fn samples(self) -> Vec<i16> {
        let count = (LASTS * f64::from(RATE)) as u32;
        let sample = |k: u32| {
            let time = f64::from(k) / f64::from(RATE);
            let wave =
                (TAU * self.tone() * time).sin() + 0.3 * (TAU * 2.0 * self.tone() * time).sin();
            let rise = (time / RISES).min(1.0);
            let end = ((LASTS - time) / (0.1 * LASTS)).min(1.0);
            rise * (-time / DIES).exp() * end * wave
        };
        let all: Vec<f64> = (0..count).map(sample).collect();
        let loudest = all.iter().fold(0.0_f64, |most, one| most.max(one.abs()));
        let scale = PEAK * f64::from(i16::MAX) / loudest;
        all.iter().map(|one| (one * scale).round() as i16).collect()
    }
}

/// The samples as a WAV file: a RIFF of a format and of data, PCM of one channel.
fn wav(samples: &[i16]) -> Vec<u8> {
    let data = 2 * samples.len() as u32;
    let mut file = Vec::with_capacity(44 + data as usize);
    file.extend(b"RIFF");
    file.extend((36 + data).to_le_bytes());
    file.extend(b"WAVEfmt ");
    file.extend(16_u32.to_le_bytes());
    // PCM, one channel; bytes a second; bytes and bits a sample.
    file.extend([1_u16, 1].map(u16::to_le_bytes).concat());
    file.extend([RATE, 2 * RATE].map(u32::to_le_bytes).concat());
    file.extend([2_u16, 16].map(u16::to_le_bytes).concat());
    file.extend(b"data");
    file.extend(data.to_le_bytes());
    file.extend(samples.iter().flat_map(|sample| sample.to_le_bytes()));
    file
}

/// Ticks, where the system can.
#[derive(Debug)]
pub struct Ticker {
    program: Option<(PathBuf, &'static [&'static str])>,
    folder: PathBuf,
    player: OnceLock<Player<Tick>>,
}

impl Ticker {
    /// With the first player that the system has; the sounds lie in `home`.
    pub fn new(home: &Path) -> Self {
        Self::with(&std::env::var_os("PATH").unwrap_or_default(), home)
    }

    fn with(path: &OsStr, home: &Path) -> Self {
        let found = |&(name, before): &(&str, &'static [&'static str])| {
            Some((on_path(path, name)?, before))
        };
        Self {
            program: PLAYERS.iter().find_map(found),
            folder: home.join("sounds"),
            player: OnceLock::new(),
        }
    }

    /// One sentence on what is lacking; none where it can tick.
    pub fn lack(&self) -> Option<&'static str> {
        self.program.is_none().then_some(NO_PLAYER)
    }

    /// Ticks. Returns at once; one that comes while another sounds follows it.
    pub fn tick(&self, tick: Tick) {
        let Some((program, before)) = self.program.clone() else {
            return;
        };
        let player = self.player.get_or_init(|| {
            let folder = self.folder.clone();
            if let Err(error) = written(&folder) {
                log::warn!("the sounds of the ticks cannot be written: {error}");
            }
            Player::start("tick", false, move |tick: &Tick| {
                let mut command = quiet(&program);
                command.args(before).arg(folder.join(tick.file()));
                command
            })
        });
        player.play(tick);
    }
}

/// Writes the sounds that are not there as they should be.
fn written(folder: &Path) -> io::Result<()> {
    std::fs::create_dir_all(folder)?;
    for tick in Tick::ALL {
        let (file, bytes) = (folder.join(tick.file()), wav(&tick.samples()));
        if !std::fs::read(&file).is_ok_and(|there| there == bytes) {
            std::fs::write(file, bytes)?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tick_starts_at_once_dies_away_and_is_never_cut_off() {
        for tick in Tick::ALL {
            let samples = tick.samples();
            assert_eq!(samples.len(), 2880);
            let peak = |range: std::ops::Range<usize>| {
                samples[range]
                    .iter()
                    .map(|one| one.unsigned_abs())
                    .max()
                    .unwrap()
            };
            let loudest = peak(0..2880);
            assert!((19_655..=19_665).contains(&loudest), "{tick:?} {loudest}");
            assert!(samples.iter().all(|one| one.unsigned_abs() < 32_767));
            // Half as loud within two thousandths of a second, silent at its end.
            assert!(2 * peak(0..96) >= loudest, "{tick:?}");
            assert!(50 * peak(2400..2880) < loudest, "{tick:?}");
            assert_eq!(samples[0], 0);
            assert!(samples[2879].unsigned_abs() < 4, "{tick:?}");
        }
    }

    /// Rising passages through nought in the first three hundredths of a second.
    #[test]
    fn the_right_hand_ticks_higher_than_the_left_and_back_is_lowest() {
        let tones = [
            Tick::Back,
            Tick::Hand(Side::Left),
            Tick::Middle,
            Tick::Hand(Side::Right),
        ]
        .map(|tick| {
            let samples = &tick.samples()[..1440];
            let rises = samples
                .windows(2)
                .filter(|pair| pair[0] <= 0 && pair[1] > 0);
            rises.count()
        });
        assert!(tones.windows(2).all(|pair| pair[0] < pair[1]), "{tones:?}");
    }

    /// Where Python is at hand, its reader says what the file is.
    #[test]
    fn an_outside_reader_reads_the_file() {
        let folder = tempfile::tempdir().unwrap();
        written(folder.path()).unwrap();
        let file = folder.path().join(Tick::Back.file());
        let script = "import sys, wave; w = wave.open(sys.argv[1]); print(w.getnchannels(), \
            w.getsampwidth(), w.getframerate(), w.getnframes())";
        let mut python = std::process::Command::new("python3");
        let Ok(read) = python.args(["-c", script]).arg(file).output() else {
            return;
        };
        assert_eq!(
            String::from_utf8_lossy(&read.stdout).trim(),
            "1 2 48000 2880"
        );
    }

    #[test]
    fn what_was_written_is_written_once_and_mended() {
        let folder = tempfile::tempdir().unwrap();
        written(folder.path()).unwrap();
        let file = folder.path().join(Tick::Middle.file());
        let whole = std::fs::read(&file).unwrap();
        std::fs::write(&file, &whole[..100]).unwrap();
        written(folder.path()).unwrap();
        assert_eq!(std::fs::read(&file).unwrap(), whole);
    }

    #[test]
    fn without_a_player_it_says_so_and_is_silent() {
        let folder = tempfile::tempdir().unwrap();
        let ticker = Ticker::with(OsStr::new(""), folder.path());
        assert_eq!(ticker.lack(), Some(NO_PLAYER));
        ticker.tick(Tick::Back);
        assert!(!folder.path().join("sounds").exists());
    }

    #[cfg(unix)]
    #[test]
    fn a_tick_is_played_from_its_file() {
        use crate::app::player::tests::{fake, once};
        let folder = fake("aplay", "echo \"$@\" >> \"$0.played\"");
        let ticker = Ticker::with(folder.path().as_os_str(), folder.path());
        ticker.tick(Tick::Hand(Side::Left));
        let played = once(&folder.path().join("aplay.played"), |text| {
            text.ends_with('\n')
        });
        let file = folder.path().join("sounds").join("tick-left.wav");
        assert_eq!(played, format!("-q {}\n", file.display()));
        assert!(file.exists());
    }
}
