//! Every look that the colours of a file can give, as text and as one JSON object.

use std::sync::Arc;

use serde::Serialize;

use super::{Failure, Source, as_json, opened, recipe, solved};
use crate::cord::{Hand, Quality, strand_name};
use crate::document::Design;
use crate::pattern::{
    Alike, Choice, Group, Look, Looks, Mosaic, Shown, Wanted, Worn, count_beside,
};
use crate::structure::{Braid, MoveList};
use crate::surface::Surface;

/// Arrangements gone through at a time.
const PIECE: usize = 1_000_000;
/// Which looks are drawn where there are too many.
const SEED: u64 = 1;

/// The answer of `looks --json`, in this order.
#[derive(Serialize)]
struct Answer<'a> {
    name: &'a str,
    structure: &'a str,
    strands: usize,
    /// What counts as the same look.
    alike: &'static str,
    /// In how many ways the cord falls onto itself.
    ways: usize,
    colours: Vec<Colours>,
    /// A whole number of any size, hence as text.
    count: String,
    /// Whether all are listed, or some drawn.
    all_listed: bool,
    /// Whether the cord was solved, so that looks have words.
    described: bool,
    looks: Vec<Told>,
}

/// A colour: its letter, and what is known of it.
#[derive(Serialize)]
struct Colours {
    letter: String,
    /// How many strands have it; null if any number may.
    strands: Option<usize>,
    /// The colours of a strand's parts; empty if any will do.
    colour: Vec<String>,
    name: String,
}

#[derive(Serialize)]
struct Told {
    /// A letter for each strand, in their order.
    arrangement: String,
    kind: Option<&'static str>,
    words: Option<String>,
    colours: Vec<ToldColour>,
}

#[derive(Serialize)]
struct ToldColour {
    letter: String,
    kind: &'static str,
    number: usize,
    hand: Option<&'static str>,
    lean_degrees: f64,
    strands_each: usize,
    share: f64,
    words: String,
}

pub(super) fn run(
    source: &Source,
    colours: Option<usize>,
    alike: Alike,
    json: bool,
) -> Result<String, Failure> {
    let design = opened(source)?;
    let section = design.sections.first();
    let moves = section.map_or_else(MoveList::default, |section| section.moves.clone());
    let braid = Braid::new(&moves).map_err(|error| Failure::Input(error.to_string()))?;
    let group = Group::of_braid(&braid, alike).map_err(|e| Failure::Other(e.to_string()))?;
    let worn = Worn::of(&design.strands);
    let wanted = wanted(&worn, colours);
    let labels: Vec<(usize, Option<u8>)> = (0..worn.makes.len())
        .map(|strand| {
            (
                worn.makes[strand],
                wanted.kept.get(strand).copied().flatten(),
            )
        })
        .collect();
    let group = group.keeping(&labels);
    let ways = group.order();
    let count = count_beside(&group, &wanted.choice, &wanted.kept);
    let mosaic = mosaic(&design)?;
    let described = mosaic.is_some();
    let mut looks = Looks::new(group, wanted, mosaic, SEED);
    while !looks.go_on(PIECE) {}
    let shown = looks.shown();
    let answer = Answer {
        name: &design.name,
        structure: section.map_or("", |section| section.structure.as_str()),
        strands: braid.strands(),
        alike: said(alike),
        ways,
        colours: told_colours(&worn, colours),
        count: count.as_ref().unwrap_or(looks.count()).to_string(),
        all_listed: !looks.is_drawn(),
        described,
        looks: shown.iter().map(told).collect(),
    };
    if json {
        return as_json(&answer);
    }
    Ok(answer.text())
}

/// The colours of the file, or any up to so many; strands of several colours keep
/// theirs beside strands that are made otherwise.
fn wanted(worn: &Worn, colours: Option<usize>) -> Wanted {
    match colours {
        Some(colours) => Wanted::all(Choice::up_to(colours)),
        None => Wanted {
            kept: worn.kept(),
            ..Wanted::all(worn.choice())
        },
    }
}

/// The stitches of the cord; none if it cannot be solved, for that takes no look away.
fn mosaic(design: &Design) -> Result<Option<Arc<Mosaic>>, Failure> {
    let Ok((cord, _)) = solved(&recipe(design)?, Quality::Fine) else {
        return Ok(None);
    };
    let surface = Surface::new(&cord.form);
    Ok(surface.map(|surface| Arc::new(Mosaic::of(&surface))))
}

fn said(alike: Alike) -> &'static str {
    match alike {
        Alike::Turned => "turned and shifted",
        Alike::UpsideDown => "turned, shifted and upside down",
        Alike::Mirrored => "turned, shifted, upside down and mirrored",
    }
}

fn told_colours(worn: &Worn, colours: Option<usize>) -> Vec<Colours> {
    let counts = worn.counts();
    let one = |which: usize| {
        let worn = worn.sets.get(which).filter(|_| colours.is_none());
        let worn = worn.map_or(&[][..], Vec::as_slice);
        let names: Vec<&str> = worn.iter().map(|colour| colour.name()).collect();
        Colours {
            letter: strand_name(which),
            strands: colours.is_none().then(|| counts[which]),
            colour: worn.iter().map(ToString::to_string).collect(),
            name: names.join(" and "),
        }
    };
    (0..colours.unwrap_or(counts.len())).map(one).collect()
}

fn told(look: &Look) -> Told {
    let words = look.words.as_ref();
    let colours = words.map_or(&[][..], |words| words.colours.as_slice());
    Told {
        arrangement: look.arrangement.to_string(),
        kind: words.map(|words| words.kind.word()),
        words: words.map(|words| words.sentence.clone()),
        colours: colours.iter().map(told_colour).collect(),
    }
}

fn told_colour(shown: &Shown) -> ToldColour {
    let rounded = |x: f64| (x * 1e3).round() / 1e3;
    ToldColour {
        letter: strand_name(usize::from(shown.colour)),
        kind: shown.kind.word(),
        number: shown.number,
        hand: match shown.hand {
            Hand::S => Some("S"),
            Hand::Z => Some("Z"),
            Hand::None => None,
        },
        lean_degrees: rounded(shown.lean),
        strands_each: shown.strands_each,
        share: rounded(shown.share),
        words: shown.sentence.clone(),
    }
}

impl Answer<'_> {
    /// A list for reading.
    fn text(&self) -> String {
        let mut lines = vec![format!(
            "{}: {}, {} strands",
            self.name, self.structure, self.strands
        )];
        for colour in self.colours.iter().filter(|colour| !colour.name.is_empty()) {
            let strands = colour.strands.unwrap_or_default();
            lines.push(format!(
                "{}  {}, {strands} strands",
                colour.letter, colour.name
            ));
        }
        let looks = if self.count == "1" { "look" } else { "looks" };
        lines.push(format!(
            "{} {looks}; the cord falls onto itself in {} ways, {}",
            self.count, self.ways, self.alike
        ));
        if !self.all_listed {
            lines.push(format!(
                "too many to list, so {} were drawn:",
                self.looks.len()
            ));
        }
        if !self.described {
            lines.push("the cord could not be solved, so they have no words".to_owned());
        }
        let line = |look: &Told| {
            let words = look.words.as_deref().unwrap_or_default();
            format!("{}  {words}", look.arrangement)
                .trim_end()
                .to_owned()
        };
        lines.extend(self.looks.iter().map(line));
        lines.join("\n")
    }
}
