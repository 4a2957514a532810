//! The cord as a body: one closed tube for each strand, for rendering and printing.
//!
//! A strand that holds several ends is one tube with their mean colour. Surfaces are
//! smooth: plies, pile and hairs are not modelled, and sections are those of the solved
//! form. Tubes touch, and where fibres are squeezed they may reach into one another by
//! what is squeezed; each is closed by itself.
//!
//! Millimetres throughout. x goes along the cord from its lower end, y up from its axis,
//! z to the eye that sees the picture without roll; the cord lies level, as it would be
//! printed.

mod finish;
mod gltf;
mod obj;
mod stl;
mod tube;

pub use finish::{Finish, finishes};
pub use tube::Tube;

use super::cord::stretch;
use crate::cord::Form;

/// A stretch of cord as closed tubes.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// The tubes, one for each strand of the form, in its order.
    pub tubes: Vec<Tube>,
    /// Length of the stretch, mm.
    pub length_mm: f64,
}

/// Why there is no solid.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SolidError {
    /// The form is no cord, or one without height.
    #[error("there is no cord to make a solid of")]
    NoCord,
    /// A length that is none.
    #[error("a solid needs a length over nothing")]
    NoLength,
    /// More than most programs open.
    #[error(
        "so long a piece takes more than {MOST_TRIANGLES} triangles; ask for {most_mm:.0} mm or less"
    )]
    TooLong {
        /// A length that can be made, mm.
        most_mm: f64,
    },
}

/// Distance of rings along a strand, strand diameters: eight to a bend round a
/// neighbour. Tried.
const STEP: f32 = 0.15;

/// Corners of a ring: a circle of 2 mm is off by 0.009 mm at most, and holds 1.1 % less.
const SIDES: usize = 24;

/// Most triangles of all tubes: a file of 400 MB at most. Our guess.
const MOST_TRIANGLES: usize = 8_000_000;

/// `length_mm` of the cord from height 0 on, strands finished as `finishes` says (they
/// begin again from the first when there are fewer; grey without any).
///
/// Every strand ends where its middle passes height 0 and `length_mm`, cut square to
/// itself.
///
/// # Errors
///
/// See [`SolidError`].
pub fn solid(form: &Form, finishes: &[Finish], length_mm: f64) -> Result<Solid, SolidError> {
    if length_mm.is_nan() || length_mm <= 0.0 {
        return Err(SolidError::NoLength);
    }
    let most_mm = longest(form).ok_or(SolidError::NoCord)?;
    if length_mm > most_mm {
        return Err(SolidError::TooLong { most_mm });
    }
    let courses = stretch(form, 0.0, length_mm, STEP);
    let finish = |strand: usize| match finishes.len() {
        0 => Finish::plain(),
        n => finishes[strand % n].clone(),
    };
    let tube = |(strand, course): (usize, &Vec<_>)| Tube::along(course, SIDES, finish(strand));
    let tubes: Option<Vec<Tube>> = courses.iter().enumerate().map(tube).collect();
    match tubes {
        Some(tubes) if !tubes.is_empty() => Ok(Solid { tubes, length_mm }),
        _ => Err(SolidError::NoCord),
    }
}

/// The length that takes about as many triangles as there may be, mm; none without a cord.
fn longest(form: &Form) -> Option<f64> {
    let sample = stretch(form, 0.0, form.lift, STEP);
    let rings: usize = sample.iter().map(Vec::len).sum();
    let triangles = rings.checked_mul(2 * SIDES).filter(|count| *count > 0)?;
    Some(
        (form.lift * MOST_TRIANGLES as f64 / triangles as f64)
            .floor()
            .max(form.lift),
    )
}

impl Solid {
    /// What the tubes hold together, mm³; where they reach into one another, twice.
    pub fn volume_mm3(&self) -> f64 {
        self.tubes.iter().map(Tube::volume_mm3).sum()
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::{PI, TAU};

    use super::*;
    use crate::drawing::cord::samples::rope;

    /// Straight strands beside one another, rising 10 mm in a repeat.
    fn bundle(strands: usize, radius: f64) -> Form {
        let nodes = 6;
        let point = |k: usize| {
            let (i, q) = (k / nodes, k % nodes);
            [2.0 * radius * i as f64, 0.0, 10.0 * q as f64 / nodes as f64]
        };
        Form {
            strands,
            nodes,
            continues: (0..strands).collect(),
            points: (0..strands * nodes).map(point).collect(),
            radius: vec![radius; strands * nodes],
            wide: Vec::new(),
            lift: 10.0,
            turn: 0.0,
        }
    }

    /// Area of a ring's corners over the area of its circle.
    fn deficit() -> f64 {
        let part = TAU / SIDES as f64;
        part.sin() / part
    }

    #[test]
    fn a_straight_bundle_holds_what_is_computed_for_it() {
        for length in [3.7, 10.0, 64.2] {
            let made = solid(&bundle(5, 0.8), &[], length).unwrap();
            let expected = 5.0 * PI * 0.64 * length * deficit();
            let found = made.volume_mm3();
            assert!((found / expected - 1.0).abs() < 1e-5, "{found} {expected}");
        }
    }

    #[test]
    fn a_flat_section_holds_as_much_as_its_round_and_is_as_wide_as_the_form_says() {
        let mut form = bundle(3, 1.0);
        form.wide = vec![[0.0, 2.5, 0.0]; form.points.len()];
        let made = solid(&form, &[], 20.0).unwrap();
        let expected = 3.0 * PI * 20.0 * deficit();
        assert!((made.volume_mm3() / expected - 1.0).abs() < 1e-3);
        let tall = |axis: usize| {
            let of = made.tubes[0].points.iter().map(|p| p[axis]);
            of.fold((9.0_f32, -9.0_f32), |(a, b), v| (a.min(v), b.max(v)))
        };
        let (low, high) = tall(2);
        assert!((high - low - 5.0).abs() < 0.02, "{low} to {high}");
        let (low, high) = tall(1);
        assert!((high - low - 0.8).abs() < 0.02, "{low} to {high}");
    }

    #[test]
    fn a_rope_holds_the_area_of_its_strands_times_their_length() {
        let form = rope(5, 24, 2.0);
        let made = solid(&form, &[], 100.0).unwrap();
        // Length of a strand along its helix; its ends are cut square to it.
        let (off, rise) = (form.points[0][0], form.lift);
        let advance = TAU / 5.0 + form.turn;
        let length = 100.0 * (off * advance / rise).hypot(1.0);
        let expected = 5.0 * PI * length * deficit();
        let found = made.volume_mm3();
        assert!((found / expected - 1.0).abs() < 4e-3, "{found} {expected}");
    }

    #[test]
    fn every_tube_is_closed_and_faces_outwards() {
        for length in [0.3, 7.0, 61.0] {
            let made = solid(&rope(4, 16, 1.5), &[], length).unwrap();
            assert_eq!(made.tubes.len(), 4);
            for tube in &made.tubes {
                assert_eq!(tube.open_edges(), 0);
                assert!(tube.volume_mm3() > 0.0);
            }
        }
    }

    #[test]
    fn what_is_no_cord_and_no_length_is_refused() {
        let rope = rope(3, 8, 1.0);
        let refused = |form: &Form, length: f64| solid(form, &[], length).unwrap_err();
        for length in [0.0, -2.0, f64::NAN] {
            assert_eq!(refused(&rope, length), SolidError::NoLength);
        }
        let mut flat = rope.clone();
        flat.lift = 0.0;
        assert_eq!(refused(&flat, 5.0), SolidError::NoCord);
        let SolidError::TooLong { most_mm } = refused(&rope, 1e9) else {
            panic!("a kilometre of cord was made");
        };
        assert!(most_mm > 1000.0, "{most_mm}");
        assert!(
            refused(&rope, f64::INFINITY)
                .to_string()
                .contains("mm or less")
        );
    }
}
