//! Changing the moves of a design so that its strands keep what they are made
//! of.

use super::design::{Design, Section};
use super::edit::EditError;
use crate::structure::{Rework, Reworked, Step};

/// The first section with its moves changed; every strand is made of what the
/// strand was that it comes from.
pub(super) fn rework(design: &mut Design, change: &Rework) -> Result<(), EditError> {
    let Some(section) = design.sections.first_mut() else {
        return Ok(());
    };
    let Reworked { list, strands } = change.apply(&section.moves)?;
    section.moves = list;
    carry_beads(section, &strands);
    if let Some(remark) = remark(change) {
        let undoes = matches!(change, Rework::Mirror | Rework::Reverse);
        rename(section, remark, undoes);
    }
    let before = std::mem::take(&mut design.strands);
    design.strands = strands.iter().map(|&from| before[from].clone()).collect();
    Ok(())
}

/// Beads stay on the first strand that comes of theirs.
fn carry_beads(section: &mut Section, strands: &[usize]) {
    section.beads.retain_mut(|bead| {
        let now = strands.iter().position(|&from| from == bead.strand);
        bead.strand = now.unwrap_or(bead.strand);
        now.is_some()
    });
}

/// The first section with other steps.
pub(super) fn write_steps(design: &mut Design, steps: &[Step]) {
    if let Some(section) = design.sections.first_mut()
        && section.moves.steps != steps
    {
        section.moves.steps = steps.to_vec();
        rename(section, CHANGED, false);
    }
}

/// The name says that it is no longer the structure of that name; what is undone
/// by the same change again loses the remark.
fn rename(section: &mut Section, remark: &str, undoes: bool) {
    match section.structure.strip_suffix(remark) {
        Some(plain) if undoes => section.structure.truncate(plain.len()),
        _ => section.structure = remarked(&section.structure, remark),
    }
}

/// The name with a remark, once; no name stays none.
fn remarked(name: &str, remark: &str) -> String {
    if name.is_empty() || name.ends_with(remark) {
        return name.to_owned();
    }
    format!("{name}{remark}")
}

/// What a structure is called whose moves are no longer those of that name.
pub fn changed_name(name: &str) -> String {
    remarked(name, CHANGED)
}

/// The remark after the name of a structure with other steps.
const CHANGED: &str = ", changed";

/// What stands behind the name of a changed structure; nothing if the cord is
/// the same.
fn remark(change: &Rework) -> Option<&'static str> {
    match change {
        Rework::Turn(_) | Rework::Spread(_) => None,
        Rework::Mirror => Some(", mirrored"),
        Rework::Reverse => Some(", other way up"),
        Rework::Double => Some(", doubled"),
        Rework::EveryOtherOut => Some(", every other strand"),
        _ => Some(CHANGED),
    }
}

#[cfg(test)]
mod tests {
    use super::changed_name;
    use crate::document::{Bead, Design, Edit, sample_design};
    use crate::material::Colour;
    use crate::structure::{Braid, On, Rework, shelf};

    fn spiral() -> Design {
        let is_it = |s: &&crate::structure::Structure| s.name == "Round spiral" && s.strands() == 8;
        let mut design = Design::fresh(shelf().iter().find(is_it).unwrap());
        for (i, strand) in (0_u8..).zip(&mut design.strands) {
            strand.parts[0].colour = Colour([i, 0, 0]);
        }
        design
    }

    fn made(rework: Rework, design: &Design) -> Design {
        Edit::Rework(rework).apply(design).unwrap()
    }

    fn reds(design: &Design) -> Vec<u8> {
        let strands = design.strands.iter();
        strands.map(|strand| strand.parts[0].colour.0[0]).collect()
    }

    #[test]
    fn doubled_strands_are_both_made_of_what_the_one_was() {
        let double = made(Rework::Double, &spiral());
        assert_eq!(reds(&double)[..6], [0, 0, 1, 1, 2, 2]);
        assert_eq!(double.sections[0].structure, "Round spiral, doubled");
        let half = made(Rework::EveryOtherOut, &double);
        assert_eq!(half.strands, spiral().strands);
    }

    #[test]
    fn strands_that_are_taken_out_take_their_beads_along() {
        let mut design = spiral();
        let bead = |strand| Bead {
            strand,
            name: String::new(),
            outer: 4.0,
            hole: 1.0,
            length: 4.0,
            per_move: 1,
        };
        design.sections[0].beads = vec![bead(2), bead(4)];
        let left = made(Rework::Out(vec![2, 3, 6, 7]), &design);
        assert_eq!(reds(&left), [0, 1, 4, 5]);
        assert_eq!(left.sections[0].beads, [bead(2)]);
    }

    #[test]
    fn a_change_made_twice_that_undoes_itself_gives_the_design_back() {
        for rework in [Rework::Mirror, Rework::Reverse] {
            let there = made(rework.clone(), &spiral());
            assert_ne!(there, spiral());
            assert_eq!(made(rework, &there), spiral());
        }
        let turned = made(Rework::Turn(3), &spiral());
        assert_eq!(turned.sections[0].structure, "Round spiral");
    }

    #[test]
    fn a_change_that_cannot_be_made_leaves_the_design_and_says_why() {
        let out = Edit::Rework(Rework::Out((0..6).collect()));
        let said = out.apply(&spiral()).unwrap_err().to_string();
        assert!(said.contains("Only 2"), "{said}");
        let wide = Edit::Rework(Rework::Spread(256));
        assert!(wide.apply(&spiral()).is_err(), "a design has 128 slots");
    }

    #[test]
    fn unfinished_moves_may_be_written_on() {
        let mut design = sample_design();
        design.sections[0].moves.steps.truncate(1);
        assert!(Braid::new(&design.sections[0].moves).is_err());
        let again = Rework::Again {
            steps: 0..1,
            on: On::HalfSlots(32),
            times: 1,
        };
        let longer = made(again, &design);
        assert_eq!(longer.sections[0].moves.steps.len(), 2);
    }

    #[test]
    fn other_steps_leave_the_strands_and_are_said_in_the_name() {
        let before = spiral();
        let mut steps = before.sections[0].moves.steps.clone();
        steps.swap(0, 1);
        let edit = |steps| Edit::Steps {
            done: "order of the steps",
            steps,
        };
        let after = edit(steps.clone()).apply(&before).unwrap();
        assert_eq!(after.sections[0].moves.steps, steps);
        assert_eq!(after.strands, before.strands);
        assert_eq!(after.sections[0].structure, "Round spiral, changed");
        assert_eq!(changed_name("Round spiral"), "Round spiral, changed");
        assert_eq!(
            changed_name("Round spiral, changed"),
            "Round spiral, changed"
        );
        assert_eq!(changed_name(""), "");
        let same = edit(before.sections[0].moves.steps.clone()).apply(&before);
        assert_eq!(same.unwrap(), before, "nothing was changed");
    }
}
