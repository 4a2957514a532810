//! From a design to the makings of its cord, and back as one change.

use std::collections::BTreeMap;

use super::design::Design;
use super::edit::Edit;
use crate::material::{Fibre, Part};
use crate::plan::wish::Makings;

/// What is done, to stand behind "Undo".
const DONE: &str = "the other way round";

impl Design {
    /// What the cord of the first section is made of and how it is held; the section
    /// is empty in a design without one.
    pub fn makings(&self) -> Makings {
        let section = self.sections.first();
        let (structure, moves) = section
            .map(|section| (section.structure.clone(), section.moves.clone()))
            .unwrap_or_default();
        Makings {
            structure,
            moves,
            strands: self.strands.clone(),
            cores: self.cores(),
            fibres: self.fibres.clone(),
            tension: self.braiding.tension,
            counterweight: self.braiding.counterweight,
            twist: self.braiding.twist,
        }
    }
}

impl Edit {
    /// One change, one entry of undo, that gives a design these moves, strands and this
    /// counterweight; cores, tension and twist stay. Fibres that the design does not have
    /// yet come along.
    pub fn makings(design: &Design, makings: &Makings) -> Self {
        let now = design.makings();
        let mut edits = Vec::new();
        let has_other_moves = now.moves != makings.moves;
        if has_other_moves {
            edits.push(Self::Moves {
                structure: makings.structure.clone(),
                moves: makings.moves.clone(),
            });
        }
        edits.extend(made_up(&now, makings, has_other_moves));
        if now.counterweight != makings.counterweight {
            edits.push(Self::Counterweight(makings.counterweight));
        }
        Self::Together { done: DONE, edits }
    }
}

/// Strands that are made of the same are made up together.
fn made_up(now: &Makings, makings: &Makings, all: bool) -> Vec<Edit> {
    let mut groups: BTreeMap<String, (Vec<usize>, &[Part])> = BTreeMap::new();
    for (strand, made) in makings.strands.iter().enumerate() {
        if all || now.strands.get(strand) != Some(made) {
            let group = groups.entry(format!("{made:?}"));
            let group = group.or_insert((Vec::new(), &made.parts));
            group.0.push(strand);
        }
    }
    let edit = |(strands, parts): (Vec<usize>, &[Part])| Edit::MakeUp {
        strands,
        parts: parts.to_vec(),
        fibres: fibres_of(parts, &makings.fibres),
    };
    groups.into_values().map(edit).collect()
}

fn fibres_of(parts: &[Part], fibres: &[Fibre]) -> Vec<Fibre> {
    let is_used = |fibre: &&Fibre| parts.iter().any(|part| part.fibre == fibre.name);
    fibres.iter().filter(is_used).cloned().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{History, sample_design};
    use crate::material::on_shelf;
    use crate::structure::shelf;

    /// The sample design's strands on other moves, thicker, under another weight.
    fn changed(design: &Design) -> Makings {
        let mut makings = design.makings();
        let twelve = shelf().iter().find(|list| list.strands() == 12);
        let list = twelve.expect("on the shelf");
        makings.structure.clone_from(&list.name);
        makings.moves.clone_from(&list.moves);
        let leather = on_shelf("leather lace 1 mm, round").expect("on the shelf");
        makings.fibres.push(leather.clone());
        let old = makings.strands.clone();
        makings.strands = (0..12).map(|k| old[k % old.len()].clone()).collect();
        makings.strands[5].parts[0].fibre.clone_from(&leather.name);
        makings.strands[7].parts[0].ends += 1;
        makings.counterweight += 25.0;
        makings
    }

    #[test]
    fn a_design_gets_all_of_other_makings_and_one_undo_takes_them_back() {
        let design = sample_design();
        let wanted = changed(&design);
        let mut history = History::of_saved(design.clone());
        let edit = Edit::makings(&design, &wanted);
        history.apply(edit, 0.0).expect("it can be made");
        let found = history.now().makings();
        let without_fibres = |makings: &Makings| Makings {
            fibres: Vec::new(),
            ..makings.clone()
        };
        assert_eq!(without_fibres(&found), without_fibres(&wanted));
        assert_eq!(found.recipe(), wanted.recipe());
        history.undo();
        assert_eq!(*history.now(), design);
    }

    #[test]
    fn the_makings_of_a_design_make_its_cord() {
        let design = sample_design();
        assert_eq!(design.makings().recipe(), design.recipe());
    }
}
