//! What the program remembers between runs; nothing of a design.
//!
//! Kept as RON in the configuration folder of the platform, or under the
//! folder named by the environment variable `PLAITWRIGHT_HOME`, which tests
//! use. A file that cannot be read is passed over: settings are a comfort, and
//! a broken one must never keep the program shut.

use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::at_disc::Habits;
use super::grounds::Lying;
use super::screen::Measured;
use crate::material::Fibre;
use crate::quantity::UnitSystem;

/// The two dresses of the window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Dress {
    /// Paper and linen.
    #[default]
    Light,
    /// The same table in the evening.
    Dark,
}

/// Least and most size of everything.
pub const ZOOM: (f32, f32) = (1.0, 2.5);

/// Slowest and fastest playing, moves a minute.
pub const PACE: (f32, f32) = (6.0, 120.0);

/// Remembered between runs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// Unit of lengths.
    pub units: UnitSystem,
    /// Light or dark.
    pub dress: Dress,
    /// Size of everything, 1 to 2.5.
    pub zoom: f32,
    /// Inner size of the window, points.
    pub window: (f32, f32),
    /// Fibres the maker added to the shelf.
    pub own_fibres: Vec<Fibre>,
    /// Moves a minute when playing, 6 to 120.
    pub pace: f32,
    /// What the cord of the strip lies on; none while that is left to the window.
    pub lying: Option<Lying>,
    /// Screens whose size is known.
    pub screens: Vec<Measured>,
    /// The palette whose colours are offered, by its name; empty for our dyes.
    pub offered: String,
    /// Whether strands are marked by patterns besides their colours.
    pub marks: bool,
    /// How she works at the disc.
    pub at_disc: Habits,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            units: UnitSystem::default(),
            dress: Dress::default(),
            zoom: 1.0,
            window: (1440.0, 900.0),
            own_fibres: Vec::new(),
            pace: 24.0,
            lying: None,
            screens: Vec::new(),
            offered: String::new(),
            marks: false,
            at_disc: Habits::default(),
        }
    }
}

impl Settings {
    /// What was remembered in `folder`, or the plain settings.
    pub fn read(folder: &Path) -> Self {
        std::fs::read_to_string(file_in(folder))
            .ok()
            .and_then(|text| ron::from_str::<Self>(&text).ok())
            .unwrap_or_default()
            .in_bounds()
    }

    /// Writes the settings whole or not at all.
    ///
    /// # Errors
    ///
    /// When the folder cannot be made or written to.
    pub fn write(&self, folder: &Path) -> io::Result<()> {
        std::fs::create_dir_all(folder)?;
        let text = ron::ser::to_string_pretty(self, ron::ser::PrettyConfig::default())
            .map_err(io::Error::other)?;
        let mut file = tempfile::NamedTempFile::new_in(folder)?;
        io::Write::write_all(&mut file, text.as_bytes())?;
        file.persist(file_in(folder)).map_err(|e| e.error)?;
        Ok(())
    }

    /// Figures that a hand-edited file may hold, brought back to what works.
    fn in_bounds(mut self) -> Self {
        self.zoom = within(self.zoom, ZOOM.0, ZOOM.1);
        self.pace = within(self.pace, PACE.0, PACE.1);
        self.screens.retain(Measured::is_sound);
        self.window.0 = within(self.window.0, 480.0, 8000.0);
        self.window.1 = within(self.window.1, 400.0, 8000.0);
        self
    }
}

fn within(value: f32, low: f32, high: f32) -> f32 {
    if value.is_nan() {
        return low;
    }
    value.clamp(low, high)
}

fn file_in(folder: &Path) -> PathBuf {
    folder.join("settings.ron")
}

/// Where settings, recovery copies and the list of recent files live.
///
/// `PLAITWRIGHT_HOME` wins over the platform's folder; without either, a
/// folder beside where the program was started.
pub fn home() -> PathBuf {
    if let Some(folder) = std::env::var_os("PLAITWRIGHT_HOME") {
        return PathBuf::from(folder);
    }
    directories::ProjectDirs::from("", "", "plaitwright").map_or_else(
        || PathBuf::from(".plaitwright"),
        |dirs| dirs.config_dir().to_path_buf(),
    )
}

#[cfg(test)]
mod tests {
    use super::super::screen::Screen;
    use super::*;

    #[test]
    fn settings_come_back_as_they_were_written() {
        let folder = tempfile::tempdir().unwrap();
        let settings = Settings {
            units: UnitSystem::Inches,
            dress: Dress::Dark,
            zoom: 1.5,
            lying: Some(Lying::Skin(3)),
            screens: vec![Measured {
                screen: Screen {
                    pixels: Some((1920, 1080)),
                    scale: 125,
                },
                fineness: 3.62,
            }],
            ..Settings::default()
        };
        settings.write(folder.path()).unwrap();
        assert_eq!(
            Settings::read(folder.path()),
            settings,
            "written, then read"
        );
    }

    #[test]
    fn a_broken_settings_file_gives_the_plain_settings() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(file_in(folder.path()), "(zoom: \"big\"").unwrap();
        assert_eq!(
            Settings::read(folder.path()),
            Settings::default(),
            "nothing of a broken file is used"
        );
    }

    #[test]
    fn a_screen_of_no_size_is_forgotten() {
        let folder = tempfile::tempdir().unwrap();
        let text = "(screens: [(screen: (pixels: None, scale: 100), fineness: 0.0)])";
        std::fs::write(file_in(folder.path()), text).unwrap();
        assert!(Settings::read(folder.path()).screens.is_empty());
    }

    #[test]
    fn a_zoom_of_nothing_is_brought_back_to_one() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(file_in(folder.path()), "(zoom: NaN, pace: 9000.0)").unwrap();
        let read = Settings::read(folder.path());
        assert_eq!((read.zoom, read.pace), (1.0, 120.0), "held within bounds");
    }
}
