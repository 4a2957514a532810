//! What would do where the shelf does not.
//!
//! Each way out is worked through to its own cut list and told only if it is enough.

use super::cut::cut_list;
use super::purchase::{Want, there, wants};
use super::run::{Run, runs};
use super::{Job, Piece};

/// A cord is not proposed shorter than by this share: it would be another piece. Our
/// guess.
const MOST_SHORTER: f64 = 0.5;

/// One line for each thread of which too little is there, with what would do; nothing
/// for a shelf on which nothing was written yet.
pub(super) fn lacking(job: &Job<'_>, wants: &[Want], there: &[f64]) -> Vec<String> {
    if job.workshop.stock.is_empty() {
        return Vec::new();
    }
    let short = wants
        .iter()
        .zip(there)
        .filter(|(w, there)| is_short(w, **there));
    short.map(|(want, &there)| line(job, want, there)).collect()
}

fn is_short(want: &Want, there: f64) -> bool {
    there < want.metres - 1e-9
}

fn line(job: &Job<'_>, want: &Want, there: f64) -> String {
    let mut ways = Vec::new();
    let spare = 1.0 + job.workshop.cutting.waste;
    if want.metres / spare <= there {
        ways.push("cutting with nothing to spare".to_owned());
    }
    ways.extend(otherwise_folded(job, want));
    ways.extend(shorter(job, want));
    ways.extend(other_colours(job, want));
    let ways = match ways.as_slice() {
        [] => "it must be bought".to_owned(),
        _ => format!("it would do with {}", ways.join("; or with ")),
    };
    let (fibre, colour) = (&want.fibre, want.colour);
    let name = colour.name();
    format!(
        "{fibre}, {name} {colour}: {:.2} m are needed and {there:.2} m lie on the shelf; {ways}.",
        want.metres
    )
}

/// Whether a job of these cords finds enough of the thread.
fn is_enough(job: &Job<'_>, runs: &[Run], want: &Want) -> bool {
    let all = wants(job, &cut_list(job, runs));
    let there = there(&job.workshop.stock, &all);
    let same = |w: &Want| w.fibre == want.fibre && w.colour == want.colour;
    let found = all.iter().zip(&there).find(|(w, _)| same(w));
    found.is_none_or(|(w, &there)| !is_short(w, there))
}

fn otherwise_folded(job: &Job<'_>, want: &Want) -> Option<String> {
    let piece = Piece {
        folded: !job.piece.folded,
        ..job.piece.clone()
    };
    let other = Job {
        piece: &piece,
        ..*job
    };
    let way = if piece.folded {
        "lengths folded double"
    } else {
        "lengths cut singly"
    };
    is_enough(&other, &runs(&other, 0.0), want).then(|| way.to_owned())
}

/// The least that the cord would have to be shorter, to a whole mark.
fn shorter(job: &Job<'_>, want: &Want) -> Option<String> {
    let shortest = runs(job, 0.0)
        .into_iter()
        .map(|run| run.rested.value)
        .fold(f64::INFINITY, f64::min);
    let enough = |by: f64| is_enough(job, &runs(job, by), want);
    let most = (MOST_SHORTER * shortest).floor();
    if !(most.is_finite() && enough(most)) {
        return None;
    }
    let (mut too_long, mut enough_at) = (0.0, most);
    while enough_at - too_long > 1.0 {
        let middle = f64::midpoint(too_long, enough_at);
        if enough(middle) {
            enough_at = middle;
        } else {
            too_long = middle;
        }
    }
    Some(format!("each cord {:.0} mm shorter", enough_at.ceil()))
}

fn other_colours(job: &Job<'_>, want: &Want) -> Option<String> {
    let stock = job.workshop.stock.iter();
    let other = stock.filter(|s| {
        let differs = s.colour.is_some_and(|colour| colour != want.colour);
        s.fibre == want.fibre && differs && s.on_shelf >= want.metres
    });
    let most = other.max_by(|a, b| a.on_shelf.total_cmp(&b.on_shelf))?;
    let colour = most.colour?;
    let name = colour.name();
    Some(format!("the {:.2} m of {name} {colour}", most.on_shelf))
}
