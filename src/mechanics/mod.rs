//! Tubes pulled tight. Knows no braids, no yarns, no millimetres.
//!
//! Lengths in one reference strand diameter `d`, forces in one reference pull
//! `T`; whoever calls scales.
//!
//! A *cell* repeats for ever along z, each time lifted and turned a little; or it
//! closes on itself after some cells; or it repeats two ways in a plane. Its strands are rows of nodes, each node with a
//! radius of its own. [`tighten()`] looks for the least energy: every strand
//! pulls, or keeps its length, bends, presses on the tubes it touches, and may be
//! squeezed and flattened at every node; a weight draws the cord down, a band ties it in. Unknown
//! are the nodes, the rise and turn of the cell, the band, every squeeze and every section, all at
//! once: nothing is held and renewed.
//!
//! From the start shape only its crossings matter. They are kept: no step goes
//! farther than the free way between any two strands, and [`Knotting`] tells
//! afterwards whether two shapes are knotted alike. Several shapes may be at rest
//! with the same crossings; which one is found depends on the start.
//!
//! Contacts give a little. How a figure of the tight shape answers to every radius,
//! pull and stiffness says [`sensitivities()`]; how long a rope is in the limit of
//! hard strands and many nodes, and how sure that is, [`accurate()`].
//!
//! Left out: friction, twist of a strand about itself, slip
//! of a band.
//!
//! Modules, each of which knows only those above it, but for `tubes` and `layout`,
//! `energy` and those beside it:
//!
//! ```text
//! tubes, lattice, layout   what is tightened, and where cells and unknowns stand
//! segments             straight pieces in space
//! knotting/            how the curves of a shape are knotted
//! outline/             how long, thick and rough a shape is, and what one sees of it
//! minimise             downhill; knows only a function
//! blocks, factor, fronts, images, matrix, order   cells above the own one, and a stiffness
//!                      over all of it
//! section              oval sections, and how far two of them lie apart
//! energy, unknowns     heights and slopes, with its terms: contact, fence, fibre, cycle,
//!   ovals, flatten       and those of strands whose section flattens;
//!   along                what acts along the strands
//!   pairs, passage       who is near whom, how far all may move
//!   curvature, precondition   its true second derivative, and one always positive
//! cost, schedule, tighten    what a look costs, stages, errors, report
//! sensitivity          how figures answer to small changes
//! virial               how they answer to large ones, at once and roughly
//! ropes/               any knot, link or rope, to a tolerance
//! ```

mod along;
mod blocks;
mod contact;
mod cost;
mod curvature;
mod cycle;
mod energy;
mod factor;
mod fence;
mod fibre;
mod flatten;
mod fronts;
mod images;
mod knotting;
mod lattice;
mod layout;
#[cfg(test)]
mod limp;
mod matrix;
mod minimise;
mod order;
mod outline;
mod ovals;
mod pairs;
mod passage;
#[cfg(test)]
mod plain_weave;
mod precondition;
mod ropes;
mod schedule;
mod section;
mod segments;
mod sensitivity;
#[cfg(test)]
mod spiral;
mod tighten;
mod tubes;
mod unknowns;
mod virial;

pub use flatten::{Section, WIDEST};
pub use knotting::{Crossings, Knotting, linking, same_crossings};
pub use layout::cycles_of;
pub use outline::{Profile, Surface, outline_area, silhouette, strand_lengths, surface};
pub use ropes::{
    Accurate, Figure, Joined, Nearness, PolygonError, Polygons, Untight, accurate, curve_lengths,
    least_distance, tighten_polygons,
};
pub use schedule::Schedule;
pub use sensitivity::{Sensitivities, Sensitivity, sensitivities};
pub use tighten::{Progress, Report, TightenError, tighten};
pub use tubes::{Ends, Hold, Shape, Squeeze, Tubes, screwed};
pub use virial::{Pressed, Resized};
