//! The disc as it lies before the maker now.

use std::collections::BTreeSet;
use std::f32::consts::{FRAC_PI_2, TAU};

use eframe::egui::{Align2, Rect, Ui, vec2};

use super::column::Column;
use super::{BraidScene, BraidState};
use crate::app::at_disc::{Doing, hand_shown};
use crate::app::disc::{self, DiscStrand, DiscView};
use crate::app::fonts::Face;
use crate::app::stage::look::{core_of, strands_at};
use crate::structure::{Move, Place};

/// How long the disc takes to turn on the screen, seconds.
const TURNS: f32 = 0.22;

/// Draws it in all of `ui`.
pub(super) fn disc_ui(ui: &mut Ui, scene: BraidScene<'_>, state: &mut BraidState) {
    if let Doing::Laying(strands) = &scene.place.doing {
        dressing_ui(ui, scene, strands, state);
        return;
    }
    let compared = state.is_compared(scene.work);
    let turn = turn(ui, scene, state);
    let work = scene.work;
    let strands = strands_at(work.design(), work.lying().places());
    let carried = scene.place.carried();
    let show = |shown: bool| if shown { carried } else { &[] };
    let next = show(!compared);
    let moves: Vec<Move> = next.iter().flat_map(|it| it.moves.clone()).collect();
    let lifted = next.iter().flat_map(|it| it.strands.clone()).collect();
    let faint = scene.place.following.as_ref();
    let faint = faint.filter(|_| scene.habits.following && !compared);
    let faint: Vec<Move> = faint.map_or_else(Vec::new, |it| it.moves.clone());
    let view = DiscView {
        next: &moves,
        just_done: &scene.place.just_done,
        order: work.lying().upwards(),
        exchange: next.first().and_then(|it| it.exchange),
        hand_next: hand_shown(scene.place, scene.habits).filter(|_| !compared),
        following: &faint,
        turn,
        afar: !compared,
        ..plain(scene, &strands, &lifted)
    };
    disc::disc_ui(ui, &view, &mut state.disc);
}

/// The disc of a cord with nothing going on.
fn plain<'a>(
    scene: BraidScene<'a>,
    strands: &'a [DiscStrand],
    chosen: &'a BTreeSet<usize>,
) -> DiscView<'a> {
    let list = scene.work.list();
    DiscView {
        numbering: scene.work.design().braiding.numbering,
        plate: list.plate,
        enabled: false,
        glides: !scene.habits.still,
        ..DiscView::new(list.slots, strands, chosen)
    }
}

/// The strands laid so far, and those to be laid now in their places, stitched round.
fn dressing_ui(ui: &mut Ui, scene: BraidScene<'_>, next: &[usize], state: &mut BraidState) {
    let work = scene.work;
    let start = &work.list().start;
    let laid = work.set_up().iter().flatten().take(work.course().laid);
    let shown: Vec<usize> = laid.chain(next).copied().collect();
    let all = strands_at(work.design(), start);
    let strands: Vec<DiscStrand> = shown
        .iter()
        .filter_map(|&at| all.get(at).cloned())
        .collect();
    let chosen: BTreeSet<usize> =
        (strands.len().saturating_sub(next.len())..strands.len()).collect();
    let core = core_of(work.design());
    let view = DiscView {
        core: core.as_ref(),
        glides: false,
        ..plain(scene, &strands, &chosen)
    };
    disc::disc_ui(ui, &view, &mut state.disc);
}

/// How far the disc is turned now, clockwise: on its way to how it lies, the short way
/// round.
fn turn(ui: &Ui, scene: BraidScene<'_>, state: &mut BraidState) -> f32 {
    let wanted = f32::from(scene.place.quarters) * FRAC_PI_2;
    let apart = (wanted - state.turned + TAU / 2.0).rem_euclid(TAU) - TAU / 2.0;
    state.turned += apart;
    let lasts = if scene.habits.still { 0.0 } else { TURNS };
    let id = ui.scope_id().with(("turn", &scene.work.begun().piece));
    let now = ui.ctx().animate_value_with_time(id, state.turned, lasts);
    // At rest exactly in quarters, so that sides of a square stay level.
    if (now - state.turned).abs() < 1e-4 {
        wanted
    } else {
        now
    }
}

/// A piece of a strand with what it is made of.
pub(super) fn swatch_ui(
    column: &mut Column<'_>,
    strip: Rect,
    scene: BraidScene<'_>,
    strand: usize,
) {
    let design = scene.work.design();
    let Some(it) = design.strands.get(strand) else {
        return;
    };
    let drawn = strands_at(design, &vec![Place::Hand; design.strands.len()]);
    let swatch = strip
        .with_max_x(strip.left() + 110.0 * column.scale)
        .shrink2(vec2(2.0, 0.3 * strip.height()));
    if let Some(drawn) = drawn.get(strand) {
        let painter = column.ui.painter();
        let (colours, look) = (&drawn.colours, &drawn.appearance);
        disc::strand_swatch(painter, swatch, colours, drawn.ends, look, &column.theme);
    }
    let words = strip.with_min_x(swatch.right() + 12.0);
    let made = crate::app::stage::cut::make_words(it);
    let font = column.font(Face::Medium, 14.5);
    column.line(words, Align2::LEFT_CENTER, &made, font, column.theme.ink2);
    column.name(strip, &made);
}
