//! Making a change: the design before it stays as it is.

use std::collections::BTreeSet;

use super::check::MOST_STRANDS;
use super::design::Design;
use super::edit::{Edit, EditError};
use super::rework::{rework, write_steps};
use crate::material::{Colour, Fibre, Part, Strand};
use crate::structure::{MoveList, Place};

type Made = Result<(), EditError>;

impl Edit {
    /// The design with the change made.
    ///
    /// # Errors
    ///
    /// When it cannot be made, or the design would not be sound after it.
    pub fn apply(&self, design: &Design) -> Result<Design, EditError> {
        let mut next = design.clone();
        self.make(&mut next)?;
        next.check()?;
        Ok(next)
    }

    fn make(&self, design: &mut Design) -> Made {
        match self {
            Self::Rename(name) => design.name.clone_from(name),
            Self::Note(note) => design.note.clone_from(note),
            Self::Lay { strand, place } => lay(design, *strand, *place)?,
            Self::Moves { structure, moves } => replace_moves(design, structure, moves)?,
            Self::NameStructure(name) => name_structure(design, name),
            Self::Rework(change) => rework(design, change)?,
            Self::Steps { steps, .. } => write_steps(design, steps),
            Self::Together { edits, .. } => {
                edits.iter().try_for_each(|edit| edit.make(design))?;
            }
            Self::Cores { cores, fibres } => {
                fibres.iter().for_each(|fibre| bring_fibre(design, fibre));
                if let Some(section) = design.sections.first_mut() {
                    section.cores.clone_from(cores);
                }
            }
            Self::Recolour { from, to } => recolour(design, *from, *to),
            Self::Mirror => mirror(design),
            Self::Slots(slots) => change_slots(design, *slots)?,
            Self::Numbering(numbering) => design.braiding.numbering = *numbering,
            Self::Tension(tension) => design.braiding.tension = *tension,
            Self::Counterweight(grams) => design.braiding.counterweight = *grams,
            Self::Twist(twist) => design.braiding.twist = *twist,
            Self::Piece(edit) => edit.make(&mut design.piece),
            Self::AddFibre(fibre) => add_fibre(design, fibre)?,
            Self::ReplaceFibre { name, fibre } => replace_fibre(design, name, fibre)?,
            Self::RemoveFibre(name) => remove_fibre(design, name)?,
            _ => {
                self.make_on_strands(design)?;
                self.make_on_caps(design)?;
            }
        }
        Ok(())
    }

    fn make_on_strands(&self, design: &mut Design) -> Made {
        match self {
            Self::Paint {
                strands,
                part: Some(part),
                colour,
            } => each_part(design, strands, *part, |part| part.colour = *colour),
            Self::Paint {
                strands, colour, ..
            } => each_strand(design, strands, |strand| {
                for part in &mut strand.parts {
                    part.colour = *colour;
                }
            }),
            Self::Look(colours) => wear(design, colours),
            Self::MakeUp {
                strands,
                parts,
                fibres,
            } => {
                fibres.iter().for_each(|fibre| bring_fibre(design, fibre));
                each_strand(design, strands, |strand| strand.parts.clone_from(parts))
            }
            Self::AddPart {
                strands,
                part,
                fibre,
            } => {
                bring_fibre(design, fibre);
                each_strand(design, strands, |strand| strand.parts.push(part.clone()))
            }
            Self::RemovePart { strands, part } => remove_part(design, strands, *part),
            Self::PartFibre {
                strands,
                part,
                fibre,
            } => {
                bring_fibre(design, fibre);
                each_part(design, strands, *part, |part| {
                    part.fibre.clone_from(&fibre.name);
                })
            }
            Self::Ends {
                strands,
                part,
                ends,
            } => each_part(design, strands, *part, |part| part.ends = *ends),
            _ => Ok(()),
        }
    }

    fn make_on_caps(&self, design: &mut Design) -> Made {
        match self {
            Self::AddCap(cap) => add_cap(design, *cap),
            Self::RemoveCap(cap) => remove_cap(design, *cap),
            Self::ChangeCap { from, to } => change_cap(design, *from, *to),
            Self::ChooseCap(cap) => {
                design.piece.cap = *cap;
                Ok(())
            }
            Self::CapDepth(depth) => {
                design.piece.cap_depth = *depth;
                Ok(())
            }
            _ => Ok(()),
        }
    }
}

/// Each strand once, however often it is named.
fn each_strand(design: &mut Design, strands: &[usize], change: impl Fn(&mut Strand)) -> Made {
    for i in BTreeSet::from_iter(strands.iter().copied()) {
        let strand = design.strands.get_mut(i).ok_or(EditError::NoStrand(i))?;
        change(strand);
    }
    Ok(())
}

/// A colour for each part of each strand.
fn wear(design: &mut Design, colours: &[Vec<Colour>]) -> Made {
    let most = design.strands.len().max(colours.len());
    for strand in 0..most {
        let (Some(worn), Some(own)) = (colours.get(strand), design.strands.get_mut(strand)) else {
            return Err(EditError::NoStrand(strand));
        };
        let part = own.parts.len().min(worn.len());
        if own.parts.len() != worn.len() {
            return Err(EditError::NoPart { strand, part });
        }
        for (part, &colour) in own.parts.iter_mut().zip(worn) {
            part.colour = colour;
        }
    }
    Ok(())
}

fn each_part(
    design: &mut Design,
    strands: &[usize],
    part: usize,
    change: impl Fn(&mut Part),
) -> Made {
    for strand in BTreeSet::from_iter(strands.iter().copied()) {
        let parts = design.strands.get_mut(strand);
        let parts = &mut parts.ok_or(EditError::NoStrand(strand))?.parts;
        let part = parts
            .get_mut(part)
            .ok_or(EditError::NoPart { strand, part })?;
        change(part);
    }
    Ok(())
}

/// Cores as well: they may show between the strands.
fn recolour(design: &mut Design, from: Colour, to: Colour) {
    let sections = design.sections.iter_mut();
    let cores = sections.flat_map(|section| &mut section.cores);
    let strands = design.strands.iter_mut();
    for strand in strands.chain(cores.map(|core| &mut core.strand)) {
        for part in strand.parts.iter_mut().filter(|part| part.colour == from) {
            part.colour = to;
        }
    }
}

fn remove_part(design: &mut Design, strands: &[usize], part: usize) -> Made {
    each_part(design, strands, part, |_part| {})?;
    if let Some(&last) = strands
        .iter()
        .find(|&&i| design.strands[i].parts.len() == 1)
    {
        return Err(EditError::LastPart(last));
    }
    each_strand(design, strands, |strand| drop(strand.parts.remove(part)))
}

fn lay(design: &mut Design, strand: usize, place: Place) -> Made {
    let sitting = design.strand_at(place);
    let section = design.sections.first_mut();
    let start = section.map(|section| &mut section.moves.start);
    let start = start.ok_or(EditError::NoStrand(strand))?;
    let before = *start.get(strand).ok_or(EditError::NoStrand(strand))?;
    if let Some(other) = sitting {
        start[other] = before;
    }
    start[strand] = place;
    Ok(())
}

/// Strand after strand in the order of the slots, on the old list and the new.
fn replace_moves(design: &mut Design, structure: &str, moves: &MoveList) -> Made {
    let n = moves.start.len();
    if n == 0 || n > MOST_STRANDS {
        return Err(EditError::StrandCount(n));
    }
    let before = design.slot_order();
    let old = design.strands.clone();
    design.strands.resize_with(n, || old[before[0]].clone());
    if let Some(section) = design.sections.first_mut() {
        section.structure = structure.into();
        section.moves = moves.clone();
        section.beads.retain(|bead| bead.strand < n);
    }
    for (k, strand) in design.slot_order().into_iter().enumerate() {
        design.strands[strand] = old[before[k % before.len()]].clone();
    }
    Ok(())
}

fn name_structure(design: &mut Design, name: &str) {
    if let Some(section) = design.sections.first_mut() {
        section.structure = name.to_owned();
    }
}

/// The remark after the name of a structure that was mirrored.
const MIRRORED: &str = ", mirrored";

fn mirror(design: &mut Design) {
    for section in &mut design.sections {
        section.moves = section.moves.mirrored();
        section.structure = match section.structure.strip_suffix(MIRRORED) {
            Some(plain) => plain.into(),
            None => format!("{}{MIRRORED}", section.structure),
        };
    }
}

fn change_slots(design: &mut Design, slots: u16) -> Made {
    for section in &mut design.sections {
        let moved = section.moves.steps.iter().flat_map(|step| &step.moves);
        let places = moved.flat_map(|m| [m.from, m.to]);
        let places = places.chain(section.moves.start.iter().copied());
        let slot = |place| match place {
            Place::Rim(half) => half / 2,
            Place::Hand => 0,
        };
        let used = places.map(slot).max().unwrap_or(0);
        if used > slots {
            return Err(EditError::TooFewSlots { slots, used });
        }
        section.moves.slots = slots;
    }
    Ok(())
}

/// The fibre joins the others, unless one of its name is there: that one may
/// hold what the maker measured.
fn bring_fibre(design: &mut Design, fibre: &Fibre) {
    if design.fibre(&fibre.name).is_none() {
        design.fibres.push(fibre.clone());
    }
}

fn add_fibre(design: &mut Design, fibre: &Fibre) -> Made {
    if design.fibre(&fibre.name).is_some() {
        return Err(EditError::FibreTaken(fibre.name.clone()));
    }
    design.fibres.push(fibre.clone());
    Ok(())
}

fn replace_fibre(design: &mut Design, name: &str, fibre: &Fibre) -> Made {
    if name != fibre.name && design.fibre(&fibre.name).is_some() {
        return Err(EditError::FibreTaken(fibre.name.clone()));
    }
    let place = design.fibres.iter().position(|fibre| fibre.name == name);
    let place = place.ok_or_else(|| EditError::NoFibre(name.into()))?;
    design.fibres[place] = fibre.clone();
    let sections = design.sections.iter_mut();
    let cores = sections.flat_map(|section| &mut section.cores);
    let strands = design.strands.iter_mut();
    for strand in strands.chain(cores.map(|core| &mut core.strand)) {
        for part in strand.parts.iter_mut().filter(|part| part.fibre == name) {
            part.fibre.clone_from(&fibre.name);
        }
    }
    Ok(())
}

fn remove_fibre(design: &mut Design, name: &str) -> Made {
    if design.fibre(name).is_none() {
        return Err(EditError::NoFibre(name.into()));
    }
    let strands = design.strands_with(name);
    let name = name.to_owned();
    if !strands.is_empty() {
        return Err(EditError::FibreUsed { name, strands });
    }
    let mut cores = design.sections.iter().flat_map(|section| &section.cores);
    if cores.any(|core| core.strand.parts.iter().any(|part| part.fibre == name)) {
        return Err(EditError::FibreInCore(name));
    }
    design.fibres.retain(|fibre| fibre.name != name);
    Ok(())
}

fn add_cap(design: &mut Design, cap: f64) -> Made {
    let caps = &mut design.piece.caps;
    if caps.contains(&cap) {
        return Err(EditError::CapTaken(cap));
    }
    caps.push(cap);
    caps.sort_by(f64::total_cmp);
    Ok(())
}

fn remove_cap(design: &mut Design, cap: f64) -> Made {
    let caps = &mut design.piece.caps;
    let place = caps.iter().position(|&other| other == cap);
    caps.remove(place.ok_or(EditError::NoCap(cap))?);
    if design.piece.cap == Some(cap) {
        design.piece.cap = None;
    }
    Ok(())
}

fn change_cap(design: &mut Design, from: f64, to: f64) -> Made {
    if from == to {
        return Ok(());
    }
    let chosen = design.piece.cap == Some(from);
    remove_cap(design, from)?;
    add_cap(design, to)?;
    if chosen {
        design.piece.cap = Some(to);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{Core, sample_design, sample_fibre};

    const RED: Colour = Colour([200, 30, 40]);

    fn made(edit: &Edit, design: &Design) -> Design {
        edit.apply(design).unwrap()
    }

    fn refused(edit: &Edit, design: &Design) -> String {
        edit.apply(design).unwrap_err().to_string()
    }

    fn paint(strands: &[usize], colour: Colour) -> Edit {
        Edit::Paint {
            strands: strands.into(),
            part: None,
            colour,
        }
    }

    #[test]
    fn paint_reaches_the_strands_named_and_no_other() {
        let before = sample_design();
        let after = made(&paint(&[1, 3], RED), &before);
        let red = |i: usize| after.strands[i].parts[0].colour == RED;
        assert_eq!([0, 1, 2, 3].map(red), [false, true, false, true]);
        assert_eq!(refused(&paint(&[4], RED), &before), "there is no strand E");
    }

    #[test]
    fn another_look_gives_every_part_its_colour_and_leaves_what_it_is_made_of() {
        let before = sample_design();
        let mut colours: Vec<Vec<Colour>> = vec![vec![RED]; 4];
        let after = made(&Edit::Look(colours.clone()), &before);
        assert!(after.strands.iter().all(|it| it.parts[0].colour == RED));
        let fibre = |design: &Design| design.strands[0].parts[0].fibre.clone();
        assert_eq!(fibre(&after), fibre(&before));
        colours[2].push(RED);
        let words = refused(&Edit::Look(colours.clone()), &before);
        assert_eq!(words, "strand C has no part 2");
        colours.truncate(2);
        let words = refused(&Edit::Look(colours.clone()), &before);
        assert_eq!(words, "there is no strand C");
    }

    #[test]
    fn one_colour_in_place_of_another_leaves_the_rest() {
        let before = made(&paint(&[1, 3], RED), &sample_design());
        let to = Colour([1, 2, 3]);
        let after = made(&Edit::Recolour { from: RED, to }, &before);
        for (was, is) in before.strands.iter().zip(&after.strands) {
            for (was, is) in was.parts.iter().zip(&is.parts) {
                let wanted = if was.colour == RED { to } else { was.colour };
                assert_eq!(is.colour, wanted);
            }
        }
        assert_eq!(after.strands[3].parts[0].colour, to);
    }

    #[test]
    fn changes_made_together_are_all_made_or_none() {
        let before = sample_design();
        let paint = Edit::Look(vec![vec![RED]; 4]);
        let together = |edits| Edit::Together {
            done: "both",
            edits,
        };
        let after = made(&together(vec![Edit::Mirror, paint.clone()]), &before);
        assert_eq!(after, made(&paint, &made(&Edit::Mirror, &before)));
        let words = refused(&together(vec![paint, Edit::Look(Vec::new())]), &before);
        assert_eq!(words, "there is no strand A");
    }

    #[test]
    fn a_strand_laid_on_a_taken_slot_changes_places() {
        let before = sample_design();
        let lay = |strand, slot| Edit::Lay {
            strand,
            place: Place::slot(slot),
        };
        let after = made(&lay(0, 16), &before);
        let slots = [16, 1, 32, 17].map(Place::slot);
        assert_eq!(after.sections[0].moves.start, slots);
        assert_eq!(made(&lay(0, 32), &after), before);
        let said = refused(&lay(0, 40), &before);
        assert!(
            said.ends_with("the disc has 32 slots and no place 40"),
            "{said}"
        );
    }

    #[test]
    fn other_moves_keep_the_colours_round_the_disc() {
        let before = made(&paint(&[1], RED), &sample_design());
        // Slot order of the sample: B in 1, C in 16, D in 17, A in 32.
        let start = [9, 1, 30, 5, 13, 20].map(Place::slot);
        let moves = MoveList {
            start: start.into(),
            ..before.sections[0].moves.clone()
        };
        let structure = String::from("six");
        let after = made(&Edit::Moves { structure, moves }, &before);
        let red = |i: usize| after.strands[i].parts[0].colour == RED;
        // Strands in slots 1 and 13: first and fifth round the disc.
        let order = after.slot_order();
        assert_eq!(order, [1, 3, 0, 4, 5, 2]);
        let reds: Vec<_> = order.into_iter().filter(|&i| red(i)).collect();
        assert_eq!(reds, [1, 5]);
    }

    #[test]
    fn mirrored_twice_is_the_design_itself() {
        let before = sample_design();
        let once = made(&Edit::Mirror, &before);
        assert_ne!(once.sections[0].moves, before.sections[0].moves);
        assert_eq!(once.sections[0].structure, "trial, mirrored");
        assert_eq!(made(&Edit::Mirror, &once), before);
    }

    #[test]
    fn a_disc_too_small_for_the_moves_is_refused() {
        let before = sample_design();
        assert_eq!(made(&Edit::Slots(40), &before).sections[0].moves.slots, 40);
        assert_eq!(
            refused(&Edit::Slots(24), &before),
            "24 slots are too few: the moves use slot 32"
        );
    }

    #[test]
    fn a_fibre_in_use_is_not_removed_and_strands_follow_its_name() {
        let before = sample_design();
        let name = String::from("satin cord 2 mm, polyester");
        assert_eq!(
            refused(&Edit::RemoveFibre(name.clone()), &before),
            "\"satin cord 2 mm, polyester\" cannot be removed: strands A, B, C and D are made of it"
        );
        let fibre = Box::new(sample_fibre("my satin"));
        let mut with_core = before.clone();
        let strand = before.strands[0].clone();
        with_core.sections[0].cores.push(Core { strand });
        let after = made(&Edit::ReplaceFibre { name, fibre }, &with_core);
        assert_eq!(after.strands_with("my satin"), [0, 1, 2, 3]);
        assert_eq!(after.sections[0].cores[0].strand.parts[0].fibre, "my satin");
    }

    #[test]
    fn an_added_part_brings_its_fibre_and_the_last_part_stays() {
        let before = sample_design();
        let (strands, fibre) = (vec![2], Box::new(sample_fibre("gold")));
        let part = Part {
            fibre: "gold".into(),
            ends: 3,
            colour: RED,
        };
        let add = Edit::AddPart {
            strands: strands.clone(),
            part,
            fibre,
        };
        let after = made(&add, &before);
        assert_eq!(after.strands_with("gold"), [2]);
        let remove = |part| Edit::RemovePart {
            strands: strands.clone(),
            part,
        };
        let again = made(&remove(1), &after);
        assert_eq!(again.strands, before.strands);
        let twice = Edit::RemovePart {
            strands: vec![2, 2],
            part: 1,
        };
        assert_eq!(made(&twice, &after), again);
        assert_eq!(
            refused(&remove(0), &again),
            "strand C would be made of nothing"
        );
        assert_eq!(refused(&remove(1), &again), "strand C has no part 2");
    }

    #[test]
    fn caps_stay_in_order_and_the_chosen_one_follows() {
        let before = sample_design();
        let chosen = made(&Edit::ChooseCap(Some(4.0)), &before);
        let after = made(&Edit::ChangeCap { from: 4.0, to: 9.0 }, &chosen);
        assert_eq!(
            after.piece.caps,
            [3.0, 3.5, 4.5, 5.0, 5.5, 6.0, 6.5, 7.0, 8.0, 9.0, 10.0]
        );
        assert_eq!(after.piece.cap, Some(9.0));
        let gone = made(&Edit::RemoveCap(9.0), &after);
        assert_eq!(gone.piece.cap, None);
        assert_eq!(
            refused(&Edit::AddCap(5.0), &gone),
            "there is a cap of 5 mm in the list already"
        );
    }

    #[test]
    fn what_would_not_be_sound_is_refused() {
        let ends = Edit::Ends {
            strands: vec![0],
            part: 0,
            ends: 0,
        };
        assert_eq!(
            refused(&ends, &sample_design()),
            "strand A, part 1: there must be 1 to 99 ends, not 0"
        );
        assert!(refused(&Edit::Counterweight(f64::NAN), &sample_design()).contains("NaN"));
    }

    #[test]
    fn a_core_brings_its_fibre_and_goes_again() {
        let before = sample_design();
        let fibre = sample_fibre("leather lace 1.5 mm, round");
        let strand = Strand::single(&fibre.name, RED);
        let core = Edit::Cores {
            cores: vec![Core { strand }],
            fibres: vec![fibre.clone()],
        };
        let with = made(&core, &before);
        assert_eq!(with.cores().len(), 1);
        assert!(with.fibre(&fibre.name).is_some());
        let none = Edit::Cores {
            cores: Vec::new(),
            fibres: Vec::new(),
        };
        assert_eq!(made(&none, &with).cores().len(), 0);
    }
}
