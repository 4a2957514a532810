//! Which two strands share a length that is folded at its middle.
//!
//! Two of one make that lie side by side round the disc: the fold then lies between
//! neighbouring slots. A core is never folded.

use super::{End, Job, Piece};
use crate::material::Strand;

/// Which strands share a length.
pub(super) struct Folding {
    pub groups: Vec<Vec<usize>>,
    pub notes: Vec<String>,
}

impl Folding {
    pub(super) fn of(job: &Job<'_>) -> Self {
        let n = job.strands.len();
        let cores = (n..n + job.cores.len()).map(|core| vec![core]);
        let mut groups = laid_together(job.strands, job.around, job.piece);
        let notes = match job.piece.ends[0] {
            _ if !job.piece.folded => Vec::new(),
            End::Tassel { .. } => {
                vec!["Cut singly: a fold leaves no loose ends for the tassel at the start.".into()]
            }
            _ => odd_ones(groups.iter().filter(|group| group.len() == 1).count()),
        };
        groups.extend(cores);
        Self { groups, notes }
    }
}

/// The strands in the order in which they are laid on the disc, by the lengths they are
/// cut as: two together where one length is folded between them. `around` are the strands
/// in the order of their slots. Cores are none of them.
pub fn laid_together(strands: &[Strand], around: &[usize], piece: &Piece) -> Vec<Vec<usize>> {
    let keeps_ends = matches!(piece.ends[0], End::Tassel { .. });
    if piece.folded && !keeps_ends {
        return neighbours(strands, around);
    }
    around.iter().map(|&strand| vec![strand]).collect()
}

fn odd_ones(count: usize) -> Vec<String> {
    match count {
        0 => Vec::new(),
        1 => vec![
            "One strand has no neighbour of its kind to be folded with and is cut singly.".into(),
        ],
        _ => vec![format!(
            "{count} strands have no neighbour of their kind to be folded with and are cut singly."
        )],
    }
}

/// Strands of one make next to each other, two by two, as many pairs as there can be;
/// every strand once.
fn neighbours(strands: &[Strand], around: &[usize]) -> Vec<Vec<usize>> {
    let n = around.len();
    let make = |at: usize| strands.get(around[at % n]);
    // Begun where the make changes, each run of a make is paired from its start; all
    // alike may begin anywhere.
    let start = (0..n).find(|&at| make(at + n - 1) != make(at)).unwrap_or(0);
    let mut groups = Vec::new();
    let mut at = 0;
    while at < n {
        let here = start + at;
        let pairs = at + 1 < n && make(here) == make(here + 1);
        let group = here..here + 1 + usize::from(pairs);
        at += group.len();
        groups.push(group.map(|at| around[at % n]).collect());
    }
    groups
}
