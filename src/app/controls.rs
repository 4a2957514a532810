//! Buttons, fields, rows and slips, drawn in the house's own hand.
//!
//! Each has a role and a name for the screen reader, which the tests use as
//! well, and shows the focus ring while the keyboard leads. None knows what it
//! is pressed for: they hand back egui's response or the value that was made.

mod button;
mod choice;
mod field;
mod notice;
mod sheet;
mod slip;
mod touch;

pub use button::{Button, IconButton, link};
pub use choice::{chip, colour_square, segments, stepper, switch};
pub use field::{Entered, Field};
pub use notice::{Notice, Tone};
pub use sheet::{Pick, SHEET_PADDING, Sheet, hairline, head};
pub use slip::{SlipEnd, UndoSlip};
pub use touch::{keyboard_leads, tip};

#[cfg(test)]
pub(crate) mod bench {
    //! A window for tests, dressed like the real one.

    use eframe::egui::{Theme, Ui};
    use egui_kittest::Harness;

    /// A harness of the given size showing `draw`.
    pub(crate) fn window<'a>(size: [f32; 2], draw: impl FnMut(&mut Ui) + 'a) -> Harness<'a> {
        Harness::builder()
            .with_size(size)
            .with_theme(Theme::Light)
            .with_context_setup(super::super::theme::dress)
            .build_ui(draw)
    }
}
