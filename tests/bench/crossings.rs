//! Times of the comparison of all crossings with the moves, made on every solve
//! that is shown.

use plaitwright::mechanics::{Crossings, Schedule, linking};
use plaitwright::topology::CellWord;

use super::clock::{print_head, timed};
use super::start::{round_spiral, world_lines};
use super::tubes::{symmetric, tight};

/// Read and compared, beside mere linking; small cells and whole rounds.
pub(super) fn compared() {
    print_head("Crossings of round spirals, compared with the moves");
    for (strands, nodes) in [(8, 56), (16, 128), (32, 256)] {
        let lines = world_lines(&round_spiral(strands));
        let moves = CellWord::new(&lines);
        let (small, loose) = symmetric(strands, nodes);
        let shape = tight(&(small.clone(), loose), &Schedule::coarse());
        for cells in [1, lines.cells_per_round] {
            let (tubes, shape) = small.repeated(&shape, cells);
            let what = format!("{strands} strands, {} nodes", tubes.nodes * strands);
            timed(&format!("{what}, all crossings"), 40, None, || {
                let said = moves.repeated(cells);
                let said = Crossings::of_word(&tubes.continues, &moves.order, &said);
                said.map(|said| Crossings::seen(&tubes, &shape).knotting() == said.knotting())
            });
            timed(&format!("{what}, linking alone"), 40, None, || {
                linking(&tubes, &shape)
            });
        }
    }
}
