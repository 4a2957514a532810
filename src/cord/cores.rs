//! Cords with a core: one tube more, straight up the middle.
//!
//! The core stands at the centre of the disc from the start, thin, so that
//! every carried strand passes it on its own side; then it grows to its size.
//! Several cores are held together as one round of all their fibre. The core
//! hangs with the cord and goes on in itself; it is no part of the crossings.

use super::formation::lowest_shape;
use super::nodes::with_nodes;
use super::recipe::Recipe;
use super::solved::{SolveError, Solved};
use super::strandlike::{mean_like, tubes_of, with_core_grown};
use crate::mechanics::{Progress, Schedule, Shape, Tubes, tighten};

/// Share of the core's growth and contact stiffness of each step. Tried.
const GROWTH: [(f64, f64); 4] = [(0.3, 8.0), (0.6, 8.0), (1.0, 8.0), (1.0, 64.0)];

/// Equal strands round the core as it is, from the same round a thin one.
pub(super) fn core_grown(
    recipe: &Recipe,
    thin: Solved,
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let strands = mean_like(recipe);
    let mut grown = thin;
    for (share, stiffness) in GROWTH {
        let strands = with_core_grown(&strands, share);
        grown.tubes = tubes_of(&strands, recipe, &grown.tubes.continues, grown.tubes.nodes);
        let schedule = Schedule::at(stiffness);
        let (shape, report) = tighten(&grown.tubes, grown.shape, &schedule, progress)?;
        grown.shape = shape;
        grown.report = grown.report.and(&report, 1);
    }
    Ok(grown)
}

/// The lowest shape of a whole round; with a core it is looked for each time,
/// since it depends on how thick that is. `nodes` are those of a piece: the thin
/// core needed more.
pub(super) fn lowest_round(
    recipe: &Recipe,
    symmetric: Solved,
    [nodes, cells]: [usize; 2],
    progress: &Progress,
) -> Result<Solved, SolveError> {
    let shape = with_nodes(&symmetric.tubes, &symmetric.shape, nodes);
    let strands = mean_like(recipe);
    let tubes = tubes_of(&strands, recipe, &symmetric.tubes.continues, nodes);
    let (tubes, shape) = tubes.repeated(&shape, cells);
    let (shape, report, shapes) = lowest_shape(&tubes, &shape, cells, progress)?;
    Ok(Solved {
        tubes,
        shape,
        rounds: symmetric.rounds * cells as f64,
        cells: symmetric.cells * cells,
        report: symmetric.report.and(&report, shapes),
        ..symmetric
    })
}

/// The first `strands` strands alone.
pub(super) fn without_core(tubes: &Tubes, shape: &Shape, strands: usize) -> (Tubes, Shape) {
    let nodes = strands * tubes.nodes;
    let alone = Tubes {
        strands,
        continues: tubes.continues[..strands].to_vec(),
        radius: tubes.radius[..nodes].to_vec(),
        pull: tubes.pull[..strands].to_vec(),
        bending: tubes.bending[..strands].to_vec(),
        squeeze: tubes.squeeze[..strands].to_vec(),
        sections: tubes.sections.iter().take(strands).copied().collect(),
        lengths: None,
        ..tubes.clone()
    };
    let shape = Shape {
        points: shape.points[..nodes].to_vec(),
        squeeze: shape.squeeze[..nodes].to_vec(),
        axes: shape.axes.iter().take(nodes).copied().collect(),
        ..shape.clone()
    };
    (alone, shape)
}
