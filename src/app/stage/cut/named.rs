//! Words for threads, strands, slots and lengths on the cutting table.

use crate::app::words;
use crate::document::{Design, strand_name};
use crate::material::{Colour, Part, Strand};
use crate::plan::Ware;
use crate::quantity::{Length, UnitSystem};
use crate::structure::Place;

use crate::app::stage::entry::Grain;

/// `ink, satin cord 2 mm, polyester`: a fibre in a colour, what tells it from its
/// neighbours first, for the end may be cut off.
pub(super) fn thread(fibre: &str, colour: Colour) -> String {
    format!("{}, {fibre}", colour.name())
}

/// What a strand is made of; ends counted where there are several.
pub(in crate::app::stage) fn make(strand: &Strand) -> String {
    let part = |part: &Part| match part.ends {
        1 => thread(&part.fibre, part.colour),
        ends => format!(
            "{} ({} ends)",
            thread(&part.fibre, part.colour),
            words::count(ends.into())
        ),
    };
    strand
        .parts
        .iter()
        .map(part)
        .collect::<Vec<_>>()
        .join(" + ")
}

/// What a line of a list is called.
pub(super) fn ware(ware: &Ware) -> String {
    match ware {
        Ware::Thread { fibre, colour } | Ware::Beads { fibre, colour, .. } => {
            thread(fibre, *colour)
        }
        other => other.words(),
    }
}

/// `A+B, C+D`: which strands, folded ones two by two.
pub(super) fn strands(groups: &[Vec<usize>], design: &Design) -> String {
    let letter = |&strand: &usize| match strand.checked_sub(design.strands.len()) {
        None => strand_name(strand),
        Some(0) => "core".to_owned(),
        Some(more) => format!("core {}", more + 1),
    };
    let group = |group: &Vec<usize>| group.iter().map(letter).collect::<Vec<_>>().join("+");
    groups.iter().map(group).collect::<Vec<_>>().join(", ")
}

/// `slots 1, 9, 17`: where they start; empty for cores.
pub(super) fn slots(groups: &[Vec<usize>], design: &Design) -> String {
    let Some(section) = design.sections.first() else {
        return String::new();
    };
    let moves = &section.moves;
    let place = |&strand: &usize| -> Option<Place> { moves.start.get(strand).copied() };
    let labels: Vec<String> = groups
        .iter()
        .flatten()
        .filter_map(place)
        .map(|place| moves.label(place, design.braiding.numbering))
        .collect();
    match labels.len() {
        0 => String::new(),
        1 => format!("slot {}", labels[0]),
        _ => format!("slots {}", labels.join(", ")),
    }
}

/// A length to be cut, as one reads it off a rule: `1.74 m`, `68½ in`, `87 cm`.
pub(super) fn length(mm: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Inches => Length::from_mm(mm).shown(units),
        UnitSystem::Millimetres if mm >= 1e6 => format!("{:.0} m", mm / 1000.0),
        UnitSystem::Millimetres if mm >= 1000.0 => {
            let metres = format!("{:.3}", mm / 1000.0);
            let short = metres.strip_suffix('0').unwrap_or(&metres);
            format!("{short} m")
        }
        UnitSystem::Millimetres => Grain::Long.said(mm.round(), units),
    }
}

/// Metres of thread, as fine as one buys it: `3.48 m`, `3.81 yd`.
pub(super) fn metres(m: f64, units: UnitSystem) -> String {
    Length::from_mm(1000.0 * m).of_thread(units)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_off_a_rule_and_thread_by_the_metre() {
        let metric = UnitSystem::Millimetres;
        assert_eq!(length(1740.0, metric), "1.74 m");
        assert_eq!(length(129.8, metric), "13 cm");
        assert_eq!(length(1740.0, UnitSystem::Inches), "68½ in");
        assert_eq!(metres(9.0, metric), "9 m");
        assert_eq!(metres(-3.484, metric), "−3.48 m");
    }
}
