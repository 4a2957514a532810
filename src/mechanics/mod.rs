//! Tubes pulled tight. Knows no braids, no yarns, no millimetres.
//!
//! Lengths in one reference strand diameter `d`, forces in one reference pull
//! `T`; whoever calls scales.

mod tubes;

pub use tubes::{Ends, Hold, Shape, Squeeze, Tubes};
