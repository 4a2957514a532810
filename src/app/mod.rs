//! The window; the only folder that draws with egui.

pub mod controls;
pub mod disc;
pub mod fonts;
pub mod icons;
pub mod marks;
pub mod stitch;
pub mod theme;
