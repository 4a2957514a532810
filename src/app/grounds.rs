//! What the cord of the strip can lie on: linen, cloth, skin.
//!
//! A cord is chosen for where it will be worn, so the grounds are what it is worn
//! on. They are the same by day and by night; only what the maker left to the
//! window follows it.

use eframe::egui::Color32;
use serde::{Deserialize, Serialize};

use super::theme::Theme;
use crate::drawing::Ground;
use crate::material::Colour;

/// A ground the maker can choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Lying {
    /// Linen in daylight.
    LightLinen,
    /// Linen in the evening.
    DarkLinen,
    /// White cotton.
    White,
    /// Indigo cotton.
    Indigo,
    /// Black velvet.
    Black,
    /// Skin, from the lightest to the darkest, 0 to 5.
    Skin(u8),
}

/// Six tones of skin: the middles of the six classes by individual typology angle.
///
/// # Source
///
/// The angle is arctan((L* − 50) / b*); classes from "very light" (over 55°) to
/// "dark" (under −30°) after Chardin, Cretois and Hourseau, *International Journal
/// of Cosmetic Science* 13, 1991. L*, a*, b* were chosen within each class: 74 8 14,
/// 68 9 17, 62 10.5 18, 56 12 18.5, 45 12.5 17.5, 33 10 11; our guess.
const SKIN: [([u8; 3], &str); 6] = [
    ([0xCE, 0xB0, 0x9D], "very light skin"),
    ([0xC1, 0x9F, 0x88], "light skin"),
    ([0xB3, 0x8E, 0x77], "medium skin"),
    ([0xA5, 0x7E, 0x67], "tan skin"),
    ([0x88, 0x62, 0x4E], "brown skin"),
    ([0x63, 0x47, 0x3D], "dark skin"),
];

/// Cotton: ground and raised threads.
const COTTON: ([u8; 3], [u8; 3]) = ([0xEC, 0xE9, 0xE2], [0xF8, 0xF6, 0xF1]);
/// The same dyed with indigo, the raised threads paler.
const INDIGO: ([u8; 3], [u8; 3]) = ([0x33, 0x40, 0x5C], [0x56, 0x66, 0x86]);
/// Velvet swallows nearly all light.
const VELVET: [u8; 3] = [0x17, 0x14, 0x17];

/// Width of a thread of linen, and of finer cloth, points.
const THREAD: (f32, f32) = (1.5, 1.1);

/// Grain of skin, points. Tried.
const GRAIN: f32 = 2.0;

impl Lying {
    /// All of them, as they are offered.
    pub const ALL: [Self; 11] = [
        Self::LightLinen,
        Self::DarkLinen,
        Self::White,
        Self::Indigo,
        Self::Black,
        Self::Skin(0),
        Self::Skin(1),
        Self::Skin(2),
        Self::Skin(3),
        Self::Skin(4),
        Self::Skin(5),
    ];

    /// What lies there while the maker has chosen nothing.
    pub fn of_window(theme: &Theme) -> Self {
        if theme.is_night() {
            Self::DarkLinen
        } else {
            Self::LightLinen
        }
    }

    /// How it is called.
    pub fn words(self) -> &'static str {
        match self {
            Self::LightLinen => "light linen",
            Self::DarkLinen => "dark linen",
            Self::White => "white cotton",
            Self::Indigo => "indigo cotton",
            Self::Black => "black velvet",
            Self::Skin(tone) => skin(tone).1,
        }
    }

    /// Its colour at a glance.
    pub fn colour(self) -> Color32 {
        let [r, g, b] = self.threads().0;
        Color32::from_rgb(r, g, b)
    }

    /// Whether it is so dark that what is drawn on it must be light.
    pub fn is_dark(self) -> bool {
        let [r, g, b] = self.threads().0.map(f32::from);
        // Luma of ITU-R BT.709.
        0.2126 * r + 0.7152 * g + 0.0722 * b < 110.0
    }

    /// The ground as it is painted, with so many pixels to a point.
    pub fn ground(self, pixels: f32) -> Ground {
        let (colour, raised) = self.threads();
        let shadow = if self.is_dark() { 0.70 } else { 0.42 };
        if let Self::Skin(_) = self {
            return Ground::Skin {
                colour: Colour(colour),
                grain: f64::from(GRAIN * pixels),
                shadow,
            };
        }
        let Some(weave) = raised.map(Colour) else {
            let colour = Colour(colour);
            return Ground::Plain { colour, shadow };
        };
        let thread = match self {
            Self::LightLinen | Self::DarkLinen => THREAD.0,
            _ => THREAD.1,
        };
        Ground::Linen {
            colour: Colour(colour),
            weave,
            thread: f64::from(thread * pixels),
            shadow,
        }
    }

    /// Its colour and that of the threads that stand out, of a cloth whose threads show.
    fn threads(self) -> ([u8; 3], Option<[u8; 3]>) {
        let linen = |theme: Theme| (rgb(theme.linen), Some(rgb(theme.linen2)));
        match self {
            Self::LightLinen => linen(Theme::light()),
            Self::DarkLinen => linen(Theme::dark()),
            Self::White => (COTTON.0, Some(COTTON.1)),
            Self::Indigo => (INDIGO.0, Some(INDIGO.1)),
            Self::Black => (VELVET, None),
            Self::Skin(tone) => (skin(tone).0, None),
        }
    }
}

/// A tone of a hand-edited file may be any number.
fn skin(tone: u8) -> ([u8; 3], &'static str) {
    SKIN[usize::from(tone).min(SKIN.len() - 1)]
}

fn rgb(colour: Color32) -> [u8; 3] {
    [colour.r(), colour.g(), colour.b()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn skin_goes_from_light_to_dark_and_every_ground_has_its_own_name() {
        let luma = |it: Lying| {
            let colour = it.colour();
            u32::from(colour.r()) + u32::from(colour.g()) + u32::from(colour.b())
        };
        for tone in 1..6 {
            assert!(luma(Lying::Skin(tone)) < luma(Lying::Skin(tone - 1)));
        }
        let mut names = Lying::ALL.map(Lying::words).to_vec();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), Lying::ALL.len());
        assert_eq!(Lying::Skin(200).colour(), Lying::Skin(5).colour());
    }

    #[test]
    fn cloth_is_woven_and_skin_is_not() {
        for lying in Lying::ALL {
            let ground = lying.ground(1.0);
            let is_right = match lying {
                Lying::Skin(_) => matches!(ground, Ground::Skin { .. }),
                Lying::Black => matches!(ground, Ground::Plain { .. }),
                _ => matches!(ground, Ground::Linen { .. }),
            };
            assert!(is_right, "{}", lying.words());
        }
    }
}
