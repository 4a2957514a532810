//! Plaitwright: a design studio for makers who braid decorative cords on a
//! slotted disc.

pub mod app;
pub mod command_line;
pub mod cord;
pub mod document;
pub mod drawing;
pub mod material;
pub mod mechanics;
pub mod plan;
pub mod quantity;
pub mod structure;
pub mod topology;
