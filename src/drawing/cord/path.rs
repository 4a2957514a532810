//! Strands as smooth lines: evenly spaced samples, each with a frame.
//!
//! A Catmull-Rom curve through the solved nodes, cut evenly by length. The
//! frame `across` turns as little as possible along the strand (projection of
//! the last one); what is left over at the end of a piece against the
//! beginning of the next is spread over the piece, so that the frame repeats
//! with the cord. `outward` points away from the cord's axis; strands that
//! the form keeps round lie with their thin side that way, if they are drawn flat, others with
//! the narrower side of their section, whichever way it points.

use super::run::{Run, widest};
use super::vector::{Vec3, angle, vec3};

/// A place on a strand.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sample {
    pub(crate) centre: Vec3,
    /// Unit, in the strand's direction.
    pub(crate) tangent: Vec3,
    /// Unit, square to the tangent, turning with the strand's own body.
    pub(crate) across: Vec3,
    /// Unit, square to the tangent, away from the cord's axis.
    pub(crate) outward: Vec3,
    /// How many times as wide as its round the form has it, square to `outward`; none if
    /// the form keeps the strand round.
    pub(crate) wider: Option<f32>,
    /// How clearly there is an outward side, 0 at the axis, 1 well off it.
    pub(crate) outside: f32,
    pub(crate) radius: f32,
    /// Length from the beginning of the piece.
    pub(crate) arc: f32,
}

impl Sample {
    /// The place a share `t` of the way to the next sample.
    pub(crate) fn towards(&self, next: &Self, t: f32) -> Self {
        let mix = |a: f32, b: f32| a + (b - a) * t;
        let tangent = self.tangent.towards(next.tangent, t).unit();
        let square = |a: Vec3, b: Vec3| a.towards(b, t).square_to(tangent).unit();
        Self {
            centre: self.centre.towards(next.centre, t),
            tangent,
            across: square(self.across, next.across),
            outward: square(self.outward, next.outward),
            wider: self.wider,
            outside: mix(self.outside, next.outside),
            radius: mix(self.radius, next.radius),
            arc: mix(self.arc, next.arc),
        }
    }
}

/// One strand through one repeat, both ends included.
#[derive(Debug, Clone)]
pub(crate) struct Piece {
    pub(crate) samples: Vec<Sample>,
    pub(crate) length: f32,
}

/// Chords that stand for the curve between two nodes when lengths are taken:
/// short by under 0.5 % at the sharpest bends (tried).
const CHORDS: usize = 6;

/// All pieces of a run, sampled about every `step` strand diameters.
pub(crate) fn pieces(run: &Run, step: f32) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = (0..run.strands).map(|i| bare_piece(run, i, step)).collect();
    let starts: Vec<Vec3> = pieces.iter().map(|p| p.samples[0].across).collect();
    for (i, piece) in pieces.iter_mut().enumerate() {
        let (sin, cos) = run.turn.sin_cos();
        let goal = starts[run.next(i)].turned((sin as f32, cos as f32));
        lay_frame(&mut piece.samples, goal);
        piece.keep_side();
    }
    pieces
}

impl Piece {
    /// The narrower side of a flat section points either way: let it stay on one.
    fn keep_side(&mut self) {
        for at in 1..self.samples.len() {
            let before = self.samples[at - 1].outward;
            let sample = &mut self.samples[at];
            if sample.wider.is_some() && sample.outward.dot(before) < 0.0 {
                sample.outward = sample.outward * -1.0;
            }
        }
    }
}

/// Point and derivative of the curve `q` nodes and `u` of an interval along.
fn curve(run: &Run, piece: usize, q: usize, u: f32) -> (Vec3, Vec3, f32) {
    let q = q as isize;
    let nodes = [-1, 0, 1, 2].map(|k| run.node(piece, q + k));
    let [a, b, c, d] = nodes.map(|n| n.0);
    let (u2, u3) = (u * u, u * u * u);
    let point = a * (-0.5 * u3 + u2 - 0.5 * u)
        + b * (1.5 * u3 - 2.5 * u2 + 1.0)
        + c * (-1.5 * u3 + 2.0 * u2 + 0.5 * u)
        + d * (0.5 * u3 - 0.5 * u2);
    let slope = a * (-1.5 * u2 + 2.0 * u - 0.5)
        + b * (4.5 * u2 - 5.0 * u)
        + c * (-4.5 * u2 + 4.0 * u + 0.5)
        + d * (1.5 * u2 - u);
    let radius = nodes[1].1 + (nodes[2].1 - nodes[1].1) * u;
    (point, slope, radius)
}

/// Length of the curve up to each chord's end, from 0.
fn chord_lengths(run: &Run, piece: usize) -> Vec<f32> {
    let mut lengths = Vec::with_capacity(run.nodes * CHORDS + 1);
    let mut last = run.node(piece, 0).0;
    let mut sum = 0.0;
    lengths.push(0.0);
    for k in 1..=run.nodes * CHORDS {
        let (q, part) = (k / CHORDS, k % CHORDS);
        let here = curve(run, piece, q, part as f32 / CHORDS as f32).0;
        sum += (here - last).length();
        lengths.push(sum);
        last = here;
    }
    lengths
}

/// Samples of a piece without their turning frame.
fn bare_piece(run: &Run, piece: usize, step: f32) -> Piece {
    let lengths = chord_lengths(run, piece);
    let length = lengths[lengths.len() - 1];
    // Not more than a smooth curve needs, whatever the coordinates.
    let most = 8 * run.nodes + 64;
    let count = ((length / step).ceil() as usize).clamp(2, most);
    let mut chord = 0;
    let samples = (0..=count)
        .map(|g| {
            let arc = length * g as f32 / count as f32;
            while chord + 2 < lengths.len() && lengths[chord + 1] < arc {
                chord += 1;
            }
            let span = (lengths[chord + 1] - lengths[chord]).max(1e-9);
            let at = chord as f32 + ((arc - lengths[chord]) / span).clamp(0.0, 1.0);
            sample(run, piece, at / CHORDS as f32, arc)
        })
        .collect();
    Piece { samples, length }
}

/// The sample `at` nodes along.
fn sample(run: &Run, piece: usize, at: f32, arc: f32) -> Sample {
    let q = (at.floor() as usize).min(run.nodes);
    let (centre, slope, radius) = curve(run, piece, q, at - q as f32);
    let tangent = if slope.length() > 1e-6 {
        slope.unit()
    } else {
        vec3(0.0, 0.0, 1.0)
    };
    let (mut outward, outside) = outward(centre, tangent);
    let across = outward;
    let wider = wide_side(run, piece, q, at - q as f32).map(|axis| {
        let axis = axis.square_to(tangent);
        if axis.length() > 1e-3 {
            let narrow = tangent.cross(axis).unit();
            outward = if narrow.dot(outward) < 0.0 {
                narrow * -1.0
            } else {
                narrow
            };
        }
        widest(axis.dot(axis))
    });
    Sample {
        centre,
        tangent,
        across,
        outward,
        wider,
        outside,
        radius,
        arc,
    }
}

/// The wider side of the section between two nodes, each and its opposite being one.
fn wide_side(run: &Run, piece: usize, q: usize, u: f32) -> Option<Vec3> {
    let (a, b) = (run.axis(piece, q)?, run.axis(piece, q + 1)?);
    let side = if a.dot(b) < 0.0 { -u } else { u };
    Some(a * (1.0 - u) + b * side)
}

/// The direction away from the axis, and how clear it is.
fn outward(centre: Vec3, tangent: Vec3) -> (Vec3, f32) {
    let out = vec3(centre.x, centre.y, 0.0).square_to(tangent);
    let off = out.length();
    if off < 1e-2 {
        return (tangent.any_square(), 0.0);
    }
    (out.unit(), super::vector::smooth_step(0.2, 0.7, off))
}

/// Frames that turn as little as can be and end as the next piece begins.
fn lay_frame(samples: &mut [Sample], goal: Vec3) {
    let mut across = samples[0].across;
    for s in samples.iter_mut() {
        across = across.square_to(s.tangent).unit();
        s.across = across;
    }
    let last = samples[samples.len() - 1];
    let left = last.tangent.cross(last.across);
    let over = angle(goal.dot(left), goal.dot(last.across));
    let count = (samples.len() - 1) as f32;
    for (g, s) in samples.iter_mut().enumerate() {
        let (sin, cos) = (over * g as f32 / count).sin_cos();
        s.across = s.across * cos + s.tangent.cross(s.across) * sin;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rope;

    #[test]
    fn samples_lie_evenly_along_the_strand() {
        let run = Run::new(&rope(3, 12, 1.0)).unwrap();
        for piece in pieces(&run, 0.2) {
            let steps: Vec<f32> = piece
                .samples
                .windows(2)
                .map(|w| (w[1].centre - w[0].centre).length())
                .collect();
            let mean = piece.length / steps.len() as f32;
            assert!(
                steps.iter().all(|s| (s / mean - 1.0).abs() < 0.03),
                "{steps:?}"
            );
        }
    }

    #[test]
    fn frames_are_square_and_go_on_in_the_next_piece() {
        let run = Run::new(&rope(4, 9, 1.0)).unwrap();
        let pieces = pieces(&run, 0.15);
        let (sin, cos) = run.turn.sin_cos();
        for (i, piece) in pieces.iter().enumerate() {
            for s in &piece.samples {
                assert!(s.across.dot(s.tangent).abs() < 1e-3);
                assert!((s.across.length() - 1.0).abs() < 1e-3);
            }
            let last = piece.samples[piece.samples.len() - 1];
            let next = pieces[run.next(i)].samples[0];
            let turned = |v: Vec3| v.turned((sin as f32, cos as f32));
            assert!((turned(next.across) - last.across).length() < 2e-3);
            assert!((turned(next.tangent) - last.tangent).length() < 1e-3);
        }
    }
}
