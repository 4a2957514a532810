//! Plaitwright: a design studio for makers who braid decorative cords on a
//! slotted disc.
//!
//! From nothing but the moves and the materials the shape of the tight cord is
//! solved; every picture and figure comes out of that. A guided tour, from
//! moves to a figure and a picture:
//!
//! ```
//! use plaitwright::cord::{Progress, Quality, Recipe, Tension, Twist, solve};
//! use plaitwright::drawing::{self, Bend, Detail, Ground, View};
//! use plaitwright::material::{self, Colour, Strand};
//! use plaitwright::structure;
//!
//! // What the hands do: a list of moves, from the shelf or one's own.
//! let spiral = structure::shelf()
//!     .iter()
//!     .find(|s| s.strands() == 8 && s.name == "Round spiral")
//!     .expect("on the shelf");
//!
//! // What it is made of: one strand a slot, of one fibre or several.
//! let satin = material::on_shelf("satin cord 2 mm, polyester").expect("on the shelf");
//! let strands = vec![Strand::single(&satin.name, Colour([31, 78, 121])); 8];
//! let fibres = [satin.clone()];
//!
//! // How it is held: slots that pull 0.6 N on 2 mm strands, 70 g on the cord.
//! let recipe = Recipe::new(
//!     &spiral.moves, &strands, &fibres, Tension::Slots(0.6), 70.0, Twist::Free,
//! )?;
//!
//! // The tight cord, and what a maker wants to know of it.
//! let cord = solve(&recipe, None, Quality::Fine, &Progress::new())?;
//! let thickness = cord.figures.thickness_rested;
//! assert!(thickness.low < thickness.value && thickness.value < thickness.high);
//!
//! // And what it looks like.
//! let view = View {
//!     width: 320, height: 100, pixels_per_mm: 6.0, start_mm: 0.0, roll: 0.0,
//!     centre_x: 160.0, centre_y: 48.0, bend: Bend::Straight,
//! };
//! let threads = drawing::threads(&strands, &fibres);
//! let picture = drawing::cord_picture(&cord.form, &threads, &view, &Ground::Clear, Detail::Coarse);
//! assert_eq!((picture.width, picture.height), (320, 100));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! Ground: [`quantity`], [`structure`], [`material`], [`topology`],
//! [`mechanics`]. The craft's answers: [`cord`], [`surface`], [`plan`]; the work at
//! the disc: [`mod@bench`]. What is kept and
//! looked at: [`document`], [`drawing`]. The two ways in: [`app`],
//! [`command_line`]. The arrows between them stand in DEVELOPERS.md.

pub mod app;
pub mod bench;
pub mod command_line;
pub mod cord;
pub mod document;
pub mod drawing;
pub mod material;
pub mod mechanics;
pub mod pattern;
pub mod plan;
pub mod quantity;
pub mod structure;
pub mod surface;
pub mod topology;
