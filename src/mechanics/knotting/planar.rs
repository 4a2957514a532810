//! How strands of a lattice go over and under one another.
//!
//! One looks at the plane from its front, along x. Every piece of the cell crosses
//! images of the others; signs are those of all crossings, and a plain weave shows
//! over and under by turns as +1 and -1.

use crate::mechanics::layout::Layout;
use crate::mechanics::segments::{Vector, cross, dot, minus};
use crate::mechanics::tubes::{Shape, Tubes};

/// Cells away up to which images are met.
const FAR: usize = 6;

/// Direction looked along, askew so that no node hides another.
const LOOK: Vector = [1.0, 0.012_3, 0.007_7];

/// Signed crossings of every two pieces, with all images; right-handed ones count up.
pub(super) fn linking_of_lattice(tubes: &Tubes, shape: &Shape) -> Vec<i32> {
    let layout = Layout::new(tubes);
    let (count, strands) = (layout.count(), tubes.strands);
    let step = |image: usize| [image, layout.onward(image)].map(|end| layout.seen(shape, end));
    let mut counts = vec![0; strands * strands];
    for image in 0..count * (layout.levels_within(FAR) + 1) {
        let (there, b) = (step(image), image % count / tubes.nodes);
        for node in 0..count.min(image) {
            let a = node / tubes.nodes;
            if a != b {
                let sign = crossing(step(node), there);
                counts[a * strands + b] += sign;
                counts[b * strands + a] += sign;
            }
        }
    }
    counts
}

/// Sign of the crossing of two steps, if they are seen to cross.
fn crossing([a, b]: [Vector; 2], [c, d]: [Vector; 2]) -> i32 {
    let (u, v, between) = (minus(b, a), minus(d, c), minus(c, a));
    let seen = |p: Vector, q: Vector| dot(cross(p, q), LOOK);
    let angle = seen(u, v);
    let (s, t) = (seen(between, v) / angle, seen(between, u) / angle);
    if !((0.0..1.0).contains(&s) && (0.0..1.0).contains(&t)) {
        return 0;
    }
    let apart = dot(cross(u, v), between);
    if apart < 0.0 { 1 } else { -1 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::plain_weave::plain_weave;

    #[test]
    fn strands_of_a_plain_weave_go_over_and_under_by_turns() {
        let (tubes, shape) = plain_weave(7, [2.0, 2.0], 0.3);
        let front = [0, 0, -1, 1, 0, 0, 1, -1, -1, 1, 0, 0, 1, -1, 0, 0];
        assert_eq!(linking_of_lattice(&tubes, &shape), front);
        let (tubes, shape) = plain_weave(7, [2.0, 2.0], -0.3);
        assert_eq!(linking_of_lattice(&tubes, &shape), front.map(|sign| -sign));
    }

    #[test]
    fn crossings_are_signed_as_those_of_other_tubes() {
        let up = [[0.0, -1.0, -1.0], [0.0, 1.0, 1.0]];
        let behind = [[-1.0, 1.0, -1.0], [-1.0, -1.0, 1.0]];
        assert_eq!(crossing(up, behind), 1);
        assert_eq!(crossing(behind, up), 1);
        assert_eq!(crossing(up, behind.map(|[_, y, z]| [1.0, y, z])), -1);
    }
}
