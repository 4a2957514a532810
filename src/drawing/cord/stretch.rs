//! Strands followed through a stretch of cord, one after the other, in millimetres.
//!
//! The same curves and sections as in the picture, joined from repeat to repeat.
//! Axes as in the picture: x along the cord from the lower end of the stretch,
//! y up from its axis, z to the eye of a view without roll.

use super::path::{Piece, Sample, pieces};
use super::run::Run;
use super::vector::Vec3;
use crate::cord::Form;

/// A place on a strand with its section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Station {
    /// Middle of the section, mm.
    pub(crate) centre: [f64; 3],
    /// Unit, in the strand's direction.
    pub(crate) along: [f64; 3],
    /// Unit, square to `along`: the narrower side of the section.
    pub(crate) narrow: [f64; 3],
    /// How many times as wide as its round the section is, 1 for a round one.
    pub(crate) wider: f64,
    /// Radius, of the round of equal area, mm.
    pub(crate) radius: f64,
}

/// The stations of every strand between two heights, strand by strand; none when the form
/// cannot be drawn or does not rise.
///
/// A strand begins where it last leaves the lower height and ends where it first reaches
/// the upper one, at these heights exactly. `step` in strand diameters.
pub(crate) fn stretch(form: &Form, from_mm: f64, to_mm: f64, step: f32) -> Vec<Vec<Station>> {
    let run = Run::new(form).filter(|run| run.lift > 1e-3);
    let (Some(run), true) = (run, to_mm > from_mm) else {
        return Vec::new();
    };
    let pieces = pieces(&run, step);
    let heights = (from_mm / run.unit, to_mm / run.unit);
    let walk = |strand| cut(&walked(&run, &pieces, strand, heights), heights);
    (0..run.strands)
        .map(walk)
        .map(|course| {
            course
                .iter()
                .map(|at| at.station(&run, heights.0))
                .collect()
        })
        .collect()
}

/// A sample lifted to its repeat: only its height needs double precision.
#[derive(Clone, Copy)]
struct Lifted {
    sample: Sample,
    height: f64,
}

/// One strand through every repeat that reaches between the heights.
fn walked(run: &Run, pieces: &[Piece], strand: usize, heights: (f64, f64)) -> Vec<Lifted> {
    let all = pieces.iter().flat_map(|piece| &piece.samples);
    let (low, high) = all
        .map(|sample| f64::from(sample.centre.z))
        .fold((f64::MAX, f64::MIN), |(a, b), z| (a.min(z), b.max(z)));
    let lift = f64::from(run.lift);
    let first = ((heights.0 - high) / lift).floor() as i64 - 1;
    let last = ((heights.1 - low) / lift).ceil() as i64 + 1;
    let mut course = Vec::new();
    for level in first..=last {
        let piece = &pieces[run.piece_at(strand, level)];
        let (sin, cos) = (run.turn * level as f64).sin_cos();
        let turned = |v: Vec3| v.turned((sin as f32, cos as f32));
        // A piece ends where the next one begins.
        let begun = usize::from(level > first);
        course.extend(piece.samples[begun..].iter().map(|s| Lifted {
            sample: Sample {
                centre: turned(s.centre),
                tangent: turned(s.tangent),
                outward: turned(s.outward),
                ..*s
            },
            height: f64::from(s.centre.z) + lift * level as f64,
        }));
    }
    course
}

/// Share of a step under which a sample beside a cut is left out.
const CLOSE: f64 = 0.3;

/// The part between the heights.
fn cut(course: &[Lifted], heights: (f64, f64)) -> Vec<Lifted> {
    let Some(begin) = course.iter().rposition(|at| at.height <= heights.0) else {
        return Vec::new();
    };
    let after = course[begin..].iter().position(|at| at.height >= heights.1);
    let (Some(after), true) = (after, begin + 1 < course.len()) else {
        return Vec::new();
    };
    let end = begin + after;
    let (first, share) = between(&course[begin], &course[begin + 1], heights.0);
    let (last, rest) = between(&course[end - 1], &course[end], heights.1);
    let inner_from = begin + 1 + usize::from(share > 1.0 - CLOSE);
    let inner_to = end - usize::from(rest < CLOSE);
    let mut kept = vec![first];
    if inner_from < inner_to {
        kept.extend_from_slice(&course[inner_from..inner_to]);
    }
    kept.push(last);
    kept
}

/// The place between two samples at a height, and how far it is from the first.
fn between(a: &Lifted, b: &Lifted, height: f64) -> (Lifted, f64) {
    let share = ((height - a.height) / (b.height - a.height)).clamp(0.0, 1.0);
    let same_side = if a.sample.outward.dot(b.sample.outward) < 0.0 {
        -1.0
    } else {
        1.0
    };
    let next = Sample {
        outward: b.sample.outward * same_side,
        ..b.sample
    };
    let t = share as f32;
    let wider = a.sample.wider.zip(b.sample.wider);
    let sample = Sample {
        wider: wider.map(|(a, b)| a + (b - a) * t),
        ..a.sample.towards(&next, t)
    };
    (Lifted { sample, height }, share)
}

impl Lifted {
    fn station(&self, run: &Run, from: f64) -> Station {
        let s = &self.sample;
        let in_view = |v: Vec3| [v.z, v.x, v.y].map(f64::from);
        let [_, up, near] = in_view(s.centre);
        Station {
            centre: [self.height - from, up, near].map(|v| v * run.unit),
            along: in_view(s.tangent),
            narrow: in_view(s.outward),
            wider: f64::from(s.wider.unwrap_or(1.0)),
            radius: f64::from(s.radius) * run.unit,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rope;

    #[test]
    fn every_strand_goes_from_height_to_height_without_a_gap() {
        let form = rope(5, 16, 2.0);
        for (from, to) in [(0.0, 40.0), (-7.3, 0.4), (11.0, 11.2)] {
            let courses = stretch(&form, from, to, 0.15);
            assert_eq!(courses.len(), 5);
            for course in &courses {
                let (first, last) = (course[0], course[course.len() - 1]);
                assert!(first.centre[0].abs() < 1e-9, "{:?}", first.centre);
                assert!((last.centre[0] - (to - from)).abs() < 1e-9);
                for pair in course.windows(2) {
                    let far: f64 = (0..3)
                        .map(|k| (pair[1].centre[k] - pair[0].centre[k]).powi(2))
                        .sum();
                    assert!(far.sqrt() < 0.45, "a gap of {}", far.sqrt());
                }
            }
        }
    }

    #[test]
    fn a_strand_of_the_stretch_is_the_strand_that_a_cut_meets_there() {
        let form = rope(4, 16, 2.0);
        let courses = stretch(&form, 3.0, 33.0, 0.1);
        for disc in crate::drawing::section(&form, 33.0) {
            let end = courses[disc.strand].last().unwrap().centre;
            assert!(
                (end[1] - disc.centre_mm[0]).abs() < 1e-3,
                "{end:?} {disc:?}"
            );
            assert!(
                (end[2] - disc.centre_mm[1]).abs() < 1e-3,
                "{end:?} {disc:?}"
            );
        }
    }

    #[test]
    fn a_form_that_does_not_rise_has_no_stretch() {
        let mut form = rope(3, 8, 1.0);
        assert!(stretch(&form, 5.0, 5.0, 0.2).is_empty());
        form.lift = 0.0;
        assert!(stretch(&form, 0.0, 5.0, 0.2).is_empty());
    }
}
