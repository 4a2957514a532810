//! Strands whose section flattens, where that matters.
//!
//! In cords of few strands floats lie flat on one another and the cord comes out
//! thinner; with many, round tubes already fill all but the grooves of the surface, and
//! flattening was tried to make them no thinner. Ribbons lie flat in any cord.
//!
//! The round cord is solved first and then lets its sections go. Flat strands that slide
//! without friction may leave the shape that hands made: one set of strands runs straight and
//! the other winds round it (tried: six ribbons as a round spiral), or a band rolls up
//! (four ribbons). Friction holds the lengths that the strands came in with, and bands that
//! were laid flat, so such a cord keeps its sections round, and says so.

use super::balance::balanced;
use super::effort::Effort;
use super::nodes::with_nodes;
use super::passes::{finished, nodes_of};
use super::recipe::Recipe;
use super::section::{FLAT_FROM, oblong};
use super::solved::{Grain, Quality, SolveError, Solved};
use super::strandlike::{strands_like, tubes_of};
use crate::material::Body;
use crate::mechanics::{Schedule, Section, Tubes, WIDEST, silhouette, strand_lengths};

/// Most strands of a cord in which sections flatten. Tried: 8 strands come out as thick as
/// round or thicker.
const FEW: usize = 6;
/// A strand that widens less than this is round for our purpose.
const LEAST_WIDENED: f64 = 1.02;
/// Resistance of a section to flattening (see [`Section::Oval`]) over the friction of its
/// fibre: what friction holds where fibres under the pressure of a braid slide over one
/// another comes to 1.5 at 0.25. Our guess.
const RESISTANCE: f64 = 6.0;
/// Stiffness of a strip against turning over its bending stiffness, where it lies twice as
/// wide as round by itself. Our guess.
const TURNING: f64 = 0.2;
/// How far the take-up of a strand may leave that of the round cord. Tried: at most 0.19
/// where a cord only settles, from 0.3 on where strands wind round others.
const MOST_SHIFTED: f64 = 0.25;
/// Forces left while sections are let go; nodes are set closer after that.
const SETTLED: f64 = 1e-2;

/// Whether sections of this cord's strands are let go.
pub(super) fn may_flatten(recipe: &Recipe) -> bool {
    let any = |lets: fn(&Body) -> bool| recipe.bodies.iter().any(lets);
    let few = recipe.bodies.len() <= FEW && any(|body| body.widens > LEAST_WIDENED);
    few || any(|body| body.lies > LEAST_WIDENED)
}

/// The sections of a recipe's strands, as far as those of the last tubes were let go.
pub(super) fn sections_like(recipe: &Recipe, last: &Tubes) -> Vec<Section> {
    if last.sections.is_empty() {
        return Vec::new();
    }
    sections(recipe, last.strands)
}

/// A core stays round.
fn sections(recipe: &Recipe, strands: usize) -> Vec<Section> {
    let few = recipe.bodies.len() <= FEW;
    let own = |body: &Body| {
        if few || body.lies > LEAST_WIDENED {
            section(body)
        } else {
            Section::Round
        }
    };
    let mut all: Vec<Section> = recipe.bodies.iter().map(own).collect();
    all.resize(strands, Section::Round);
    all
}

fn section(body: &Body) -> Section {
    if body.widens < LEAST_WIDENED {
        return Section::Round;
    }
    let lies = body.lies.min(WIDEST);
    Section::Oval {
        widest: body.widens.min(WIDEST),
        lies,
        resistance: RESISTANCE * body.friction,
        turning: TURNING * (lies - 1.0) * body.bending,
    }
}

/// The cord with its sections let go, from the round one; none if that does not come out,
/// or not as finely as it should.
/// `spacings` are those of the nodes, coarse and fine.
///
/// # Errors
///
/// [`SolveError::Stopped`] alone.
pub(super) fn let_go(
    recipe: &Recipe,
    round: &Solved,
    quality: Quality,
    spacings: [f64; 2],
    effort: &mut Effort,
) -> Result<Option<Solved>, SolveError> {
    let flat = flattened(recipe, round, spacings[0], effort)
        .and_then(|flat| finished(recipe, flat, quality, spacings[1], effort));
    match flat {
        Err(SolveError::Stopped) => Err(SolveError::Stopped),
        Ok(flat) if matches!(flat.grain, Grain::Coarse | Grain::Held) => Ok(None),
        Ok(flat) if stays_as_made(round, &flat) && balanced(recipe, &flat).is_ok() => {
            Ok(Some(flat))
        }
        Ok(_) | Err(_) => Ok(None),
    }
}

fn flattened(
    recipe: &Recipe,
    round: &Solved,
    spacing: f64,
    effort: &mut Effort,
) -> Result<Solved, SolveError> {
    let nodes = nodes_of(recipe, round, spacing).max(round.tubes.nodes);
    let shape = with_nodes(&round.tubes, &round.shape, nodes);
    let strands = strands_like(recipe);
    let tubes = Tubes {
        sections: sections(recipe, strands.len()),
        ..tubes_of(&strands, recipe, &round.tubes.continues, nodes)
    };
    let schedule = Schedule::warm().to(SETTLED);
    let (shape, report) = effort.tighten(&tubes, shape, &schedule)?;
    Ok(Solved {
        report: round.report.and(&report, round.report.shapes),
        tubes,
        shape,
        ..round.clone()
    })
}

/// Whether every strand is about as long for each rise as in the round cord, and a cord
/// that was flat is so still.
fn stays_as_made(round: &Solved, flat: &Solved) -> bool {
    let is_flat =
        |solved: &Solved| oblong(&silhouette(&solved.tubes, &solved.shape).widths) > FLAT_FROM;
    if is_flat(round) && !is_flat(flat) {
        return false;
    }
    let take_up = |solved: &Solved| -> Vec<f64> {
        let lengths = strand_lengths(&solved.tubes, &solved.shape);
        let rise = solved.shape.lift;
        lengths.iter().map(|length| length / rise).collect()
    };
    let (before, now) = (take_up(round), take_up(flat));
    let mut both = before.iter().zip(&now);
    both.all(|(before, now)| (now / before - 1.0).abs() < MOST_SHIFTED)
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::super::{Cord, Progress, Tension, Twist, solve, under_pull};
    use super::*;
    use crate::material::{Colour, Strand, on_shelf};
    use crate::mechanics::{Shape, outline_area};
    use crate::structure::shelf;

    fn recipe(name: &str, fibres: &[&str]) -> Recipe {
        let mut lists = shelf().iter();
        let list = lists.find(|s| s.strands() == fibres.len() && s.name.starts_with(name));
        let strands: Vec<Strand> = fibres
            .iter()
            .map(|fibre| Strand::single(fibre, Colour([0; 3])))
            .collect();
        let shelf: Vec<_> = fibres
            .iter()
            .map(|f| on_shelf(f).unwrap().clone())
            .collect();
        let slots = Tension::Slots(0.6);
        let free = Twist::Free;
        Recipe::new(&list.unwrap().moves, &strands, &shelf, slots, 30.0, free).unwrap()
    }

    fn kept_round(recipe: &Recipe) -> Recipe {
        let mut round = recipe.clone();
        for body in &mut round.bodies {
            (body.widens, body.lies) = (1.0, 1.0);
        }
        round
    }

    fn solved(recipe: &Recipe) -> Cord {
        solve(recipe, None, Quality::Fine, &Progress::new()).unwrap()
    }

    const SATIN: &str = "satin cord 2 mm, polyester";
    const RIBBON: &str = "woven satin ribbon 3 mm";

    /// Bundles of filaments in place of strands came 15 % thinner (tried).
    #[test]
    fn four_strands_come_about_a_seventh_thinner_and_keep_their_solid() {
        let recipe = recipe("Round", &[SATIN; 4]);
        let (flat, round) = (solved(&recipe), solved(&kept_round(&recipe)));
        let thickness = |cord: &Cord| cord.figures.thickness_on_disc.value;
        let thinner = thickness(&flat) / thickness(&round);
        assert!((0.8..0.9).contains(&thinner), "{thinner}");
        assert!(flat.remarks.is_empty(), "{:?}", flat.remarks);
        let (tubes, shape) = (&flat.solved.tubes, flat.solved.shown());
        assert!(!shape.axes.is_empty());
        for node in 0..shape.points.len() {
            let round = tubes.radius_in(shape, node);
            let way = tubes.long_axis_in(shape, node);
            let long = way.iter().map(|x| x * x).sum::<f64>().sqrt();
            assert!(
                long > 0.999 * round && long < 1.38 * round,
                "{long} {round}"
            );
        }
        let (widths, room) = (section_area(tubes, shape), outline_area(tubes, shape));
        assert!((0.75..1.0).contains(&(widths / room)), "{widths} of {room}");
    }

    /// As `balance` counts it, by the half-widths that are drawn.
    fn section_area(tubes: &Tubes, shape: &Shape) -> f64 {
        let nodes = tubes.nodes;
        let area = |node: usize| {
            let long = tubes.long_axis_in(shape, node);
            let length = long.iter().map(|x| x * x).sum::<f64>().sqrt();
            let short = tubes.radius_in(shape, node).powi(2) / length;
            PI * length * short
        };
        let lengths = strand_lengths(tubes, shape);
        let each = |(strand, length): (usize, &f64)| {
            let own = strand * nodes..(strand + 1) * nodes;
            own.map(area).sum::<f64>() / nodes as f64 * length
        };
        lengths.iter().enumerate().map(each).sum::<f64>() / shape.lift
    }

    #[test]
    fn many_strands_stay_round_and_ribbons_never_do() {
        let eight = recipe("Round spiral", &[SATIN; 8]);
        assert!(!may_flatten(&eight));
        let leather = recipe("Round", &["leather lace 2 mm, round"; 4]);
        assert!(!may_flatten(&leather));
        let mut fibres = [SATIN; 8];
        fibres[2] = RIBBON;
        let ribbon = recipe("Round spiral", &fibres);
        let sections = sections(&ribbon, 9);
        let is_round = |section: &Section| *section == Section::Round;
        assert!(may_flatten(&ribbon) && !is_round(&sections[2]));
        assert_eq!(sections.iter().filter(|s| is_round(s)).count(), 8);
    }

    #[test]
    fn a_flat_cord_steps_to_another_material_as_if_solved_anew() {
        let (from, to) = (recipe("Plait", &[SATIN; 3]), recipe("Plait", &[SATIN; 3]));
        let to = to.with_pull_times(1.2).unwrap();
        let last = solved(&from);
        let stepped = solve(&to, Some(&last), Quality::Fine, &Progress::new()).unwrap();
        let anew = solved(&to);
        let thickness = |cord: &Cord| cord.figures.thickness_on_disc.value;
        let ratio = thickness(&stepped) / thickness(&anew);
        assert!((ratio - 1.0).abs() < 0.01, "{ratio}");
    }

    #[test]
    fn a_flat_cord_is_longer_and_no_thicker_under_a_harder_pull() {
        let recipe = recipe("Round", &[SATIN; 4]);
        let cord = solved(&recipe);
        let curve = under_pull(&recipe, &cord, 300.0, 4, &Progress::new()).unwrap();
        assert_eq!(curve.len(), 4);
        for pair in curve[1..].windows(2) {
            assert!(pair[1].longer.value > pair[0].longer.value, "{curve:?}");
            assert!(pair[1].thickness.value < 1.005 * pair[0].thickness.value);
        }
    }

    #[test]
    fn ribbons_that_would_wind_round_others_or_roll_up_keep_their_sections_round() {
        let winds = recipe("Round spiral", &[RIBBON; 6]);
        let rolls_up = recipe("Flat", &[RIBBON; 4]);
        for recipe in [winds, rolls_up] {
            let (tried, round) = (solved(&recipe), solved(&kept_round(&recipe)));
            assert!(tried.remarks.iter().any(|r| r.starts_with("Sections kept")));
            assert_eq!(tried.form.points, round.form.points);
        }
    }
}
