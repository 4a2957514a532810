//! How large a screen is in life.
//!
//! A screen says nothing dependable of its size. The maker tells it once, with a
//! card of a size that a standard lays down or with a ruler; what is kept are the
//! screen's own pixels to a millimetre, which neither the size of the interface
//! nor the window system's scale has a part in.
//!
//! Letters: a *pixel* is one of the screen's, a *point* the interface's unit.

use eframe::egui::Context;
use serde::{Deserialize, Serialize};

/// Width and height of a bank card, mm.
///
/// # Source
///
/// ISO/IEC 7810, size ID-1: 85.60 by 53.98 mm.
pub const CARD: (f32, f32) = (85.60, 53.98);

/// Radius of its corners, mm: the middle of what ISO/IEC 7810 allows, from memory.
pub const CARD_CORNER: f32 = 3.18;

/// Least and most pixels to a millimetre: from a wall screen to the finest of
/// pocket ones. Our guess of what there is.
pub const FINENESS: (f32, f32) = (1.0, 40.0);

/// Points to a millimetre where nobody measured: 96 to the inch is what window
/// systems agree on.
const AGREED: f32 = 96.0 / 25.4;

/// A screen, as far as one can be told from another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Screen {
    /// Its pixels across and down; none where the window system does not say.
    pub pixels: Option<(u32, u32)>,
    /// The window system's own scale, per cent.
    pub scale: u32,
}

/// A screen that was measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// The screen.
    pub screen: Screen,
    /// Its pixels to a millimetre.
    pub fineness: f32,
}

/// Life size on the screen the window is on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LifeSize {
    /// Points of the interface to a millimetre of the glass.
    pub per_mm: f32,
    /// Whether somebody measured it.
    pub is_measured: bool,
}

impl Screen {
    /// The one that most of the window is on.
    pub fn under(ctx: &Context) -> Self {
        let (native, size) = ctx.input(|input| {
            let window = input.viewport();
            (window.native_pixels_per_point, window.monitor_size)
        });
        let whole = |points: f32| (points * ctx.pixels_per_point()).round() as u32;
        Self {
            pixels: size.map(|size| (whole(size.x), whole(size.y))),
            scale: (100.0 * native.unwrap_or(1.0)).round() as u32,
        }
    }

    /// How it is called: "1920 by 1080 pixels".
    pub fn words(self) -> String {
        match self.pixels {
            Some((across, down)) => format!("{across} by {down} pixels"),
            None => "of this kind".to_owned(),
        }
    }

    /// Its pixels to a millimetre as far as anybody can guess.
    pub fn guessed(self) -> f32 {
        AGREED * 0.01 * self.scale.max(1) as f32
    }
}

impl LifeSize {
    /// On the screen under the window, given those that were measured.
    pub fn under(ctx: &Context, measured: &[Measured]) -> Self {
        let screen = Screen::under(ctx);
        Self::on(screen, measured, ctx.pixels_per_point())
    }

    /// On a screen, with so many pixels to a point of the interface.
    fn on(screen: Screen, measured: &[Measured], pixels_per_point: f32) -> Self {
        let known = measured.iter().find(|it| it.screen == screen);
        let fineness = known.map_or(screen.guessed(), |it| it.fineness);
        Self {
            per_mm: fineness / pixels_per_point,
            is_measured: known.is_some(),
        }
    }
}

impl Measured {
    /// Whether a figure of a hand-edited file can be one of a screen.
    pub fn is_sound(&self) -> bool {
        (FINENESS.0..=FINENESS.1).contains(&self.fineness)
    }

    /// This one in place of what was known of the same screen.
    pub fn keep(self, among: &mut Vec<Self>) {
        among.retain(|it| it.screen != self.screen);
        among.push(self);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const DESK: Screen = Screen {
        pixels: Some((2560, 1440)),
        scale: 100,
    };
    const LAP: Screen = Screen {
        pixels: Some((2880, 1800)),
        scale: 200,
    };

    #[test]
    fn a_millimetre_keeps_its_length_on_the_glass_whatever_the_zoom() {
        let measured = [Measured {
            screen: DESK,
            fineness: 4.29,
        }];
        for zoom in [1.0, 1.25, 2.5] {
            let life = LifeSize::on(DESK, &measured, zoom);
            let pixels = life.per_mm * zoom;
            assert!((pixels - 4.29).abs() < 1e-5, "{pixels} at {zoom}");
            assert!(life.is_measured);
        }
    }

    #[test]
    fn every_screen_keeps_its_own_size_and_an_unknown_one_is_a_guess() {
        let mut known = Vec::new();
        let of = |screen, fineness| Measured { screen, fineness };
        of(DESK, 4.0).keep(&mut known);
        of(LAP, 8.66).keep(&mut known);
        of(DESK, 4.29).keep(&mut known);
        assert_eq!(known.len(), 2, "measured anew");
        assert_eq!(LifeSize::on(LAP, &known, 2.0).per_mm, 4.33);
        assert_eq!(LifeSize::on(DESK, &known, 1.0).per_mm, 4.29);
        let other = LifeSize::on(Screen { scale: 150, ..DESK }, &known, 1.5);
        assert!(!other.is_measured, "the same pixels under another scale");
        assert!((other.per_mm - 96.0 / 25.4).abs() < 1e-5, "{other:?}");
    }

    #[test]
    fn what_cannot_be_a_screen_is_known_as_such() {
        for fineness in [0.0, -4.0, f32::NAN, f32::INFINITY, 900.0] {
            let measured = Measured {
                screen: DESK,
                fineness,
            };
            assert!(!measured.is_sound(), "{fineness}");
        }
    }
}
