//! How large a bent cord is, and the view that shows the whole of it.

use super::course::Course;
use super::run::Run;
use crate::cord::Form;
use crate::drawing::view::{Bend, View};

/// Size of a bent cord as it lies, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceSize {
    /// From its left to its right side.
    pub width_mm: f64,
    /// From its upper to its lower side.
    pub height_mm: f64,
    /// Along its axis from end to end: of a loop longer than the round that
    /// the loop encloses, by the thickness of the cord.
    pub length_mm: f64,
}

/// Share of a picture's width and height that a whole piece takes at most.
const FILLS: f64 = 0.9;

/// Size of a cord that lies like this, turned by `roll` about its axis; none
/// when it is straight or cannot be drawn.
pub fn piece_size(form: &Form, bend: Bend, roll: f64) -> Option<PieceSize> {
    let run = Run::new(form)?;
    let course = Course::new(bend, &run, roll)?;
    let (wide, high) = course.half();
    let mm = |half: f32| 2.0 * f64::from(half + run.reach) * run.unit;
    Some(PieceSize {
        width_mm: mm(wide),
        height_mm: mm(high),
        length_mm: course.length * run.unit,
    })
}

/// The view with the scale and the middle that show the whole bent piece; the
/// same view when the cord is straight.
pub fn whole_piece(form: &Form, view: &View) -> View {
    let view = view.bounded();
    let Some(size) = piece_size(form, view.bend, view.roll) else {
        return view;
    };
    let (width, height) = (view.width as f64, view.height as f64);
    let scale = (width / size.width_mm).min(height / size.height_mm);
    View {
        pixels_per_mm: FILLS * scale,
        centre_x: 0.5 * width,
        centre_y: 0.5 * height,
        ..view
    }
    .bounded()
}
