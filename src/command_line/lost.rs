//! What happened to a cord, from what is on the disc: ranked, with the ways back.

mod answer;
mod looks;
mod seen;

use std::fs;
use std::path::Path;

use answer::Answer;
use looks::Looks;
use seen::{Reading, Told};

use super::{Failure, Source, as_json, lists};
use crate::bench::{Known, explain};
use crate::document::{self, Design, PIECES, under_way};
use crate::structure::{Braid, MoveList, Numbering};

/// How many moves are looked back over.
const WITHIN: u64 = 64;
/// Largest SEEN file, bytes.
const MOST_BYTES: u64 = 1_000_000;

/// What a cord is and where it stands.
struct Work {
    list: MoveList,
    numbering: Numbering,
    looks: Looks,
    /// Moves counted and whose way each strand goes, if a cord is under way.
    place: Option<(u64, Vec<usize>)>,
}

/// Answers for a design or a text of moves, and a file with what is seen.
pub(super) fn run(
    source: &Source,
    seen: &Path,
    json: bool,
    home: &Path,
) -> Result<String, Failure> {
    let work = work(source, home)?;
    let text = load(seen)?;
    let reading = Reading {
        list: &work.list,
        numbering: work.numbering,
        looks: &work.looks,
    };
    let Told { done, seen: told } = reading
        .read(&text)
        .map_err(|fault| Failure::Input(format!("{}: {fault}", seen.display())))?;
    let braid = Braid::new(&work.list).map_err(|error| Failure::Input(error.to_string()))?;
    let (counted, roles) = match work.place {
        Some((counted, roles)) => (done.unwrap_or(counted), roles),
        None => {
            let no_place = || {
                let file = seen.display();
                Failure::Input(format!(
                    "{file}: say done, the moves that were counted; no one cord of this is under way"
                ))
            };
            (done.ok_or_else(no_place)?, (0..braid.strands()).collect())
        }
    };
    let known = Known {
        braid: &braid,
        roles: &roles,
        done: counted,
        looks: &work.looks.of,
        within: WITHIN,
    };
    let diagnosis = explain(&known, &told);
    let names = work.looks.names();
    let answer = Answer::of(&diagnosis, counted, &work.list, work.numbering, &names);
    if json {
        return as_json(&answer);
    }
    Ok(answer.text())
}

fn work(source: &Source, home: &Path) -> Result<Work, Failure> {
    match source {
        Source::Moves(file) => {
            let list = lists::text(file)?.moves;
            Ok(Work {
                looks: Looks::all_different(list.start.len()),
                list,
                numbering: Numbering::Clockwise,
                place: None,
            })
        }
        Source::Design(file) => {
            let kept = document::open(file)?;
            let found = under_way(&home.join(PIECES), Some(&kept.id));
            let mut found = found.map_err(|error| Failure::Other(error.to_string()))?;
            match (found.pop(), found.is_empty()) {
                // Of the one cord that is under way, as it was begun.
                (Some(one), true) => {
                    let told = one
                        .told
                        .map_err(|error| Failure::Other(error.to_string()))?;
                    let place = (told.course.done, told.course.roles.clone());
                    of_design(&told.begun.design, Some(place))
                }
                _ => of_design(&kept.design, None),
            }
        }
    }
}

fn of_design(design: &Design, place: Option<(u64, Vec<usize>)>) -> Result<Work, Failure> {
    let section = design.sections.first();
    let section = section.ok_or_else(|| Failure::Input("the design has no moves".to_owned()))?;
    Ok(Work {
        list: section.moves.clone(),
        numbering: design.braiding.numbering,
        looks: Looks::of(&design.strands),
        place,
    })
}

fn load(file: &Path) -> Result<String, Failure> {
    let unreadable = |why: String| Failure::Other(format!("{} {why}", file.display()));
    let about = fs::metadata(file).map_err(|e| unreadable(format!("cannot be read: {e}")))?;
    if about.len() > MOST_BYTES {
        let fault = "is larger than anything that is seen on a disc";
        return Err(Failure::Input(format!("{} {fault}", file.display())));
    }
    let bytes = fs::read(file).map_err(|e| unreadable(format!("cannot be read: {e}")))?;
    let no_text = |_| Failure::Input(format!("{} is not UTF-8 text", file.display()));
    String::from_utf8(bytes).map_err(no_text)
}
