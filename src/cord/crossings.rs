//! Whether a shape crosses as the moves say.
//!
//! Compared are all signed crossings of the solved curves with the word of the
//! moves, not with the start that was laid out. A repeating cord may be cut
//! anywhere and looked at from any side; what does not depend on that is
//! compared, strand by strand (see [`Knotting`](crate::mechanics::Knotting)).
//! A full turn of the whole more or less is a matter of how the turn of the
//! cell is counted, and is taken up.

use crate::mechanics::{Crossings, Shape, Tubes};
use crate::topology::{CellWord, full_turns, writhe};

/// Whether `shape` has the crossings of so many cells of the moves.
pub(super) fn as_moves_say(tubes: &Tubes, shape: &Shape, moves: &CellWord, cells: usize) -> bool {
    let seen = Crossings::seen(tubes, shape);
    let mut letters = moves.repeated(cells);
    let strands = tubes.strands as i32;
    let (turns, rest) = {
        let (more, a_turn) = (seen.writhe() - writhe(&letters), strands * (strands - 1));
        (more / a_turn.max(1), more % a_turn.max(1))
    };
    if rest != 0 || seen.strands() != tubes.strands {
        return false;
    }
    letters.extend(full_turns(tubes.strands, turns));
    Crossings::of_word(&tubes.continues, &moves.order, &letters)
        .is_some_and(|said| seen.knotting() == said.knotting())
}

#[cfg(test)]
mod tests {
    use super::super::start::laid_out;
    use super::*;
    use crate::mechanics::{Ends, Hold, Squeeze, linking};
    use crate::structure::{Braid, MoveList, shelf};
    use crate::topology::WorldLines;

    fn lists() -> Vec<(String, MoveList)> {
        let both = |s: &crate::structure::Structure| {
            let named = |hand| format!("{} of {}{hand}", s.name, s.strands());
            [
                (named(""), s.moves.clone()),
                (named(", mirrored"), s.moves.mirrored()),
            ]
        };
        shelf().iter().flat_map(both).collect()
    }

    fn tubes(continues: &[usize], nodes: usize) -> Tubes {
        let strands = continues.len();
        Tubes {
            strands,
            nodes,
            continues: continues.to_vec(),
            radius: vec![0.5; strands * nodes],
            pull: vec![1.0; strands],
            bending: vec![0.0; strands],
            squeeze: vec![Squeeze::Hard; strands],
            ends: Ends::Screw {
                lift: Hold::Free,
                turn: Hold::Free,
            },
            weight: 0.0,
            band: 0.0,
            lengths: None,
            sections: Vec::new(),
        }
    }

    #[test]
    fn world_lines_cross_as_the_moves_say() {
        for (name, list) in lists() {
            let braid = Braid::new(&list).expect("on the shelf");
            let cell = WorldLines::new(&braid, 1.15, 1.0).expect("crosses");
            let moves = CellWord::new(&cell);
            for cells in [1, 2, cell.cells_per_round] {
                let lines = cell.repeated(cells);
                let (tubes, shape) = (
                    tubes(&lines.continues, 40 * cells),
                    laid_out(&lines, 40 * cells),
                );
                assert!(
                    as_moves_say(&tubes, &shape, &moves, cells),
                    "{name}, {cells}"
                );
            }
        }
    }

    fn apart(p: [f64; 3], q: [f64; 3]) -> f64 {
        (0..3).map(|d| (p[d] - q[d]).powi(2)).sum()
    }

    /// Two nodes of different strands, nearer than those next to them.
    fn meetings(tubes: &Tubes, shape: &Shape) -> Vec<(usize, usize)> {
        let way = |a: usize, b: usize| apart(shape.points[a], shape.points[b]);
        let inner = |node: &usize| (1..tubes.nodes - 1).contains(&(node % tubes.nodes));
        let all: Vec<usize> = (0..shape.points.len()).filter(inner).collect();
        let pairs = all.iter().flat_map(|&a| all.iter().map(move |&b| (a, b)));
        let others = pairs.filter(|(a, b)| a / tubes.nodes < b / tubes.nodes);
        let least = |&(a, b): &(usize, usize)| {
            let around = [(a - 1, b), (a + 1, b), (a, b - 1), (a, b + 1)];
            around.iter().all(|&(c, d)| way(c, d) > way(a, b))
        };
        let mut found: Vec<(usize, usize)> = others.filter(least).collect();
        found.sort_by(|&(a, b), &(c, d)| way(a, b).total_cmp(&way(c, d)));
        found
    }

    /// A node drawn through another strand to its other side.
    fn pushed_through(shape: &Shape, (a, b): (usize, usize)) -> Shape {
        let mut pushed = shape.clone();
        for d in 0..3 {
            pushed.points[a][d] += 1.5 * (shape.points[b][d] - shape.points[a][d]);
        }
        pushed
    }

    #[test]
    fn a_strand_pushed_through_another_is_noticed() {
        for (name, list) in lists() {
            let braid = Braid::new(&list).expect("on the shelf");
            let lines = WorldLines::new(&braid, 1.15, 1.0).expect("crosses");
            let (tubes, shape) = (tubes(&lines.continues, 40), laid_out(&lines, 40));
            let pushed = pushed_through(&shape, meetings(&tubes, &shape)[0]);
            let moves = CellWord::new(&lines);
            assert!(!as_moves_say(&tubes, &pushed, &moves, 1), "{name}");
        }
    }

    /// Three rounds of the plait, two crossings of the same strands turned over:
    /// linking stays as it was.
    #[test]
    fn strands_pushed_through_twice_are_noticed_where_linking_stays() {
        let list = lists().swap_remove(0).1;
        let braid = Braid::new(&list).expect("on the shelf");
        let cell = WorldLines::new(&braid, 1.15, 1.0).expect("crosses");
        let lines = cell.repeated(3);
        let (tubes, shape) = (tubes(&lines.continues, 60), laid_out(&lines, 60));
        let meetings = meetings(&tubes, &shape);
        let moves = CellWord::new(&cell);
        let (mut noticed, mut missed) = (0, Vec::new());
        for (at, &one) in meetings.iter().enumerate() {
            for &other in &meetings[..at] {
                let pushed = pushed_through(&pushed_through(&shape, one), other);
                if linking(&tubes, &pushed) != linking(&tubes, &shape) {
                    continue;
                }
                if as_moves_say(&tubes, &pushed, &moves, 3) {
                    missed.push((one, other));
                } else {
                    noticed += 1;
                }
            }
        }
        assert!(noticed > 50 && missed.is_empty(), "{noticed}, {missed:?}");
    }
}
