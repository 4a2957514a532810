//! What would do where the shelf does not.
//!
//! Each way out is worked through to its own cut list and told only if it is enough.

use super::cut::cut_list;
use super::purchase::{Want, there, wants};
use super::run::Run;
use super::{Job, Piece, Stock};
use crate::material::Colour;
use crate::quantity::Length;

/// A cord is not proposed shorter than by this share: it would be another piece. Our
/// guess.
const MOST_SHORTER: f64 = 0.5;
/// For more threads than this that are short the ways out are not worked through: nobody
/// reads so many.
const MOST_WORKED: usize = 12;

/// One line for each thread of which too little is there, with what would do; nothing
/// for a shelf on which nothing was written yet.
pub(super) fn lacking(job: &Job<'_>, runs: &[Run], wants: &[Want], there: &[f64]) -> Vec<String> {
    if job.workshop.stock.is_empty() {
        return Vec::new();
    }
    let short = wants
        .iter()
        .zip(there)
        .filter(|(w, there)| is_short(w, **there));
    let line = |(place, (want, &there)): (usize, (&Want, &f64))| {
        let told = told(job, want, there);
        if place < MOST_WORKED {
            return format!("{told}; {}.", ways(job, (runs, wants), want, there));
        }
        format!("{told}.")
    };
    short.enumerate().map(line).collect()
}

fn is_short(want: &Want, there: f64) -> bool {
    there < want.metres - 1e-9
}

fn told(job: &Job<'_>, want: &Want, there: f64) -> String {
    let (fibre, colour) = (&want.fibre, want.colour);
    let name = colour.name();
    let [needed, there] = [want.metres, there].map(|metres| job.thread(metres));
    format!("{fibre}, {name}: {needed} are needed and {there} lie on the shelf")
}

fn ways(job: &Job<'_>, (runs, wants): (&[Run], &[Want]), want: &Want, there: f64) -> String {
    let spare = 1.0 + job.workshop.cutting.waste;
    let sparing =
        (want.metres / spare <= there).then(|| "cutting with nothing to spare".to_owned());
    let ways = [
        sparing,
        otherwise_folded(job, runs, want),
        shorter(job, runs, want),
        other_colours(job, wants, want),
    ];
    let ways: Vec<String> = ways.into_iter().flatten().collect();
    if ways.is_empty() {
        return "it must be bought".to_owned();
    }
    format!("it would do with {}", ways.join("; or with "))
}

/// Whether a job of these cords finds enough of the thread.
fn is_enough(job: &Job<'_>, runs: &[Run], want: &Want) -> bool {
    let all = wants(job, &cut_list(job, runs));
    let there = there(&job.workshop.stock, &all);
    let same = |w: &Want| w.fibre == want.fibre && w.colour == want.colour;
    let found = all.iter().zip(&there).find(|(w, _)| same(w));
    found.is_none_or(|(w, &there)| !is_short(w, there))
}

fn otherwise_folded(job: &Job<'_>, runs: &[Run], want: &Want) -> Option<String> {
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
    is_enough(&other, runs, want).then(|| way.to_owned())
}

/// The least that the cord would have to be shorter, to a whole millimetre.
fn shorter(job: &Job<'_>, runs: &[Run], want: &Want) -> Option<String> {
    let lengths = runs.iter().map(|run| run.rested.value);
    let most = (MOST_SHORTER * lengths.fold(f64::INFINITY, f64::min)).floor();
    let enough = |by: f64| {
        let runs: Vec<Run> = runs.iter().map(|run| run.shorter(by)).collect();
        is_enough(job, &runs, want)
    };
    if !(most.is_finite() && most > 1.0 && enough(most)) {
        return None;
    }
    let (mut too_long, mut at) = (0.0, most);
    while at - too_long > 1.0 {
        let middle = f64::midpoint(too_long, at).round();
        if enough(middle) {
            at = middle;
        } else {
            too_long = middle;
        }
    }
    let by = Length::from_mm(at).shown(job.units);
    Some(format!("each cord {by} shorter"))
}

/// Another colour of which there is enough beside what is wanted of it anyway.
fn other_colours(job: &Job<'_>, wants: &[Want], want: &Want) -> Option<String> {
    let stock = &job.workshop.stock;
    let of_kind = |s: &&Stock| s.fibre == want.fibre;
    let colours = stock.iter().filter(of_kind).filter_map(|s| s.colour);
    let left = |colour: Colour| {
        let own = stock
            .iter()
            .filter(of_kind)
            .filter(|s| s.colour == Some(colour));
        let there = own.fold(0.0, |there, s| there + s.on_shelf);
        let used = wants
            .iter()
            .filter(|w| w.fibre == want.fibre && w.colour == colour);
        there - used.map(|w| w.metres).sum::<f64>()
    };
    let others = colours.filter(|&colour| colour != want.colour);
    let others = others.map(|colour| (colour, left(colour)));
    let enough = others.filter(|(_, left)| *left >= want.metres);
    let (colour, left) = enough.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let left = job.thread(left);
    Some(format!("{}, of which {left} are free", colour.name()))
}

#[cfg(test)]
mod tests {
    use crate::plan::trial::{Trial, satin};
    use crate::plan::{PutUp, Stock, plan};

    /// Eight strands with so many metres on the shelf.
    fn with(on_shelf: f64) -> Trial {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.length(450.0);
        let part = trial.strands[0].parts[0].clone();
        trial.workshop.stock.push(Stock {
            fibre: part.fibre,
            colour: Some(part.colour),
            put_up: PutUp::Spool,
            metres: 25.0,
            price: None,
            on_shelf,
            lot: String::new(),
        });
        trial
    }

    fn said(trial: &Trial) -> String {
        plan(&trial.job()).shopping.lacking.join("\n")
    }

    /// The number before these words.
    fn before(said: &str, words: &str) -> f64 {
        let start = said.split(words).next().unwrap();
        start.split(' ').next_back().unwrap().parse().unwrap()
    }

    #[test]
    fn as_much_shorter_as_is_said_is_enough_and_two_millimetres_less_is_not() {
        let mut trial = with(6.0);
        let by = before(&said(&trial), " mm shorter");
        trial.longer(-by);
        assert_eq!(said(&trial), "");
        trial.longer(2.0);
        assert_ne!(said(&trial), "");
    }

    #[test]
    fn nothing_is_lacking_of_what_is_there_or_of_a_shelf_not_written_down() {
        assert_eq!(said(&with(100.0)), "");
        let mut trial = with(0.0);
        trial.workshop.stock.clear();
        assert_eq!(said(&trial), "");
    }

    #[test]
    fn every_way_out_that_is_told_is_one() {
        let needed = plan(&with(100.0).job()).shopping.needs[0].needed;
        let mut trial = with(needed - 0.05);
        let told = said(&trial);
        assert!(
            told.contains("nothing to spare") && told.contains("folded double"),
            "{told}"
        );
        trial.piece.folded = true;
        assert_eq!(said(&trial), "");
        let mut trial = with(needed - 0.05);
        trial.workshop.cutting.waste = 0.0;
        assert_eq!(said(&trial), "");
    }

    #[test]
    fn another_colour_is_told_only_where_there_is_enough_of_it() {
        let mut trial = with(0.0);
        let other = Stock {
            colour: Some(crate::material::Colour::BLACK),
            on_shelf: 3.0,
            ..trial.workshop.stock[0].clone()
        };
        trial.workshop.stock.push(other);
        assert!(
            said(&trial).ends_with("it must be bought."),
            "{}",
            said(&trial)
        );
        trial.workshop.stock[1].on_shelf = 30.0;
        assert!(
            said(&trial).contains("black, of which 30.0 m are free"),
            "{}",
            said(&trial)
        );
    }
}
