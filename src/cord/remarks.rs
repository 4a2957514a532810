//! What the maker should know of a cord, a sentence each.
//!
//! Everything is read from the solved shape and the forces; no structure is
//! known by name.

use super::measure::Sizes;
use super::model::surely_stays_open;
use super::recipe::{Recipe, strand_name};
use super::section::{HOLLOW_FROM, Section};
use super::solved::{Grain, Solved};
use super::start::bore_left_open;

/// Above this effective share of weight a cord opens. Tried.
const OPENS_FROM: f64 = 0.75;
/// Bore over the strand's thickness from which a tube flattens. Tried on 12
/// strands in the slow model: bore 1.5, narrowest over widest 0.86.
const FLATTENS_FROM: f64 = 1.0;
/// Bore left open by the moves from which a cord that has none is a tube that
/// fell together. Our guess; spirals of 16 to 32 leave 1.3 and close, as they should, a
/// tube of 12 leaves 1.7.
const TUBE_FROM: f64 = 1.5;
/// A tube that keeps less than this share of the bore that its moves leave open
/// has fallen together. Our guess.
const FALLEN: f64 = 0.5;

/// All remarks on a cord.
pub(super) fn remarks(recipe: &Recipe, solved: &Solved, sizes: &Sizes) -> Vec<String> {
    let all = [
        on_weight(recipe, solved, sizes),
        on_shapes(solved),
        on_mix(recipe, solved),
        on_grain(solved),
        on_rest(solved),
        on_sections(solved),
        on_idle_strands(recipe),
        on_the_middle(recipe, sizes),
    ];
    all.into_iter().flatten().collect()
}

fn on_weight(recipe: &Recipe, solved: &Solved, sizes: &Sizes) -> Option<String> {
    let words = if recipe.effective_share() > OPENS_FROM {
        "So much counterweight opens the cord: it comes loose and long; hang less."
    } else if solved.may_have_opened() {
        "So much counterweight may open a cord of so many strands: if it comes loose and long, hang less."
    } else if surely_stays_open(recipe, sizes) {
        "So little weight may leave the cord open in the middle, thicker and shorter than shown; hang more."
    } else {
        return None;
    };
    Some(words.to_owned())
}

fn on_shapes(solved: &Solved) -> Option<String> {
    let shapes = solved.report.shapes;
    (shapes > 1).then(|| {
        format!(
            "Strands of this number can lie in several ways; {shapes} were found, the one of least energy is shown."
        )
    })
}

fn on_mix(recipe: &Recipe, solved: &Solved) -> Option<String> {
    let words = "Shown as if all strands were equally thick; the mix is being computed.";
    (recipe.is_mixed() && solved.kin.1 != recipe.makes()).then(|| words.to_owned())
}

fn on_grain(solved: &Solved) -> Option<String> {
    let words = match solved.grain {
        Grain::Coarse => {
            "Solved coarsely, since finer would take too long: the figures are less sure, and small bends are cut short. With more of the strands alike it is solved finely."
        }
        Grain::Held => {
            "This band lies flat only while it is held: loose, or under so little weight, it rolls up. Shown flat, solved coarsely."
        }
        Grain::Rough | Grain::Fine => return None,
    };
    Some(words.to_owned())
}

fn on_rest(solved: &Solved) -> Option<String> {
    let words = "The computation did not come fully to rest; take the figures as rough.";
    (!solved.report.converged).then(|| words.to_owned())
}

fn on_sections(solved: &Solved) -> Option<String> {
    let words = "Sections kept round: with strands that flatten no cord was found that lies as braided; it may come out thinner than shown.";
    solved.kept_round.then(|| words.to_owned())
}

fn on_idle_strands(recipe: &Recipe) -> Option<String> {
    let idle = recipe.braid.never_lifted().into_iter().map(strand_name);
    let idle: Vec<String> = idle.collect();
    (!idle.is_empty()).then(|| format!("Never moved: strand {}.", idle.join(", ")))
}

fn on_the_middle(recipe: &Recipe, sizes: &Sizes) -> Option<String> {
    if recipe.core.is_some() {
        return None;
    }
    let open = bore_left_open(recipe);
    if open > TUBE_FROM && sizes.bore < FALLEN * open {
        return Some(format!(
            "Without a core this tube falls together; one about {open:.1} strands thick keeps it open and round."
        ));
    }
    if sizes.section == Section::Flat {
        return None;
    }
    if sizes.bore > FLATTENS_FROM {
        return Some(format!(
            "The cord is hollow, about {:.1} strands wide inside: a core keeps it from flattening.",
            sizes.bore
        ));
    }
    (sizes.bore > HOLLOW_FROM).then(|| {
        format!(
            "The cord is hollow, about {:.1} strands wide inside.",
            sizes.bore
        )
    })
}
